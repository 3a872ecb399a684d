// Numbers and sentences as a person reads them.

export const KG_PER_LB = 0.45359237;

export const inUnit = (kg, unit) => unit === "lb" ? kg / KG_PER_LB : kg;

// At most two decimals, no trailing zeros.
export function numberText(value) {
  const text = value.toFixed(2).replace(/\.?0+$/, "");
  return text === "-0" || text === "" ? "0" : text;
}

export const loadText = (kg, unit) => `${numberText(inUnit(kg, unit))} ${unit}`;

export const clockText = (seconds) =>
  `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;

const rangeText = (low, high) => low === high ? String(low) : `${low}–${high}`;

export function listText(items) {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

// As `sheets/report_shapes.py` has it.
export const capital = (text) => text.startsWith("ez ") ? `EZ${text.slice(2)}` : text.charAt(0).toUpperCase() + text.slice(1);

export const countText = (count, one, many = `${one}s`) => `${count} ${count === 1 ? one : many}`;

const DAYS = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"];
const MONTHS = [
  "January", "February", "March", "April", "May", "June", "July", "August", "September",
  "October", "November", "December",
];

export function dayText(iso) {
  const [year, month, day] = iso.split("-").map(Number);
  return `${DAYS[new Date(year, month - 1, day).getDay()]} ${day} ${MONTHS[month - 1]}`;
}

// A load as a lifter says it, by the kind of lift: beside bodyweight, or what a machine helps with.
const ofKind = (load, kind) => kind === "bodyweight_plus" ? `+${load}` : kind !== "assisted" ? load
  : Number.parseFloat(load) > 0 ? `${load} of help` : "help not weighed";

// A planned set in one line of a narrow phone: "72.5 kg × 5–8 reps, RIR 3".
export function plannedText(planned, unit, kind, loadKg = planned.load_kg, setting = null) {
  const load = loadKg === null ? "load to be found, " : loadKg > 0 ? `${ofKind(loadText(loadKg, unit), kind)} × `
    : kind === "bodyweight_plus" ? "bodyweight × " : setting === null ? "" : `${setting}, `;
  return `${load}${askedText(planned)}`;
}

export const askedText = ({ reps_low: low, reps_high: high, rir }) => `${rangeText(low, high)} reps, RIR\u00a0${numberText(rir)}`;

// A set that was done, as it was typed.
export function doneText(set, kind) {
  const isOwn = kind === "bodyweight_plus" && !(Number.parseFloat(set.load) > 0);
  const load = isOwn ? "bodyweight × " : set.load === "" ? "" : `${ofKind(`${set.load} ${set.unit}`, kind)} × `;
  const left = set.rir === "" ? "" : `, RIR ${set.rir}`;
  const pain = set.pain === null || set.pain === undefined ? "" : `, pain ${set.pain}`;
  return `${load}${set.reps} reps${left}${pain}`;
}

export const writtenText = (fact) => fact.state === "writing" ? "Being written down." : "Written down.";

export const NOT_KEPT = "Not written down: the phone has no room. Keep this page open; the foot of the page says more.";

// What the advice says of the next set; the same moves as on paper.
export function adviceText({ setting, from, move }, unit, kind) {
  const load = setting.load_kg === 0 ? setting.says : ofKind(loadText(setting.load_kg, unit), kind);
  if (move === "keep") return `Next set: keep ${load}.`;
  if (move === "wait") return `Next set: keep ${load} today, and add next time.`;
  const change = loadText(Math.abs(setting.load_kg - from.load_kg), unit);
  if (kind === "bodyweight_plus" && from.load_kg === 0) return `Next set: add ${change}.`;
  if (kind === "assisted") return `Next set: ${change} ${move === "raise" ? "less" : "more"} help, ${loadText(setting.load_kg, unit)}.`;
  return `Next set: ${move === "raise" ? `add ${change}` : `take ${change} off`}, ${load}.`;
}
