// Going about the grid by keyboard: one cell is in the way of Tab, arrows move on, Enter opens.
import { openCell } from "./typed_cell.js";
import { openLift, act } from "./typed_lift.js";
import { draggable } from "./typed_drag.js";
import { hold } from "./typed_cells.js";

const LIFT_KEYS = { m: "move", k: "lock", a: "add", delete: "remove", backspace: "remove", l: "lift" };
const STEPS = { ArrowRight: [0, 1], ArrowLeft: [0, -1], ArrowDown: [1, 0], ArrowUp: [-1, 0] };

const rows = (place) => [...place.querySelectorAll("table.grid tr[data-lift]")];
const cells = (row) => [...row.querySelectorAll(":scope > [data-at]")].filter((one) => one.offsetParent);

function go(place, cell, [down, right]) {
  const row = cell.closest("tr");
  const all = rows(place);
  if (down) {
    const to = all[all.indexOf(row) + down];
    const same = to && (cells(to).find((one) => one.dataset.week === cell.dataset.week) || to.querySelector("th"));
    if (same) move(place, same);
  } else {
    const mine = cells(row);
    const to = mine[mine.indexOf(cell) + right];
    if (to) move(place, to);
  }
}

function move(place, cell) {
  hold(place, cell);
  cell.focus({ preventScroll: true });
  cell.scrollIntoView({ block: "nearest", inline: "nearest" });
}

function pressed(place, event) {
  const cell = event.target;
  if (!cell.matches?.("tr[data-lift] > [data-at]")) return;
  if (event.altKey && STEPS[event.key]?.[0]) {
    act(event.key === "ArrowUp" ? "earlier" : "later", cell);
    event.preventDefault();
    return;
  }
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (STEPS[event.key]) go(place, cell, STEPS[event.key]);
  else if (event.key === "Enter" || event.key === "F2") (cell.matches("th") ? openLift : openCell)(cell);
  else if (/^[\d+-]$/.test(event.key) && cell.matches("td")) {
    openCell(cell);
    cell.querySelector("input").value = event.key;
    cell.querySelector("input").setSelectionRange(1, 1);
  } else if (LIFT_KEYS[event.key.toLowerCase()]) act(LIFT_KEYS[event.key.toLowerCase()], cell);
  else return;
  event.preventDefault();
}

// After every drawing: roles, one stop for Tab, names that can be dragged.
export function ready(place) {
  const table = place.querySelector("table.grid");
  table.setAttribute("role", "grid");
  table.setAttribute("aria-labelledby", "grid");
  const all = place.querySelectorAll("tr[data-lift] > [data-at]");
  for (const cell of all) {
    cell.tabIndex = -1;
    const link = cell.querySelector("a.lift");
    if (link) Object.assign(link, { tabIndex: -1, draggable: false });
  }
  if (all[0]) all[0].tabIndex = 0;
  draggable(table);
  if (!place.dataset.heard) {
    place.dataset.heard = "yes";
    place.addEventListener("keydown", (event) => pressed(place, event));
    place.addEventListener("focusin", (event) => {
      if (event.target.matches("tr[data-lift] > [data-at]")) hold(place, event.target);
    });
  }
}
