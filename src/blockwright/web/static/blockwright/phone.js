// The phone page: starts, draws, and says when to send. What it shows is worked out in session.js,
// what a tap does in commands.js, what is sent in sync_client.js.

import { openStore } from "./db.js";
import { commandsOf } from "./commands.js";
import { redraw } from "./dom.js";
import { localDay, makeEvent, newId, zoneName } from "./events.js";
import { makeSyncClient } from "./sync_client.js";
import { homeView } from "./home_view.js";
import { footView } from "./panels.js";
import { restNow } from "./clock.js";
import { methodOf, sessionOf } from "./session.js";
import { saidOf } from "./set_view.js";
import { readSigns, signLooks } from "./sign_view.js";
import { findsLoad, inHand, sheetView } from "./sheet_view.js";
import { turnOf } from "./turns_view.js";
import { barView, phoneView, showRest } from "./unsent_view.js";

const place = (id) => document.getElementById(id);

const page = {
  device: null, tracks: [], turn: 0, openKey: null, editing: null, extra: null, panel: null,
  justDone: null, lastSaid: null, drafts: new Map(), loadsKnown: new Set(), answered: new Set(), entries: [],
  worker: null, registration: null, persisted: null, ofOthers: {},
  now: () => Date.now(),
  say: (text) => { place("said").textContent = text; },
  draftFor(key, first) {
    if (!this.drafts.has(key)) this.drafts.set(key, first());
    return this.drafts.get(key);
  },
  get session() { return this.tracks[this.turn]?.session ?? null; },
  get unit() { return this.session.document.lifter.units; },
  get counts() {
    const attention = this.attention.length;
    return { attention, waiting: this.entries.length - attention };
  },
  get attention() { return this.entries.filter((entry) => entry.state === "attention"); },
  get held() { return exchange.outbox.heldInMemory(); },
  get trouble() { return exchange.outbox.trouble(); },
  get clockSays() { return exchange.state.clockSays; },
  // Unsent, not on its way, and the browser does not promise to keep it.
  get atRisk() { return this.persisted === false && this.trouble !== null && this.counts.waiting > 0; },
  get sessions() { return exchange.sessions(); },
  knew: (lifter) => exchange.knew(lifter),
  // Whether the set in hand is not what is looked at.
  get isAway() { return this.panel !== null || this.editing !== null || scrolledAway; },
  // Whose turn it is, on whichever phone the last set was written down.
  get due() { return turnOf(this.tracks, this.turn); },
  get rest() { return this.session === null ? null : restNow(this.session, this.now()); },
  take(turn) {
    this.turn = turn;
    this.openKey = firstOpen(this.session);
  },
  keep, show, toHand,
};

const SEND_AFTER_MS = 150;
const STANDS_STILL_MS = 100;
let scrolledAway = false;

// The set in hand; none where the session must not go on, or not begin.
const firstOpen = ({ stopSign, document, next }) =>
  stopSign !== null || document.sheet.status === "refer" ? null : next?.key ?? null;

let store = null, exchange = null;

// Takes events up at once, so that what follows from them can be drawn; resolves when the phone's
// disk has answered, to whether it has them. Sending follows by itself.
async function keep(events) {
  const [{ id }] = events;
  const adding = exchange.outbox.add(events);
  takeUp(exchange.outbox.writing());
  if (page.justDone !== null && page.justDone !== id && events[0].kind === "set") page.justDone = null;
  workOut();
  const { kept, entries } = await adding;
  takeUp(entries);
  settle(entries);
  setTimeout(() => {
    exchange.exchange().then(refresh);
    askToPersist();
  }, SEND_AFTER_MS);
  return kept;
}

function takeUp(entries) {
  const ids = new Set(entries.map(({ id }) => id));
  page.entries = [...page.entries.filter(({ id }) => !ids.has(id)), ...entries];
}

// Where events are by now (on the phone's disk, or in memory only) changes nothing that follows
// from them: it is said of them, and nothing is worked out anew.
function settle(entries) {
  const where = new Map(entries.map(({ id, state, unkept }) => [id, { state, unkept }]));
  for (const { session } of page.tracks) for (const fact of session.happened) Object.assign(fact, where.get(fact.id));
}

function workOut() {
  for (const track of page.tracks) {
    const facts = exchange.factsOf(track.document.lifter.id, page.entries);
    track.session = sessionOf(track.document, facts);
  }
}

// While the phone has nothing to do: what the set in hand would mean, done as its fields say, so
// that the tap finds it worked out.
let thinking = null, rehearsed = false;

const THINK_AFTER_MS = 400;
const whenIdle = globalThis.requestIdleCallback ?? setTimeout;

// What was tapped last comes first: its drawing, the disk's answer, what is said of it.
function thinkSoon() {
  thinking ??= setTimeout(() => whenIdle(thinkAhead), THINK_AFTER_MS);
}

function thinkAhead() {
  thinking = null;
  if (exchange.outbox.writing().length > 0) return void thinkSoon();
  const { session } = page;
  const line = session?.lines.find((one) => one.key === page.openKey);
  if (line === undefined || line.stopped || line.remaining.length === 0 || findsLoad(page, line)) return;
  const { document } = session;
  const { row, draft } = inHand(page, line);
  const place = { lifter: document.lifter.id, ...document.plan, began: session.began };
  const event = makeEvent("set", saidOf(line, methodOf(line.entry, row.planned), draft, page.unit, row.number, line.entry.rest_s), place,
    page.device, page.now(), { entry: line.order, set: row.planned === null ? null : row.number });
  const facts = exchange.factsOf(document.lifter.id, page.entries);
  const then = sessionOf(document, [...facts, { ...event, n: Infinity }]);
  if (rehearsed) return;
  rehearsed = true;
  // Drawn once where nobody sees it: a browser reads a script's functions when they first run.
  sheetView(Object.assign(Object.create(page), {
    tracks: [{ key: "rehearsal", document, session: then }], turn: 0, openKey: line.key,
    justDone: event.id, drafts: new Map(), editing: null, extra: null,
  }));
}

// Draws everything; `target` is an id to bring into view.
function show(target = null) {
  shown = looks();
  followed = page.due;
  later = false;
  if (page.session === null) {
    redraw(place("sheet"), homeView({
      home: exchange.state.home, sessions: exchange.sessions(), ready: exchange.state.ready,
      today: localDay(page.now()), act: page.act,
    }), phoneView(page));
  } else {
    redraw(place("sheet"), sheetView(page), footView(page), phoneView(page));
  }
  redraw(place("bar"), barView(page));
  if (target !== null) place(target)?.scrollIntoView({ block: "start" });
  thinkSoon();
}

const hand = () => document.querySelector(".lift.open .doubt")
  ?? document.querySelector(".lift.open .hand .write, .lift.open .hand .choices");

// The set in hand with its button right above the foot, under the thumb; a question about a set first.
function toHand() {
  const target = hand();
  if (scrolledAway) {
    scrolledAway = false;
    redraw(place("bar"), barView(page));
  }
  if (target !== null) target.scrollIntoView({ block: "end" });
  else document.querySelector(".lift.open")?.scrollIntoView({ block: "start" });
}

function handIsInView() {
  const box = hand()?.getBoundingClientRect();
  return box !== undefined && box.top >= 0 && box.bottom <= place("bar").getBoundingClientRect().top + 1;
}

let refreshing = null, shown = null, followed = null, pressed = false, touched = false, later = false;

// Reads what changed behind the page's back: answers, other phones. What looks the same is left
// alone, so that no tap or typing is lost under a finger.
async function refresh() {
  if (exchange.changedHands()) leave();
  const before = page.entries;
  const entries = await exchange.outbox.entries();
  const there = new Set(entries.map(({ id }) => id));
  // What left the queue is a fact by now: read before it is let go of here, or what stood before it
  // would show, and the next tap would correct that.
  if (before.some(({ id }) => !there.has(id))) await exchange.readFacts();
  page.ofOthers = await exchange.outbox.ofOthers();
  if (page.entries !== before) {
    soon(); // somebody wrote meanwhile
    return;
  }
  page.entries = entries;
  workOut();
  redraw(place("bar"), barView(page));
  if (looks() === shown) return;
  const typing = document.activeElement?.matches?.("input, select");
  if (typing || pressed) later = true;
  else if (page.due !== followed && !inPanel()) page.act.turn(page.due);
  else if (touched || page.session === null) showAnew();
  else openAtHand();
}

// Whose pain or whose correction it is does not change under the finger.
const inPanel = () => page.panel !== null || page.editing !== null;

// What came in meanwhile may move the set in hand: where it was in view, it stays so.
function showAnew() {
  const wasInView = handIsInView();
  show();
  if (wasInView && !handIsInView()) toHand();
}

// What another phone wrote came in before anybody touched this one: it opens where that one is.
function openAtHand() {
  page.openKey = firstOpen(page.session);
  show();
  // What is to be read first stands at the top; where nothing is, the set in hand comes into view.
  if (document.querySelector("#sheet > div > .caution, #sheet .dispute, #signs") === null) toHand();
  else scrollTo(0, 0);
}

// Everything a drawing depends on besides the person's own taps.
function looks() {
  return JSON.stringify([
    page.tracks.map(({ session, document }) =>
      [document.plan.revision, session.happened.map((fact) => [fact.id, fact.state === "attention", fact.unkept === true]),
        session.disputes.map(({ last, others }) => [last.id, others.length])]),
    signLooks(page), page.attention.map(({ id }) => id), page.trouble, page.held, page.clockSays, page.worker,
    // What is said of a newer page or of trouble depends on whether anything waits.
    (page.worker === "new" || page.trouble !== null) && page.counts.waiting > 0,
    page.atRisk, page.ofOthers, exchange.state.person,
    page.tracks.length === 0 && [exchange.sessions().map(({ key }) => key), [...exchange.state.ready]],
  ]);
}

// The phone changed hands: the page starts anew for who is signed in now, or for nobody. What is only
// in memory keeps it open until it is on the phone or sent.
function leave() {
  if (page.held === 0 && exchange.outbox.writing().length === 0) location.reload();
}

function soon() {
  refreshing ??= setTimeout(() => { refreshing = null; refresh(); }, 50);
}

async function askToPersist() {
  page.persisted ??= await navigator.storage?.persist?.().catch(() => false) ?? false;
}

// ------------------------------------------------------------------------------------------ route

// "#LIFTER/BLOCK/WEEK/SESSION", two of them with a plus between when lifters take turns.
async function follow() {
  const keys = location.hash.slice(1).split("+").filter((key) => key.split("/").length === 4);
  const tracks = [];
  for (const key of keys.slice(0, 2)) {
    const document = await exchange.sheet(key, (newer) => replace(key, newer));
    if (document === null) continue;
    await exchange.watch(document.lifter.id);
    tracks.push({ key, document, session: null });
  }
  shown = null;
  Object.assign(page, { tracks, turn: 0, editing: null, extra: null, panel: null, lastSaid: null });
  page.drafts.clear();
  workOut();
  page.turn = page.due;
  touched = false;
  place("back").hidden = page.session === null;
  document.documentElement.classList.toggle("shared", tracks.length > 1);
  if (page.session === null) show();
  scrollTo(0, 0);
  if (page.session !== null) openAtHand();
  if (keys.length > 0 && tracks.length === 0) page.say("This session is not on the phone; it comes with signal.");
}

function replace(key, newer) {
  const track = page.tracks.find((one) => one.key === key);
  if (track === undefined) return;
  track.document = newer;
  soon();
}

// ------------------------------------------------------------------------------------------- taps

function taps() {
  return {
    ...commandsOf(page),
    redraw: () => show(),
    open(key) {
      page.openKey = page.openKey === key ? null : key;
      page.editing = null;
      show();
      if (page.openKey !== null) toHand();
    },
    edit(key, root) {
      page.openKey = key;
      page.editing = root;
      show();
      if (root !== null) document.querySelector(".hand")?.scrollIntoView({ block: "nearest" });
    },
    extra(key) {
      page.extra = key;
      show();
    },
    panel(name) {
      page.panel = name;
      page.drafts.delete("hurts lift");
      show(name === null ? null : `panel-${name}`);
    },
    // An open panel stays, now of the other.
    turn(at) {
      page.take(at);
      if (page.panel !== null) return show(`panel-${page.panel}`);
      show();
      return toHand();
    },
    // Back to the set in hand; from there on to the next lift that has sets to do.
    next() {
      if (page.panel !== null && page.due !== page.turn) page.take(page.due);
      const open = page.session.lines.filter((line) => line.remaining.length > 0);
      const at = open.findIndex((line) => line.key === page.openKey);
      if (at < 0) page.openKey = firstOpen(page.session);
      else if (!page.isAway) page.openKey = open[(at + 1) % open.length].key;
      Object.assign(page, { panel: null, editing: null });
      show();
      toHand();
    },
    go(key) { location.hash = key; },
    join(key) { location.hash = `${page.tracks[0].key}+${key}`; },
    alone() { location.hash = page.tracks[page.turn].key; },
    async send() {
      page.say("Sending.");
      await exchange.exchange();
      await refresh();
    },
    sendAgain: (id) => exchange.outbox.sendAgain(id),
    throwAway: (id) => exchange.outbox.throwAway(id),
    takeNew: () => page.registration?.waiting?.postMessage("take over"),
  };
}

// ----------------------------------------------------------------------------------------- worker

async function startWorker() {
  if (!("serviceWorker" in navigator)) {
    page.worker = "none";
    return;
  }
  let asked = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // The first worker takes an uncontrolled page over; only a newer one needs a new page.
    if (asked) location.reload();
  });
  try {
    const registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
    page.registration = registration;
    const look = () => {
      if (registration.waiting === null || navigator.serviceWorker.controller === null) return;
      asked = true;
      page.worker = "new";
      soon();
    };
    look();
    registration.addEventListener("updatefound", () => {
      registration.installing?.addEventListener("statechange", look);
    });
  } catch {
    page.worker = "none";
  }
}

function watchFinger() {
  addEventListener("pointerdown", () => { pressed = touched = true; });
  for (const name of ["keydown", "wheel"]) addEventListener(name, () => { touched = true; }, { passive: true });
  for (const name of ["pointerup", "pointercancel"]) {
    addEventListener(name, () => {
      pressed = false;
      // After the click that a lifted finger makes.
      if (later) setTimeout(() => { if (later) soon(); }, 100);
    });
  }
  addEventListener("focusout", () => { if (later) soon(); });
}

// Tells the way back from the way on, in the foot, once the page stands still.
function stoppedScrolling() {
  scrolledAway = page.session !== null && !handIsInView();
  redraw(place("bar"), barView(page));
}

function tick() {
  const line = place("rest");
  if (line !== null) showRest(line, page.rest);
}

async function start() {
  store = await openStore();
  page.device = await store.value("device") ?? newId();
  await store.setValue("device", page.device).catch(() => {});
  exchange = makeSyncClient({ store, changed: soon, leave, isShared: () => page.tracks.length > 1 });
  page.act = taps();
  await exchange.start([]);
  page.entries = await exchange.outbox.entries();
  page.ofOthers = await exchange.outbox.ofOthers();
  await follow();
  // After the first drawing is on the screen.
  requestAnimationFrame(() => setTimeout(() => readSigns().then(soon)));
  addEventListener("hashchange", async () => {
    await follow();
    // What other phones wrote of this session.
    await exchange.exchange();
    await refresh();
  });
  addEventListener("online", () => exchange.exchange().then(refresh));
  addEventListener("beforeunload", (event) => {
    if (page.held > 0 || exchange.outbox.writing().length > 0) event.preventDefault();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible") return;
    if (exchange.changedHands()) leave();
    exchange.exchange().then(refresh);
    exchange.lookAhead(localDay(page.now()));
  });
  watchFinger();
  let still = null;
  addEventListener("scroll", () => {
    clearTimeout(still);
    still = setTimeout(stoppedScrolling, STANDS_STILL_MS);
  }, { passive: true });
  zoneName(page.now()); // slow the first time a page asks: not when a set is written down
  setInterval(tick, 1000);
  startWorker();
  await exchange.lookAhead(localDay(page.now()));
  await exchange.exchange();
  await refresh();
}

start().catch((error) => {
  const words = document.createElement("p");
  words.textContent = `The page could not start: ${error.message ?? error}. Nothing that was written down is lost; load the page anew.`;
  place("sheet").replaceChildren(words);
});
