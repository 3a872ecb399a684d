// A set that is possible but unlikely: far from what is known of the lifter, from the bodyweight or
// from the kit (a tenfold typo, pounds for kilograms, another machine). It is asked about once, and
// nothing is advised from it until somebody says that it is true. The engine asks the same of a log
// (engine/strength/outliers.py).

import { effectiveKg, surprise } from "./advice.js";
import { KG_PER_LB } from "./words.js";

const SLIPS = [0.1, 10, KG_PER_LB, 1 / KG_PER_LB];
const SLIP_NEAR = 0.3;
const LITTLE_MORE = 1.02;

// `asked`: {lift, law, policy, bodyweightKg, state: before the set and rested, loadKg, reps, rir, isTry, hurts,
// printed: the row of the sheet with its load in force, or null; after tries ledTo: the effective load they led to,
// climbed: whether the set's is no more than a step from it}.
// null, or {why: "belief" | "digit" | "bodyweight" | "tries" | "kit", meantKg: what was probably meant, or null}.
export function doubtOf(asked) {
  const { lift, law, policy, bodyweightKg, state, loadKg, reps, rir } = asked;
  const kg = effectiveKg(lift, loadKg, bodyweightKg);
  if (!(kg > 0) || Number.isNaN(reps) || reps === 0) return null;
  const known = state?.known ? surprise(state, { effectiveKg: kg, reps, rir }, law) : null;
  const far = Math.log(policy["suspect.far_ratio"]);
  if (known !== null) {
    const light = asked.isTry || (rir !== null && rir >= policy["suspect.easy_rir"]);
    const isFar = Math.abs(known.jump) > far || Math.abs(known.z) > policy["strength.robust.flag_z"];
    if (isFar && !asked.climbed && !(known.jump < 0 && light)) return { why: "belief", meantKg: meantKg(asked, known.jump) };
    return lacksDigit(asked, kg) ? { why: "digit", meantKg: null } : null;
  }
  const worth = kg * (1 + policy["suspect.kg_per_rep_share"] * Math.min(Math.max(reps - 1, 0), 9));
  if (lift.ask_above_kg != null && worth > lift.ask_above_kg) {
    return { why: "bodyweight", meantKg: worth / 10 <= lift.ask_above_kg ? loadKg / 10 : null };
  }
  if (kg > asked.ledTo * 10 / (1 + policy["suspect.ten_tolerance_pct"] / 100)) {
    return { why: "tries", meantKg: loadKg / 10 };
  }
  if (lift.kit_most_kg != null && loadKg > lift.kit_most_kg * policy["suspect.kit_ratio"]) {
    return { why: "kit", meantKg: null };
  }
  return null;
}

// Repetitions that are the first digit of what the sheet asks ("1" for 10) at its load or less. Who fails
// that early says so: nothing left, or that it hurts.
function lacksDigit({ lift, bodyweightKg, reps, rir, hurts, isTry, printed }, kg) {
  if (printed === null || isTry || reps > 9 || rir === 0 || hurts) return false;
  const isAsked = !(kg > effectiveKg(lift, printed.load_kg, bodyweightKg) * LITTLE_MORE);
  return isAsked && 10 * reps + 9 >= printed.reps_low && 10 * reps <= printed.reps_high + 2
    && 2 * reps < printed.reps_low;
}

// A slip changes what is written; the bodyweight that is moved with it stays.
function meantKg({ lift, loadKg, bodyweightKg }, jump) {
  const moved = (factor) => effectiveKg(lift, loadKg * factor, bodyweightKg);
  const miss = (factor) => moved(factor) > 0 ? Math.abs(jump + Math.log(moved(factor) / moved(1))) : Infinity;
  const best = SLIPS.reduce((one, other) => miss(other) < miss(one) ? other : one);
  return miss(best) <= Math.min(SLIP_NEAR, Math.abs(jump) / 3) ? loadKg * best : null;
}

// The question, in words.
export function doubtText(set, why) {
  const said = `${set.load} ${set.unit} × ${set.reps}`;
  if (why === "twice") return `Set ${set.set}, ${said}, stands from another phone too. Were both done? Nothing is advised from it until you say.`;
  const far = why === "kit" ? "more than this gym's kit makes"
    : why === "tries" ? "far more than its tries lead to" : why === "bodyweight" ? "far more than is usual at this bodyweight"
      : why === "digit" ? "far fewer than the sheet asks at such a load" : "far from what this lift's log shows";
  return `${said} is ${far}. Is it true? Nothing is advised from it until you say.`;
}
