// Reads questions from stdin, answers each with the phone's own advice; see
// test_advice_vectors.py, which holds the answers against the engine's.
import { readFileSync } from "node:fs";
import {
  chanceOf, effectiveKg, nextLoad, observed, rested,
} from "../../src/blockwright/web/static/blockwright/advice.js";

const { law, policy, bodyweight_kg: bodyweightKg, lifts, questions } =
  JSON.parse(readFileSync(0, "utf8"));

const partRestS = policy["fatigue.part_rest_s"];

function answer({ lift: name, before, done, planned, reps, later_reps: laterReps, printed_rir: printedRir, rest_before_s: restBefore }) {
  const lift = lifts[name];
  let state = { ...lift.belief };
  let first = true;
  for (const set of before) {
    if (!first) state = rested(state, set.rest_s, law.fatigue);
    const kg = effectiveKg(lift, set.load_kg, bodyweightKg);
    state = observed(state, {
      effectiveKg: kg, reps: set.reps, rir: set.rir, laterReps: set.later_reps, partRestS,
    }, law);
    first = false;
  }
  if (!first) state = rested(state, restBefore, law.fatigue);
  const next = nextLoad({ lift, law, policy, bodyweightKg, state, done, planned, reps, laterReps, printedRir });
  const kg = effectiveKg(lift, planned.load_kg, bodyweightKg);
  return {
    load_kg: next.setting.load_kg, says: next.setting.says, move: next.move,
    chance: chanceOf(planned.reps_low, kg, planned.rir, state, law),
  };
}

process.stdout.write(JSON.stringify(questions.map(answer)));
