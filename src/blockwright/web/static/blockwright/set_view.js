// The set in hand: load, repetitions, reserve, and the button that writes it down.

import { button, el, lastPart, setText, stepper } from "./dom.js";
import { isTaken } from "./session.js";
import { inUnit, numberText, plannedText } from "./words.js";

const plain = (text) => Number.parseFloat(String(text).replace(",", "."));

// What the fields hold before anybody touches them: what is planned or advised.
export function firstDraft(line, unit) {
  const planned = line.remaining[0]?.planned ?? null;
  const last = line.rows.filter(({ done }) => done !== null && isTaken(done)).at(-1)?.done.set ?? null;
  const kg = line.nextKg;
  const expected = line.expected === null || planned === null ? null
    : Math.min(Math.max(line.expected, planned.reps_low), planned.reps_high);
  return {
    load: kg !== null ? numberText(inUnit(kg, unit)) : last?.load ?? (line.entry?.load_kind === "bodyweight_plus" ? "0" : ""),
    reps: String(expected ?? planned?.reps_low ?? last?.reps ?? 8),
    rir: planned !== null ? numberText(planned.rir) : last?.rir ?? "2",
    note: "", fullRange: true,
  };
}

// The fields of a set that was done, to be corrected.
export const draftOf = (set) => ({
  load: set.load, reps: set.reps, rir: set.rir, note: set.note ?? "", fullRange: set.full_range ?? true,
});

export function loadStep(line, unit) {
  const settings = line.rack?.settings ?? [];
  return (text, direction) => {
    const now = plain(text);
    if (Number.isNaN(now)) return numberText(inUnit(settings[0]?.load_kg ?? 0, unit));
    const shown = settings.map((one) => Number(numberText(inUnit(one.load_kg, unit))));
    const next = direction > 0 ? shown.find((value) => value > now) : shown.findLast((value) => value < now);
    // Beyond what the sheet knows of the rack: whole steps, for kit that was not told.
    return numberText(next ?? Math.max(now + direction * (unit === "lb" ? 5 : 2.5), 0));
  };
}

export const count = (low, high) => (text, direction) => {
  const now = plain(text);
  return numberText(Math.min(Math.max((Number.isNaN(now) ? low : now) + direction, low), high));
};

function settingText(line, unit, text) {
  const found = (line.rack?.settings ?? [])
    .find((one) => numberText(inUnit(one.load_kg, unit)) === numberText(plain(text) || 0));
  return found?.says ?? "";
}

const MORE_A_PART = 3, LESS_A_DROP = 0.8;

const PARTS_WORDS = {
  "rest-pause": "Rest-pause: after each part some breaths, then a few more reps.",
  drop: "Drop set: after each part less load at once, and on.",
};

// One part more of a set in parts, the plus too: what a thumb need not look for among the signs.
export function withPart({ load, reps }, line, unit, method) {
  const lighter = loadStep(line, unit)(LESS_A_DROP * plain(lastPart(load)), -1);
  return { load: method === "drop" ? `${load}+${lighter}` : load, reps: `${reps}+${MORE_A_PART}` };
}

export const loadLabel = ({ load_kind: kind }) => kind === "per_hand" ? "Each hand"
  : kind === "assisted" ? "Help" : kind === "bodyweight_plus" ? "Added" : "Load";

// Of a lift done one side at a time, as its technique says.
export const repsUnit = ({ standard }) => standard?.includes("both sides are one rep") ? "each side" : "";

// Why a set is not written yet.
export const lacksView = () => el("p", { class: "caution lacks", hidden: true });

// The form of one lift: {node, show}. `show(now)` puts the set in hand into it; the element stays,
// and with it the finger and the focus. `now`: {line, row, draft (changed in place), write}, and
// for a correction {takeBack, cancel}, and {takeEditBack} of a set that was corrected before.
export function makeSetForm(entry, method, unit, correcting, corrected = false) {
  let now = null;
  const parts = method === "rest-pause" || method === "drop";
  const lacks = lacksView();
  const title = el("span", {}), plan = el("span", { class: "plan" }), setting = el("p", { class: "setting" });
  const say = () => setText(setting, settingText(now.line, unit, now.draft.load));
  const field = (name, more) => stepper({
    key: name, mode: parts ? "text" : "numeric", value: "",
    changed: (text) => { now.draft[name] = text; lacks.hidden = true; say(); }, ...more,
  });
  const addPart = () => {
    Object.assign(now.draft, withPart(now.draft, now.line, unit, method));
    for (const name of ["load", "reps"]) inputs.get(name).value = now.draft[name];
  };
  const note = el("input", { id: "field-note", maxlength: "500", autocomplete: "off",
    on: { input: () => { now.draft.note = note.value; } } });
  const partly = el("input", { type: "checkbox",
    on: { change: () => { now.draft.fullRange = !partly.checked; } } });
  const more = el("details", { class: "more" }, el("summary", { "data-key": "more" }, "Note, partial range"),
    el("label", { for: "field-note" }, "Note"), note,
    el("label", { class: "check" }, partly, "Not the full range of motion"));
  const node = el("form", { class: "hand", on: { submit: (event) => event.preventDefault() } },
    el("h3", {}, title, plan),
    parts ? el("div", { class: "where plan" }, el("p", {}, PARTS_WORDS[method]),
      button("Add a part", addPart, { class: "plain", "data-key": "part" })) : null,
    field("load", { label: loadLabel(entry), unit, mode: parts ? "text" : "decimal",
      step: (text, direction) => loadStep(now.line, unit)(text, direction) }),
    setting,
    field("reps", { label: "Reps", unit: repsUnit(entry), step: count(0, 200) }),
    field("rir", { label: "In reserve", unit: "RIR", mode: "decimal", step: count(0, 10) }),
    lacks,
    el("button", { class: "write", "data-key": "write",
      // At the click, not at the submit that follows it: some milliseconds sooner.
      on: { click: (event) => { event.preventDefault(); now.write(); } },
    }, correcting ? "Write the correction" : "Write it down"),
    more,
    correcting ? el("div", { class: "choices" },
      corrected ? button("Take the last correction back", () => now.takeEditBack(), { class: "plain" }) : null,
      button("Take the set back", () => now.takeBack(), { class: "plain" }),
      button("Leave it as it was", () => now.cancel(), { class: "plain" })) : null);
  const inputs = new Map(["load", "reps", "rir"].map((name) => [name, node.querySelector(`#field-${name}`)]));
  return {
    node,
    show(next) {
      const other = now?.draft !== next.draft;
      now = next;
      const { line, row, draft } = now;
      setText(title, correcting ? `Correct set ${row.number}` : headOf(line, row));
      plan.hidden = row.planned === null || correcting;
      if (!plan.hidden) setText(plan, `: ${plannedText(row.planned, unit, entry.load_kind, line.nextKg, settingText(line, unit, draft.load))}`);
      if (!other) return;
      for (const [name, input] of inputs) input.value = draft[name];
      note.value = draft.note;
      partly.checked = !draft.fullRange;
      more.open = false;
      lacks.hidden = true;
      say();
    },
  };
}

export function headOf(line, row) {
  const planned = line.rows.filter((one) => one.planned !== null).length - line.leftOut;
  return row.planned === null ? "One more set" : `Set ${row.number} of ${planned}`;
}

// What an event says of a set: the draft's words as typed.
export const saidOf = (line, method, draft, unit, number, restS) => ({
  lift: line.entry.lift, set: number, load: String(draft.load).trim(), unit,
  reps: String(draft.reps).trim(), rir: String(draft.rir).trim(), rest_s: restS,
  method, full_range: draft.fullRange, pain: null,
  note: draft.note.trim(), confirmed: false,
});
