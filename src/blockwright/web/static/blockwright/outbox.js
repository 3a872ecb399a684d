// The queue between the phone and the server. It keeps events, not requests, and lets go of one
// only when the server has named its id. It knows no browser: the store, `send` and the clock are
// given, so that tests run it without one. The contract is docs/sync.md.
//
// States of an entry: writing (not on the phone's disk yet), waiting, sending, attention (the
// server's sentence is for a person). "Stored" is not a state here: an acknowledged entry has left
// the queue and become a fact. `unkept`: the phone had no room, it is held in memory only.

const MOST_EVENTS = 100;
const MOST_BYTES = 200_000;

// store: add, unsent, mark, acknowledge, throwAway, makeRoom (db.js).
// send(events): resolves to {status, body} or rejects when there was no answer. onAnswer(body):
// takes what the server told besides. alone(work): runs it while no other page of this phone does.
// person(): {id, name} of who is signed in, null where that is not known; an entry is theirs who
// wrote it, and is sent under no other name.
export function makeOutbox({
  store, send, onAnswer = async () => {}, onChange = () => {}, alone = (work) => work(),
  person = () => null,
}) {
  let writing = [];       // entries on their way to the phone's disk: shown, never claimed
  let held = [];          // entries the phone had no room for: kept in memory, said aloud
  const outlived = [];    // of these, what the server has by now
  let lastNumber = 0;
  let running = null;
  let again = false;
  let trouble = null;     // {code, says, mend} of the last try, null when it went well

  const isMine = ({ by }) => by === undefined || by.id === person()?.id;

  // This person's; the others' are only counted.
  const entries = async () => (await all()).filter(isMine);

  async function all() {
    const kept = await store.unsent();
    for (const entry of kept) lastNumber = Math.max(lastNumber, entry.event.n);
    const there = new Set(kept.map(({ id }) => id));
    return [...kept, ...held, ...writing.filter(({ id }) => !there.has(id))]
      .sort((one, other) => one.event.n - other.event.n);
  }

  // Keeps events at once. They are in `writing()` when this returns, to be shown; it resolves when
  // they are on disk, to {kept, entries}; `kept` is false when the phone is full and they are only
  // held in memory.
  async function add(events) {
    const by = person() ?? undefined;
    const made = events.map((event) => ({ id: event.id, event, state: "waiting", by }));
    const shown = made.map((entry) => {
      lastNumber = Math.max(lastNumber + 1, entry.event.n ?? 0);
      return { ...entry, event: { ...entry.event, n: entry.event.n ?? lastNumber }, state: "writing" };
    });
    writing = [...writing, ...shown];
    const stored = await tryToKeep(made);
    const entries = stored ?? shown.map((entry) => ({ ...entry, state: "waiting", unkept: true }));
    writing = writing.filter((entry) => !shown.includes(entry));
    if (stored === null) held = [...held, ...entries];
    return { kept: stored !== null, entries };
  }

  async function tryToKeep(made) {
    for (const room of [false, true]) {
      try {
        if (room) await store.makeRoom();
        const kept = await store.add(made);
        lastNumber = Math.max(lastNumber, ...kept.map((entry) => entry.event.n));
        return kept;
      } catch {
        // Once more after making room; then the caller holds them in memory.
      }
    }
    return null;
  }

  // Moves what is held in memory to the store, as soon as there is room.
  async function keepHeld() {
    if (held.length === 0) return;
    const moving = held;
    if (await tryToKeep(moving.map(({ unkept: _, ...entry }) => entry)) !== null) {
      held = held.filter((entry) => !moving.includes(entry));
    }
  }

  // Sends what waits. One run at a time; a call during a run makes it look once more.
  function flush() {
    if (running !== null) {
      again = true;
      return running;
    }
    // Who called while the lock was being given back came too late for that run: another follows.
    running = Promise.resolve(alone(run)).finally(() => { running = null; onChange(); })
      .then(() => again ? flush() : undefined);
    return running;
  }

  async function run() {
    do {
      again = false;
      await keepHeld();
      await once();
    } while (again);
  }

  async function once() {
    // Left behind by a page that died between sending and the answer: sending twice is harmless.
    const left = (await entries()).filter((entry) => entry.state === "sending");
    await mark(left, { state: "waiting" });
    const tried = new Set();
    let most = MOST_EVENTS;
    for (;;) {
      const waiting = (await entries())
        .filter((entry) => entry.state === "waiting" && !tried.has(entry.id));
      if (waiting.length === 0 && tried.size > 0) return;
      const batch = firstOf(waiting, most);
      const answer = await sent(batch);
      if (answer === null) return;
      if (answer.status === 200) {
        trouble = null;
        await taken(batch, answer.body);
        batch.forEach((entry) => tried.add(entry.id));
      } else if (isRefusal(answer.status) && batch.length > 1) {
        // One of them is refused: send them one by one, so that it stops no other.
        await mark(batch, { state: "waiting" });
        most = 1;
      } else if (isRefusal(answer.status) && batch.length === 1) {
        if (!await isItsFault(batch[0], answer)) return;
        tried.add(batch[0].id);
      } else {
        await mark(batch, { state: "waiting" });
        trouble = troubleOf(answer);
        return;
      }
      if (batch.length === 0) return;
    }
  }

  const isRefusal = (status) => [400, 404, 409, 413, 422].includes(status);

  // A single event refused as a whole: is it the event, or does this server refuse everything?
  async function isItsFault(entry, refused) {
    const probe = await answerTo([]);
    if (probe?.status === 200) {
      trouble = null;
      await mark([entry], { state: "attention", ...wordsOf(refused) });
      return true;
    }
    await mark([entry], { state: "waiting" });
    trouble = troubleOf(refused);
    return false;
  }

  async function sent(batch) {
    await mark(batch, { state: "sending" });
    onChange();
    const answer = await answerTo(batch.map((entry) => entry.event));
    if (answer !== null) return answer;
    await mark(batch, { state: "waiting" });
    return null;
  }

  async function answerTo(events) {
    let answer;
    try {
      answer = await send(events);
    } catch {
      trouble = { code: "no_answer", says: "no answer from the server", mend: "" };
      return null;
    }
    // A gate's own page, a proxy: not our server's answer, whatever its number.
    if (answer.status === 200 && !Array.isArray(answer.body?.answers)) {
      trouble = { code: "no_answer", says: "something else answered for the server", mend: "" };
      return null;
    }
    return answer;
  }

  async function taken(batch, body) {
    const mine = new Map(batch.map((entry) => [entry.id, entry]));
    const answers = body.answers.filter((answer) => mine.has(answer.id));
    const stored = answers.filter(({ state }) => state === "stored" || state === "already stored");
    await letGo(stored.map(({ id, seq }) => ({ id, seq })));
    for (const answer of answers.filter(({ state }) => state === "parked")) {
      await mark([mine.get(answer.id)], { state: "attention", says: answer.says, mend: answer.mend });
    }
    const settled = new Set(answers.filter(({ state }) => state !== "again").map(({ id }) => id));
    await mark(batch.filter((entry) => !settled.has(entry.id)), { state: "waiting" });
    await onAnswer(body);
  }

  async function letGo(stored) {
    try {
      await store.acknowledge(stored);
    } catch {
      // The phone could not write it down: the entries stay, and are sent again without harm.
    }
    const seqs = new Map(stored.map(({ id, seq }) => [id, seq]));
    for (const entry of held.filter(({ id }) => seqs.has(id))) {
      outlived.push({ ...entry.event, seq: seqs.get(entry.id) });
    }
    held = held.filter((entry) => !seqs.has(entry.id));
  }

  async function mark(list, changes) {
    if (list.length === 0) return;
    const ids = list.map((entry) => entry.id);
    held = held.map((entry) => ids.includes(entry.id) ? { ...entry, ...changes } : entry);
    try {
      await store.mark(ids, changes);
    } catch {
      // A full phone cannot write a state down; the entry itself is safe as it is.
    }
  }

  return {
    add,
    flush,
    entries,
    // {name: how many} of entries of people who are not signed in.
    ofOthers: async () => (await all()).filter((entry) => !isMine(entry))
      .reduce((found, { by: { name } }) => ({ ...found, [name]: (found[name] ?? 0) + 1 }), {}),
    trouble: () => trouble,
    writing: () => writing,
    heldInMemory: () => held.length,
    outlived: () => outlived,
    // A person's choices about an entry that needs attention.
    sendAgain: async (id) => {
      await mark([{ id }], { state: "waiting", says: null, mend: null });
      onChange();
      return flush();
    },
    throwAway: async (id) => {
      held = held.filter((entry) => entry.id !== id);
      await store.throwAway(id);
      onChange();
    },
  };
}

function firstOf(waiting, most) {
  const batch = [];
  let bytes = 0;
  for (const entry of waiting) {
    bytes += JSON.stringify(entry.event).length;
    if (batch.length > 0 && (batch.length >= most || bytes > MOST_BYTES)) break;
    batch.push(entry);
  }
  return batch;
}

function wordsOf({ status, body }) {
  const error = body?.error;
  return { says: error?.says ?? `the server refused it (${status})`, mend: error?.mend ?? "" };
}

function troubleOf(answer) {
  const code = answer.body?.error?.code ?? `status_${answer.status}`;
  return { code, status: answer.status, ...wordsOf(answer) };
}
