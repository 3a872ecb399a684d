import assert from "node:assert/strict";
import { test } from "node:test";
import { makeOutbox } from "../../src/blockwright/web/static/blockwright/outbox.js";
import { memoryServer, memoryStore } from "./memory_store.mjs";

const event = (id) => ({ id, kind: "set", set: { reps: "8" } });
const refusal = (status, says = "no") => ({ status, body: { error: { code: "bad_request", says, mend: "mend" } } });

function phone({ server = memoryServer(), store = memoryStore() } = {}) {
  const outbox = makeOutbox({ store, send: server.send });
  return { outbox, server, store };
}
const states = async (outbox) => (await outbox.entries()).map(({ id, state }) => [id, state]);
const ids = (list) => list.map(({ id }) => id);

test("what is written down waits, in order, with a running number", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a")]);
  await outbox.add([event("b"), event("c")]);
  assert.deepEqual(await states(outbox), [["a", "waiting"], ["b", "waiting"], ["c", "waiting"]]);
  assert.deepEqual((await outbox.entries()).map((entry) => entry.event.n), [1, 2, 3]);
  assert.deepEqual(server.messages, []);
});

test("what is being written is shown at once, not sent, and waits when the disk has it", async () => {
  const { outbox, server } = phone();
  const adding = outbox.add([event("a")]);
  assert.deepEqual(outbox.writing().map(({ id, state, event: { n } }) => [id, state, n]), [["a", "writing", 1]]);
  await adding;
  assert.deepEqual(outbox.writing(), []);
  assert.deepEqual(await states(outbox), [["a", "waiting"]]);
  await outbox.flush();
  assert.deepEqual(ids(server.facts), ["a"]);
});

test("acknowledged entries become facts, in the order they were done", async () => {
  const { outbox, server, store } = phone();
  for (const id of ["a", "b", "c"]) await outbox.add([event(id)]);
  await outbox.flush();
  assert.deepEqual(ids(server.facts), ["a", "b", "c"]);
  assert.deepEqual(await states(outbox), []);
  assert.equal(store.facts.get("b").seq, 2);
  assert.equal(outbox.trouble(), null);
});

test("an empty queue still listens", async () => {
  const { outbox, server } = phone();
  await outbox.flush();
  assert.deepEqual(server.messages, [[]]);
});

test("entries are 'sending' while under way", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a")]);
  let seen;
  server.behave = () => { seen = states(outbox); };
  await outbox.flush();
  assert.deepEqual(await seen, [["a", "sending"]]);
});

for (const [name, odd] of [
  ["no answer at all", () => { throw new TypeError("Failed to fetch"); }],
  ["a server error", () => ({ status: 500, body: null })],
  ["a gateway's error", () => ({ status: 503, body: null })],
  ["too many requests", () => ({ status: 429, body: null })],
  ["signed out", () => refusal(401, "you are signed out")],
  ["a stale token", () => refusal(403, "token")],
  ["a gate's own page with 200", () => ({ status: 200, body: "<html>pay for the network</html>" })],
]) {
  test(`${name}: everything stays and goes later`, async () => {
    const { outbox, server } = phone();
    await outbox.add([event("a"), event("b")]);
    server.behave = odd;
    await outbox.flush();
    assert.deepEqual(await states(outbox), [["a", "waiting"], ["b", "waiting"]]);
    assert.ok(outbox.trouble());
    server.behave = null;
    await outbox.flush();
    assert.deepEqual(ids(server.facts), ["a", "b"]);
    assert.equal(outbox.trouble(), null);
  });
}

test("the answer gets lost: sent again under the same id, stored once", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a")]);
  server.behave = (events) => {
    events.forEach(server.take);
    throw new TypeError("connection lost");
  };
  await outbox.flush();
  server.behave = null;
  await outbox.flush();
  assert.deepEqual(ids(server.facts), ["a"]);
  assert.deepEqual(await states(outbox), []);
});

test("the page dies between sending and the answer: a new page sends again", async () => {
  const { outbox, server, store } = phone();
  await outbox.add([event("a"), event("b")]);
  server.behave = (events) => {
    events.forEach(server.take);
    return new Promise(() => {});
  };
  outbox.flush();
  await new Promise((done) => setTimeout(done, 5));
  assert.deepEqual([...store.outbox.values()].map(({ state }) => state), ["sending", "sending"]);
  server.behave = null;
  const reopened = phone({ server, store });
  await reopened.outbox.flush();
  assert.deepEqual(ids(server.facts), ["a", "b"]);
  assert.deepEqual(await states(reopened.outbox), []);
});

test("a parked entry keeps the server's words, is not sent again and stops nothing", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("bad"), event("good")]);
  server.behave = (events) => ({
    status: 200,
    body: { answers: events.map((one) => one.id === "bad"
      ? { id: "bad", state: "parked", says: "2000 kg is above the limit", mend: "check the unit" }
      : server.take(one)) },
  });
  await outbox.flush();
  await outbox.add([event("later")]);
  await outbox.flush();
  const [entry] = await outbox.entries();
  assert.equal(entry.state, "attention");
  assert.equal(entry.says, "2000 kg is above the limit");
  assert.equal(entry.mend, "check the unit");
  assert.deepEqual(ids(server.facts), ["good", "later"]);
  assert.equal(server.messages.flat().filter((id) => id === "bad").length, 1);
});

test("a person may send a parked entry again, or throw it away; nobody else does", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a"), event("b")]);
  server.behave = (events) => ({ status: 200, body: { answers: events.map(({ id }) =>
    ({ id, state: "parked", says: "not shared with you", mend: "" })) } });
  await outbox.flush();
  server.behave = null;
  await outbox.sendAgain("a");
  assert.deepEqual(ids(server.facts), ["a"]);
  assert.deepEqual(await states(outbox), [["b", "attention"]]);
  await outbox.throwAway("b");
  assert.deepEqual(await states(outbox), []);
});

test("'again' keeps an entry waiting without asking in a circle", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a"), event("b")]);
  server.behave = (events) => ({ status: 200, body: { answers: events.map((one) =>
    one.id === "a" ? { id: "a", state: "again" } : server.take(one)) } });
  await outbox.flush();
  assert.deepEqual(await states(outbox), [["a", "waiting"]]);
  assert.equal(server.messages.length, 1);
});

test("an id that the answer leaves out is not acknowledged", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a"), event("b")]);
  server.behave = (events) => ({ status: 200, body: { answers: [server.take(events[0])] } });
  await outbox.flush();
  assert.deepEqual(await states(outbox), [["b", "waiting"]]);
});

test("an answer about an id that was not sent changes nothing", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a")]);
  server.behave = ((first) => (events) => {
    if (!first.done) { first.done = true; outbox.add([event("b")]); }
    return { status: 200, body: { answers: [{ id: "b", state: "stored", seq: 1 }] } };
  })({});
  await outbox.flush();
  assert.ok((await outbox.entries()).some(({ id }) => id === "a"));
});

for (const status of [400, 413, 422]) {
  test(`one event makes the whole message ${status}: it alone is parked with the sentence`, async () => {
    const { outbox, server } = phone();
    for (const id of ["a", "bad", "c"]) await outbox.add([event(id)]);
    server.behave = (events) => events.some(({ id }) => id === "bad")
      ? refusal(status, "cannot be read") : null;
    await outbox.flush();
    assert.deepEqual(ids(server.facts), ["a", "c"]);
    assert.deepEqual(await states(outbox), [["bad", "attention"]]);
    assert.equal((await outbox.entries())[0].says, "cannot be read");
  });
}

test("a server that refuses even an empty message parks nothing", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a"), event("b")]);
  server.behave = () => refusal(422, "another version");
  await outbox.flush();
  assert.deepEqual(await states(outbox), [["a", "waiting"], ["b", "waiting"]]);
  assert.equal(outbox.trouble().says, "another version");
});

test("a long queue goes in bounded messages, in order", async () => {
  const { outbox, server } = phone();
  const names = Array.from({ length: 250 }, (_, at) => `e${at}`);
  await outbox.add(names.map(event));
  await outbox.flush();
  assert.deepEqual(ids(server.facts), names);
  assert.ok(Math.max(...server.messages.map((one) => one.length)) <= 200);
});

test("written while sending: goes in the same run, once", async () => {
  const { outbox, server } = phone();
  await outbox.add([event("a")]);
  server.behave = (events) => {
    if (events.some(({ id }) => id === "a")) outbox.add([event("b")]).then(() => outbox.flush());
  };
  await outbox.flush();
  await outbox.flush();
  assert.deepEqual(ids(server.facts), ["a", "b"]);
  assert.equal(server.messages.flat().filter((id) => id === "b").length, 1);
});

test("two pages of one phone: the second waits its turn where the browser lets it", async () => {
  let chain = Promise.resolve();
  const alone = (work) => (chain = chain.then(work));
  const server = memoryServer(), store = memoryStore();
  const one = makeOutbox({ store, send: server.send, alone });
  const other = makeOutbox({ store, send: server.send, alone });
  await one.add([event("a")]);
  await Promise.all([one.flush(), other.flush()]);
  assert.equal(server.messages.flat().filter((id) => id === "a").length, 1);
});

test("a full phone: room is made, else it is held in memory, said, sent and moved when it fits", async () => {
  const { outbox, server, store } = phone();
  await outbox.add([event("a")]);
  store.full = true;
  assert.equal((await outbox.add([event("b")])).kept, false);
  assert.deepEqual(store.calls, ["makeRoom"]);
  assert.equal(outbox.heldInMemory(), 1);
  assert.deepEqual((await outbox.entries()).map((entry) => [entry.event.n, entry.unkept]), [[1, undefined], [2, true]]);
  store.full = false;
  server.behave = () => { throw new TypeError("no signal"); };
  await outbox.flush();
  assert.equal(outbox.heldInMemory(), 0);
  assert.deepEqual([...store.outbox.values()].map((entry) => [entry.event.n, entry.unkept]), [[1, undefined], [2, undefined]]);
  server.behave = null;
  await outbox.add([event("c")]);
  await outbox.flush();
  assert.deepEqual(server.facts.map(({ id, n }) => [id, n]), [["a", 1], ["b", 2], ["c", 3]]);
});

test("a phone that stays full still gets its entries to the server", async () => {
  const { outbox, server, store } = phone();
  store.full = true;
  await outbox.add([event("a")]);
  await outbox.flush();
  assert.deepEqual(ids(server.facts), ["a"]);
  assert.equal(outbox.heldInMemory(), 0);
  assert.deepEqual(ids(outbox.outlived()), ["a"]);
});

test("random weather: nothing lost, nothing doubled, order kept", async () => {
  let seed = 7;
  const chance = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
  for (let round = 0; round < 40; round++) {
    const server = memoryServer(), store = memoryStore();
    let { outbox } = phone({ server, store });
    server.behave = (events) => {
      const luck = chance();
      if (luck < 0.2) throw new TypeError("no signal");
      if (luck < 0.4) { events.forEach(server.take); throw new TypeError("answer lost"); }
      if (luck < 0.5) return { status: 500, body: null };
      if (luck < 0.6) return { status: 200, body: { answers: events.slice(1).map(server.take) } };
      return null;
    };
    const names = [];
    for (let at = 0; at < 20; at++) {
      names.push(`r${round}e${at}`);
      await outbox.add([event(names.at(-1))]);
      if (chance() < 0.5) await outbox.flush();
      if (chance() < 0.2) ({ outbox } = phone({ server, store }));
      const there = new Set([...ids(server.facts), ...ids(await outbox.entries())]);
      assert.ok(names.every((name) => there.has(name)));
    }
    server.behave = null;
    await outbox.flush();
    assert.deepEqual(ids(server.facts).sort(), [...names].sort());
    assert.deepEqual(server.facts.toSorted((a, b) => a.n - b.n).map(({ id }) => id), names);
    assert.deepEqual(await states(outbox), []);
  }
});

test("what is asked for while the lock is given back is done in a run of its own", async () => {
  const server = memoryServer();
  let late = async () => {};
  const alone = async (work) => {
    await work();
    const now = late;
    late = async () => {};
    await now();
  };
  const outbox = makeOutbox({ store: memoryStore(), send: server.send, alone });
  late = async () => {
    await outbox.add([event("a")]);
    outbox.flush();
  };
  await outbox.flush();
  assert.deepEqual(ids(server.facts), ["a"]);
});
