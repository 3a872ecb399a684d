// Finding a load: from the tries of a lift that has no basis yet to the next try, or to the load of
// the first work set. No try is a work set; only the last one says how strong the lifter is, those
// before it were light.

import { effectiveKg, landingAt, landsBest, observed, rackOf, rested } from "./advice.js";

// From here on a said reserve means "so many or more" (engine: RIR_AT_LEAST).
const AT_LEAST = 5;
const NEAR = 1e-6;

// `asked`: {lift, law, policy, bodyweightKg, tries: [{loadKg, reps, rir}], planned: {reps_low, reps_high, rir}}.
// {setting, isWork}: what to set next, and whether that is the first work set; null where nothing can
// be said, before the first try or without a bodyweight that the lift needs.
function nextTry(asked) {
  const { lift, policy, bodyweightKg, tries } = asked;
  const last = tries.at(-1);
  const lastKg = last === undefined ? null : effectiveKg(lift, last.loadKg, bodyweightKg);
  if (!(lastKg > 0)) return null;
  const moved = (setting) => effectiveKg(lift, setting.load_kg, bodyweightKg);
  const rising = rackOf(lift).settings.filter((setting) => moved(setting) > 0)
    .sort((one, other) => moved(one) - moved(other));
  if (rising.length === 0) return null;
  const upTo = (most) => rising.filter((setting) => moved(setting) <= most + NEAR);
  const mayTry = tries.length < policy["finding.most_tries"];
  const step = last.rir >= policy["finding.far_rir"] ? policy["finding.far_step"] : policy["finding.step"];
  const most = lastKg * (1 + step);
  if (mayTry && last.rir >= AT_LEAST) {
    const above = rising.find((setting) => moved(setting) > lastKg + NEAR);
    if (above === undefined) return { setting: rising.at(-1), isWork: true };
    const far = upTo(most).at(-1) ?? rising[0];
    return { setting: moved(far) > moved(above) ? far : above, isWork: false };
  }
  const landing = landingAfter(asked, last, lastKg, moved);
  const best = (limit) => landsBest(upTo(limit).reverse(), landing) ?? rising[0];
  const near = lastKg * (1 + policy["load.most_up"]);
  const wanted = best(most);
  if (mayTry && moved(wanted) > near + NEAR) return { setting: wanted, isWork: false };
  return { setting: best(near), isWork: true };
}

// Where the planned set lands at a setting, by the last try alone.
function landingAfter({ lift, law, policy, planned }, last, lastKg, moved) {
  const seen = observed(lift.belief, { effectiveKg: lastKg, reps: last.reps, rir: last.rir }, law);
  const ready = rested(seen, lift.rest_s, law.fatigue);
  return (setting) => landingAt(planned, moved(setting), ready, law, policy);
}

// A try on the way to a load: kept, and taught from, but no work set.
export const isTry = (fact) => fact.set.method === "try";

export const firstPart = (text) => Number.parseFloat(String(text).split("+")[0].replace(",", "."));

export function rirNumber(text) {
  const parts = String(text).split("-").filter((part) => part !== "").map(Number);
  if (parts.length === 0 || parts.some(Number.isNaN)) return null;
  return parts.reduce((sum, part) => sum + part, 0) / parts.length;
}

// The load of a set's first part, kg as on the sheet; an empty field is bodyweight alone.
export const kgOf = (set) => set.load === "" ? 0 : firstPart(set.load) * (set.unit === "lb" ? 0.45359237 : 1);

// {next}: where the load of a lift is still to be found, the try to propose (`nextTry`); null where
// there is a load, a work set was done, or nothing is left to do. `done`: the sets of the lift.
export function findingOf(line, planned, done, told) {
  if (planned === null || planned.load_kg !== null || (line.entry.find_load ?? []).length === 0) return null;
  if (done.some((fact) => !isTry(fact))) return null;
  const tries = done.map(({ set }) => ({ loadKg: kgOf(set), reps: firstPart(set.reps), rir: rirNumber(set.rir) ?? 2 }));
  // A lift that was logged before and was far too light starts where the sheet says.
  const start = tries.length === 0 && told.lift.belief?.known ? { setting: line.entry.find_load[0], isWork: false } : null;
  return { next: start ?? nextTry({ ...told, tries, planned }) };
}
