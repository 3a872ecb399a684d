// Short of time: which sets to leave, by the numbers of engine/planning/shorten.py, for a phone without
// signal; held to a search of every way by tests/browser_js/test_shorten_vectors.py. Whole numbers only.

// `short`: the "short" of docs/sync.md. `done`: Map(order -> sets done). `without`: orders that get
// no more sets anyway. Gives Map(order -> sets left out); entries that stay whole are not in it.
export function leftOut(short, minutes, done, without = new Set()) {
  const entries = Object.entries(short.entries).map(([order, entry]) => [Number(order), entry]);
  const search = makeSearch(short, entries, minutes * 60, done, without);
  const keep = search();
  const out = new Map();
  for (const [order, { sets }] of entries) {
    const left = sets - Math.max(keep.get(order), Math.min(done.get(order) ?? 0, sets));
    if (left > 0) out.set(order, left);
  }
  return out;
}

// What is still to come when each entry is kept to so many sets.
export function secondsOf(short, keep, done) {
  let total = 0, begun = false;
  for (const [name, entry] of Object.entries(short.entries)) {
    const order = Number(name), before = done.get(order) ?? 0;
    begun ||= before > 0;
    if (keep.get(order) <= before) continue;
    total += (keep.get(order) - before) * entry.set_s - entry.rest_s + (before > 0 ? 0 : entry.ready_s);
  }
  return begun || total === 0 ? total : total + short.start_s;
}

function lostOf(short, entries, keep) {
  let total = 0;
  const given = {};
  for (const [order, entry] of entries) {
    total += short.changed * (entry.sets - keep.get(order));
    // a lift the coach pinned is the last to go; sheets kept from before this rule say nothing
    if (keep.get(order) === 0) total += entry.gone ?? 0;
    for (const [muscle, gives] of Object.entries(entry.gives)) {
      given[muscle] = (given[muscle] ?? 0) + gives[keep.get(order)];
    }
  }
  for (const [muscle, loss] of Object.entries(short.loss)) total += loss[given[muscle] ?? 0];
  return total;
}

// All ways to keep sets, the most first, without those that cannot be the best.
function makeSearch(short, entries, seconds, told, without) {
  const done = new Map(entries.map(([order, { sets }]) => [order, Math.min(told.get(order) ?? 0, sets)]));
  const most = new Map(entries.map(([order, { sets }]) => [order, without.has(order) ? done.get(order) : sets]));
  const groups = groupsOf(entries);
  const keep = new Map(most);
  let best = new Map(done), bestLost = null;

  function fitsSoFar(at) {
    const here = new Map(keep);
    for (const group of groups.slice(at + 1)) for (const order of group) here.set(order, done.get(order));
    return secondsOf(short, here, done) <= seconds;
  }

  function look(at) {
    const lost = lostOf(short, entries, keep);
    if (bestLost !== null && lost >= bestLost) return;
    if (at === groups.length) {
      if (secondsOf(short, keep, done) <= seconds) [best, bestLost] = [new Map(keep), lost];
      return;
    }
    const group = groups[at];
    const top = Math.max(...group.map((order) => most.get(order)));
    const levels = [];
    for (let sets = top; sets >= Math.min(short.least, top); sets--) levels.push(sets);
    for (const sets of [...levels, 0]) {
      for (const order of group) keep.set(order, Math.max(Math.min(sets, most.get(order)), done.get(order)));
      if (fitsSoFar(at)) look(at + 1);
    }
    for (const order of group) keep.set(order, most.get(order));
  }

  return () => {
    look(0);
    return best;
  };
}

function groupsOf(entries) {
  const groups = new Map();
  for (const [order, { pair }] of entries) {
    const name = pair ?? `alone ${order}`;
    groups.set(name, [...groups.get(name) ?? [], order]);
  }
  return [...groups.values()];
}

// -------------------------------------------------------------------------- of the session at hand

// Pain on a lift above the line where nothing is added: today's word, else the sheet's.
export const isHurting = ({ entry, pain }, limits) => pain !== null ? pain > limits.carryOn
  : entry.cautions.some(({ code }) => code === "sheet_hurts");

// What to leave out when `minutes` are left: Map(order -> sets), by what is done, stopped or left
// already.
export function leaveOut(session, minutes) {
  const planned = session.lines.filter((line) => line.order !== null);
  return shortened(session.document, minutes, doneIn(planned.flatMap((line) =>
    line.rows.filter((row) => row.done !== null && row.planned !== null).map(() => line.order))),
  ordersOf(planned.filter((line) => line.stopped || line.skipped)),
  ordersOf(planned.filter((line) => isHurting(line, session.limits))));
}

export const ordersOf = (lines) => new Set(lines.map((line) => line.order));

export const doneIn = (orders) => {
  const done = new Map();
  for (const order of orders) done.set(order, (done.get(order) ?? 0) + 1);
  return done;
};

// What is still to come, in minutes, when that is left out.
export function minutesWith(session, out) {
  const { short } = session.document;
  const planned = session.lines.filter((line) => line.order !== null);
  const done = new Map(), keep = new Map();
  for (const line of planned) {
    const before = line.rows.filter((row) => row.planned !== null && row.done !== null).length;
    const gone = line.stopped || line.skipped;
    done.set(line.order, before);
    keep.set(line.order, gone ? before : short.entries[line.order].sets - (out.get(line.order) ?? 0));
  }
  return Math.ceil(secondsOf(short, keep, done) / 60);
}

// A sheet fetched by an older page has no such numbers: nothing is left out, the page says so. The
// sets of what hurts are worth nothing, a pin on it neither: it goes first (common practice).
export function shortened(document, minutes, done, without, hurting) {
  if (document.short === undefined) return new Map();
  const entries = Object.entries(document.short.entries).map(([order, entry]) =>
    [order, hurting.has(Number(order)) ? { ...entry, gives: {}, gone: 0 } : entry]);
  return leftOut({ ...document.short, entries: Object.fromEntries(entries) }, minutes, done, without);
}
