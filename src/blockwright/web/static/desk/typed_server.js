// What the grid says to the server and hears from it: every change is judged there, and comes back
// as the grid with what clashes in it. Changes wait in this tab until they are kept.
import { focused, refocus } from "./typed_cells.js";

export const place = document.getElementById("typed");
const said = document.getElementById("said");
const kept = `typed ${place.dataset.address} ${place.dataset.revision}`;
let steps = read();
let queue = Promise.resolve();
let drawing = () => {};
let drawn = () => {};

// Called before every drawing; what it gives is called after it.
export function onDrawing(listener) { drawing = listener; }
// Called with the grid after every drawing.
export function onDrawn(listener) { drawn = listener; }
export const typedSoFar = () => steps;
export const inTurn = (work) => { queue = queue.then(work).catch(() => {}); };

export function forget() {
  steps = [];
  store();
}

function read() {
  try {
    return JSON.parse(sessionStorage.getItem(kept)) || [];
  } catch {
    return [];
  }
}

function store() {
  if (steps.length) sessionStorage.setItem(kept, JSON.stringify(steps));
  else sessionStorage.removeItem(kept);
}

export const say = (words) => { said.textContent = words; };

function form(more) {
  const body = new FormData(document.getElementById("token"));
  body.set("revision", place.dataset.revision);
  for (const [name, value] of Object.entries(more)) body.set(name, value);
  return body;
}

export async function post(address, more) {
  try {
    return await fetch(address, { method: "POST", body: form(more), credentials: "same-origin" });
  } catch {
    return null;
  }
}

// What is wrong, as lines; null where the answer is sound.
export async function problems(answer) {
  if (!answer) return ["No signal: nothing was changed."];
  if (answer.status === 409 || answer.status === 422) return (await answer.json()).problems;
  return answer.ok ? null : ["The site did not answer as it should. Load the page anew."];
}

// Sends the changes as they would be; the page shows them only once the server has judged them.
export async function judged(next, more = {}) {
  const week = [...place.querySelector("table.grid").classList].find((one) => one.startsWith("shows-"));
  const address = `${place.dataset.address}?week=${week.slice("shows-".length)}`;
  const answer = await post(address, { steps: JSON.stringify(next), ...more });
  const wrong = await problems(answer);
  if (wrong) {
    say(wrong.join(" "));
    return wrong;
  }
  const part = new DOMParser().parseFromString(await answer.text(), "text/html");
  const made = part.querySelector("[data-made]");
  steps = made ? [...next, { kind: "take_rest", composing: Number(made.dataset.made) }] : next;
  store();
  const after = drawing(place);
  place.replaceChildren(...part.body.childNodes);
  drawn(place);
  after?.();
  return null;
}

const last = () => place.querySelector("#draft ol li:last-child")?.textContent || "";
const clashes = () => place.querySelectorAll(".grid .clash").length;

export function told(words) {
  const count = clashes();
  say(`${words}${count ? `. ${count} clash${count === 1 ? "" : "es"} in the margin` : ""}`);
}

// Unless somebody is typing into another cell, or a lift's name, by now.
const backTo = (wanted) => { if (!place.querySelector("form.cell, tr.editor")) refocus(place, wanted); };

// One change after another: each is judged in the block the one before it made.
export function type(more, focus) {
  const wanted = focus || focused(place);
  const done = queue.then(async () => {
    const wrong = await judged([...steps, ...more]);
    if (wrong) return wrong;
    backTo(wanted);
    told(last());
    return null;
  });
  queue = done.catch(() => {});
  return done;
}

export const lifts = async (at, lift, typed) => {
  const [week, session] = at.split(".");
  const more = { steps: JSON.stringify(steps), week, session, lift, typed };
  const answer = await post(`${place.dataset.address}lifts/`, more);
  const wrong = await problems(answer);
  return wrong ? { wrong } : { html: await answer.text() };
};

export function undo() {
  const wanted = focused(place);
  inTurn(async () => {
    if (!steps.length) return;
    if (!(await judged(steps.slice(0, -1)))) {
      backTo(wanted);
      told("Undone");
    }
  });
}
