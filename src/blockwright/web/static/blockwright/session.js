// One session as it stands: the sheet, and what has been written down of it. Pure: a document and
// facts in, a description out; the pages draw it.

import { effectiveKg, expectedReps, nextLoad, observed, rackOf, rested } from "./advice.js";
import { inDoneOrder, standing } from "./standing.js";

// A longer pause is none between two sets of a lift (judgement).
const MOST_REST_S = 3600;

// `document`: blockwright/phone-sheet/1. `facts`: those of the lifter, stored and unsent.
export function sessionOf(document, facts) {
  const { plan, sheet } = document;
  const mine = standing(facts).filter((fact) => belongs(fact, plan, sheet.date));
  const happened = inDoneOrder(mine);
  const sets = happened.filter((fact) => fact.kind === "set");
  const told = happened.filter((fact) => fact.kind === "session");
  const pains = painsOf(happened);
  const limits = painLimits(sheet);
  const leftOut = leftOutSets(document, told, sets);
  const lines = sheet.entries.map((planned) =>
    lineOf(document, planned, sets, told, pains, limits, leftOut));
  const added = addedLines(document, sets, told, pains, limits);
  const began = happened.length > 0 ? happened[0].began ?? happened[0].at : null;
  const all = [...lines, ...added];
  return {
    document, happened, lines: all, limits, began,
    ended: told.findLast((fact) => fact.session.what === "ended") ?? null,
    // A stop sign names no lift: it ends the session.
    stopSign: told.findLast(({ session }) => session.what === "hurts" && !session.lift) ?? null,
    checkins: new Map(happened.filter((fact) => fact.kind === "checkin")
      .map((fact) => [`${fact.checkin.measure} ${fact.checkin.about}`.trim(), fact])),
    last: sets.at(-1) ?? null,
    next: nextLine(all),
  };
}

// A fact of this session: planned for it, or done on its day without a plan.
function belongs(fact, plan, date) {
  if (fact.plan === null || fact.plan === undefined) {
    return fact.device !== null && (fact.day ?? (fact.began ?? fact.at)?.slice(0, 10)) === date;
  }
  return fact.plan.block === plan.block && fact.plan.week === plan.week
    && fact.plan.session === plan.session;
}

function lineOf(document, planned, sets, told, pains, limits, leftOut) {
  const swap = told.findLast(({ session }) =>
    session.what === "swap_lift" && session.entry === planned.order);
  const other = swap === undefined ? undefined
    : (document.swaps[planned.order] ?? []).find((entry) => entry.lift === swap.session.lift);
  // A set done before the swap stays a set of the line.
  const entry = swap === undefined ? planned : other ?? { ...planned, lift: swap.session.lift };
  const skipped = told.some(({ session }) =>
    session.what === "skip_lift" && session.entry === planned.order);
  const mine = sets.filter((fact) => fact.plan?.entry === planned.order);
  const rows = rowsOf(entry.sets, mine);
  return finished({
    key: String(planned.order), order: planned.order, entry, planned, unplanned: false,
    swappedFrom: swap === undefined ? null : planned.lift,
    swaps: document.swaps[planned.order] ?? [],
    rows, skipped, leftOut: leftOut.get(planned.order) ?? 0, pain: pains.get(entry.lift) ?? null,
  }, document, limits, mine);
}

// Planned sets with what was done of each, then whatever was done besides.
function rowsOf(plannedSets, mine) {
  const taken = new Set();
  const rows = plannedSets.map((planned, at) => {
    const done = mine.find((fact) => fact.plan.set === at + 1 && !taken.has(fact.root));
    if (done !== undefined) taken.add(done.root);
    return { number: at + 1, planned, done: done ?? null };
  });
  const others = mine.filter((fact) => !taken.has(fact.root));
  return [...rows, ...others.map((done, at) =>
    ({ number: rows.length + at + 1, planned: null, done }))];
}

function addedLines(document, sets, told, pains, limits) {
  const named = told.filter(({ session }) => session.what === "add_lift")
    .map(({ session }) => session.lift);
  const loose = sets.filter((fact) => (fact.plan?.entry ?? null) === null);
  const names = [...new Set([...named, ...loose.map((fact) => fact.set.lift)])];
  return names.map((name) => {
    const known = [...document.sheet.entries, ...Object.values(document.swaps).flat()]
      .find((entry) => entry.lift === name);
    const entry = { ...(known ?? bare(name)), order: null, sets: [], warmup: [], pair: null };
    const mine = loose.filter((fact) => fact.set.lift === name);
    return finished({
      key: `+${name}`, order: null, entry, planned: null, unplanned: true, swappedFrom: null,
      swaps: [], rows: rowsOf([], mine), skipped: false, leftOut: 0,
      pain: pains.get(name) ?? null,
    }, document, limits, mine);
  });
}

const bare = (lift) => ({
  lift, method: "straight", rest_s: null, standard: "", caution: null, cautions: [], find_load: [],
  find_rules: [], load_kind: "external",
});

// Advice costs more than the rest of a drawing: it is worked out once for the same sets, so that
// what was thought of ahead is there when the tap comes.
const remembered = new WeakMap();
const MOST_REMEMBERED = 200;

function adviceOnce(line, next, document, mine, held) {
  if (!remembered.has(document)) remembered.set(document, new Map());
  const known = remembered.get(document);
  const name = JSON.stringify([line.key, line.entry.lift, next, held,
    mine.map(({ plan, set }) => [plan?.set, set.lift, set.load, set.unit, set.reps, set.rir, set.rest_s, set.pain])]);
  if (!known.has(name)) {
    if (known.size >= MOST_REMEMBERED) known.clear();
    known.set(name, adviceFor(line, next, document, mine, held));
  }
  return known.get(name);
}

function finished(line, document, limits, mine) {
  const stopped = line.pain !== null && line.pain > limits.stopAbove;
  const open = line.rows.filter((row) => row.done === null);
  const remaining = stopped || line.skipped ? [] : open.slice(0, open.length - line.leftOut);
  const held = line.pain !== null && line.pain > limits.carryOn;
  return {
    ...line, stopped, held, remaining,
    ...adviceOnce(line, remaining[0]?.planned ?? null, document, mine, held),
  };
}

// The first line with a set to do; of a pair, the one that has had fewer.
function nextLine(lines) {
  const first = lines.find((line) => line.remaining.length > 0);
  if (first === undefined) return null;
  if (first.entry.pair === null) return first;
  const done = (line) => line.rows.filter((row) => row.done !== null).length;
  return lines
    .filter((line) => line.entry.pair === first.entry.pair && line.remaining.length > 0)
    .reduce((best, line) => done(line) < done(best) ? line : best);
}

// -------------------------------------------------------------------------------- loads and advice

const firstPart = (text) => Number.parseFloat(String(text).split("+")[0].replace(",", "."));

export function rirNumber(text) {
  const parts = String(text).split("-").filter((part) => part !== "").map(Number);
  if (parts.length === 0 || parts.some(Number.isNaN)) return null;
  return parts.reduce((sum, part) => sum + part, 0) / parts.length;
}

const kgOf = (set) => firstPart(set.load) * (set.unit === "lb" ? 0.45359237 : 1);

// {advice, nextKg, expected, rack}: the advice after the last set of the line, the load to take
// next, the repetitions to expect of it. A deload and sets in parts keep to what is written.
function adviceFor(line, next, document, mine, held) {
  const lift = document.advice.lifts[line.entry.lift] ?? null;
  const rack = lift === null ? null : rackOf(lift);
  const plannedKg = next?.load_kg ?? null;
  const known = { advice: null, nextKg: plannedKg, expected: null, rack };
  if (lift === null) return { ...known, nextKg: plannedKg ?? lastKg(mine) };
  const told = { lift, law: document.advice.law, policy: document.advice.policy,
    bodyweightKg: document.lifter.bodyweight_kg };
  const done = mine.filter((fact) => fact.set.lift === line.entry.lift);
  const { state, advice, nextKg } = followed(line, done, told, held, document);
  const toLift = nextKg ?? plannedKg;
  const ready = done.length === 0 ? state : rested(state, lift.rest_s, told.law.fatigue);
  const expected = next === null || toLift === null || line.entry.method === "rest-pause" ? null
    : expectedReps(toLift, next.rir, lift, ready, told.law, told.bodyweightKg);
  return { advice, nextKg: toLift, expected, rack };
}

const lastKg = (mine) => mine.length === 0 ? null : kgOf(mine.at(-1).set);

// Folds the sets of a lift in, one by one. The load in force moves with the advice, so that a set
// done as advised is judged by the advice and not by the morning's plan.
function followed(line, done, told, held, document) {
  const { lift, law } = told;
  const chases = document.sheet.kind !== "deload"
    && ["straight", "superset"].includes(line.entry.method);
  let state = lift.belief, advice = null, inForceKg = null;
  done.forEach((fact, at) => {
    const { set } = fact;
    const loadKg = kgOf(set), reps = firstPart(set.reps), rir = rirNumber(set.rir);
    if (at > 0) state = rested(state, set.rest_s ?? law.fatigue.unknown_rest_s, law.fatigue);
    const before = state;
    const moved = effectiveKg(lift, loadKg, told.bodyweightKg);
    if (!(moved > 0) || Number.isNaN(reps)) return;
    const painful = set.pain !== null && set.pain !== undefined && held;
    state = observed(state, { effectiveKg: moved, reps, rir, evidence: !painful }, law);
    const here = plannedAt(line, fact), next = plannedAfter(line, fact);
    if (here === null || next === null) return;
    const base = inForceKg ?? here.load_kg ?? loadKg;
    const plannedKg = Math.max(base + ((next.load_kg ?? base) - (here.load_kg ?? base)), 0);
    inForceKg = plannedKg;
    if (!chases) return;
    const asked = {
      ...told, state: before, reps,
      done: { ...here, load_kg: loadKg, rir },
      planned: { ...next, load_kg: plannedKg },
    };
    advice = cautious(nextLoad(asked), held);
    if (advice !== null) inForceKg = advice.setting.load_kg;
  });
  return { state, advice: lastCounts(line, done, advice), nextKg: inForceKg };
}

function lastCounts(line, done, advice) {
  if (advice === null || done.length === 0) return null;
  return plannedAfter(line, done.at(-1)) === null ? null : advice;
}

// With pain above the line no load goes up.
function cautious(advice, held) {
  if (advice === null || !held || advice.move !== "raise") return advice;
  return { ...advice, setting: advice.from, move: "keep" };
}

const rowOf = (line, fact) => line.rows.find((row) => row.done?.root === fact.root) ?? null;

function plannedAt(line, fact) {
  const row = rowOf(line, fact);
  return row?.planned ?? line.rows.findLast((one) => one.planned !== null)?.planned ?? null;
}

function plannedAfter(line, fact) {
  const row = rowOf(line, fact);
  const at = row === null ? -1 : line.rows.indexOf(row);
  return line.rows.slice(at + 1).find((one) => one.planned !== null && one.done === null)?.planned
    ?? null;
}

// ---------------------------------------------------------------------------------- pain, time

function painLimits(sheet) {
  const facts = sheet.cautions.find((caution) => caution.code === "sheet_pain")?.facts ?? {};
  return { carryOn: facts.carry_on ?? 2, stopAbove: facts.stop_above ?? 5 };
}

// The last word on each lift's pain today.
function painsOf(happened) {
  const pains = new Map();
  for (const fact of happened) {
    if (fact.kind === "session" && fact.session.what === "hurts" && fact.session.lift) {
      pains.set(fact.session.lift, fact.session.pain);
    }
    if (fact.kind === "set" && typeof fact.set.pain === "number") {
      pains.set(fact.set.lift, fact.set.pain);
    }
  }
  return pains;
}

// Seconds a set takes with its rest, by what the sheet says of the lift.
function setSeconds(document, entry, planned) {
  const lift = document.advice.lifts[entry.lift];
  return entry.rest_s + planned.reps_high * (lift?.seconds_per_rep ?? 0);
}

// What to leave out when `minutes` are left, by the page's simple rule: from the last lift up, one
// set of each lift at a time while it keeps one; then whole lifts from the last. `left` is how many
// sets each entry still has. Gives Map(order -> sets left out).
export function leaveOut(document, left, minutes) {
  const out = new Map();
  const entries = document.sheet.entries.filter((entry) => (left.get(entry.order) ?? 0) > 0);
  const staying = (entry) => (left.get(entry.order) ?? 0) - (out.get(entry.order) ?? 0);
  const needs = () => entries.reduce((sum, entry) => sum + (staying(entry) === 0 ? 0
    : staying(entry) * setSeconds(document, entry, entry.sets.at(-1))
      + (document.advice.lifts[entry.lift]?.setup_s ?? 0)), 0);
  const drop = (entry) => out.set(entry.order, (out.get(entry.order) ?? 0) + 1);
  while (needs() > minutes * 60) {
    const most = Math.max(...entries.map(staying));
    if (most === 0) break;
    const victim = most > 1
      ? entries.findLast((entry) => staying(entry) === most)
      : entries.findLast((entry) => staying(entry) === 1);
    drop(victim);
  }
  return out;
}

// The rule applied at the moment somebody said so, to the sets that were open then.
function leftOutSets(document, told, sets) {
  const said = told.findLast(({ session }) => session.what === "short_of_time");
  if (said === undefined || !(said.session.minutes > 0)) return new Map();
  const before = sets.filter((fact) => fact.n < said.n || fact.device !== said.device);
  const left = new Map(document.sheet.entries.map((entry) => {
    const done = new Set(before.filter((fact) => fact.plan?.entry === entry.order)
      .map((fact) => fact.plan.set));
    return [entry.order, entry.sets.filter((_, at) => !done.has(at + 1)).length];
  }));
  return leaveOut(document, left, said.session.minutes);
}

// ------------------------------------------------------------------------------------- the clock

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

// Plates to change on one bar from one loading to another: {off, on}, per side; null where it is
// not two loadings of plates.
export function barChange(from, to) {
  if (!from?.plates_per_side || !to?.plates_per_side) return null;
  const names = new Set([...Object.keys(from.plates_per_side), ...Object.keys(to.plates_per_side)]);
  const off = [], on = [];
  for (const name of names) {
    const change = (to.plates_per_side[name] ?? 0) - (from.plates_per_side[name] ?? 0);
    for (let at = 0; at < Math.abs(change); at++) (change < 0 ? off : on).push(name);
  }
  return { off, on };
}
