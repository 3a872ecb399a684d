// The set in hand: load, repetitions, reserve, and the button that writes it down.

import { button, el, stepper } from "./dom.js";
import { inUnit, numberText, plannedText } from "./words.js";

const inParts = (method) => method === "rest-pause" || method === "drop";

const plain = (text) => Number.parseFloat(String(text).replace(",", "."));

// What the fields hold before anybody touches them: what is planned or advised.
export function firstDraft(line, unit) {
  const planned = line.remaining[0]?.planned ?? null;
  const last = line.rows.filter((row) => row.done !== null).at(-1)?.done.set ?? null;
  const kg = line.nextKg;
  const expected = line.expected === null || planned === null ? null
    : Math.min(Math.max(line.expected, planned.reps_low), planned.reps_high);
  return {
    load: kg !== null ? numberText(inUnit(kg, unit)) : last?.load ?? firstTry(line, unit),
    reps: String(expected ?? planned?.reps_low ?? last?.reps ?? 8),
    rir: planned !== null ? numberText(planned.rir) : last?.rir ?? "2",
    note: "", fullRange: true,
  };
}

function firstTry(line, unit) {
  const first = line.entry.find_load[0]?.load_kg ?? line.rack?.easiest?.load_kg ?? 0;
  return numberText(inUnit(first, unit));
}

// The fields of a set that was done, to be corrected.
export const draftOf = (set) => ({
  load: set.load, reps: set.reps, rir: set.rir, note: set.note ?? "", fullRange: set.full_range ?? true,
});

function loadStep(line, unit) {
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

const count = (low, high) => (text, direction) => {
  const now = plain(text);
  return numberText(Math.min(Math.max((Number.isNaN(now) ? low : now) + direction, low), high));
};

function settingText(line, unit, text) {
  const found = (line.rack?.settings ?? [])
    .find((one) => numberText(inUnit(one.load_kg, unit)) === numberText(plain(text) || 0));
  return found?.says ?? "";
}

// `draft` is changed in place. `write` is called once, by the button.
export function setForm({ line, row, draft, unit, write, cancel = null, takeBack = null }) {
  const parts = inParts(line.entry.method);
  const setting = el("p", { class: "setting" }, settingText(line, unit, draft.load));
  const loadLabel = line.entry.load_kind === "per_hand" ? "Load, one hand"
    : line.entry.load_kind === "assisted" ? "Help" : line.entry.load_kind === "bodyweight_plus" ? "Added load" : "Load";
  const correcting = cancel !== null;
  return el("form", { class: "hand", on: { submit: (event) => { event.preventDefault(); write(); } } },
    el("h3", {}, correcting ? `Correct set ${row.number}` : headOf(line, row)),
    row.planned !== null && !correcting
      ? el("p", { class: "plan" }, plannedText(row.planned, unit, line.nextKg, settingText(line, unit, draft.load))) : null,
    parts ? el("p", { class: "plan" }, "In parts: write them with a plus between, such as 15+4+4.") : null,
    stepper({
      label: loadLabel, unit, value: draft.load, key: "load", mode: parts ? "text" : "decimal",
      step: loadStep(line, unit),
      changed: (text) => { draft.load = text; setting.textContent = settingText(line, unit, text); },
    }),
    setting,
    stepper({
      label: "Reps", value: draft.reps, key: "reps", mode: parts ? "text" : "numeric",
      step: count(0, 200), changed: (text) => { draft.reps = text; },
    }),
    stepper({
      label: "In reserve", unit: "RIR", value: draft.rir, key: "rir", step: count(0, 10),
      changed: (text) => { draft.rir = text; },
    }),
    el("details", { class: "more" }, el("summary", { "data-key": "more" }, "Note, partial range"),
      el("label", { for: "field-note" }, "Note"),
      el("input", { id: "field-note", value: draft.note, maxlength: "500", autocomplete: "off",
        on: { input: (event) => { draft.note = event.target.value; } } }),
      el("label", { class: "check" },
        el("input", { type: "checkbox", checked: !draft.fullRange,
          on: { change: (event) => { draft.fullRange = !event.target.checked; } } }),
        "Not the full range of motion")),
    el("button", { class: "write", "data-key": "write" }, correcting ? "Write the correction" : "Write it down"),
    correcting ? el("div", { class: "choices" },
      button("Take the set back", takeBack, { class: "plain" }),
      button("Leave it as it was", cancel, { class: "plain" })) : null);
}

function headOf(line, row) {
  const planned = line.rows.filter((one) => one.planned !== null).length;
  return row.planned === null ? "One more set" : `Set ${row.number} of ${planned}`;
}

// What an event says of a set: the draft's words as typed.
export const saidOf = (line, draft, unit, number, restS) => ({
  lift: line.entry.lift, set: number, load: String(draft.load).trim(), unit,
  reps: String(draft.reps).trim(), rir: String(draft.rir).trim(), rest_s: restS,
  method: line.entry.method, full_range: draft.fullRange, pain: null,
  note: draft.note.trim(), confirmed: false,
});
