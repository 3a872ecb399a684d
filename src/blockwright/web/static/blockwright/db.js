// What the phone keeps, and the only file that names the browser's store. Everything goes through
// one IndexedDB: the outbox (not yet acknowledged), facts (acknowledged, or from other phones),
// sheets, and single values. No transaction here waits for anything but its own requests.

const NAME = "blockwright";
const VERSION = 1;
const STORES = { outbox: "id", facts: "id", sheets: "key", values: "name" };

const asked = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

function opened(factory) {
  return new Promise((resolve, reject) => {
    const request = factory.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      for (const [name, keyPath] of Object.entries(STORES)) {
        const made = request.result.createObjectStore(name, { keyPath });
        if (name === "facts") made.createIndex("lifter", "lifter");
      }
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("another page holds an older version open"));
  });
}

export async function openStore(factory = globalThis.indexedDB) {
  const base = await opened(factory);
  // A newer page may need another version: let go, so that it is not blocked.
  base.onversionchange = () => base.close();

  // Runs `work` on the named stores; resolves when everything is on disk, else nothing is.
  function within(names, mode, work) {
    return new Promise((resolve, reject) => {
      const tx = base.transaction(names, mode, { durability: "strict" });
      let answer;
      tx.oncomplete = () => resolve(answer);
      tx.onabort = () => reject(tx.error ?? new Error("the phone did not keep it"));
      tx.onerror = () => {};
      const stores = names.map((name) => tx.objectStore(name));
      Promise.resolve(work(...stores)).then((found) => { answer = found; }, (error) => {
        try { tx.abort(); } catch { /* it has ended by itself */ }
        reject(error);
      });
    });
  }

  const value = async (name) => within(["values"], "readonly", async (values) =>
    (await asked(values.get(name)))?.value);
  const setValue = (name, content) => within(["values"], "readwrite", (values) => {
    values.put({ name, value: content });
  });

  return {
    value,
    setValue,
    close: () => base.close(),

    // ------------------------------------------------------------------------------ the outbox

    // Gives each event the device's next running number and keeps it, all or none.
    add: (entries) => within(["outbox", "values"], "readwrite", async (outbox, values) => {
      let n = (await asked(values.get("n")))?.value ?? 0;
      const kept = entries.map((entry) => {
        // One that was held in memory while the phone was full has its number already.
        const number = Math.max(entry.event.n ?? 0, 0) || n + 1;
        n = Math.max(n, number);
        return { ...entry, event: { ...entry.event, n: number } };
      });
      values.put({ name: "n", value: n });
      kept.forEach((entry) => outbox.put(entry));
      return kept;
    }),

    unsent: () => within(["outbox"], "readonly", async (outbox) =>
      (await asked(outbox.getAll())).sort((one, other) => one.event.n - other.event.n)),

    // Changes what is said of entries that are still there; one that is gone stays gone.
    mark: (ids, changes) => within(["outbox"], "readwrite", async (outbox) => {
      for (const id of ids) {
        const entry = await asked(outbox.get(id));
        if (entry !== undefined) outbox.put({ ...entry, ...changes });
      }
    }),

    // The server has them: they leave the outbox and become facts in one step.
    acknowledge: (stored) => within(["outbox", "facts"], "readwrite", async (outbox, facts) => {
      for (const { id, seq } of stored) {
        const entry = await asked(outbox.get(id));
        if (entry === undefined) continue;
        facts.put({ ...entry.event, seq });
        outbox.delete(id);
      }
    }),

    // Only ever on a person's word.
    throwAway: (id) => within(["outbox"], "readwrite", (outbox) => { outbox.delete(id); }),

    // ----------------------------------------------------------------------------------- facts

    factsOf: (lifter) => within(["facts"], "readonly", (facts) =>
      asked(facts.index("lifter").getAll(lifter))),

    // What the server sent of a lifter, and how far it got.
    takeFacts: (lifter, list, through) => within(["facts", "values"], "readwrite",
      (facts, values) => {
        list.forEach((fact) => facts.put(fact));
        values.put({ name: `seen ${lifter}`, value: through });
      }),

    // Nothing of a lifter who is not shared any more stays; what is unsent does.
    forget: (lifter) => within(["facts", "sheets", "values"], "readwrite",
      async (facts, sheets, values) => {
        for (const id of await asked(facts.index("lifter").getAllKeys(lifter))) facts.delete(id);
        for (const key of await asked(sheets.getAllKeys())) {
          if (key.startsWith(`${lifter}/`)) sheets.delete(key);
        }
        values.delete(`seen ${lifter}`);
      }),

    // Everything personal but what is unsent: the phone changes hands, or its person signed out.
    forgetPerson: () => within(["facts", "sheets", "values"], "readwrite", async (facts, sheets, values) => {
      facts.clear();
      sheets.clear();
      for (const key of await asked(values.getAllKeys())) {
        if (!["device", "n"].includes(key)) values.delete(key);
      }
    }),

    // ---------------------------------------------------------------------------------- sheets

    sheet: (key) => within(["sheets"], "readonly", (sheets) => asked(sheets.get(key))),
    sheetKeys: () => within(["sheets"], "readonly", (sheets) => asked(sheets.getAllKeys())),
    putSheet: (kept) => within(["sheets"], "readwrite", (sheets) => { sheets.put(kept); }),

    // Sheets other than these go; they can be fetched again.
    makeRoom: (keep) => within(["sheets"], "readwrite", async (sheets) => {
      for (const key of await asked(sheets.getAllKeys())) {
        if (!keep.includes(key)) sheets.delete(key);
      }
    }),
  };
}
