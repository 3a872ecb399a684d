// The phone and the server: the queue, what comes back, the sheets to have before the signal goes.

import { localDay } from "./events.js";
import { makeOutbox } from "./outbox.js";
import * as server from "./send.js";

const AGAIN_S = [5, 15, 60, 300];
const LISTEN_S = 60;
const LISTEN_SHARED_S = 4;
const MOST_SHEETS_AHEAD = 2; // at a time
const AHEAD_PAUSE_S = 3;
const DAYS_AHEAD = 3;
const ADDED_BY_SERVER = ["seq", "day", "received_at", "by", "done_at"];

// `changed()` is called whenever something to be shown may have changed.
// `leave()`: this page is somebody else's; load it anew. `isShared()`: two take turns, and one may
// write on another phone.
export function makeSyncClient({ store, changed, leave = () => {}, isShared = () => false }) {
  const state = { person: null, home: null, clockSays: null, ready: new Set(), facts: new Map(), through: new Map() };
  const open = new Set();
  let tries = 0, timer = null, ahead = null;

  const outbox = makeOutbox({
    // Room is made of sheets that are not open now.
    store: { ...store, makeRoom: () => store.makeRoom([...open]) }, onAnswer: taken, onChange: changed,
    send: async (events) => server.sync(events, await seen(), state.person?.id ?? null),
    person: () => state.person,
    alone: globalThis.navigator?.locks === undefined ? undefined
      : (work) => navigator.locks.request("blockwright outbox", work),
  });

  // Shows only what belongs to who is signed in, by the cookie the server writes: somebody who
  // signed out, or somebody before, has left nothing here but what is unsent.
  async function start(lifters) {
    const kept = await store.value("person") ?? null;
    const id = server.whoIsIn();
    if (kept !== null && kept.id !== id) await store.forgetPerson();
    state.person = kept?.id === id ? kept : id === "" ? null : { id, name: "" };
    state.home = await store.value("home").then((found) => found ?? null);
    state.ready = new Set(await store.sheetKeys());
    await readFacts(lifters);
  }

  async function readFacts(lifters = [...state.facts.keys()]) {
    for (const lifter of lifters) {
      state.facts.set(lifter, await store.factsOf(lifter));
      state.through.set(lifter, await store.value(`seen ${lifter}`) ?? 0);
    }
  }

  async function seen() {
    const known = new Map((state.home?.lifters ?? []).map((one) => [one.id, one.recent_from ?? 0]));
    const wanted = {};
    for (const lifter of state.facts.keys()) {
      wanted[lifter] = await store.value(`seen ${lifter}`) ?? known.get(lifter) ?? 0;
    }
    return wanted;
  }

  // What the server tells besides its answers: facts of other phones, lifters that are gone.
  async function taken(body) {
    state.clockSays = body.clock_says ?? null;
    let more = false;
    for (const [lifter, news] of Object.entries(body.facts ?? {})) {
      if (news.gone) {
        await store.forget(lifter);
        state.facts.set(lifter, []);
        continue;
      }
      const before = await store.value(`seen ${lifter}`) ?? 0;
      if (news.through < before) await sendOnceMore(lifter, news.through);
      await keepFacts(lifter, news);
      more ||= news.more;
    }
    await readFacts();
    if (more) queueMicrotask(() => outbox.flush());
  }

  async function keepFacts(lifter, news) {
    try {
      await store.takeFacts(lifter, news.facts, news.through);
    } catch {
      // A full phone: they are asked for again, once there is room.
    }
  }

  // The server was put back from a backup and lacks what it had acknowledged: it gets it again.
  async function sendOnceMore(lifter, through) {
    const device = await store.value("device");
    const lost = (await store.factsOf(lifter))
      .filter((fact) => fact.device === device && fact.seq > through)
      .map((fact) => Object.fromEntries(Object.entries(fact)
        .filter(([name]) => !ADDED_BY_SERVER.includes(name))));
    if (lost.length > 0) await outbox.add(lost);
  }

  // ---------------------------------------------------------------------------------- triggers

  async function exchange() {
    clearTimeout(timer);
    await outbox.flush();
    const waiting = (await outbox.entries()).some((entry) => entry.state === "waiting");
    tries = outbox.trouble() === null ? 0 : tries + 1;
    const pause = waiting || tries > 0 ? AGAIN_S[Math.min(tries, AGAIN_S.length) - 1] ?? AGAIN_S[0]
      : isShared() ? LISTEN_SHARED_S : LISTEN_S;
    timer = setTimeout(() => {
      if (document.visibilityState === "visible") exchange();
    }, pause * 1000);
  }

  // The first page anew, then the sheets of the next days, so that they are there without signal.
  async function lookAhead(today) {
    let answer;
    try {
      answer = await server.home();
    } catch {
      return;
    }
    if (answer.status !== 200 || answer.body?.lifters === undefined) return;
    const { id, name } = answer.body.me;
    if (state.person !== null && state.person.id !== id) {
      leave();
      return;
    }
    state.person = { id, name };
    await store.setValue("person", state.person).catch(() => {});
    state.home = answer.body;
    changed();
    await store.setValue("home", answer.body).catch(() => {});
    await forgetOthers();
    // Not waited for: what other phones wrote of the session in hand comes first.
    fetchAhead(comingSessions(today), today);
  }

  // A few at a time, so that what is tapped meanwhile comes first. All of today's come; those of the
  // next days with the next looks.
  async function fetchAhead(coming, today) {
    clearTimeout(ahead);
    const left = [...coming];
    for (let fetched = 0; left.length > 0 && fetched < MOST_SHEETS_AHEAD;) {
      const one = left.shift();
      const kept = await store.sheet(one.key);
      // Made from the evening before: one a day is enough, unless the block was revised.
      if (kept?.day === today && kept.document.plan.revision === one.revision) continue;
      fetched += 1;
      await fetchSheet(one.key, kept);
    }
    changed();
    if (left[0]?.date === today) ahead = setTimeout(() => fetchAhead(left, today), AHEAD_PAUSE_S * 1000);
  }

  function comingSessions(today) {
    const last = new Date(Date.parse(today) + DAYS_AHEAD * 86_400_000).toISOString().slice(0, 10);
    return sessions().filter((one) => one.date >= today && one.date <= last)
      .sort((one, other) => one.date.localeCompare(other.date));
  }

  // Sheets and facts of lifters who are not shared with this person go, and sheets of days long
  // past; what is unsent stays.
  async function forgetOthers() {
    const mine = new Set(state.home.lifters.map((one) => one.id));
    const there = new Set((await store.sheetKeys()).map((key) => key.split("/")[0]));
    for (const lifter of there) if (!mine.has(lifter)) await store.forget(lifter);
    await store.makeRoom(sessions().map((one) => one.key));
    state.ready = new Set(await store.sheetKeys());
  }

  // The server's newest document, or without signal the one the phone has; null where there is none.
  async function fetchSheet(key, kept) {
    const found = await askForSheet(key, kept);
    if (found === null) return kept?.document ?? null;
    await store.putSheet(found).then(() => state.ready.add(key), () => {});
    return found.document;
  }

  async function askForSheet(key, kept) {
    const day = localDay(Date.now());
    try {
      const { status, body, etag } = await server.sheet(key, kept?.etag);
      if (status === 304) return { ...kept, day };
      return status === 200 && body?.format === "blockwright/phone-sheet/1" ? { key, etag, day, document: body } : null;
    } catch {
      return null;
    }
  }

  // The sheet on the phone at once; the newer one, if there is any, in its own time.
  async function sheet(key, newer) {
    open.add(key);
    const kept = await store.sheet(key);
    if (kept === undefined) return fetchSheet(key);
    fetchSheet(key, kept).then((document) => {
      if (document !== kept.document) newer(document);
    });
    return kept.document;
  }

  function sessions() {
    return (state.home?.lifters ?? []).flatMap((lifter) => lifter.sessions
      .filter((one) => !one.missed)
      .map((one) => ({
        ...one, lifter: lifter.id, name: lifter.name,
        key: `${lifter.id}/${one.block}/${one.week}/${one.session}`,
      })));
  }

  return {
    outbox, state, start, exchange, lookAhead, readFacts, sheet, sessions,
    // Whether who is signed in is not who this page was opened for.
    changedHands: () => state.person !== null && server.whoIsIn() !== state.person.id,
    watch: async (lifter) => {
      if (!state.facts.has(lifter)) await readFacts([lifter]);
    },
    // How far this phone knows a lifter's facts, by `seq`.
    knew: (lifter) => state.through.get(lifter) ?? 0,
    factsOf: (lifter, entries) => {
      const unsent = entries.filter(({ event }) => event.lifter === lifter)
        .map(({ event, state: sending, unkept }) => ({ ...event, state: sending, unkept }));
      const names = new Set(unsent.map(({ id }) => id));
      const known = [...state.facts.get(lifter) ?? [], ...outbox.outlived()
        .filter((fact) => fact.lifter === lifter)];
      return [...known.filter(({ id }) => !names.has(id)), ...unsent];
    },
  };
}
