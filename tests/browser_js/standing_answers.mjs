// Reads lists of facts from stdin; answers which stand, in which order, and what is disputed.
import { readFileSync } from "node:fs";
import { inDoneOrder, standing, verdicts } from "../../src/blockwright/web/static/blockwright/standing.js";

const lists = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(lists.map((facts) => ({
  stand: inDoneOrder(standing(facts)).map(({ id, root, at, n, kind, ...rest }) => [id, root, at, n, rest[kind]]),
  verdicts: verdicts(facts).map(({ first, last, others }) =>
    [first.id, last.id, others.map(({ id }) => id)]),
}))));
