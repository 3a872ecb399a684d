// A lift's name dragged to another day.
import { type } from "./typed_server.js";

let carried = null;

export function moveTo(at, lift, title, to) {
  const [week, session] = at.split(".").map(Number);
  return type([{ kind: "move_lift", week, session, lift, to_session: to }], { title, lift, week: null });
}

// The session of that body in a week, or null where it has none (any more).
export function sessionIn(body, week) {
  const head = body.querySelector(`tr.slot > td[data-week="${week}"][data-session]`);
  return head ? Number(head.dataset.session) : null;
}

export function draggable(table) {
  for (const name of table.querySelectorAll("tr[data-lift] > th")) {
    name.draggable = true;
    name.addEventListener("dragstart", (event) => {
      carried = { at: name.dataset.at, lift: name.closest("tr").dataset.lift, body: name.closest("tbody") };
      event.dataTransfer.setData("text/plain", carried.lift);
      event.dataTransfer.effectAllowed = "move";
    });
    name.addEventListener("dragend", () => {
      carried = null;
      for (const one of table.querySelectorAll(".over")) one.classList.remove("over");
    });
  }
  for (const body of table.tBodies) {
    const to = () => (carried && carried.body !== body ? sessionIn(body, carried.at.split(".")[0]) : null);
    body.addEventListener("dragover", (event) => {
      if (to() === null) return;
      event.preventDefault();
      body.classList.add("over");
    });
    body.addEventListener("dragleave", (event) => {
      if (!body.contains(event.relatedTarget)) body.classList.remove("over");
    });
    body.addEventListener("drop", (event) => {
      const session = to();
      if (session === null) return;
      event.preventDefault();
      moveTo(carried.at, carried.lift, body.dataset.title, session);
    });
  }
}
