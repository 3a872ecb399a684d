import assert from "node:assert/strict";
import { test } from "node:test";
import { localTime, makeEvent, newId } from "../../src/blockwright/web/static/blockwright/events.js";
import { barChange, restBefore, restNow } from "../../src/blockwright/web/static/blockwright/clock.js";
import { findingOf } from "../../src/blockwright/web/static/blockwright/finding.js";
import {
  inputsOf, methodOf, nextAfter, painfulToday, sessionOf,
} from "../../src/blockwright/web/static/blockwright/session.js";
import { firstDraft, headOf, repsUnit, withPart } from "../../src/blockwright/web/static/blockwright/set_view.js";
import { leaveOut, minutesWith } from "../../src/blockwright/web/static/blockwright/shorten.js";
import { turnOf, turnTexts } from "../../src/blockwright/web/static/blockwright/turns_view.js";
import { adviceText, capital, clockText, doneText, loadText, numberText, plannedText } from "../../src/blockwright/web/static/blockwright/words.js";

const planned = (load) => ({ load_kg: load, reps_low: 8, reps_high: 12, rir: 2 });
const entry = (order, lift, more = {}) => ({
  order, lift, method: "straight", pair: null, rest_s: 120, load_kind: "external", standard: "",
  caution: null, cautions: [], warmup: [], find_load: [], find_rules: [],
  sets: [planned(50), planned(50), planned(50)], ...more,
});
const lift = { load_kind: "external", seconds_per_rep: 3, setup_s: 60, rest_s: 120, rack: [], more_is_easier: false, belief: null };

function document(entries, swaps = {}) {
  return {
    lifter: { id: "L", name: "Ines Invented", units: "kg", bodyweight_kg: 78 },
    plan: { block: "2027-01-04", revision: 1, week: 1, session: 1 },
    sheet: {
      date: "2027-01-04", kind: "deload", entries, notes: [],
      cautions: [{ code: "sheet_pain", facts: { carry_on: 2, stop_above: 5 } }],
    },
    swaps, advice: { law: {}, policy: {}, lifts: {} },
  };
}
const START = Date.parse("2027-01-04T18:00:00Z");
let n = 0;
function fact(kind, said, place = {}, more = {}) {
  n += 1;
  const made = makeEvent(kind, said, { lifter: "L", block: "2027-01-04", revision: 1, week: 1, session: 1, began: null },
    "D", START + n * 60_000, place);
  return { ...made, n, ...more };
}
const set = (name, at, place, more = {}) => fact("set", {
  lift: name, set: at, load: "50", unit: "kg", reps: "10", rir: "2", rest_s: null, method: "straight", pain: null,
}, { entry: place, set: at }, more);

test("planned sets find what was done of them; the rest is to do", () => {
  const session = sessionOf(document([entry(1, "row"), entry(2, "press")]), [set("row", 1, 1)]);
  assert.deepEqual(session.lines[0].rows.map((row) => row.done !== null), [true, false, false]);
  assert.equal(session.next.key, "1");
  assert.equal(session.lines[0].remaining[0].number, 2);
});

test("a planned set from two phones is asked about until somebody says that both were done", () => {
  const one = set("row", 1, 1), other = set("row", 1, 1, { device: "E" });
  const asked = (...facts) => [...sessionOf(document([entry(1, "row")]), facts).lines[0].doubts];
  assert.deepEqual(asked(one, other), [[other.id, { why: "twice", meantKg: null }]]);
  assert.deepEqual(asked(one, set("row", 1, 1)), []);
  assert.deepEqual(asked(one, set("row", 2, 1, { device: "E" })), []);
  assert.deepEqual(asked(one, { ...other, set: { ...other.set, confirmed: true } }), []);
});

test("a load lost far below, or with near kin, starts its tries where the sheet says; else there is no start", () => {
  const rungs = [{ load_kg: 65, reps: 8, says: "65 kg" }, { load_kg: 77.5, reps: 8, says: "77.5 kg" }];
  const open = { load_kg: null, reps_low: 8, reps_high: 12, rir: 2 };
  const kin = [{ code: "find_load_kin", says: "" }];
  for (const [known, rules, start] of [[true, [], 65], [false, [], undefined], [false, kin, 65]]) {
    const told = document([entry(1, "row", { sets: [open, open], find_load: rungs, find_rules: rules })]);
    told.advice.lifts.row = { ...lift, belief: { known } };
    const [line] = sessionOf(told, []).lines;
    assert.equal(line.finding.next?.setting.load_kg, start);
    assert.equal(sessionOf(told, [pain(1, 4)]).lines[0].finding, null, "what hurts climbs no ladder");
  }
});

test("a work set that leaves much goes on, but to no load that a try today could not lift", () => {
  const planned = { load_kg: null, reps_low: 12, reps_high: 20, rir: 2 };
  const rack = [2, 4, 6].map((load_kg) => ({ load_kg, says: "" }));
  const policy = { "finding.more_rir": 8, "finding.stop_rir": 4, "finding.step": 0.2, "finding.far_step": 0.5, "finding.most_tries": 4, "load.most_up": 0.1 };
  const told = { lift: { rack, load_kind: "external", more_is_easier: false }, policy, bodyweightKg: null };
  const done = (load, reps, rir, method) => ({ set: { load: `${load}`, unit: "kg", reps: `${reps}`, rir: `${rir}`, method } });
  for (const [reps, goesOn] of [[12, 4], [5, undefined]]) {
    const sets = [done(2, 12, 10, "try"), done(4, reps, 0, "try"), done(2, 20, 10, "straight")];
    const found = findingOf({ entry: { find_load: [{}], find_rules: [] } }, planned, sets, told);
    assert.equal(found?.next.setting.load_kg, goesOn);
  }
});

test("a set that two phones wrote down is shown twice, not dropped", () => {
  const session = sessionOf(document([entry(1, "row")]), [set("row", 1, 1), set("row", 1, 1, { device: "E" })]);
  assert.equal(session.lines[0].rows.filter((row) => row.done !== null).length, 2);
  assert.equal(session.lines[0].remaining.length, 2);
});

test("of a pair, the one that has had fewer sets is next", () => {
  const pair = [entry(1, "curl", { pair: "a" }), entry(2, "extension", { pair: "a" })];
  assert.equal(sessionOf(document(pair), [set("curl", 1, 1)]).next.key, "2");
  assert.equal(sessionOf(document(pair), [set("curl", 1, 1), set("extension", 1, 2)]).next.key, "1");
  // Somebody who left the first lift for the pair stays with the pair.
  const later = [entry(3, "squat"), ...pair].map((one, at) => ({ ...one, order: at + 1 }));
  const session = sessionOf(document(later), [set("curl", 1, 2)]);
  assert.equal(nextAfter(session, session.lines[1]).key, "3");
  assert.equal(session.next.key, "1");
});

test("a swap keeps the sets done before it and offers the stand-in's", () => {
  const stand = entry(1, "machine row", { sets: [planned(40), planned(40), planned(40)] });
  const facts = [set("row", 1, 1), fact("session", { what: "swap_lift", entry: 1, lift: "machine row", why: "" })];
  const [line] = sessionOf(document([entry(1, "row")], { 1: [stand] }), facts).lines;
  assert.equal(line.entry.lift, "machine row");
  assert.equal(line.swappedFrom, "row");
  assert.equal(line.rows[0].done.set.lift, "row");
  assert.equal(line.remaining[0].planned.load_kg, 40);
});

for (const [pain, stopped, held] of [[0, false, false], [2, false, false], [3, false, true], [5, false, true], [6, true, true]]) {
  test(`pain ${pain}: stopped ${stopped}, no more load ${held}`, () => {
    const facts = [fact("session", { what: "hurts", entry: 1, lift: "row", where: "", pain })];
    const session = sessionOf(document([entry(1, "row"), entry(2, "press")]), facts);
    assert.equal(session.lines[0].stopped, stopped);
    assert.equal(session.lines[0].held, held);
    assert.equal(session.next.key, stopped ? "2" : "1");
  });
}

for (const [code, stopped] of [["sheet_hurts", false], ["sheet_hurts_out", true]]) {
  test(`a lift that hurt the last time is held (${code}), until it is quiet today`, () => {
    const lifts = [entry(1, "row", { cautions: [{ code, says: "" }] }), entry(2, "press")];
    const [line] = sessionOf(document(lifts), []).lines;
    assert.deepEqual([line.held, line.stopped], [true, stopped]);
    const quiet = fact("session", { what: "hurts", entry: 1, lift: "row", where: "", pain: 0 });
    const [after] = sessionOf(document(lifts), [quiet]).lines;
    assert.deepEqual([after.held, after.stopped], [false, false]);
  });
}

for (const code of ["sheet_refer", "sheet_ask_first", "sheet_sign", "sheet_sign_in_doubt"]) {
  test(`no lift gains load under ${code}, however quiet it is today`, () => {
    const page = document([entry(1, "row")]);
    page.sheet.cautions = [{ code, says: "" }];
    const quiet = fact("session", { what: "hurts", entry: 1, lift: "row", where: "", pain: 0 });
    assert.equal(sessionOf(page, [quiet]).lines[0].held, true);
  });
}

test("a lift that loads a place that hurts gains no load, however quiet the lift is today", () => {
  const facts = { about: "Shoulder", loads: "; press loads it" };
  const lifts = [entry(1, "press", { cautions: [{ code: "sheet_hurts", says: "", facts }] })];
  const quiet = fact("session", { what: "hurts", entry: 1, lift: "press", where: "", pain: 0 });
  assert.equal(sessionOf(document(lifts), [quiet]).lines[0].held, true);
});

for (const [code, stopped] of [["sheet_held", false], ["sheet_sign_out", true], ["partner_at_most", false], ["partner_out", true]]) {
  test(`a lift with a sign of its own is held, in no doubt out (${code}), however quiet it is`, () => {
    const lifts = [entry(1, "row", { cautions: [{ code, says: "" }] }), entry(2, "press")];
    const quiet = fact("session", { what: "hurts", entry: 1, lift: "row", where: "", pain: 0 });
    for (const facts of [[], [quiet]]) {
      const { lines } = sessionOf(document(lifts), facts);
      assert.deepEqual(lines.map((line) => [line.held, line.stopped]), [[true, stopped], [false, false]]);
    }
  });
}

test("a stop sign ends the session, pain in an added lift does not", () => {
  const hurts = (lift, pain) => fact("session", { what: "hurts", entry: null, lift, where: "", pain });
  assert.notEqual(sessionOf(document([entry(1, "row")]), [hurts("", null)]).stopSign, null);
  assert.equal(sessionOf(document([entry(1, "row")]), [hurts("carry", 7)]).stopSign, null);
});

test("a set of an unplanned lift has a line of its own", () => {
  const facts = [fact("session", { what: "add_lift", lift: "carry" }), set("carry", 1, null)];
  const line = sessionOf(document([entry(1, "row")]), facts).lines.at(-1);
  assert.equal(line.unplanned, true);
  assert.equal(line.rows.length, 1);
});

test("a lift that is not on the sheet is asked for as its kind is", () => {
  const page = { ...document([entry(1, "row")]), others: { assisted: ["assisted dip"], bodyweight_plus: ["sit-up"], each_side: ["sit-up"] } };
  const added = (lift) => sessionOf(page, [fact("session", { what: "add_lift", lift })]).lines.at(-1);
  assert.equal(added("assisted dip").entry.load_kind, "assisted");
  assert.equal(added("carry").entry.load_kind, "external");
  assert.equal(firstDraft(added("carry"), "kg").load, "");
  assert.equal(nextAfter(sessionOf(page, []), added("carry")).key, "+carry");
  assert.equal(repsUnit(added("sit-up").entry), "each side");
  assert.equal(firstDraft(added("sit-up"), "kg").load, "0");
});

test("a set that the server refused is shown and steers nothing", () => {
  const slip = set("carry", 2, null, { state: "attention" });
  slip.set.load = "9000";
  const facts = [fact("session", { what: "add_lift", lift: "carry" }), set("carry", 1, null)];
  const line = sessionOf(document([entry(1, "row")]), [...facts, slip]).lines.at(-1);
  assert.equal(line.rows.length, 2);
  assert.equal(line.nextKg, 50);
  assert.equal(firstDraft({ ...line, nextKg: null }, "kg").load, "50");
});

test("a correction that the server refused corrects nothing and steers nothing", () => {
  const done = set("carry", 1, null);
  const slip = set("carry", 1, null, { state: "attention", amends: done.id });
  slip.set.load = "9000";
  const facts = [fact("session", { what: "add_lift", lift: "carry" }), done, slip];
  const line = sessionOf(document([entry(1, "row")]), facts).lines.at(-1);
  assert.deepEqual(line.rows.map((row) => row.done.set.load), ["50"]);
  assert.equal(line.nextKg, 50);
  assert.equal(firstDraft({ ...line, nextKg: null }, "kg").load, "50");
});

test("two corrections that did not know of each other are asked about until one is said to be true", () => {
  const done = set("row", 1, 1, { seq: 1 });
  const mine = set("row", 1, 1, { seq: 3, amends: done.id, knew: 1 });
  const theirs = set("row", 1, 1, { seq: 2, amends: done.id, knew: 1, device: "E" });
  mine.set.reps = "9";
  const asked = sessionOf(document([entry(1, "row")]), [done, mine, theirs]);
  assert.equal(asked.disputes.length, 1);
  const [{ first, last, others }] = asked.disputes;
  const said = fact("set", others[0].set, { entry: 1, set: 1, amends: first.id, knew: 3 });
  const settled = sessionOf(document([entry(1, "row")]), [done, mine, theirs, said]);
  assert.deepEqual(settled.disputes, []);
  assert.equal(settled.lines[0].rows[0].done.set.reps, others[0].set.reps);
  assert.notEqual(last.set.reps, others[0].set.reps);
});

test("facts of other sessions are not this one's", () => {
  const other = set("row", 1, 1, { plan: { block: "2027-01-04", week: 1, session: 2, entry: 1, set: 1 } });
  const imported = { ...set("row", 1, 1), plan: null, device: null, day: "2027-01-04" };
  assert.equal(sessionOf(document([entry(1, "row")]), [other, imported]).happened.length, 0);
});

const short = {
  start_s: 300, least: 2, changed: 10,
  entries: Object.fromEntries([1, 2, 3].map((order) => [order, {
    sets: 3, pair: null, set_s: 160, ready_s: 120, rest_s: 120, gives: { [`m${order}`]: [0, 4, 8, 12] },
  }])),
  // The first lift is worth most, the second least.
  loss: Object.fromEntries([[1, 300], [2, 50], [3, 100]].map(([order, worth]) =>
    [`m${order}`, Array.from({ length: 13 }, (_, given) => worth * (12 - given))])),
};
const shortSheet = () => ({ ...document([entry(1, "row"), entry(2, "press"), entry(3, "curl")]), short });
const out = (session, minutes) => [1, 2, 3].map((order) => leaveOut(session, minutes).get(order) ?? 0);

test("short of time: what costs the least goes; a lift keeps two sets or none", () => {
  const session = sessionOf(shortSheet(), []);
  assert.deepEqual(out(session, 60), [0, 0, 0]);
  assert.deepEqual(out(session, 27), [0, 1, 0]);
  assert.deepEqual(out(session, 22), [0, 3, 0]);
  assert.deepEqual(out(session, 14), [0, 3, 3]);
  assert.deepEqual(out(session, 1), [3, 3, 3]);
  assert.equal(minutesWith(session, leaveOut(session, 22)), 21);
});

const pain = (place, value) => fact("session", { what: "hurts", entry: place, lift: "row", where: "", pain: value });

test("short of time: done sets stay, their set-up is over, a stopped lift takes no minutes", () => {
  assert.deepEqual(out(sessionOf(shortSheet(), [set("row", 1, 1)]), 11), [0, 3, 1]);
  assert.deepEqual(out(sessionOf(shortSheet(), [pain(1, 8)]), 19), [3, 1, 0]);
});

test("short of time: a lift that hurts goes first, by the sheet's word or today's", () => {
  const [row, press, curl] = [entry(1, "row"), entry(2, "press"), entry(3, "curl")];
  const sore = { ...row, cautions: [{ code: "sheet_hurts", says: "" }] };
  const sheetOf = (first) => ({ ...document([first, press, curl]), short });
  assert.deepEqual(out(sessionOf(sheetOf(row), []), 22)[0], 0);
  for (const [first, facts] of [[sore, []], [row, [pain(1, 4)]]]) {
    const expected = out(sessionOf(sheetOf(first), facts), 22);
    assert.equal(expected[0], 3, "all of its sets");
    const said = fact("session", { what: "short_of_time", minutes: 22, left_out: "" });
    const cut = sessionOf(sheetOf(first), [...facts, said]).lines.map((line) => line.leftOut);
    assert.deepEqual(cut, expected);
  }
  const said = fact("session", { what: "short_of_time", minutes: 27, left_out: "" });
  const [, shorter] = sessionOf(sheetOf(row), [said]).lines;
  assert.deepEqual([shorter.leftOut, headOf(shorter, shorter.rows[0])], [1, "Set 1 of 2"]);
  assert.equal(out(sessionOf(sheetOf(sore), [pain(1, 1)]), 22)[0], 0, "quiet today");
});

test("said short of time: the sheet stays as it was cut then, whatever is done after", () => {
  const first = set("row", 1, 1);
  const said = fact("session", { what: "short_of_time", minutes: 11, left_out: "" });
  const facts = [first, said];
  const remaining = (more) => sessionOf(shortSheet(), [...facts, ...more]).lines.map((line) => line.remaining.length);
  assert.deepEqual(remaining([]), [2, 0, 2]);
  assert.deepEqual(remaining([set("row", 2, 1), set("curl", 1, 3)]), [1, 0, 1]);
  assert.deepEqual(remaining([fact("session", said.session, {}, { amends: said.id, withdrawn: true })]), [2, 3, 3]);
});

test("a taken machine comes last, until a set of it is done", () => {
  const taken = fact("session", { what: "machine_taken", entry: 1 });
  const sheet = document([entry(1, "row"), entry(2, "press")]);
  assert.equal(sessionOf(sheet, [taken]).next.key, "2");
  assert.equal(sessionOf(sheet, [taken, set("row", 1, 1)]).next.key, "1");
  assert.equal(sessionOf(document([entry(1, "row")]), [taken]).next.key, "1");
});

test("what stands in for pain is found, and today's pain is remembered by lift", () => {
  const spared = entry(1, "leg curl");
  const sheet = { ...document([entry(1, "row")], { 1: [] }), pain: { 1: { says: "", for: { "": ["leg curl"] }, entries: [spared] } } };
  const facts = [
    fact("session", { what: "hurts", entry: 1, lift: "row", where: "knee", pain: 4 }),
    fact("session", { what: "swap_lift", entry: 1, lift: "leg curl", why: "pain 4" }),
  ];
  const session = sessionOf(sheet, facts);
  assert.equal(session.lines[0].entry, spared);
  assert.deepEqual([painfulToday(session, "row"), painfulToday(session, "leg curl")], [true, false]);
});

test("of a drop entry only the set that counts for more is in parts", () => {
  const plain = { ...planned(50), counts_as: 1 };
  const mixed = entry(1, "curl", { method: "drop", sets: [plain, { ...plain, counts_as: 2 }] });
  assert.deepEqual([...mixed.sets, null].map((one) => methodOf(mixed, one)), ["straight", "drop", "straight"]);
  const all = entry(1, "curl", { method: "rest-pause", sets: [plain, plain] });
  assert.deepEqual([...all.sets, null].map((one) => methodOf(all, one)), ["rest-pause", "rest-pause", "rest-pause"]);
});

test("the rest is told from stored times, and not at all from a clock that went back", () => {
  const one = set("row", 1, 1);
  const session = sessionOf(document([entry(1, "row")]), [one]);
  const at = Date.parse(one.at);
  assert.deepEqual(restNow(session, at + 95_000), { elapsed: 95, planned: 120 });
  assert.equal(restNow(session, at - 1000), null);
  assert.equal(restNow(session, at + 7_200_000), null);
});

test("the rest before a set leaves out the time of the set itself", () => {
  const one = set("row", 1, 1);
  const sheet = document([entry(1, "row")]);
  const [line] = sessionOf(sheet, [one]).lines;
  assert.equal(restBefore(line, sheet, "10", Date.parse(one.at) + 150_000), null);
  sheet.advice.lifts = { row: lift };
  assert.equal(restBefore(line, sheet, "10", Date.parse(one.at) + 150_000), 120);
  assert.equal(restBefore(line, sheet, "10", Date.parse(one.at) + 5_000), null);
  assert.equal(restBefore(line, sheet, "10", Date.parse(one.at) - 5_000), null);
});

test("lifts share a rack by its number; a sheet kept from before holds each lift's own", () => {
  const rack = [{ load_kg: 20, says: "20 kg bar alone" }];
  const shared = { lifts: { row: { ...lift, rack: 1 } }, racks: [[], rack] };
  const own = { lifts: { row: { ...lift, rack } } };
  for (const advice of [shared, own]) assert.deepEqual(inputsOf({ advice }, "row"), { ...lift, rack });
  assert.equal(inputsOf({ advice: shared }, "press"), null);
});

test("the lighter begins, then the turn is the other's after each set, as long as the other has one to do", () => {
  const at = (iso) => iso === null ? null : { at: iso };
  const track = (name, last, next = { nextKg: null }) => ({ session: {
    last: at(last), next, lines: [], document: { lifter: { name } } } });
  const [early, late] = ["2027-01-04T18:00:00Z", "2027-01-04T18:02:00Z"];
  // The lighter bar begins, whoever's sheet was opened first; of two alike the same one on both phones.
  const [heavy, light] = [100, 60].map((nextKg, key) => ({ ...track("Ines", null, { nextKg }), key: String(key) }));
  assert.deepEqual([turnOf([heavy, light], 0), turnOf([light, heavy], 1)], [1, 0]);
  const twin = { ...light, key: "2" };
  assert.deepEqual([turnOf([light, twin], 1), turnOf([twin, light], 0)], [0, 1]);
  assert.equal(turnOf([track("Ines", early), track("Jon", null)], 0), 1);
  assert.equal(turnOf([track("Ines", early), track("Jon", late)], 1), 0);
  assert.equal(turnOf([track("Ines", early, null), track("Jon", late)], 0), 1);
});

test("two clocks that differ within two minutes do not turn the order round", () => {
  const track = (at, seq) => ({ session: {
    last: { at, done_at: at, root_seq: seq }, next: { nextKg: null }, lines: [], document: { lifter: { name: "One" } } } });
  const [early, late, muchLater] = ["2027-01-04T18:00:00Z", "2027-01-04T18:01:30Z", "2027-01-04T18:09:00Z"];
  // The clock of the first phone is behind: its set came in second all the same.
  assert.equal(turnOf([track(early, 8), track(late, 7)], 0), 1);
  assert.equal(turnOf([track(early, 7), track(late, 8)], 1), 0);
  // What this phone has not sent yet is the latest.
  assert.equal(turnOf([track(early, undefined), track(late, 7)], 0), 1);
  // A set sent late, after a time without signal, is told by its time.
  assert.equal(turnOf([track(early, 8), track(muchLater, 7)], 1), 0);
});

test("both are told what changes on the bar, now and for the one after", () => {
  const rack = (loads) => ({
    settings: [], exactly: (kg) => loads[kg] === undefined ? null : { load_kg: kg, plates_per_side: loads[kg] } });
  const loads = { 60: { 20: 1 }, 65: { 20: 1, 2.5: 1 }, 100: { 20: 2 } };
  const track = (name, kg, last) => {
    const done = last === null ? null : { at: last, set: { load: "60", unit: "kg" } };
    const line = { entry: { lift: "bench press" }, rack: rack(loads), nextKg: kg, rows: done === null ? [] : [{ done }] };
    return { session: { last: done, next: line, lines: [line], document: { lifter: { name: `${name} Invented` } } } };
  };
  const tracks = [track("Ines", 65, "2027-01-04T18:00:00Z"), track("Jon", 100, null)];
  assert.deepEqual(turnTexts(tracks, 1), ["Jon’s turn, bench press: each side put on 20.", "Then Ines: each side take off 20, put on 2.5."]);
  const alike = [track("Ines", 60, "2027-01-04T18:00:00Z"), track("Jon", 60, null)];
  assert.deepEqual(turnTexts(alike, 1), ["Jon’s turn, bench press: leave the bar as it is.", "Then Ines: leave the bar as it is."]);
  const other = track("Jon", 100, null);
  other.session.next.entry.lift = "seated row";
  assert.deepEqual(turnTexts([tracks[0], other], 1), ["Jon’s turn, seated row."]);
});

test("a part more is lighter in a drop set, by the kit's own steps", () => {
  const line = { rack: { settings: [30, 40, 50, 60].map((kg) => ({ load_kg: kg })) } };
  assert.deepEqual(withPart({ load: "60", reps: "12" }, line, "kg", "drop"), { load: "60+40", reps: "12+3" });
  assert.deepEqual(withPart({ load: "60", reps: "15+4" }, line, "kg", "rest-pause"), { load: "60", reps: "15+4+3" });
});

test("plates to change on a shared bar", () => {
  const says = "20 kg bar, so many each side", light = { says, plates_per_side: { 20: 1, 5: 1, 2.5: 1 } };
  const change = barChange(light, { says, plates_per_side: { 20: 2, 10: 1, 1.25: 1 } });
  assert.deepEqual(change, { off: ["2.5", "5"], on: ["20", "10", "1.25"] });
  assert.equal(barChange(light, { ...light, says: "45 lb bar, 45 each side" }), null, "another bar");
  assert.deepEqual(barChange(light, { says: "20 kg bar alone", plates_per_side: {} }).on, []);
  assert.equal(barChange({ plates_per_side: null }, { plates_per_side: {} }), null);
});

test("ids are UUIDs, also without the browser's own maker", () => {
  const plain = { getRandomValues: (bytes) => crypto.getRandomValues(bytes) };
  for (const id of [newId(), newId(plain)]) {
    assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  }
  assert.notEqual(newId(plain), newId(plain));
});

test("times carry their offset and name the same instant", () => {
  for (const ms of [START, Date.parse("2027-07-01T23:30:00.123Z")]) {
    assert.match(localTime(ms), /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}[+-]\d\d:\d\d$/);
    assert.equal(Date.parse(localTime(ms)), ms);
  }
});

test("numbers and sentences", () => {
  assert.deepEqual([82.5, 100, 1.25, 0, 7.999].map(numberText), ["82.5", "100", "1.25", "0", "8"]);
  assert.equal(loadText(102.0582825, "lb"), "225 lb");
  assert.equal(clockText(125), "2:05");
  const from = { load_kg: 100, says: "" };
  assert.equal(adviceText({ setting: { load_kg: 105 }, from, move: "raise" }, "kg"), "Next set: add 5 kg, 105 kg.");
  assert.equal(adviceText({ setting: { load_kg: 95 }, from, move: "lower" }, "kg"), "Next set: take 5 kg off, 95 kg.");
  assert.equal(adviceText({ setting: from, from, move: "keep" }, "kg"), "Next set: keep 100 kg.");
  assert.equal(adviceText({ setting: from, from, move: "wait" }, "kg"), "Next set: keep 100 kg today, and add next time.");
  const [less, more] = [{ load_kg: 35, says: "" }, { load_kg: 40, says: "" }];
  assert.equal(adviceText({ setting: less, from: more, move: "raise" }, "kg", "assisted"), "Next set: 5 kg less help, 35 kg.");
  assert.equal(adviceText({ setting: more, from: less, move: "lower" }, "kg", "assisted"), "Next set: 5 kg more help, 40 kg.");
  assert.equal(adviceText({ setting: more, from: less, move: "raise" }, "kg", "bodyweight_plus"), "Next set: add 5 kg, +40 kg.");
  const typed = { load: "40", unit: "kg", reps: "8", rir: "2" };
  assert.deepEqual(["external", "assisted", "bodyweight_plus"].map((kind) => doneText(typed, kind)),
    ["40 kg × 8 reps, RIR 2", "40 kg of help × 8 reps, RIR 2", "+40 kg × 8 reps, RIR 2"]);
  assert.equal(doneText({ ...typed, load: "0" }, "bodyweight_plus"), "bodyweight × 8 reps, RIR 2");
  assert.equal(plannedText(planned(40), "kg", "bodyweight_plus"), "+40 kg × 8–12 reps, RIR\u00a02");
  assert.equal(plannedText(planned(0), "kg", "bodyweight_plus"), "bodyweight × 8–12 reps, RIR\u00a02");
  const bare = { load_kg: 0, says: "bodyweight alone" };
  assert.equal(adviceText({ setting: less, from: bare, move: "raise" }, "kg", "bodyweight_plus"), "Next set: add 35 kg.");
  assert.deepEqual(["ez bar curl", "zercher squat"].map(capital), ["EZ bar curl", "Zercher squat"]);
  assert.deepEqual(["One leg; both sides are one repetition.", null].map((standard) => repsUnit({ standard })), ["each side", ""]);
});
