// On the sign-in page: after somebody signed out, nothing personal of theirs stays on the phone but
// what is unsent, and that is said. A sign-in that ran out is not that: its person is still named.

import { openStore } from "./db.js";
import { el } from "./dom.js";
import { whoIsIn } from "./send.js";
import { othersText } from "./unsent_view.js";

async function tidy() {
  const known = await indexedDB.databases?.() ?? [];
  if (whoIsIn() !== "" || !known.some(({ name }) => name === "blockwright")) return;
  const store = await openStore();
  await store.forgetPerson();
  const counts = new Map();
  for (const { by } of await store.unsent()) {
    const name = by?.name || "somebody";
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  store.close();
  document.querySelector("main")?.append(...[...counts].map(([name, count]) =>
    el("p", { class: "caution", role: "status" }, othersText(name, count))));
}

tidy();
