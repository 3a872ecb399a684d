// One session as it stands: the sheet, and what has been written down of it. Pure: a document and
// facts in, a description out; the pages draw it.

import { effectiveKg, expectedReps, nextLoad, observed, rackOf, rested } from "./advice.js";
import { doubtOf } from "./doubt.js";
import { MOST_SAID, findingOf, isTry, kgOf, rirNumber } from "./finding.js";
import { doneIn, isHurting, ordersOf, shortened } from "./shorten.js";
import { inDoneOrder, standing, verdicts } from "./standing.js";

// `document`: blockwright/phone-sheet/1. `facts`: those of the lifter, stored and unsent.
export function sessionOf(document, all) {
  const { plan, sheet } = document;
  // A correction that the server refused corrects nothing: what stood before it steers.
  const amended = new Set(all.map(({ amends }) => amends));
  // What was never corrected and is of another session says nothing here: most of a long log.
  const facts = all.filter((fact) => (fact.amends ?? null) === null
    ? amended.has(fact.id) || belongs(fact, plan, sheet.date) : isTaken(fact));
  const mine = standing(facts).filter((fact) => belongs(fact, plan, sheet.date));
  const happened = inDoneOrder(mine);
  const sets = happened.filter((fact) => fact.kind === "set");
  const told = happened.filter((fact) => fact.kind === "session");
  const pains = painsOf(happened);
  const limits = painLimits(sheet);
  const left = leftOutSets(document, happened, told, sets, limits);
  const lines = sheet.entries.map((planned) =>
    lineOf(document, planned, sets, told, pains, limits, left));
  const added = addedLines(document, sets, told, pains, limits);
  const began = happened.length > 0 ? happened[0].began ?? happened[0].at : null;
  const every = [...lines, ...added];
  return {
    document, happened, lines: every, limits, began, pains,
    // Two people, or two phones, said different things without knowing: a person says which is true.
    disputes: verdicts(facts).filter(({ first, others }) => others.length > 0 && belongs(first, plan, sheet.date)),
    machinesSaid: new Set(standing(all.filter(({ checkin }) => checkin?.measure === "machines"))
      .map(({ checkin }) => checkin.about)),
    ended: told.findLast((fact) => fact.session.what === "ended") ?? null,
    // A stop sign names no lift: it ends the session.
    stopSign: told.findLast(({ session }) => session.what === "hurts" && !session.lift) ?? null,
    checkins: new Map(happened.filter((fact) => fact.kind === "checkin")
      .map((fact) => [`${fact.checkin.measure} ${fact.checkin.about}`.trim(), fact])),
    short: told.findLast(({ session }) => session.what === "short_of_time") ?? null,
    last: sets.at(-1) ?? null,
    next: nextLine(every),
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

// Entries that may stand in for this one, for a taken machine or for pain.
const standIns = (document, order) =>
  [...document.swaps[order] ?? [], ...document.pain?.[order]?.entries ?? []];

function lineOf(document, planned, sets, told, pains, limits, left) {
  const swap = told.findLast(({ session }) =>
    session.what === "swap_lift" && session.entry === planned.order);
  const other = swap === undefined ? undefined
    : standIns(document, planned.order).find((entry) => entry.lift === swap.session.lift);
  // A set done before the swap stays a set of the line.
  const entry = swap === undefined ? planned : other ?? { ...planned, lift: swap.session.lift };
  const skipped = told.some(({ session }) =>
    session.what === "skip_lift" && session.entry === planned.order);
  const mine = sets.filter((fact) => fact.plan?.entry === planned.order);
  const rows = rowsOf(entry.sets, mine.filter((fact) => !isTry(fact)));
  // Somebody else is on the machine: it comes last, until a set of it is done.
  const taken = told.findLast(({ session }) => session.what === "machine_taken" && session.entry === planned.order);
  const waits = taken !== undefined && swap === undefined
    && !mine.some((fact) => Date.parse(fact.at) > Date.parse(taken.at));
  return finished({
    key: String(planned.order), order: planned.order, entry, planned, unplanned: false,
    swappedFrom: swap === undefined ? null : planned.lift,
    swaps: document.swaps[planned.order] ?? [],
    rows, skipped, waits, leftOut: left.get(planned.order) ?? 0, pain: pains.get(entry.lift) ?? null,
  }, document, limits, mine);
}

const IN_PARTS = ["rest-pause", "drop"];

// How a set of an entry is done. Of a rest-pause or drop entry it is the sets that count for more;
// where none does, all.
export function methodOf(entry, planned) {
  if (!IN_PARTS.includes(entry.method)) return entry.method;
  const some = entry.sets.some(({ counts_as: counts }) => counts > 1);
  return some && !(planned?.counts_as > 1) ? "straight" : entry.method;
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
    const known = [...document.sheet.entries, ...Object.keys(document.swaps)
      .flatMap((order) => standIns(document, order))]
      .find((entry) => entry.lift === name);
    const entry = { ...(known ?? bare(name, document.others)), order: null, sets: [], warmup: [], pair: null };
    const mine = loose.filter((fact) => fact.set.lift === name);
    return finished({
      key: `+${name}`, order: null, entry, planned: null, unplanned: true, swappedFrom: null,
      swaps: [], rows: rowsOf([], mine.filter((fact) => !isTry(fact))), skipped: false, waits: false, leftOut: 0,
      pain: pains.get(name) ?? null,
    }, document, limits, mine);
  });
}

// Of a lift that is not on the sheet, its kind of load and whether its sides are counted as one are
// known by its name.
const bare = (lift, { each_side: sides = [], ...kinds } = {}) => ({
  lift, method: "straight", rest_s: null, standard: sides.includes(lift) ? "One side, then the other: both sides are one repetition." : "",
  caution: null, cautions: [], find_load: [], find_rules: [],
  load_kind: Object.keys(kinds).find((kind) => kinds[kind].includes(lift)) ?? "external",
});

// Advice costs more than the rest of a drawing: it is worked out once for the same sets, so that
// what was thought of ahead is there when the tap comes; and so is each step to it, so that a set
// with another rest than was thought of costs one step, not those of the sets before it too.
const remembered = new WeakMap();
const MOST_REMEMBERED = 200;

// `work()` the first time it is asked for with this `signature`, of this object.
function once(of, signature, work) {
  if (!remembered.has(of)) remembered.set(of, new Map());
  const known = remembered.get(of);
  const name = JSON.stringify(signature);
  if (!known.has(name)) {
    if (known.size >= MOST_REMEMBERED) known.clear();
    known.set(name, work());
  }
  return known.get(name);
}

const adviceOnce = (line, next, document, mine, held) => once(document,
  [line.key, line.entry.lift, next, held,
    mine.map(({ plan, set }) => [plan?.set, set.lift, set.load, set.unit, set.reps, set.rir, set.rest_s, set.pain,
      set.method, set.confirmed])],
  () => adviceFor(line, next, document, mine, held));

// A set that the server refused is shown until somebody settles it, and steers nothing: its numbers
// may be a slip (9000 kg).
export const isTaken = (fact) => fact.state !== "attention";

// Cautions of the page under which nothing climbs.
const ASK_FIRST = ["sheet_refer", "sheet_ask_first", "sheet_sign", "sheet_sign_in_doubt"];

function finished(line, document, limits, mine) {
  const said = (code) => line.entry.cautions.some((caution) => caution.code === code);
  // It hurt the last time, until somebody says today that it does not.
  const stopped = said("sheet_sign_out") || said("partner_out")
    || (line.pain !== null ? line.pain > limits.stopAbove : said("sheet_hurts_out"));
  const open = line.rows.filter((row) => row.done === null);
  const remaining = stopped || line.skipped ? [] : open.slice(0, Math.max(open.length - line.leftOut, 0));
  const waits = (document.sheet.cautions ?? []).some((caution) => ASK_FIRST.includes(caution.code));
  // Where a place hurts that the lift loads, one quiet lift does not say that the place is quiet.
  const placeHurts = line.entry.cautions.some(({ code, facts }) => code === "sheet_hurts" && facts?.loads);
  const held = waits || placeHurts || stopped || said("sheet_held") || said("partner_at_most")
    || isHurting(line, limits);
  const twice = twiceWritten(line.rows);
  const known = adviceOnce(line, remaining[0]?.planned ?? null, document,
    mine.filter((fact) => isTaken(fact) && !twice.has(fact.root)), held || said("sheet_load_held"));
  const tries = mine.filter((fact) => isTry(fact) && fact.set.lift === line.entry.lift);
  return {
    ...line, stopped, held, remaining, tries, deload: document.sheet.kind === "deload",
    ...known, doubts: new Map([...known.doubts, ...twice]),
    // What hurts climbs no ladder.
    finding: remaining.length > 0 && !isHurting(line, limits) ? known.finding : null,
    // Of a lift that is stopped, left out or done there is no next set to advise on.
    advice: remaining.length > 0 ? known.advice : null,
  };
}

// A planned set that stands from two phones, neither of which knew of the other's: one set, or two?
function twiceWritten(rows) {
  const first = new Map(rows.filter(({ planned, done }) => planned !== null && done !== null)
    .map(({ number, done }) => [number, done.device]));
  return new Map(rows.filter(({ planned, done }) => planned === null && !done.set.confirmed
    && done.device !== (first.get(done.plan?.set) ?? done.device))
    .map(({ done }) => [done.root, { why: "twice", meantKg: null }]));
}

// The first line with a set to do, one that waits for its machine last; of a pair, the one that has
// had fewer.
function nextLine(lines) {
  const open = lines.filter((line) => line.remaining.length > 0);
  const first = open.find((line) => !line.waits) ?? open[0];
  return first === undefined ? null : inPair(lines, first);
}

// Of the lifts done in turns with one, itself too, the one that has had fewer sets; null where all are done.
function inPair(lines, { key, entry: { pair } }) {
  const done = (line) => line.rows.filter((row) => row.done !== null).length;
  return lines
    .filter((line) => line.remaining.length > 0 && (line.key === key || (pair !== null && line.entry.pair === pair)))
    .reduce((best, line) => best === null || done(line) < done(best) ? line : best, null);
}

// What comes after a set of a line: this lift or the one in turns with it, wherever the lifter chose to go on;
// an added lift has no count of sets, so that the lifter says when it is done.
export const nextAfter = ({ lines, next }, line) => line.unplanned && !line.stopped ? line : inPair(lines, line) ?? next;

// -------------------------------------------------------------------------------- loads and advice

// What advice on a lift starts from, or null. Lifts share their racks; a sheet kept from before
// they did holds each lift's own.
export function inputsOf(document, name) {
  const lift = document.advice.lifts[name] ?? null;
  if (lift === null || Array.isArray(lift.rack)) return lift;
  return { ...lift, rack: document.advice.racks[lift.rack] };
}

// Whether a lift's loads go between two levels, and nobody has said yet why.
export const asksMachines = ({ document, machinesSaid }, { entry: { lift } }) =>
  document.advice.lifts[lift]?.asks_machines === true && !machinesSaid.has(lift);

// {advice, nextKg, expected, rack, finding, doubts}: the advice after the last set of the line, the load to take
// next, the repetitions to expect of it. A deload keeps to what is written. Of a set in parts the
// first part is asked about: it is the one at the planned load and effort; the others tire.
function adviceFor(line, next, document, mine, held) {
  const lift = inputsOf(document, line.entry.lift);
  const rack = lift === null ? null : rackOf(lift);
  const plannedKg = next?.load_kg ?? null;
  const known = { advice: null, nextKg: plannedKg, expected: null, rack, finding: null, doubts: new Map() };
  if (lift === null) return { ...known, nextKg: plannedKg ?? lastKg(mine) };
  const told = { lift, law: document.advice.law, policy: document.advice.policy,
    bodyweightKg: document.lifter.bodyweight_kg };
  const done = mine.filter((fact) => fact.set.lift === line.entry.lift);
  const { state, advice: advised, nextKg: advisedKg, doubts } = followed(line, done, told, held, document);
  const found = findingOf(line, next, done.filter((fact) => !doubts.has(fact.root)), told);
  const isFound = found?.next?.isWork === true;
  // A work set as light as a try: the next goes on as the tries did, not by one change's limit.
  const climbs = isFound && !held && advised !== null && found.next.setting.load_kg !== lastKg(done);
  const advice = climbs ? { ...asLifted(lastKg(done)), setting: found.next.setting, move: "raise" } : advised;
  const nextKg = climbs ? found.next.setting.load_kg : advisedKg;
  const toLift = nextKg ?? (isFound ? found.next.setting.load_kg : plannedKg);
  const ready = done.length === 0 ? state : rested(state, lift.rest_s, told.law.fatigue);
  const expected = next === null || toLift === null ? null
    : expectedReps(toLift, next.rir, lift, ready, told.law, told.bodyweightKg);
  return { advice, nextKg: toLift, expected, rack, doubts, finding: isFound ? null : found };
}

// Beyond the part of the rack that the sheet brought: what was lifted, again.
function asLifted(loadKg) {
  const setting = { load_kg: loadKg, says: "", plates_per_side: null };
  return { setting, from: setting, move: "keep" };
}

const lastKg = (mine) => mine.length === 0 ? null : kgOf(mine.at(-1).set);

// A load further from the one in force than one change may be is the lifter's own: what follows goes
// by what was lifted.
const isNear = (kg, otherKg, told) => {
  const [one, other] = [kg, otherKg].map((each) => effectiveKg(told.lift, each, told.bodyweightKg));
  return !(other > 0) || Math.abs(Math.log(one / other)) <= Math.log(1 + told.policy["load.most_up"]) + 1e-9;
};

const isEasiest = (fact) => isTry(fact) || rirNumber(fact.set.rir) >= MOST_SAID;

// Folds the sets of a lift in, one by one. The load in force moves with the advice, so that a set
// done as advised is judged by the advice and not by the morning's plan.
function followed(line, done, told, held, document) {
  const { lift, law } = told;
  const chases = document.sheet.kind !== "deload";
  const partRestS = told.policy["fatigue.part_rest_s"] ?? 0;
  const doubts = new Map(), step = 1 + told.policy["finding.far_step"] + 1e-9;
  // `ledTo`: the heaviest load that tries led to so far, step by step.
  let state = lift.belief, advice = null, inForceKg = null, ledTo = null;
  done.forEach((fact, at) => {
    const { set } = fact;
    const loadKg = kgOf(set), rir = rirNumber(set.rir);
    const [reps, ...laterReps] = String(set.reps).split("+").map(Number);
    if (at > 0) {
      const restS = set.rest_s ?? law.fatigue.unknown_rest_s, tired = state;
      state = once(tired, ["rested", restS], () => rested(tired, restS, law.fatigue));
    }
    const before = state;
    const moved = effectiveKg(lift, loadKg, told.bodyweightKg);
    if (!(moved > 0) || Number.isNaN(reps)) return;
    const here = plannedAt(line, fact), next = plannedAfter(line, fact);
    const printed = here === null || laterReps.length > 0 ? null : { ...here, load_kg: inForceKg ?? here.load_kg ?? loadKg };
    const said = { loadKg, reps, rir, printed, hurts: held || set.pain > 0, isTry: isTry(fact) || !chases };
    const led = ledTo === null ? {} : { ledTo, climbed: moved <= ledTo * step && moved >= ledTo / step };
    if (isEasiest(fact) && !(ledTo !== null && moved > ledTo * step)) ledTo = Math.max(ledTo ?? 0, moved);
    const doubt = set.confirmed ? null : once(before, ["doubt", said, led], () => doubtOf({ ...told, ...said, ...led, state: before }));
    if (doubt !== null) {
      doubts.set(fact.root, doubt);
      advice = null;
      return;
    }
    const painful = set.pain !== null && set.pain !== undefined && held;
    if (isTry(fact)) return;
    const seen = { effectiveKg: moved, reps, rir, laterReps, partRestS, evidence: !painful };
    state = once(before, ["observed", seen], () => observed(before, seen, law));
    if (here === null || next === null) return;
    const askedKg = inForceKg ?? here.load_kg ?? loadKg;
    const base = !chases || held || isNear(loadKg, askedKg, told) ? askedKg : loadKg;
    const plannedKg = Math.max(base + ((next.load_kg ?? base) - (here.load_kg ?? base)), 0);
    inForceKg = plannedKg;
    if (!chases) return;
    const asked = {
      reps, laterReps, printedRir: here.rir, done: { ...here, load_kg: loadKg, rir }, planned: { ...next, load_kg: plannedKg },
    };
    const free = rackOf(lift).reaches(plannedKg)
      ? once(before, ["next", asked], () => nextLoad({ ...told, ...asked, state: before })) : asLifted(plannedKg);
    advice = cautious(free, held);
    if (advice !== null) inForceKg = advice.setting.load_kg;
  });
  return { state, advice: lastCounts(line, done, advice), nextKg: inForceKg, doubts };
}

function lastCounts(line, done, advice) {
  if (advice === null || done.length === 0) return null;
  return plannedAfter(line, done.at(-1)) === null ? null : advice;
}

// With pain above the line no load goes up.
function cautious(advice, held) {
  if (advice === null || !held || !["raise", "wait"].includes(advice.move)) return advice;
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

// What stands in the way of a lift: pain today above the line where nothing is added.
export const painfulToday = (session, lift) => (session.pains.get(lift) ?? 0) > session.limits.carryOn;

// The rule applied at the moment somebody said so, to what stood then.
function leftOutSets(document, happened, told, sets, limits) {
  const said = told.findLast(({ session }) => session.what === "short_of_time");
  if (said === undefined || !(said.session.minutes > 0)) return new Map();
  const before = (fact) => fact.device === said.device ? fact.n < said.n
    : Date.parse(fact.at) <= Date.parse(said.at);
  const planned = new Set(sets.filter(before).filter((fact) => fact.plan?.entry && fact.plan.set)
    .map((fact) => `${fact.plan.entry} ${fact.plan.set}`));
  const without = told.filter(before).filter(({ session }) => session.what === "skip_lift"
    || (session.what === "hurts" && session.pain > limits.stopAbove)).map(({ session }) => session.entry);
  const pains = painsOf(happened.filter(before));
  const swapped = told.filter(before).filter(({ session }) => session.what === "swap_lift").map(({ session }) => session.entry);
  const hurting = document.sheet.entries.filter((entry) => !swapped.includes(entry.order)
    && isHurting({ entry, pain: pains.get(entry.lift) ?? null }, limits));
  return shortened(document, said.session.minutes,
    doneIn([...planned].map((name) => Number(name.split(" ")[0]))), new Set(without), ordersOf(hurting));
}
