// The rest between sets, told from stored times, and what to change on a shared bar. Pure.

import { firstPart } from "./finding.js";

// A longer pause is none between two sets of a lift (judgement).
const MOST_REST_S = 3600;

// The rest after the last set: {elapsed, planned} in seconds, null before a set or when the
// phone's clock was moved. Told from stored times, so a locked screen does not matter.
export function restNow(session, nowMs) {
  if (session.last === null || session.ended !== null) return null;
  const elapsed = (nowMs - Date.parse(session.last.at)) / 1000;
  if (elapsed < 0 || elapsed > MOST_REST_S) return null;
  const line = session.lines.find((one) => one.rows.some((row) => row.done === session.last));
  return { elapsed, planned: line?.entry.rest_s ?? null };
}

// The rest before a set that ends now: since the lift's last set, less the time it took; null
// where the times cannot be right (written down later, clock moved).
export function restBefore(line, document, reps, nowMs) {
  const last = line.rows.filter((row) => row.done !== null).at(-1)?.done;
  const perRep = document.advice.lifts[line.entry.lift]?.seconds_per_rep;
  if (last === undefined || perRep === undefined) return null;
  const rest = (nowMs - Date.parse(last.at)) / 1000 - firstPart(reps) * perRep;
  return rest > 0 && rest <= MOST_REST_S ? Math.round(rest) : null;
}

const barOf = ({ says = "" }) => says.replace(/ alone$|,.*$/, "");

// Plates to change on one bar from one loading to another: {off, on}, per side, the lightest off
// and the heaviest on first; null where it is not two loadings of one bar.
export function barChange(from, to) {
  if (!from?.plates_per_side || !to?.plates_per_side || barOf(from) !== barOf(to)) return null;
  const names = new Set([...Object.keys(from.plates_per_side), ...Object.keys(to.plates_per_side)]);
  const off = [], on = [];
  for (const name of names) {
    const change = (to.plates_per_side[name] ?? 0) - (from.plates_per_side[name] ?? 0);
    for (let at = 0; at < Math.abs(change); at++) (change < 0 ? off : on).push(name);
  }
  const lightest = (one, other) => Number.parseFloat(one) - Number.parseFloat(other);
  return { off: off.sort(lightest), on: on.sort(lightest).reverse() };
}
