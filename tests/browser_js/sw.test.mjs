import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { runInNewContext } from "node:vm";

const SCRIPT = readFileSync(new URL("../../src/blockwright/web/static/blockwright/sw.js", import.meta.url), "utf8");

// The worker in a browser of straw: its listeners, its caches, what it fetched.
function worker(files, caches = new Map(), fetched = async () => ({ ok: true, name: "net" })) {
  const listeners = {}, told = { skipped: 0, fetched: [] };
  const open = async (name) => {
    if (!caches.has(name)) caches.set(name, new Map());
    const kept = caches.get(name);
    return {
      put: async (key, value) => kept.set(key, value),
      addAll: async (keys) => keys.forEach((key) => kept.set(key, { ok: true, name: key })),
      match: async (key) => kept.get(key.url ? new URL(key.url).pathname : key),
    };
  };
  const fetch = (...given) => { told.fetched.push(given); return fetched(...given); };
  const self = {
    location: { origin: "https://gym" }, clients: { claim: async () => {} },
    addEventListener: (name, listener) => { listeners[name] = listener; },
    skipWaiting: () => { told.skipped += 1; },
  };
  runInNewContext(SCRIPT.replace("const FILES = [];", `const FILES = ${JSON.stringify(files)};`), {
    self, fetch, URL, Error,
    caches: { open, keys: async () => [...caches.keys()], delete: async (name) => caches.delete(name) },
  });
  const run = async (name) => {
    let work;
    listeners[name]({ waitUntil: (promise) => { work = promise; } });
    return work;
  };
  const ask = (url, method = "GET") => {
    let answer = null;
    listeners.fetch({ request: { url, method }, respondWith: (promise) => { answer = promise; } });
    return answer;
  };
  return { caches, told, run, ask, listeners };
}

test("the shell and every file are kept; the page opens without a network", async () => {
  const made = worker(["/static/a.1.js"]);
  await made.run("install");
  made.told.fetched.length = 0;
  assert.equal((await made.ask("https://gym/phone/")).name, "net");
  assert.equal((await made.ask("https://gym/static/a.1.js")).name, "/static/a.1.js");
  assert.equal(made.told.fetched.length, 0);
});

test("calls, other pages and other sites are none of its business", async () => {
  const made = worker(["/static/a.1.js"]);
  await made.run("install");
  for (const [url, method] of [["https://gym/api/sync", "POST"], ["https://gym/api/phone", "GET"],
    ["https://gym/", "GET"], ["https://elsewhere/phone/", "GET"]]) {
    assert.equal(made.ask(url, method), null);
  }
});

test("a signed-out or broken shell is never kept: the old worker stays", async () => {
  const made = worker([], new Map(), async () => ({ ok: false, status: 500 }));
  await assert.rejects(made.run("install"));
});

test("a new worker waits until the page says so, then drops the old shell", async () => {
  const old = worker(["/static/a.1.js"]);
  await old.run("install");
  const fresh = worker(["/static/a.2.js"], old.caches);
  await fresh.run("install");
  assert.equal(fresh.told.skipped, 0);
  assert.equal(old.caches.size, 2);
  fresh.listeners.message({ data: "something else" });
  assert.equal(fresh.told.skipped, 0);
  fresh.listeners.message({ data: "take over" });
  assert.equal(fresh.told.skipped, 1);
  await fresh.run("activate");
  assert.deepEqual([...old.caches.keys()], ["shell /static/a.2.js"]);
});
