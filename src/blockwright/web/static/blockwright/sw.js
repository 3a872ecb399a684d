// Keeps the phone page's shell, so that it opens without signal. Served from /sw.js; the server
// fills FILES with the (hashed) addresses of the scripts and styles, so that a changed file is a
// changed worker. Sheets and sets are not here: they are in the page's own store (db.js).

const FILES = [];
const SHELL = "/phone/";
const KEPT = `shell ${FILES.join(" ")}`;

self.addEventListener("install", (event) => {
  event.waitUntil(keepShell());
});

async function keepShell() {
  const cache = await caches.open(KEPT);
  // The shell asks the server anew; hashed files never change, so the browser's own copy will do.
  const shell = await fetch(SHELL, { cache: "no-cache", redirect: "error" });
  if (!shell.ok) throw new Error(`the shell answered ${shell.status}`);
  await cache.put(SHELL, shell);
  await cache.addAll(FILES);
}

// A new worker waits until the page says so: when nothing is unsent and the person agreed.
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("shell ") && name !== KEPT) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname === SHELL || FILES.includes(url.pathname)) event.respondWith(answered(request, url));
});

async function answered(request, url) {
  const cache = await caches.open(KEPT);
  const kept = await cache.match(url.pathname === SHELL ? SHELL : request, { ignoreVary: true });
  return kept ?? fetch(request);
}
