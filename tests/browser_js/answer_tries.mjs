// Reads tries from stdin, answers each with what the phone proposes next; see test_finding_vectors.py.
import { readFileSync } from "node:fs";
import { makeEvent } from "../../src/blockwright/web/static/blockwright/events.js";
import { nextTry } from "../../src/blockwright/web/static/blockwright/finding.js";
import { sessionOf } from "../../src/blockwright/web/static/blockwright/session.js";

const { policy, law, lifts, questions, climbs } = JSON.parse(readFileSync(0, "utf8"));
const answers = questions.map(({ lift, ...asked }) => {
  const { setting, isWork } = nextTry({ lift: lifts[lift], policy, ...asked });
  return [setting.load_kg, !isWork];
});

// The load of the next set, and the question about the last, after the sets of one session.
const climbed = (climbs ?? []).map(({ lift, done, planned }) => {
  const entry = { order: 1, lift, method: "straight", pair: null, rest_s: 120, load_kind: "external", cautions: [],
    sets: [planned, planned, planned], find_load: [{}], find_rules: [] };
  const sheet = { date: "2027-01-04", kind: "build", entries: [entry], notes: [], cautions: [] };
  const plan = { block: "2027-01-04", revision: 1, week: 1, session: 1 };
  const document = { lifter: { bodyweight_kg: 78 }, plan, sheet, swaps: {}, advice: { law, policy, lifts } };
  const tries = done.filter(([, , , method]) => method === "try").length;
  const facts = done.map(([load, reps, rir, method], at) => makeEvent("set",
    { lift, set: at + 1, load: `${load}`, unit: "kg", reps: `${reps}`, rir: `${rir}`, rest_s: 150, method, pain: null },
    { ...plan, lifter: "L", began: null }, "D", Date.parse("2027-01-04T18:00:00Z") + at * 60_000,
    { entry: 1, set: method === "try" ? null : at + 1 - tries }));
  const [line] = sessionOf(document, facts.map((fact, n) => ({ ...fact, n: n + 1 }))).lines;
  return [line.nextKg, line.advice?.setting.load_kg ?? null, line.doubts.size];
});
process.stdout.write(JSON.stringify(climbs === undefined ? answers : climbed));
