// Warning signs in a note, found on the phone at once: the steps of `files/signs`, file by file
// (patterns, spelling, reading, denial, evidence, grammar), over the same tables. A test puts the same notes
// to both.

import { TABLES } from "./sign_words.js";

const wordSet = cached((text) => new Set(text.trim().split(/\s+/)));
const inList = (name, word) => wordSet(TABLES[name]).has(word);

function cached(work) {
  const known = new Map();
  return (key) => {
    if (!known.has(key)) known.set(key, work(key));
    return known.get(key);
  };
}

// ----------------------------------------------------------------------------------------- patterns

const linesOf = (text) => text.split("\n");

function sectionsOf(text) {
  let head = "";
  const found = [];
  for (const line of linesOf(text)) {
    if (line.startsWith("[")) head = line.slice(1, -1);
    else found.push([head, line]);
  }
  return found;
}

const classesOf = cached((text) => new Map(linesOf(text).map((line) => {
  const at = line.indexOf(": ");
  return [line.slice(0, at), line.slice(at + 2).split(/\s+/).map((entry) => entry.split("_"))];
})));

const compiled = cached((text) => {
  const made = [];
  let gap = 0, free = 0, overComma = false;
  for (const part of text.split(/\s+/)) {
    if ("~=^".includes(part[0])) {
      gap = Number(part.slice(1));
      overComma = part[0] === "^";
      if (part[0] === "=") free = made.length;
    } else {
      made.push({ ...elementOf(part), gap, overComma });
      gap = 0;
      overComma = false;
    }
  }
  if (free === 0) return [made];
  const [first, ...others] = made.slice(free), [start, ...rest] = made.slice(0, free);
  return [made, [{ ...first, gap: 0 }, ...others, { ...start, gap: first.gap }, ...rest]];
});

function elementOf(part) {
  if (part === "$") return { words: new Set(), phrases: [], stems: [], classes: [], optional: false, atEnd: true };
  const options = part.replace(/\?$/, "").split("|");
  return {
    words: new Set(options.filter((one) => one[0] !== "<" && !one.endsWith("*"))),
    phrases: options.filter((one) => one.includes("_") && one[0] !== "<").map((one) => one.split("_")),
    stems: options.filter((one) => one.endsWith("*")).map((one) => one.slice(0, -1)),
    classes: options.filter((one) => one[0] === "<").map((one) => one.slice(1, -1)),
    optional: part.endsWith("?"), atEnd: false,
  };
}

const patternsOf = cached((table) => linesOf(table).flatMap(compiled));

// ----------------------------------------------------------------------------------------- spelling

const known = cached(() => new Set([
  ...[...classesOf(TABLES.CLASSES).values()].flat(2), ...wordSet(TABLES.NOT_SLIPS),
]));

const meant = cached(() => {
  const classes = classesOf(TABLES.CLASSES);
  const fuzzy = [...wordSet(TABLES.FUZZY_CLASSES)].flatMap((name) => classes.get(name))
    .filter((entry) => entry.length === 1).map(([word]) => word);
  return [...new Set([...fuzzy, ...wordSet(TABLES.FUZZY_WORDS)])]
    .filter((word) => word.length >= TABLES.LEAST_LETTERS).sort();
});

const corrected = cached((word) => {
  if (word.length < TABLES.LEAST_LETTERS - 1 || known("").has(word) || !/^[a-z]+$/.test(word)) return word;
  let best = word, fewest = 3;
  for (const one of meant("")) {
    if (one[0] !== word[0]) continue;
    const most = Math.min(one.length, word.length + 1) >= TABLES.TWO_SLIPS_FROM ? 2 : 1;
    const slips = slipsBetween(word, one, most);
    if (slips <= most && slips < fewest) [best, fewest] = [one, slips];
  }
  return best;
});

// Letters wrong, missing, too many or exchanged with their neighbour; above `most` some number above it.
function slipsBetween(one, other, most) {
  if (Math.abs(one.length - other.length) > most) return most + 1;
  let before = [], row = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (let i = 1; i <= one.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= other.length; j += 1) {
      const same = one[i - 1] === other[j - 1];
      next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (same ? 0 : 1));
      if (i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1]) {
        next[j] = Math.min(next[j], before[j - 2] + 1);
      }
    }
    [before, row] = [row, next];
  }
  return row[other.length];
}

// ------------------------------------------------------------------------------------------ reading

const TOKEN = /[a-z0-9]+(?:'[a-z]+)?|[.;!?\n]|[,()]|\s[-–—]+\s|[/&+]/g;
const AND = { "&": "and", "+": "and", "/": "or" };

function tokensOf(note) {
  let text = note.toLowerCase().replaceAll("’", "'").replaceAll("‘", "'").replaceAll("w/o", "without")
    .replaceAll("w/", "with ").replaceAll(" v. ", " very ")
    .replace(/(?<=[a-z0-9])-(?=[a-z0-9])|(?<=[0-9])\.(?=[0-9])/g, " ");
  for (const [phrase, word] of TABLES.MERGED) text = text.replaceAll(phrase, word);
  return (text.match(TOKEN) ?? []).slice(0, TABLES.MOST_WORDS).map((raw) => {
    const token = raw.trim() || ".";
    if (".;!?".includes(token[0])) return token === "?" ? "?" : ".";
    if (",()-–—".includes(token[0])) return ",";
    return AND[token] ?? corrected(token);
  });
}

const phrases = cached(() => {
  const found = new Map();
  for (const [name, entries] of classesOf(TABLES.CLASSES)) {
    for (const words of entries) {
      if (!found.has(words[0])) found.set(words[0], []);
      found.get(words[0]).push([name, words]);
    }
  }
  return found;
});

class Reading {
  constructor(note) {
    this.tokens = tokensOf(note);
    this.hard = this.tokens.map((one) => one === "." || one === "?" || inList("HARD", one));
    this.soft = this.tokens.map((one) => one === ",");
    this.classes = this.tokens.map((token, index) => this.classesAt(token, index));
    this.words = new Set(this.tokens);
    this.named = new Set(this.classes.flatMap((here) => [...here.keys()]));
    this.silent = new Set();
    this.stops = false;
    const others = this.wordsMatched(TABLES.NOT_DENIALS);
    this.ifs = this.covered("if");
    this.silent = this.wordsMatched(TABLES.HARMLESS);
    this.stops = true;
    this.denials = new Set([...this.covered("deny").keys()]
      .filter((index) => !others.has(index) && !this.isTakenBack(index)));
  }

  isTakenBack(index) {
    let mark = index;
    while (!this.isMark(mark)) mark += 1;
    const after = this.tokens.slice(mark + 1, mark + 3).join(" ");
    return this.tokens[mark] === "until" || (this.hard[mark] && ["nearly did", "almost did"].includes(after));
  }

  classesAt(token, index) {
    const here = new Map();
    for (const first of new Set([token, token.replace(/'s$/, "")])) {
      for (const [name, words] of phrases("").get(first) ?? []) {
        if (words.every((word, at) => at === 0 || this.tokens[index + at] === word)) {
          here.set(name, [...(here.get(name) ?? []), index + words.length]);
        }
      }
    }
    return here;
  }

  wordsMatched(table) {
    const found = new Set();
    for (const pattern of patternsOf(table)) {
      for (const places of this.matches(pattern)) {
        for (const [a, b] of places) for (let i = a; i < b; i += 1) found.add(i);
      }
    }
    return found;
  }

  covered(name) {
    const found = new Map();
    for (const [a, b] of this.places({ words: new Set(), phrases: [], stems: [], classes: [name] }, false)) {
      for (let i = a; i < b; i += 1) found.set(i, a);
    }
    return found;
  }

  isPossible(element) {
    return element.atEnd || element.classes.some((name) => this.named.has(name))
      || this.tokens.some((token) => element.words.has(token) || element.phrases.some(([head]) => head === token)
        || element.stems.some((stem) => token.startsWith(stem)));
  }

  * matches(pattern, aloud = false) {
    if (!pattern.every((element) => element.optional || this.isPossible(element))) return;
    for (const place of this.places(pattern[0], aloud)) yield* this.rest(pattern, 1, [place], aloud);
  }

  * places(element, aloud) {
    for (let index = 0; index < this.tokens.length; index += 1) {
      for (const end of this.ends(element, index, aloud)) yield [index, end];
    }
  }

  * rest(pattern, number, places, aloud) {
    if (number === pattern.length) {
      yield places;
      return;
    }
    const element = pattern[number];
    for (const index of this.reached(places.at(-1)[1], element)) {
      for (const end of this.ends(element, index, aloud)) {
        yield* this.rest(pattern, number + 1, [...places, [index, end]], aloud);
      }
    }
    if (element.optional) yield* this.rest(pattern, number + 1, places, aloud);
  }

  ends(element, index, aloud) {
    if (element.atEnd) return this.isMark(index) ? [index] : [];
    if (index >= this.tokens.length) return [];
    const token = this.tokens[index], here = this.classes[index];
    const ends = new Set(element.classes.flatMap((name) => here.get(name) ?? []));
    if (element.words.has(token) || element.stems.some((stem) => token.startsWith(stem))) ends.add(index + 1);
    for (const phrase of element.phrases) {
      if (phrase.every((word, at) => this.tokens[index + at] === word)) ends.add(index + phrase.length);
    }
    return [...ends].sort((one, other) => one - other).filter((end) => {
      for (let i = index; !aloud && i < end; i += 1) if (this.silent.has(i)) return false;
      return true;
    });
  }

  * reached(start, element) {
    for (let index = start; index <= start + element.gap; index += 1) {
      if (index >= this.tokens.length || element.atEnd) {
        yield index;
        return;
      }
      if (this.hard[index] || (this.soft[index] && !element.overComma)) return;
      yield index;
      if (!this.stops) continue;
      if (inList("BREAKERS", this.tokens[index])) return;
      if (this.classes[index].has("part") && !this.joined(index)) return;
    }
  }

  joined(index) {
    return [index - 1, index + 1].some((at) => this.tokens[at] !== undefined && inList("JOINERS", this.tokens[at]));
  }

  isMark(index) {
    return index >= this.tokens.length || this.hard[index] || this.soft[index];
  }

  has(patterns, index) {
    const isStop = (token) => token === "." || token === "?";
    let start = index, stop = index;
    while (start > 0 && !isStop(this.tokens[start - 1])) start -= 1;
    while (stop < this.tokens.length && !isStop(this.tokens[stop])) stop += 1;
    return patterns.some((pattern) => {
      for (const places of this.matches(pattern, true)) {
        if (places[0][0] >= start && places[0][0] < stop && places.at(-1)[1] <= stop) return true;
      }
      return false;
    });
  }
}

// ------------------------------------------------------------------------------------------- denial

function isPlainPain(reading) {
  const saysMore = (here) => [...here.keys()].some((name) => inList("MORE", name));
  const moves = (at) => reading.tokens[at] === "down" && reading.isMark(at + 1) && inList("MOVES", reading.tokens[at - 1]);
  const isOfLift = (at) => inList("PINCHES", reading.tokens[at]) || moves(at);
  if (reading.classes.some((here, at) => saysMore(here) && !isOfLift(at))) return false;
  return patternsOf(TABLES.PLAIN_PAIN).some((one) => !reading.matches(one, true).next().done);
}

function counts(reading, places) {
  const taken = new Set();
  for (const [a, b] of places) for (let i = a; i < b; i += 1) taken.add(i);
  if (places.some(([a]) => isDenied(reading, a, taken))) return false;
  const end = places.at(-1)[1];
  if (isDeniedAfter(reading, end) || isNo(reading, answerOf(reading, end))) return false;
  return !(isSupposed(reading, places, taken) && !isYes(reading, end)) && !isOfAnother(reading, places);
}

function* walk(reading, from, taken, over = new Set()) {
  for (let index = from - 1; index >= 0 && !reading.hard[index]; index -= 1) {
    if (reading.soft[index] && !isInList(reading, index)) return;
    yield index;
    const passes = taken.has(index) || reading.soft[index] || over.has(reading.tokens[index]);
    if (!passes && !isBare(reading, index)) return;
  }
}

const isOr = (token) => token === "or" || token === "nor";

function isBare(reading, index) {
  const here = reading.classes[index];
  return isOr(reading.tokens[index]) || here.has("filler") || [...here.keys()].some((name) => inList("SIGN_CLASSES", name));
}

function isInList(reading, comma) {
  let hasOr = false;
  for (let index = comma + 1; index < reading.tokens.length && !reading.hard[index]; index += 1) {
    hasOr ||= isOr(reading.tokens[index]);
    if (!reading.soft[index] && !isBare(reading, index)) return false;
  }
  return hasOr;
}

function isDenied(reading, index, taken) {
  for (const before of walk(reading, index, taken)) {
    if (reading.denials.has(before) && !taken.has(before)) return !isDeniedTwice(reading, before);
  }
  return false;
}

function isDeniedTwice(reading, denial) {
  for (let index = denial - 1; index >= Math.max(denial - 4, 0) && !reading.isMark(index); index -= 1) {
    const here = reading.classes[index];
    if (here.has("deny")) return denial >= Math.max(...here.get("deny"));
    if (!here.has("filler") && !["i", "say", "there"].includes(reading.tokens[index])) return false;
  }
  return false;
}

function isDeniedAfter(reading, end) {
  if (reading.isMark(end)) return false;
  const following = reading.tokens[end + 1] ?? "";
  if (reading.classes[end].has("after_no") && !reading.silent.has(end)) return !inList("NO_ANSWER", following);
  return reading.denials.has(end) && reading.tokens.slice(end + 1, end + 3).some((token) => inList("CAME", token));
}

// The words of the clause behind the mark that ends a sign's.
function answerOf(reading, end) {
  const { tokens } = reading, answer = [], most = Math.min(end + 4, tokens.length);
  const isYesWord = (token) => TABLES.YES.includes(token);
  let mark = end;
  while (mark < most && ![",", "?", "."].includes(tokens[mark]) && !isYesWord(tokens[mark])) mark += 1;
  if (mark >= most || (tokens[mark] === "." && mark !== end)) return answer;
  for (let index = isYesWord(tokens[mark]) ? mark : mark + 1; !reading.isMark(index); index += 1) answer.push(index);
  return answer;
}

function isNo(reading, answer) {
  const said = answer.map((index) => reading.classes[index]);
  return said.length > 0 && said[0].has("said_no")
    && said.every((here) => here.has("said_no") || here.has("said_rest"));
}

function isYes(reading, end) {
  const answer = answerOf(reading, end);
  const said = `${answer.map((index) => reading.tokens[index]).join(" ")} `;
  return TABLES.YES.some((yes) => said.startsWith(`${yes} `)) && !answer.some((index) => reading.denials.has(index));
}

function isSupposed(reading, places, taken) {
  const first = places[0][0], last = places.at(-1)[1];
  if (reading.tokens.slice(first, last + 2).includes("again")) return false;
  for (const index of walk(reading, first, taken, wordSet(TABLES.PRONOUNS))) {
    if (reading.ifs.has(index)) {
      const start = reading.ifs.get(index);
      return start === 0 || !inList("UNSURE", reading.tokens[start - 1]);
    }
  }
  for (let start = Math.max(first - 8, 0); start < first; start += 1) {
    for (const end of reading.classes[start].get("advice") ?? []) {
      let bare = end <= first;
      for (let i = end; bare && i < first; i += 1) {
        bare = !reading.hard[i] && (reading.soft[i] || isBare(reading, i));
      }
      if (bare) return true;
    }
  }
  return false;
}

function isOfAnother(reading, places) {
  const first = places[0][0], end = places.at(-1)[1];
  let start = first;
  while (start > 0 && !reading.isMark(start - 1)) start -= 1;
  for (let index = first - 1; index >= start; index -= 1) {
    if (!reading.classes[index].has("other")) continue;
    let lead = index - 1;
    while (lead >= start && inList("OWNERS", reading.tokens[lead])) lead -= 1;
    if (lead >= start && reading.classes[lead].has("with")) continue;
    for (let i = index + 1; i < end; i += 1) {
      const here = reading.classes[i];
      if (here.has("told") || (here.has("me") && !inList("NOT_ME", reading.tokens[i - 1]))) return false;
    }
    return true;
  }
  return false;
}

// ----------------------------------------------------------------------------------------- evidence

const weights = cached(() => [...TABLES.WEIGHTS].map((one) => {
  const code = one.charCodeAt(0);
  return code - TABLES.NONE_WEIGHS - (code > TABLES.SKIPPED ? 1 : 0);
}));

// null: no sign; else whether the words leave room for doubt of what a rule is sure of. `sure`: of each
// sign a rule found, whether its own words leave none.
function doubtLeft(reading, sure) {
  const table = weights("");
  const weighed = new Set([...featuresOf(reading)].map(bucket));
  const sum = [...weighed].reduce((sum, one) => sum + table[one], 0);
  const words = TABLES.START + sum * TABLES.EVEN / Math.sqrt(Math.max(weighed.size, 1));
  const byRule = (sure.length ? TABLES.OF_A_RULE : 0) + (sure.some(Boolean) ? TABLES.OF_A_SURE_RULE : 0);
  return words + byRule > 0 ? words <= 0 : null;
}

function bucket(feature) {
  let found = 2166136261;
  for (let at = 0; at < feature.length; at += 1) found = Math.imul(found ^ feature.charCodeAt(at), 16777619) >>> 0;
  return ((found ^ (found >>> 15)) >>> 0) % TABLES.BUCKETS;
}

function featuresOf(reading) {
  const marks = marksOf(reading);
  const forms = reading.tokens.map((token, index) => (
    [token, ...[...reading.classes[index].keys()].map((name) => `<${name}>`)].map((one) => marks[index] + one)));
  const seen = new Set(forms.flat().map((one) => /^[0-9]+$/.test(one) ? "9" : one));
  forms.slice(1).forEach((following, index) => {
    if (reading.hard[index] || reading.hard[index + 1]) return;
    for (const one of forms[index]) {
      for (const other of following) if (!one.includes("<") || !other.includes("<")) seen.add(`${one}_${other}`);
    }
  });
  reading.tokens.forEach((token, index) => {
    const word = ` ${token} `;
    for (const n of TABLES.RUNS) {
      for (let at = 0; at + n <= word.length; at += 1) seen.add(`#${marks[index]}${word.slice(at, at + n)}`);
    }
  });
  for (const index of reading.silent) for (const one of ["", ...forms[index]]) seen.add(`~${one}`);
  if (forms.length > 0) {
    seen.add(`^${forms[0][0]}`).add(`${forms.at(-1)[0]}$`).add(`%${Math.min(Math.floor(forms.length / 4), 6)}`);
  }
  return seen;
}

// "!" after a denial in its clause and for a sign's word that does not count, "@" after another
// person, "?" after "if" and advice.
function marksOf(reading) {
  let mark = "";
  return reading.classes.map((here, index) => {
    if (reading.isMark(index)) mark = "";
    const isSign = [...here.keys()].some((name) => inList("SIGN_CLASSES", name));
    const found = isSign && !counts(reading, [[index, index + 1]]) ? "!" : mark;
    if (reading.denials.has(index)) mark = "!";
    else if (here.has("other")) mark = "@";
    else if (here.has("if") || here.has("advice")) mark = "?";
    return found;
  });
}

const saysMeant = cached(() => new Map(TABLES.MEANT.trim().split(";").map((entry) => {
  const [word, ...of] = entry.trim().split(/\s+/);
  return [word, of.map((one) => [one.charCodeAt(0) - 97, Number(one.slice(1))])];
})));

// The sign to ask about where only the words together speak.
function signMeant(reading) {
  const signs = Object.keys(TABLES.QUESTIONS), speak = signs.map(() => 0), table = saysMeant("");
  const words = new Set([...reading.tokens.filter((token) => /^[a-z]/.test(token)),
    ...[...reading.named].map((name) => `<${name}>`)]);
  for (const word of words) for (const [sign, says] of table.get(word) ?? []) speak[sign] += says;
  const [first, second] = signs.map((_, sign) => sign).sort((one, other) => speak[other] - speak[one]);
  return speak[first] - speak[second] >= TABLES.LEAD ? signs[first] : TABLES.POSSIBLE;
}

// ------------------------------------------------------------------------------------------ grammar

const rules = cached(() => {
  const contexts = new Map();
  for (const [name, line] of sectionsOf(TABLES.CONTEXTS)) {
    contexts.set(name, [...(contexts.get(name) ?? []), ...compiled(line)]);
  }
  const made = sectionsOf(TABLES.RULES).flatMap(([sign, line]) => {
    const at = line.indexOf(": ");
    const [level, ...unless] = line.slice(0, at).split(/\s+/);
    const names = [...TABLES.ALWAYS.split(/\s+/), ...unless.map((name) => name.slice(1))];
    return compiled(line.slice(at + 2)).map((pattern) => (
      { sign, sure: level === "sure", unless: names.flatMap((name) => contexts.get(name)), pattern }));
  });
  return [...made.filter((rule) => rule.sure), ...made.filter((rule) => !rule.sure)];
});

// The signs in a note: [{sign, sure, asks}], `asks` null where there is no doubt.
export const signsFound = cached((note) => {
  if (note.trim() === "") return [];
  const reading = new Reading(note);
  const found = new Map();
  for (const rule of rules("")) {
    if (!found.has(rule.sign) && holds(rule, reading)) found.set(rule.sign, rule.sure);
  }
  let doubt = doubtLeft(reading, [...found.values()]);
  if (doubt === null && (found.get(TABLES.BLOOD) || isAnswered(reading))) doubt = true; // no other words explain it away
  if (doubt === null || isPlainPain(reading)) return [];
  if (found.size === 0) found.set(signMeant(reading), false);
  return Object.keys(TABLES.QUESTIONS).filter((sign) => found.has(sign))
    .map((sign) => ({ sign, sure: found.get(sign) && !doubt }))
    .map(({ sign, sure }) => ({ sign, sure, asks: sure ? null : TABLES.QUESTIONS[sign] }));
});

const holds = (rule, reading) => !standing(rule, reading).next().done;

function* standing(rule, reading) {
  for (const places of reading.matches(rule.pattern)) {
    if (counts(reading, places) && !reading.has(rule.unless, places[0][0])) yield places;
  }
}

function isAnswered(reading) {
  return rules("").some((rule) => [...standing(rule, reading)].some((places) => isYes(reading, places.at(-1)[1])));
}
