// A store in memory with the manners of db.js, for tests: what it gives out is a copy.
export function memoryStore() {
  const outbox = new Map();
  const facts = new Map();
  let n = 0;
  const copy = (value) => JSON.parse(JSON.stringify(value));
  const store = {
    outbox, facts, full: false, calls: [],
    async add(entries) {
      if (store.full) throw new Error("no room");
      const kept = entries.map((entry) => {
        const number = Math.max(entry.event.n ?? 0, 0) || n + 1;
        n = Math.max(n, number);
        return { ...copy(entry), event: { ...copy(entry.event), n: number } };
      });
      kept.forEach((entry) => outbox.set(entry.id, entry));
      return copy(kept);
    },
    async unsent() { return copy([...outbox.values()]).sort((a, b) => a.event.n - b.event.n); },
    async mark(ids, changes) {
      if (store.full) throw new Error("no room");
      for (const id of ids) if (outbox.has(id)) outbox.set(id, { ...outbox.get(id), ...changes });
    },
    async acknowledge(stored) {
      for (const { id, seq } of stored) {
        if (!outbox.has(id)) continue;
        facts.set(id, { ...outbox.get(id).event, seq });
        outbox.delete(id);
      }
    },
    async throwAway(id) { outbox.delete(id); },
    async makeRoom() { store.calls.push("makeRoom"); },
  };
  return store;
}

// A server that stores by id, as docs/sync.md says, and can be told to misbehave.
export function memoryServer() {
  const server = {
    facts: [], messages: [], behave: null,
    async send(events) {
      server.messages.push(events.map((event) => event.id));
      const odd = server.behave?.(events, server.messages.length);
      if (odd !== undefined && odd !== null) return odd;
      return { status: 200, body: { answers: events.map(server.take), facts: {} } };
    },
    take(event) {
      const at = server.facts.findIndex((fact) => fact.id === event.id);
      if (at >= 0) return { id: event.id, state: "already stored", seq: at + 1 };
      server.facts.push(event);
      return { id: event.id, state: "stored", seq: server.facts.length };
    },
  };
  return server;
}
