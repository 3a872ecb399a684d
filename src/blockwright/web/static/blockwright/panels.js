// What stands at the foot of the sheet: short of time, machine taken, something hurts, check-in,
// another lift, turns, the end of the session. One panel is open at a time.

import { button, el, makeKeeper, scale, stepper } from "./dom.js";
import { leaveOut } from "./session.js";
import { countText, dayText, listText, plannedText } from "./words.js";

const PANELS = [
  ["short", "Short of time"], ["taken", "Machine taken"], ["hurts", "Something hurts"],
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
  return page.panel === null ? same("foot", null, () => drawn(page)) : drawn(page);
}

function drawn(page) {
  return el("section", { class: "foot", "aria-label": "Besides the sets" },
    PANELS.map(([name, title]) => {
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
  const left = new Map(session.lines.filter((line) => line.order !== null && !line.stopped && !line.skipped)
    .map((line) => [line.order, line.rows.filter((row) => row.done === null).length]));
  const preview = el("p", {}, "");
  const show = () => { preview.textContent = previewText(session, left, Number(draft.minutes)); };
  show();
  return [
    el("p", {}, "How many minutes are left? The last lifts give first: one set of each while it keeps one, then whole lifts from the end."),
    stepper({
      label: "Minutes", value: draft.minutes, key: "minutes", mode: "numeric",
      step: (text, direction) => String(Math.min(Math.max((Number(text) || 0) + 5 * direction, 5), 180)),
      changed: (text) => { draft.minutes = text; show(); },
    }),
    preview,
    button("Leave these out", () => page.act.shortOfTime(Number(draft.minutes)), { class: "write" }),
  ];
}

function previewText(session, left, minutes) {
  if (!(minutes > 0)) return "Write a number of minutes.";
  const out = leaveOut(session.document, left, minutes);
  if (out.size === 0) return "Everything fits; nothing is left out.";
  const lifts = session.document.sheet.entries.filter((entry) => out.has(entry.order))
    .map((entry) => `${out.get(entry.order)} of ${countText(left.get(entry.order), "set")} of ${entry.lift}`);
  return `Left out: ${listText(lifts)}.`;
}

// ------------------------------------------------------------------------------------ machine taken

function takenView(page) {
  const line = openLine(page);
  if (line.order === null) return el("p", {}, "An added lift has no stand-in; add another lift instead.");
  return [
    el("p", {}, `${capital(line.entry.lift)} is taken. Do another lift first and come back: open it above. Or take a stand-in, the nearest first:`),
    swapList(page, line, "machine taken"),
  ];
}

function swapList(page, line, why) {
  const choices = line.swaps.filter((entry) => entry.lift !== line.entry.lift);
  const back = line.swappedFrom === null ? null : line.planned;
  if (choices.length === 0 && back === null) {
    return [
      el("p", {}, "Your kit allows no other lift for these muscles."),
      button("Leave it out today", () => page.act.skip(line, why), { class: "plain" }),
    ];
  }
  return [
    el("ul", { class: "ruled" }, [...(back ? [back] : []), ...choices].map((entry) => el("li", {},
      button(entry === back ? `Back to ${entry.lift}` : capital(entry.lift),
        () => page.act.swap(line, entry.lift, why), { class: "choice", "data-key": `swap-${entry.lift}` }),
      entry.sets[0] ? el("p", { class: "planned" }, plannedText(entry.sets[0], page.unit)) : null))),
    button("Leave it out today", () => page.act.skip(line, why), { class: "plain", "data-key": "skip" }),
  ];
}

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

// ----------------------------------------------------------------------------------- something hurts

function hurtsView(page) {
  const line = openLine(page);
  const { limits, document } = page.session;
  const stop = document.sheet.cautions.find((one) => one.code === "sheet_stop_signs");
  const draft = page.draftFor(`hurts ${line.key}`, () => ({ where: "" }));
  return [
    stop ? el("p", { class: "caution" }, `${stop.says}.`) : null,
    button("One of these: stop the session", page.act.stopSign, { class: "plain", "data-key": "stop-sign" }),
    el("p", {}, `Or pain in ${line.entry.lift}: how much, from 0 to 10?`),
    scale({
      low: 0, high: 10, lowWord: "none", highWord: "worst there is", label: `Pain in ${line.entry.lift}`,
      chosen: line.pain, key: "pain", choose: (pain) => page.act.hurts(line, pain, draft.where),
    }),
    el("label", { for: "field-where" }, "Where (may stay empty)"),
    el("input", { id: "field-where", value: draft.where, maxlength: "80", autocomplete: "off",
      on: { input: (event) => { draft.where = event.target.value; } } }),
    line.pain === null ? null : painWords(page, line, limits),
  ];
}

function painWords(page, line, limits) {
  if (line.pain > limits.stopAbove) {
    return el("p", { class: "caution", id: "pain-said" }, `Stop ${line.entry.lift} for today. It is written down for the coach. `
      + "A second report in a row asks for a licensed professional; go at once if it is sharp or does not settle.");
  }
  if (line.pain > limits.carryOn) {
    return [
      el("p", { class: "caution", id: "pain-said" }, "No more load on this lift today. Go on only if it does not grow, or take a stand-in:"),
      swapList(page, line, `pain ${line.pain}`),
    ];
  }
  return el("p", { id: "pain-said" }, "Carry on, and say so again if it grows.");
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
  ];
}

const spaced = (name) => name.replaceAll("_", " ");

// ------------------------------------------------------------------------------------ another lift

function liftView(page) {
  const draft = page.draftFor("lift", () => ({ lift: "" }));
  const { document } = page.session;
  const names = [...new Set(Object.values(document.swaps).flat().map((entry) => entry.lift))].sort();
  return el("form", { on: { submit: (event) => { event.preventDefault(); page.act.addLift(draft.lift.trim()); } } },
    el("label", { for: "field-lift" }, "Name of the lift"),
    el("input", { id: "field-lift", list: "lift-names", value: draft.lift, autocomplete: "off", autocapitalize: "none",
      maxlength: "80", on: { input: (event) => { draft.lift = event.target.value; } } }),
    el("datalist", { id: "lift-names" }, names.map((name) => el("option", { value: name }))),
    el("button", { class: "write" }, "Add it"));
}

// ------------------------------------------------------------------------------------------- turns

function turnsView(page) {
  if (page.tracks.length > 1) {
    return button("Go on alone", page.act.alone, { class: "plain" });
  }
  const others = page.sessions.filter((one) => one.lifter !== page.session.document.lifter.id);
  if (others.length === 0) return el("p", {}, "No other lifter of yours has a session near today.");
  return [
    el("p", {}, "Both sessions on this phone; after each set it is the other's turn."),
    el("ul", { class: "ruled" }, others.map((one) => el("li", {},
      button(`${one.name}, ${dayText(one.date)}`, () => page.act.join(one.key), { class: "choice" })))),
  ];
}

// ----------------------------------------------------------------------------------- the session's end

function endView(page) {
  const draft = page.draftFor("end", () => ({ note: "" }));
  return [
    el("p", {}, "How hard was the whole session?"),
    scale({
      low: 0, high: 10, lowWord: "rest", highWord: "the hardest ever", label: "Effort of the whole session",
      chosen: valueOf(page, "session_rpe"), key: "effort", choose: (value) => page.act.effort(value),
    }),
    el("label", { for: "field-session-note" }, "Note for the coach (may stay empty)"),
    el("input", { id: "field-session-note", value: draft.note, maxlength: "500", autocomplete: "off",
      on: { input: (event) => { draft.note = event.target.value; } } }),
    button("End the session", () => page.act.end(draft.note.trim()), { class: "write" }),
    page.session.ended !== null ? el("p", {}, "Ended. Sets can still be written down or corrected.") : null,
  ];
}
