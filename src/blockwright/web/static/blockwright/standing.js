// What stands among facts and amendments, what is disputed, and in which order: the rule of
// docs/sync.md, the same as store/standing.py has it (tests/browser_js/test_standing_vectors.py
// holds them together).

const sequence = (fact) => fact.seq ?? Infinity;

// The instant it was done: what the server set right, of an unsent one the phone's.
const doneAt = (fact) => {
  const at = fact.done_at ?? fact.at;
  return at === null || at === undefined ? 0 : Date.parse(at);
};

// The facts that stand, each at the moment and place of the first it stands in for. `root` is
// that first one's id; `others` is what was said otherwise (see `verdicts`).
export function standing(facts) {
  return verdicts(facts).map((one) => ({ ...one, last: lastOfTheBody(one) })).filter(({ last }) => !last.withdrawn)
    .map(({ first, last, others }) => ({
    ...last, [last.kind]: withOthers(last, others), root: first.id, root_seq: first.seq, others, at: first.at, done_at: first.done_at, began: first.began,
    zone: first.zone, device: first.device, n: first.n, day: first.day, plan: first.plan,
  }));
}

const WORDS = ["note", "text", "where", "why"];

// The last word, or, where that takes back and did not know of another that bears pain or words,
// this one: a warning stays until somebody says which is true.
const lastOfTheBody = ({ last, others }) =>
  last.withdrawn ? others.find((one) => !one.withdrawn && bears(one[one.kind])) ?? last : last;

const told = (value) => (value ?? "") !== "";
const bears = (said) => "measure" in said || ["pain", ...WORDS].some((name) => told(said[name]));

// What the last word says, with the words of those who did not know it, and the worst pain.
function withOthers(last, others) {
  const all = [last, ...others].filter((one) => !one.withdrawn).map((one) => one[one.kind]);
  const said = { ...all[0] }, worst = said.measure === "pain" ? "value" : "pain";
  for (const name of [...WORDS, worst]) {
    const found = [...new Set(all.map((one) => one[name]).filter(told))];
    if (found.length > 0) said[name] = name === worst ? found.sort((one, other) => other - one)[0] : found.join("; ");
  }
  return said;
}

// Of each fact that amends nothing {first, last, others}: the last word on it (one that is
// withdrawn says that nothing stands), and what was said otherwise by somebody who did not know
// that word, nor was known to who said it: which is true?
export function verdicts(facts) {
  const byId = new Map(facts.map((fact) => [fact.id, fact]));
  const rising = [...byId.values()].sort((one, other) =>
    sequence(one) - sequence(other) || one.n - other.n);
  const words = new Map();
  for (const fact of rising) {
    if (byId.get(fact.amends ?? null)?.kind !== fact.kind) continue;
    words.set(fact.amends, [...words.get(fact.amends) ?? [], fact]);
  }
  return rising.filter(({ amends }) => (amends ?? null) === null).map((first) => verdict(first, words));
}

// Read from the last amendments back to the first fact: each says itself, or the latest of what
// amends it; an amendment that was taken back says nothing.
function verdict(first, words) {
  if (!words.has(first.id)) return { first, last: first, others: [] };
  const said = new Map(), otherwise = new Map();
  let last = first;
  for (const fact of family(first, words).reverse()) {
    const about = (words.get(fact.id) ?? []).map(({ id }) => said.get(id)).filter((word) => word !== null);
    last = about.length > 0 ? about.reduce(later) : fact;
    for (const one of about) if (one !== last) otherwise.set(one.id, one);
    said.set(fact.id, last.withdrawn && last !== fact ? null : last);
  }
  const others = [...otherwise.values()].filter((one) => !knows(last, one) && !same(last, one))
    .sort((one, other) => sequence(one) - sequence(other) || one.n - other.n);
  return { first, last, others };
}

function family(first, words) {
  const found = [first];
  for (let at = 0; at < found.length; at++) found.push(...words.get(found[at].id) ?? []);
  return found;
}

// The later of two words, `next` having come after `last`.
const later = (last, next) =>
  knows(next, last) || (!knows(last, next) && doneAt(next) >= doneAt(last)) ? next : last;

// Whether who wrote the one had the other before them: written by them on the same phone before it,
// or among the facts that phone had from the server. Nobody knew what came in later.
function knows(one, earlier) {
  if (one.device !== null && one.device === earlier.device && samePerson(one, earlier)) return one.n > earlier.n;
  return typeof one.knew === "number" && one.knew >= sequence(earlier) && sequence(one) > sequence(earlier);
}

// What waits has no sender yet: it is of whoever holds the phone.
const samePerson = ({ by }, other) => [by, other.by].includes(undefined) || by === other.by;

function same(one, other) {
  if (one.withdrawn || other.withdrawn) return one.withdrawn === other.withdrawn;
  return sameValue(one[one.kind], other[other.kind]);
}

function sameValue(one, other) {
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return one === other;
  const names = Object.keys(one);
  return names.length === Object.keys(other).length
    && names.every((name) => name in other && sameValue(one[name], other[name]));
}

// By time; facts of one device keep the order of its running number, whatever its clock did.
export function inDoneOrder(facts) {
  const ordered = [...facts].sort((one, other) =>
    doneAt(one) - doneAt(other) || one.n - other.n || sequence(one) - sequence(other));
  const places = new Map();
  ordered.forEach((fact, place) => {
    if (fact.device === null) return;
    places.set(fact.device, [...places.get(fact.device) ?? [], place]);
  });
  const result = [...ordered];
  for (const group of places.values()) {
    const byNumber = group.map((place) => ordered[place]).sort((one, other) => one.n - other.n);
    group.forEach((place, at) => { result[place] = byNumber[at]; });
  }
  return result;
}
