// Reads sets from stdin, answers each with the phone's own doubt; see test_doubt_vectors.py.
import { readFileSync } from "node:fs";
import { doubtOf } from "../../src/blockwright/web/static/blockwright/doubt.js";

const { law, policy, bodyweight_kg: bodyweightKg, lifts, questions } = JSON.parse(readFileSync(0, "utf8"));
const answers = questions.map(({ lift, ...said }) => doubtOf({
  lift: lifts[lift], law, policy, bodyweightKg, state: lifts[lift].belief, isTry: false, hurts: false, ...said,
}));
process.stdout.write(JSON.stringify(answers));
