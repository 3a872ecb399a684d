// Reads tries from stdin, answers each with what the phone proposes next; see test_finding_vectors.py.
import { readFileSync } from "node:fs";
import { nextTry } from "../../src/blockwright/web/static/blockwright/finding.js";

const { policy, lifts, questions } = JSON.parse(readFileSync(0, "utf8"));
const answers = questions.map(({ lift, ...asked }) => {
  const { setting, isWork } = nextTry({ lift: lifts[lift], policy, ...asked });
  return [setting.load_kg, !isWork];
});
process.stdout.write(JSON.stringify(answers));
