// Finding a load: from the tries of a lift that has no basis yet to the next try, or to the load of
// the first work set. No try is a work set, and no work set is held against one. The source of truth is engine/rack/finding.py, whose rule the paper prints;
// tests/browser_js/test_finding_vectors.py holds this copy to it.

import { effectiveKg, rackOf } from "./advice.js";
import { KG_PER_LB } from "./words.js";

// No log holds more in reserve: of a try it stands for `finding.far_rir` or more.
export const MOST_SAID = 10;
const NEAR = 1 + 1e-9;

// What to set after the last of `tries` ({loadKg, reps, rir}) for the set `planned`: {setting, isWork},
// the load to work with or one more try. null before the first try, or where the kit makes nothing.
export function nextTry({ lift, policy, bodyweightKg, tries, planned }) {
  const last = tries.at(-1), rack = rackOf(lift);
  if (last === undefined || rack.easiest === null) return null;
  const { loadKg } = last;
  const moved = (kg) => effectiveKg(lift, kg, bodyweightKg) ?? 0;
  // The hardest setting that moves no more than this share of what the try did.
  const upTo = (share) => {
    const most = share * moved(loadKg) * NEAR;
    return rack.settings.filter((one) => moved(one.load_kg) > 0 && moved(one.load_kg) <= most)
      .reduce((best, one) => best === null || moved(one.load_kg) > moved(best.load_kg) ? one : best, null);
  };
  const hardest = (one, other) => one !== null && moved(one.load_kg) > moved(other.load_kg) ? one : other;
  const work = (setting) => ({ setting, isWork: true });
  const here = rack.notHarderThan(loadKg) ?? rack.easiest;
  const left = last.rir - Math.max(planned.reps_low - last.reps, 0);
  const near = policy["load.most_up"];
  if (left < planned.rir) return work(upTo(1 - near) ?? rack.easier(loadKg) ?? here);
  const harder = rack.harder(loadKg);
  if (harder === null || left <= Math.max(policy["finding.stop_rir"], planned.rir)) return work(here);
  const isMore = left >= policy["finding.more_rir"];
  // Half of what the body weighs is much to hang on it, and at first so is a fifth.
  const hangs = lift.load_kind === "bodyweight_plus";
  const isFar = left >= MOST_SAID && !hangs && !lift.gently;
  const step = !isMore || (hangs && loadKg === 0) || lift.gently ? near : policy[isFar ? "finding.far_step" : "finding.step"];
  // What hangs on the body grows by half at most.
  const most = hangs && loadKg > 0 ? loadKg * (1 + policy["finding.far_step"]) * NEAR : Infinity;
  const far = upTo(1 + step);
  // What nobody feels says nothing of what a main lift takes.
  const jump = isFar ? rack.settings.findLast((one) => one.load_kg > loadKg && one.load_kg <= lift.jump_kg + 1e-6) ?? null : null;
  const further = jump !== null && moved(jump.load_kg) > moved(far?.load_kg ?? 0) ? jump
    : far === null || far.load_kg <= most ? far : rack.settings.filter((one) => one.load_kg <= most).reduce((a, b) => b.load_kg > a.load_kg ? b : a);
  return {
    setting: hardest(further, isMore ? harder : here),
    isWork: !isMore || tries.length >= policy["finding.most_tries"],
  };
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
export const kgOf = (set) => set.load === "" ? 0 : firstPart(set.load) * (set.unit === "lb" ? KG_PER_LB : 1);

// {next}: where the load of a lift is still to be found, the try to propose (`nextTry`), or the next
// work set after one that was as light as a try; null where there is a load, or nothing is left to
// do. `done`: the sets of the lift.
export function findingOf(line, planned, done, told) {
  if (planned === null || planned.load_kg !== null || (line.entry.find_load ?? []).length === 0) return null;
  const tries = done.map(({ set }) => ({ loadKg: kgOf(set), reps: firstPart(set.reps), rir: rirNumber(set.rir) ?? 2 }));
  const last = done.at(-1);
  if (last !== undefined && !isTry(last)) {
    const next = tries.at(-1).rir < told.policy["finding.more_rir"] ? null : nextTry({ ...told, tries, planned });
    // What a try today could not lift is no load to go on with.
    const moved = (kg) => effectiveKg(told.lift, kg, told.bodyweightKg) ?? 0;
    const fails = (one) => one.reps < planned.reps_low && moved(one.loadKg) <= moved(next.setting.load_kg);
    return next === null || tries.some(fails) ? null : { next: { ...next, isWork: true } };
  }
  // A lift that was far too light, or whose near kin is known, starts where the sheet says.
  const hasStart = told.lift.belief?.known || line.entry.find_rules.some(({ code }) => code === "find_load_kin");
  const start = tries.length === 0 && hasStart ? { setting: line.entry.find_load[0], isWork: false } : null;
  return { next: start ?? nextTry({ ...told, tries, planned }) };
}
