// Numbers and sentences as a person reads them.

const KG_PER_LB = 0.45359237;

export const inUnit = (kg, unit) => unit === "lb" ? kg / KG_PER_LB : kg;

// At most two decimals, no trailing zeros.
export function numberText(value) {
  const text = value.toFixed(2).replace(/\.?0+$/, "");
  return text === "-0" || text === "" ? "0" : text;
}

export const loadText = (kg, unit) => `${numberText(inUnit(kg, unit))} ${unit}`;

export const clockText = (seconds) =>
  `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;

const rangeText = (low, high) => low === high ? String(low) : `${low} to ${high}`;

export function listText(items) {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

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

// A planned set in a line: "72.5 kg, 5 to 8 reps, 3 in reserve".
export function plannedText(planned, unit, loadKg = planned.load_kg, setting = null) {
  const load = loadKg === null ? "load to be found"
    : loadKg === 0 && setting !== null ? setting : loadText(loadKg, unit);
  return `${load}, ${rangeText(planned.reps_low, planned.reps_high)} reps, ${numberText(planned.rir)} in reserve`;
}

// A set that was done, as it was typed.
export function doneText(set) {
  const load = set.load === "" ? "" : `${set.load} ${set.unit}, `;
  const left = set.rir === "" ? "" : `, ${set.rir} in reserve`;
  const pain = set.pain === null || set.pain === undefined ? "" : `, pain ${set.pain}`;
  return `${load}${set.reps} reps${left}${pain}`;
}

// The same in one line of a narrow phone.
export function doneShort(set, kind) {
  const isOwn = kind === "bodyweight_plus" && !(Number.parseFloat(set.load) > 0);
  const load = isOwn ? "bodyweight × " : set.load === "" ? "" : `${set.load} ${set.unit} × `;
  const left = set.rir === "" ? "" : `, RIR ${set.rir}`;
  const pain = set.pain === null || set.pain === undefined ? "" : `, pain ${set.pain}`;
  return `${load}${set.reps} reps${left}${pain}`;
}

export const writtenText = (fact) => fact.state === "writing" ? "Being written down." : "Written down.";

export const NOT_KEPT = "Not written down: the phone has no room. Keep this page open; the foot of the page says more.";

// What the advice says of the next set; the same three moves as on paper.
export function adviceText(advice, unit) {
  const { setting, from, move, helps } = advice;
  const load = setting.load_kg === 0 ? setting.says : loadText(setting.load_kg, unit);
  const change = loadText(Math.abs(setting.load_kg - from.load_kg), unit);
  if (move === "keep") return `Next set: keep ${load}.`;
  if (helps) {
    return move === "raise" ? `Next set: take ${change} of the help away, ${load}.`
      : `Next set: add ${change} of help, ${load}.`;
  }
  return move === "raise" ? `Next set: add ${change}, ${load}.`
    : `Next set: take ${change} off, ${load}.`;
}
