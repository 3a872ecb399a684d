// A lift's name turned into a field: part of another name shows the next three lifts and what each
// costs. Beside it what else is done to a lift: another day, a lock, taking it out.
import { el, button } from "../blockwright/dom.js";
import { type, lifts } from "./typed_server.js";
import { moveTo, sessionIn } from "./typed_drag.js";
import { cellOf, rowOf } from "./typed_cells.js";

const WAIT_MS = 120;
let opened = 0;

const header = (cell) => cell.closest("tr").querySelector("th");
// From which week on: the one shown where only one is, else the first that is open.
const seen = (row, cells, otherwise) => {
  const here = [...row.querySelectorAll(cells)].filter((one) => one.offsetParent !== null);
  return here.length === 1 ? here[0] : otherwise;
};
const placed = (cell) => {
  const row = cell.closest("tr");
  const [week, session] = seen(row, "td[data-at]", cell).dataset.at.split(".").map(Number);
  return { week, session, lift: row.dataset.lift };
};

// The days a lift can go to in its week: every other session that is not over.
function days(cell) {
  const own = cell.closest("tbody");
  const { week } = placed(cell);
  return [...own.closest("table").tBodies]
    .filter((body) => body !== own && sessionIn(body, week) !== null)
    .map((body) => ({ title: body.dataset.title, session: sessionIn(body, week) }));
}

// Asks the server for lifts while a name is typed; the answer to an older question is dropped.
function asking(list, at, lift, choose) {
  let latest = 0;
  let timer = null;
  async function ask(text) {
    const mine = ++latest;
    const answer = await lifts(at, lift, text);
    if (mine !== latest) return;
    const words = answer.wrong ? answer.wrong.join(" ") : "";
    const part = new DOMParser().parseFromString(answer.html || "", "text/html");
    list.replaceChildren(...(words ? [words] : part.body.childNodes));
    list.closest("tr.editor")?.scrollIntoView({ block: "nearest" });
  }
  list.addEventListener("click", (event) => {
    const picked = event.target.closest("[data-lift]");
    if (picked) choose(picked.dataset.lift);
  });
  ask("");
  return (text) => {
    clearTimeout(timer);
    timer = setTimeout(() => ask(text), WAIT_MS);
  };
}

function chooser(label, at, lift, choose) {
  const list = el("div", { class: "found", "aria-live": "polite" });
  const heard = asking(list, at, lift, choose);
  const id = `other-${++opened}`;
  const input = el("input", {
    id, autocomplete: "off", placeholder: "part of a name",
    on: {
      input: () => heard(input.value),
      keydown: (event) => {
        const first = list.querySelector("[data-lift]");
        if (event.key === "ArrowDown" && first) {
          event.preventDefault();
          first.focus();
        }
      },
    },
  });
  list.addEventListener("keydown", (event) => {
    const all = [...list.querySelectorAll("[data-lift]")];
    const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!by) return;
    event.preventDefault();
    (all[all.indexOf(document.activeElement) + by] || input).focus();
  });
  return { input, parts: [el("label", { for: id }, label), input, list] };
}

// The form in a row of its own under the lift, so that the weeks stay where they are.
function shown(row, parts, label, back) {
  for (const other of document.querySelectorAll("tr.editor")) other.remove();
  const wide = Math.max(...[...row.closest("table").rows].map((one) => one.cells.length));
  const form = el("form", {
    class: "lift_form", "aria-label": label,
    on: {
      submit: (event) => {
        event.preventDefault();
        form.querySelector(".found [data-lift]")?.click();
      },
      keydown: (event) => {
        event.stopPropagation();
        if (event.key === "Escape") {
          event.preventDefault();
          close();
        }
      },
    },
  }, parts, el("p", { class: "warn clash", role: "alert" }));
  const editor = el("tr", { class: "editor" }, el("td", { colspan: wide }, form));
  function close() {
    editor.remove();
    back.focus();
  }
  row.after(editor);
  editor.scrollIntoView({ block: "nearest" });
  return { form, close };
}

async function tried(form, sending) {
  form.dataset.sent = "yes";
  const wrong = await sending;
  if (!wrong) return;
  delete form.dataset.sent;
  form.querySelector(".warn").textContent = wrong.join(" ");
}

// The lift that is looked for while the answer to another change is awaited: opened in the grid
// that came, with what was typed.
export function keepLooking(place) {
  const form = place.querySelector("tr.editor form:not([data-sent])");
  if (!form) return null;
  const field = form.querySelector(".swap input");
  const { title } = form.closest("tbody").dataset;
  const { lift } = form.closest("tr").previousElementSibling.dataset;
  return () => {
    const { body, row } = rowOf(place, { title, lift });
    const at = lift ? row?.querySelector("th") : body?.querySelector("[data-act=add]");
    if (!at) return;
    (lift ? openLift : openAdd)(at);
    const now = place.querySelector("tr.editor .swap input");
    now.value = field.value;
    now.setSelectionRange(field.selectionStart, field.selectionEnd);
    if (now.value) now.dispatchEvent(new Event("input"));
  };
}

export function openLift(cell, first = "lift") {
  const name = header(cell);
  const row = name.closest("tr");
  const place = placed(cell);
  const title = name.closest("tbody").dataset.title;
  const link = name.querySelector("a.lift")?.getAttribute("href");
  const only = el("input", { type: "checkbox" });
  const week = () => ({ only_this_week: only.checked });
  const swap = (other) => tried(made.form, type(
    [{ kind: "swap_lift", ...place, other, ...week() }], { title, lift: other, week: null }));
  const { input, parts } = chooser(`Instead of ${place.lift}`, `${place.week}.${place.session}`, place.lift, swap);
  const others = days(cell);
  const day = el("select", {}, others.map((one) => el("option", { value: one.session }, one.title)));
  const go = () => {
    const to = others.find((one) => String(one.session) === day.value);
    tried(made.form, type([{ kind: "move_lift", ...place, to_session: to.session, ...week() }],
      { title: to.title, lift: place.lift, week: null }));
  };
  const made = shown(row, [
    el("div", { class: "swap" }, parts),
    el("div", { class: "acts" },
      others.length ? el("p", {}, el("label", {}, "Another day ", day), button("Move", go)) : null,
      el("p", {},
        el("label", { class: "check" }, only, ` In week ${place.week} only`),
        button("Earlier", () => tried(made.form, step(cell, true, only.checked)), { class: "plain" }),
        button("Later", () => tried(made.form, step(cell, false, only.checked)), { class: "plain" })),
      el("p", {},
        button("locked" in row.dataset ? "Unlock" : "Lock to this day", () => lock(cell), { class: "plain" }),
        button("Take out", () => tried(made.form, remove(cell, only.checked)), { class: "plain" }),
        button("Close", () => made.close(), { class: "plain" }),
        link ? el("a", { href: link, class: "alone" }, "On its own page") : null)),
  ], `${place.lift}, ${title}`, cell);
  (first === "move" && others.length ? day : input).focus();
}

// `back` has the focus again when it is closed: the lift whose key opened it, or the button.
export function openAdd(control, back = control) {
  const row = control.closest("tr");
  const shows = seen(row.closest("tbody"), "td[data-session]", null)?.dataset;
  const at = shows ? `${shows.week}.${shows.session}` : control.dataset.at;
  const [week, session] = at.split(".").map(Number);
  const title = row.closest("tbody").dataset.title;
  const add = (lift) => tried(made.form, type(
    [{ kind: "add_lift", week, session, lift }], { title, lift, week: null }));
  const { input, parts } = chooser(`Add on ${title}, from week ${week} on`, at, "", add);
  const made = shown(row, [
    el("div", { class: "swap" }, parts),
    el("div", { class: "acts" }, el("p", {}, button("Close", () => made.close(), { class: "plain" }))),
  ], `Add a lift, ${title}`, back);
  input.focus();
}

function lock(cell) {
  const kind = "locked" in cell.closest("tr").dataset ? "unpin_lift" : "pin_lift";
  return type([{ kind, ...placed(cell) }], cellOf(cell));
}

function step(cell, earlier, only = false) {
  return type([{ kind: "order_lift", ...placed(cell), earlier, only_this_week: only }], cellOf(cell));
}

function remove(cell, only) {
  return type([{ kind: "remove_lift", ...placed(cell), only_this_week: only }], cellOf(cell));
}

// What a key on a cell does to its lift.
export function act(what, cell) {
  if (what === "lock") lock(cell);
  else if (what === "remove") remove(cell, false);
  else if (what === "earlier" || what === "later") step(cell, what === "earlier");
  else if (what === "add") openAdd(cell.closest("tbody").querySelector("[data-act=add]"), cell);
  else openLift(cell, what);
}
