// What stands at the foot of the sheet: short of time, machine taken, something hurts, check-in,
// another lift, turns, the end of the session. One panel is open at a time.

import { button, el, makeKeeper, redraw, scale, stepper } from "./dom.js";
import { painfulToday } from "./session.js";
import { leaveOut, minutesWith } from "./shorten.js";
import { capital, countText, dayText, listText, plannedText } from "./words.js";

const PANELS = [
  ["hurts", "Something hurts"], ["short", "Short of time"], ["taken", "Machine taken"],
  ["checkin", "How are you today"], ["lift", "Add a lift"], ["turns", "Take turns with another lifter"],
  ["end", "End the session"],
];

const VIEWS = {
  short: shortView, taken: takenView, hurts: hurtsView, checkin: checkinView, lift: liftView,
  turns: turnsView, end: endView,
};

const same = makeKeeper();

export function footView(page) {
  // An open panel shows what is written down meanwhile; a closed foot never changes.
  return page.panel === null ? same("foot", isPartner(page), () => drawn(page)) : drawn(page);
}

// How somebody is, they and their coach say (docs/sync.md): what the server would refuse is not asked.
const isPartner = (page) => page.session.document.lifter.partner === true;

function drawn(page) {
  return el("section", { class: "foot", "aria-label": "Besides the sets" },
    // Pain has its way in the fixed foot, never far; its panel stands here while it is open.
    PANELS.filter(([name]) => name === "hurts" ? page.panel === name : name !== "checkin" || !isPartner(page)).map(([name, title]) => {
      const open = page.panel === name;
      return el("div", { class: open ? "panel open" : "panel", id: `panel-${name}` },
        el("h2", {}, button(title, () => page.act.panel(page.panel === name ? null : name), {
          class: "name", "aria-expanded": String(open), "data-key": `panel-${name}`,
        })),
        open ? VIEWS[name](page) : null);
    }));
}

const openLine = (page) => page.session.lines.find((line) => line.key === page.openKey)
  ?? page.session.next ?? page.session.lines[0];

// ------------------------------------------------------------------------------------ short of time

function shortView(page) {
  const { session } = page;
  const draft = page.draftFor("minutes", () => ({ minutes: "20" }));
  const preview = el("div", { role: "status" });
  const show = () => redraw(preview, previewOf(session, Number(draft.minutes)));
  show();
  return [
    session.short === null ? null : [
      el("p", {}, `Shortened to ${session.short.session.minutes} minutes.`),
      button("There is time after all", () => page.act.withdraw(session.short), { class: "plain", "data-key": "long" }),
    ],
    el("p", {}, "How many minutes are left? Sets go first, those that cost the least training; whole lifts only where that is not enough."),
    stepper({
      label: "Minutes", value: draft.minutes, key: "minutes", mode: "numeric",
      step: (text, direction) => String(Math.min(Math.max((Number(text) || 0) + 5 * direction, 5), 180)),
      changed: (text) => { draft.minutes = text; show(); },
    }),
    preview,
    button("Leave these out", () => page.act.shortOfTime(Number(draft.minutes)), { class: "write", "data-key": "shorten" }),
  ];
}

function previewOf(session, minutes) {
  if (!(minutes > 0)) return [el("p", {}, "Write a number of minutes.")];
  const out = leaveOut(session, minutes);
  if (out.size === 0) return [el("p", {}, "Everything fits; nothing is left out.")];
  const stays = session.lines.filter((line) => line.order !== null && !line.stopped && !line.skipped)
    .map((line) => [openSets(line) - (out.get(line.order) ?? 0), line.entry.lift]).filter(([sets]) => sets > 0);
  return [
    el("p", {}, stays.length === 0 ? "Nothing that is worth its set-up fits. Do one set more and stop, or end the session."
      : `Stays, about ${minutesWith(session, out)} minutes: ${listText(stays.map(([sets, lift]) => `${countText(sets, "set")} of ${lift}`))}.`),
    el("p", {}, `Left out: ${leftOutText(session, out)}.`),
  ];
}

const openSets = (line) => line.rows.filter((row) => row.planned !== null && row.done === null).length;

// "leg curl, dumbbell curl and 1 of 3 sets of row": whole lifts by name, first.
export function leftOutText(session, out) {
  const lines = session.lines.filter((line) => out.has(line.order));
  const isWhole = (line) => out.get(line.order) >= openSets(line);
  return listText([
    ...lines.filter(isWhole).map((line) => line.entry.lift),
    ...lines.filter((line) => !isWhole(line))
      .map((line) => `${out.get(line.order)} of ${countText(openSets(line), "set")} of ${line.entry.lift}`),
  ]);
}

// ------------------------------------------------------------------------------------ machine taken

function takenView(page) {
  const line = openLine(page);
  if (line.order === null) return el("p", {}, "An added lift has no stand-in; add another lift instead.");
  const first = page.session.lines.find((other) => other !== line && !other.waits && other.remaining.length > 0);
  return [
    el("p", {}, `${capital(line.entry.lift)} is taken. `
      + (first ? "Do another lift first, or take a stand-in:" : "Take a stand-in, the nearest first:")),
    first && !line.waits ? button(`${capital(first.entry.lift)} first, this one last`, () => page.act.later(line),
      { class: "choice", "data-key": "later" }) : null,
    // A near twin loads the same place.
    [line.entry.lift, line.planned.lift].some((lift) => painfulToday(page.session, lift))
      ? spareView(page, line, regionSaid(page, line) ?? "", "machine taken") : nearView(page, line),
  ];
}

function nearView(page, line) {
  const back = line.swappedFrom === null ? [] : [line.planned];
  const choices = [...back, ...line.swaps.filter((entry) => entry.lift !== line.entry.lift)];
  return [
    choices.length === 0 ? el("p", {}, "Your kit allows no other lift for these muscles.")
      : swapList(page, line, choices, "machine taken"),
    leaveButton(page, line, "machine taken"),
  ];
}

const swapList = (page, line, choices, why) => el("ul", { class: "ruled" }, choices.map((entry) => el("li", {},
  button(entry === line.planned ? `Back to ${entry.lift}` : capital(entry.lift),
    () => page.act.swap(line, entry.lift, why), { class: "choice", "data-key": `swap-${entry.lift}` }),
  entry.sets[0] ? el("p", { class: "planned" }, plannedText(entry.sets[0], page.unit, entry.load_kind)) : null)));

const leaveButton = (page, line, why) => button("Leave it out today", () => page.act.skip(line, why),
  { class: "plain", "data-key": "skip" });

// ----------------------------------------------------------------------------------- something hurts

// Each region and what it is called among the places a lift loads, as the server's page says.
const PLACES = JSON.parse(document.getElementById("sheet").dataset.regions);
const placeOf = (region) => PLACES[region] ?? region;

// The region said last for the lift's pain today: "" where it is none of them, null before a word.
function regionSaid(page, line) {
  const said = page.session.happened.findLast((fact) => fact.kind === "session"
    && fact.session.what === "hurts" && fact.session.lift === line.entry.lift);
  return said === undefined ? null : said.session.region ?? "";
}

const placesOf = (page, line) => page.session.document.places?.[line.order] ?? [];

function hurtsView(page) {
  const lift = page.draftFor("hurts lift", () => ({ key: hurtLine(page).key }));
  const line = page.session.lines.find(({ key }) => key === lift.key);
  const stop = page.session.document.sheet.cautions.find((one) => one.code === "sheet_stop_signs");
  const draft = page.draftFor(`hurts ${line.key} ${line.entry.lift}`, () => ({ region: regionSaid(page, line), words: "" }));
  return [
    stop ? el("p", { class: "caution" }, `${stop.says}.`) : null,
    button("One of these: stop the session", page.act.stopSign, { class: "plain", "data-key": "stop-sign" }),
    page.tracks.length > 1 ? el("p", {}, `${page.session.document.lifter.name}’s pain: for the other tap the name at the top.`) : null,
    el("label", { for: "field-hurts" }, "Or pain in"),
    el("select", { id: "field-hurts", "data-key": "hurts-lift",
      on: { change: (event) => { lift.key = event.target.value; page.act.redraw(); } } },
      page.session.lines.map(({ key, entry }) => el("option", { value: key, selected: key === line.key }, entry.lift))),
    draft.region === null ? regionsView(page, line, draft) : howMuchView(page, line, draft),
  ];
}

// After the last set of a lift the next one stands open: what hurts then is the one just done.
function hurtLine(page) {
  const open = openLine(page);
  const { lines, last } = page.session;
  return open.rows.some(({ done }) => done !== null) || open.pain !== null ? open
    : lines.find(({ rows }) => rows.some(({ done }) => done !== null && done === last)) ?? open;
}

const placeText = (region) => region === "" ? "Somewhere else" : capital(region);

const regionsView = (page, line, draft) => [
  el("p", { id: "hurts-where" }, "Where?"),
  el("div", { class: "regions", role: "group", "aria-labelledby": "hurts-where" },
    [...Object.keys(PLACES), ""].map((region) => button(placeText(region), () => {
      draft.region = region;
      page.act.hurtsRegion(line, region);
    }, { "data-key": `region-${region}` }))),
];

const firstStop = (page) => Math.floor(page.session.limits.stopAbove) + 1;

const howMuchView = (page, line, draft) => [
  el("p", { id: "hurts-where", class: "where" }, `${placeText(draft.region)}. `,
    button("Another place", () => { draft.region = null; page.act.redraw(); }, { class: "plain", "data-key": "place" })),
  el("label", { for: "field-where" }, "In your words (may stay empty)"),
  el("input", { id: "field-where", value: draft.words, maxlength: "80", autocomplete: "off",
    on: { input: (event) => { draft.words = event.target.value; } } }),
  el("p", {}, isPartner(page) ? `Less pain than this is for ${page.session.document.lifter.name} to say.` : "How much pain now?"),
  scale({
    low: isPartner(page) ? firstStop(page) : 0, high: 10, lowWord: isPartner(page) ? "stop" : "none", highWord: "worst there is", label: `Pain in ${line.entry.lift}`,
    chosen: line.pain, key: "pain", choose: (pain) => page.act.hurts(line, pain, draft.region, draft.words.trim()),
  }),
  line.pain === null ? null : painWords(page, line, page.session.limits, draft.region),
];

function painWords(page, line, limits, region) {
  if (line.pain > limits.stopAbove) {
    return [
      el("p", { class: "caution", id: "pain-said" }, `Stop ${line.entry.lift} for today. It is written down for the coach. `
        + "A second report in a row asks for a licensed professional; go at once if it is sharp or does not settle."),
      othersView(page, line, region),
    ];
  }
  if (line.pain > limits.carryOn) {
    return [
      el("p", { class: "caution", id: "pain-said" }, line.remaining.length === 0
        ? "Its sets are done: no more of this lift today."
        : "No more load on this lift today. Go on only if it does not grow; better, leave it."),
      othersView(page, line, region),
      spareView(page, line, region, `pain ${line.pain}`),
    ];
  }
  return el("p", { id: "pain-said" }, "Carry on, and say so again if it grows.");
}

// Lifts still to come that load the same place.
function othersView(page, line, region) {
  const lifts = region === "" ? [] : page.session.lines.filter((other) => other.order !== null && other !== line
    && other.remaining.length > 0 && placesOf(page, other).includes(placeOf(region))).map((other) => other.entry.lift);
  return lifts.length === 0 ? null
    : el("p", { class: "caution" }, `Still to come and loading the ${region} too: ${listText(lifts)}. Leave out what hurts.`);
}

// What spares the place that hurts; often nothing, and then nothing is offered, nor where the lift's
// sets are done.
function spareView(page, line, region, why) {
  const known = line.swappedFrom === null ? page.session.document.pain?.[line.order] : undefined;
  const place = placeOf(region) in (known?.for ?? {}) ? placeOf(region) : "";
  const names = known?.for[place] ?? [];
  const goesOn = line.remaining.length > 0;
  return [
    !goesOn ? null : names.length === 0 ? el("p", {}, "Nothing your kit allows trains this and is sure to spare what hurts.")
      : [el("p", {}, place === "" ? "These share little with it:" : `These spare the ${region}, as far as is known:`),
        swapList(page, line, names.map((name) => known.entries.find((entry) => entry.lift === name)), why)],
    goesOn ? leaveButton(page, line, why) : null,
    el("p", { class: "caution" }, known ? `${known.says}.`
      : "Stop any lift that hurts. Pain that lasts, spreads or comes back belongs to a licensed professional."),
  ];
}

// ---------------------------------------------------------------------------------------- check-in

const WELLNESS = [
  ["sleep", "Sleep", "very good", "very bad"], ["fatigue", "Tiredness", "very low", "very high"],
  ["stress", "Stress", "very low", "very high"], ["soreness", "Soreness", "very low", "very high"],
];
const MUSCLES = [
  "quads", "hamstrings", "glutes", "adductors", "calves", "chest", "lats", "upper_back", "front_delts",
  "side_delts", "rear_delts", "biceps", "triceps", "forearms", "abs", "spinal_erectors",
];

const valueOf = (page, name) => {
  const fact = page.session.checkins.get(name);
  return fact === undefined ? null : Number(fact.checkin.value);
};

function checkinView(page) {
  const draft = page.draftFor("sore", () => ({ muscle: "" }));
  const sore = [...page.session.checkins.values()].filter((fact) => fact.checkin.measure === "sore");
  return [
    WELLNESS.map(([measure, title, lowWord, highWord]) => [
      el("h3", {}, title),
      scale({
        low: 1, high: 7, lowWord: `1 ${lowWord}`, highWord: `7 ${highWord}`, label: title,
        chosen: valueOf(page, measure), key: measure, choose: (value) => page.act.checkin(measure, "", value),
      }),
    ]),
    el("h3", {}, "Sore muscles"),
    sore.length > 0 ? el("p", {}, `Written down: ${listText(sore.map((fact) =>
      `${spaced(fact.checkin.about)} ${fact.checkin.value}`))}.`) : null,
    el("label", { for: "field-muscle" }, "Muscle"),
    el("select", { id: "field-muscle", "data-key": "muscle",
      on: { change: (event) => { draft.muscle = event.target.value; page.act.redraw(); } } },
      el("option", { value: "" }, "none"),
      MUSCLES.map((muscle) => el("option", { value: muscle, selected: muscle === draft.muscle }, spaced(muscle)))),
    draft.muscle === "" ? null : scale({
      low: 0, high: 10, lowWord: "not sore", highWord: "as sore as can be", label: `How sore: ${spaced(draft.muscle)}`,
      chosen: valueOf(page, `sore ${draft.muscle}`), key: "sore",
      choose: (value) => page.act.checkin("sore", draft.muscle, value),
    }),
    measuredView(page),
    dayNoteView(page),
  ];
}

const MEASURED = ["bodyweight", "waist", "chest", "hips", "arm", "forearm", "thigh", "calf", "neck", "shoulders"];

// What a scale and a tape say.
function measuredView(page) {
  const draft = page.draftFor("measured", () => ({ measure: MEASURED[0], value: "" }));
  const unit = draft.measure === "bodyweight" ? page.unit : page.unit === "lb" ? "in" : "cm";
  const told = [...page.session.checkins.values()].map(({ checkin }) => checkin)
    .filter(({ measure }) => MEASURED.includes(measure));
  const write = (event) => {
    event.preventDefault();
    page.act.measured(draft.measure, draft.value.trim(), unit);
  };
  return [
    el("h3", {}, "Body weight and girths"),
    told.length > 0 ? el("p", {}, `Written down: ${listText(told.map((one) => `${one.measure} ${one.value} ${one.unit}`))}.`) : null,
    el("label", { for: "field-measure" }, "What was measured"),
    el("select", { id: "field-measure", "data-key": "measure",
      on: { change: (event) => { draft.measure = event.target.value; page.act.redraw(); } } },
      MEASURED.map((measure) => el("option", { value: measure, selected: measure === draft.measure }, measure))),
    el("form", { on: { submit: write } },
      el("label", { for: "field-measured" }, `How much, ${unit}`),
      el("input", { id: "field-measured", value: draft.value, inputmode: "decimal", autocomplete: "off",
        "data-key": "measured", on: { input: (event) => { draft.value = event.target.value; } } }),
      el("button", { class: "plain", "data-key": "write-measured" }, "Write the measurement down")),
  ];
}

// In the lifter's own words; signs among them are said at once.
function dayNoteView(page) {
  const draft = page.draftFor("day-note", () => ({ text: "" }));
  return el("form", { on: { submit: (event) => { event.preventDefault(); page.act.note(draft.text.trim()); } } },
    el("h3", {}, "Anything else"),
    notesView(page),
    el("label", { for: "field-day-note" }, "Note for the coach (may stay empty)"),
    el("input", { id: "field-day-note", value: draft.text, maxlength: "500", autocomplete: "off",
      on: { input: (event) => { draft.text = event.target.value; } } }),
    el("button", { class: "write" }, "Write the note down"));
}

const notesView = (page) => page.session.happened
  .filter(({ kind, session }) => kind === "session" && session.what === "note")
  .map(({ session }) => el("p", {}, `Written down: \u201c${session.text}\u201d.`));

const spaced = (name) => name.replaceAll("_", " ");

// ------------------------------------------------------------------------------------ another lift

// Counted in seconds or metres, for which a set has no place: kept in the lifter's words.
const HELD = /\b(planks?|l-?sits?|wall[- ]sits?|(dead|active) ?hangs?|holds?|(walk|carr(y|ie))s?)\b/i;

function liftView(page) {
  const draft = page.draftFor("lift", () => ({ lift: "", held: null }));
  const { others = {}, swaps } = page.session.document;
  const here = Object.values(swaps).flat().map((entry) => entry.lift);
  const names = [...new Set([...Object.values(others).flat(), ...here])].sort();
  const folded = (name) => name.toLowerCase().replaceAll(/[- ]+/g, " ").trim();
  const add = () => {
    if (draft.held === null && HELD.test(draft.lift)) {
      draft.held = "";
      return page.act.redraw();
    }
    if (draft.held !== null) return page.act.note(draft.held.trim() && `${draft.lift.trim()}: ${draft.held.trim()}`, "lift");
    return page.act.addLift(names.find((name) => folded(name) === folded(draft.lift)) ?? draft.lift.trim());
  };
  return el("form", { on: { submit: (event) => { event.preventDefault(); add(); } } },
    el("label", { for: "field-lift" }, "Name of the lift"),
    el("input", { id: "field-lift", list: "lift-names", value: draft.lift, autocomplete: "off", autocapitalize: "none",
      maxlength: "80", on: { input: (event) => {
        draft.lift = event.target.value;
        if (draft.held !== null && !HELD.test(draft.lift)) { draft.held = null; page.act.redraw(); }
      } } }),
    el("datalist", { id: "lift-names" }, names.map((name) => el("option", { value: name }))),
    draft.held === null ? notesView(page) : [
      el("label", { for: "field-held" }, "Held or carried: seconds or metres of each set, and the load. It is kept as a note"),
      el("input", { id: "field-held", value: draft.held, autocomplete: "off", maxlength: "200",
        on: { input: (event) => { draft.held = event.target.value; } } })],
    el("button", { class: "write" }, draft.held === null ? "Add it" : "Write the note down"));
}

// ------------------------------------------------------------------------------------------- turns

function turnsView(page) {
  if (page.tracks.length > 1) {
    return button("Go on alone", page.act.alone, { class: "plain" });
  }
  const { lifter, sheet } = page.session.document;
  // A day to come is nearer than one gone by.
  const apart = (one, days = Date.parse(one.date) - Date.parse(sheet.date)) => days < 0 ? 1 - days : days;
  // Of each the session nearest to this day; who trains on it comes first.
  const others = page.sessions.filter((one) => one.lifter !== lifter.id).sort((one, other) => apart(one) - apart(other))
    .filter((one, at, all) => all.findIndex((other) => other.lifter === one.lifter) === at);
  if (others.length === 0) return el("p", {}, "No other lifter of yours has a session near today.");
  return [
    el("p", {}, "Both sessions on this phone; after each set it is the other's turn. Choose the same on the other "
      + "phone, and both show whose turn it is and what changes on the bar."),
    el("ul", { class: "ruled" }, others.map((one) => el("li", {},
      button(`${one.name}, ${dayText(one.date)}`, () => page.act.join(one.key), { class: "choice" })))),
  ];
}

// ----------------------------------------------------------------------------------- the session's end

function endView(page) {
  const draft = page.draftFor("end", () => ({ note: "" }));
  return [
    isPartner(page) ? null : [
      el("p", {}, `How hard was the whole session${page.tracks.length > 1 ? ` for ${page.session.document.lifter.name}` : ""}?`),
      scale({
        low: 0, high: 10, lowWord: "rest", highWord: "the hardest ever", label: "Effort of the whole session",
        chosen: valueOf(page, "session_rpe"), key: "effort", choose: (value) => page.act.effort(value),
      }),
    ],
    el("label", { for: "field-session-note" }, "Note for the coach (may stay empty)"),
    el("input", { id: "field-session-note", value: draft.note, maxlength: "500", autocomplete: "off",
      on: { input: (event) => { draft.note = event.target.value; } } }),
    button("End the session", () => page.act.end(draft.note.trim()), { class: "write" }),
  ];
}
