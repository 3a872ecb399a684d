// The block's grid typed into: cells and lifts open where they stand, the server judges every
// change, undo takes the last one off, keeping makes one revision of them all. Without this script
// a lift's name leads to a page of its own.
import { keepTyped, openCell } from "./typed_cell.js";
import { ready } from "./typed_keys.js";
import { keepLooking, openLift, openAdd } from "./typed_lift.js";
import { forget, inTurn, judged, onDrawing, onDrawn, place, post, problems, say, told, typedSoFar, undo } from "./typed_server.js";

function alarm(wrong) {
  const bar = place.querySelector("#draft") || place;
  bar.querySelector(":scope > [role=alert]")?.remove();
  const list = document.createElement("ul");
  list.className = "wrong";
  list.setAttribute("role", "alert");
  list.append(...wrong.map((one) => Object.assign(document.createElement("li"), { textContent: one })));
  bar.prepend(list);
}

async function solve() {
  const button = place.querySelector("[data-act=solve]");
  button.disabled = true;
  button.textContent = "Solving …";
  say("Solving the rest");
  const wrong = await judged(typedSoFar(), { step: "solve" });
  if (wrong) {
    button.disabled = false;
    button.textContent = "Solve the rest";
    alarm(wrong);
    return;
  }
  told("Solved: what was typed and locked stays");
  place.querySelector("[data-act=solve]")?.focus();
}

async function keep() {
  const insist = place.querySelector("#insist");
  if (insist && !insist.checked) {
    insist.setAttribute("aria-invalid", "true");
    insist.focus();
    say("It goes against a rule: insist on it, or undo");
    return;
  }
  const words = place.querySelector("#own_words")?.value || "";
  const more = { steps: JSON.stringify(typedSoFar()), step: "keep", words, insist: insist ? "yes" : "" };
  const answer = await post(place.dataset.address, more);
  const wrong = await problems(answer);
  if (wrong) {
    alarm(wrong);
    return;
  }
  forget();
  location.assign((await answer.json()).address);
}

const ACTS = {
  undo,
  keep: () => inTurn(keep),
  solve: () => inTurn(solve),
  leave: () => {
    forget();
    location.reload();
  },
  add: (button) => openAdd(button),
};

place.addEventListener("click", (event) => {
  const button = event.target.closest("[data-act]");
  if (button) ACTS[button.dataset.act](button);
  else if (event.target.closest("form")) return;
  else open(event.target.closest("[data-at]"), event);
});

function open(cell, event) {
  if (!cell || !cell.closest("tr[data-lift]")) return;
  if (event.target.closest("a:not(.lift), summary")) return;
  event.preventDefault();
  if (cell.matches("th")) openLift(cell);
  else openCell(cell);
}

place.addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z" && !event.target.closest("input")) {
    event.preventDefault();
    undo();
  }
});

place.classList.add("typing");
onDrawing(() => {
  const again = [keepTyped(place), keepLooking(place)];
  return () => again.forEach((one) => one?.());
});
onDrawn(ready);
ready(place);
if (typedSoFar().length) inTurn(async () => (await judged(typedSoFar())) && ACTS.leave());
