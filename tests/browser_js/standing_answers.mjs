// Reads lists of facts from stdin; answers which stand and in which order.
import { readFileSync } from "node:fs";
import { inDoneOrder, standing } from "../../src/blockwright/web/static/blockwright/standing.js";

const lists = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(lists.map((facts) =>
  inDoneOrder(standing(facts)).map(({ id, root, at, n }) => [id, root, at, n]))));
