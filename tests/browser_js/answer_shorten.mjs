// Reads shortenings and questions from stdin, answers each with the phone's own copy; see
// test_shorten_vectors.py.
import { readFileSync } from "node:fs";
import { leftOut, secondsOf } from "../../src/blockwright/web/static/blockwright/shorten.js";

const numbered = (table) => new Map(Object.entries(table).map(([order, sets]) => [Number(order), sets]));

const { shorts, questions } = JSON.parse(readFileSync(0, "utf8"));

process.stdout.write(JSON.stringify(questions.map(({ at, minutes, done, without, keep }) => ({
  out: Object.fromEntries(leftOut(shorts[at], minutes, numbered(done), new Set(without))),
  seconds: secondsOf(shorts[at], numbered(keep), numbered(done)),
}))));
