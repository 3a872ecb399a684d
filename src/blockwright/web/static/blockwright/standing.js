// What stands among facts and amendments, and in which order: the rule of docs/sync.md, the same
// as store/convert.py has it (tests/browser_js/test_standing_vectors.py holds them together).

const sequence = (fact) => fact.seq ?? Infinity;

// The facts that stand, each at the moment and place of the first it stands in for. `root` is
// that first one's id.
export function standing(facts) {
  const byId = new Map(facts.map((fact) => [fact.id, fact]));
  const amended = new Set([...byId.values()].map((fact) => fact.amends));
  const last = new Map();
  const rising = [...byId.values()].sort((one, other) =>
    sequence(one) - sequence(other) || one.n - other.n);
  for (const fact of rising) {
    const root = rootOf(fact, byId);
    if (root !== null && !amended.has(fact.id)) last.set(root.id, { fact, root });
  }
  return [...last.values()]
    .filter(({ fact, root }) => !fact.withdrawn && fact.kind === root.kind)
    .map(({ fact, root }) => ({
      ...fact, root: root.id, at: root.at, began: root.began, zone: root.zone,
      device: root.device, n: root.n, day: root.day, plan: root.plan,
    }));
}

function rootOf(fact, byId) {
  const seen = new Set();
  while (fact.amends !== null && fact.amends !== undefined) {
    if (seen.has(fact.id) || !byId.has(fact.amends)) return null;
    seen.add(fact.id);
    fact = byId.get(fact.amends);
  }
  return fact;
}

// By time; facts of one device keep the order of its running number, whatever its clock did.
export function inDoneOrder(facts) {
  const time = (fact) => fact.at === null ? 0 : Date.parse(fact.at);
  const ordered = [...facts].sort((one, other) =>
    time(one) - time(other) || one.n - other.n || sequence(one) - sequence(other));
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
