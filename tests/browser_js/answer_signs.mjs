// Reads notes as JSON, answers with the signs the phone finds in each.

import { readFileSync } from "node:fs";
import { signsFound } from "../../src/blockwright/web/static/blockwright/signs.js";

const notes = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(notes.map(signsFound)));
