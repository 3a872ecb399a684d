// A cell of the grid turned into its fields, in the words it is read in: sets × from–to, load,
// reserve. Enter or leaving it sends what changed; Escape leaves it as it was. The first field takes
// sets and range as a coach writes them, "5 x 6-8", every field a change, "+1".
import { el, button } from "../blockwright/dom.js";
import { type } from "./typed_server.js";
import { cellAt, cellOf } from "./typed_cells.js";

const number = (text) => Number(text.trim().replace(",", "."));
const FIELDS = [["sets", "Sets"], ["low", "Repetitions from"], ["high", "Repetitions to"], ["load", "Load"], ["rir", "In reserve"]];

function field(cell, name, label) {
  return el("input", {
    name, value: cell.dataset[name], "aria-label": label, autocomplete: "off",
    inputmode: name === "load" || name === "rir" ? "decimal" : "numeric",
    on: { focus: (event) => event.target.select() },
  });
}

const WRITTEN = /^(?:([+-]?\d+)\s*(?:[x×]\s*|$))?(?:(\d+)(?:\s*[-–]\s*(\d+))?)?$/i;

// Puts what was written into one field into those that it is about, changes as what they come to.
function spread(cell, form) {
  const { sets, low, high } = form.elements;
  const [, count, from, to = from] = WRITTEN.exec(sets.value.trim()) ?? [];
  if (from) [sets.value, low.value, high.value] = [count || cell.dataset.sets, from, to];
  for (const [name] of FIELDS) {
    const input = form.elements[name];
    const change = input.value.trim();
    if (/^[+-]\d/.test(change)) input.value = String(number(cell.dataset[name]) + number(change));
  }
}

// The changes of the fields that differ, in the order the server wants them judged.
function changes(cell, form) {
  const lift = cell.closest("tr").dataset.lift;
  const [week, session] = cell.dataset.at.split(".").map(Number);
  const place = { week, session, lift, only_this_week: form.elements.only.checked };
  const now = (name) => form.elements[name].value.trim();
  const differs = (name) => now(name) !== cell.dataset[name];
  const made = [];
  if (differs("sets")) made.push({ kind: "set_count", ...place, sets: number(now("sets")) });
  if (differs("low") || differs("high")) {
    made.push({ kind: "set_range", ...place, reps_low: number(now("low")), reps_high: number(now("high")) });
  }
  if (differs("rir")) made.push({ kind: "set_reserve", ...place, rir: number(now("rir")) });
  if (differs("load") && now("load")) {
    made.push({ kind: "set_load", ...place, load: number(now("load")), unit: unit() });
  }
  return made;
}

const unit = () => document.getElementById("typed").dataset.unit;

function wrongNumber(form) {
  for (const [name, label] of FIELDS) {
    const input = form.elements[name];
    const text = input.value.trim();
    const whole = name !== "load" && name !== "rir";
    const sound = name === "load" ? text === "" || number(text) >= 0 : text !== "" && number(text) >= 0;
    if (!sound || (whole && !Number.isInteger(number(text)))) return [input, `${label}: write a number`];
  }
  return null;
}

function warn(form, words, input) {
  form.querySelector(".warn").textContent = words;
  for (const other of form.querySelectorAll("[aria-invalid]")) other.removeAttribute("aria-invalid");
  if (input) {
    input.setAttribute("aria-invalid", "true");
    input.focus();
  }
}

export function openCell(cell) {
  if (!cell || cell.querySelector("form")) return;
  document.querySelector("form.cell")?.requestSubmit();
  const was = [...cell.childNodes];
  let sent = false;

  function close() {
    sent = true;
    cell.replaceChildren(...was);
    cell.classList.remove("open");
  }

  async function send(event) {
    event?.preventDefault();
    if (sent) return;
    spread(cell, form);
    const bad = wrongNumber(form);
    if (bad) return void warn(form, bad[1], bad[0]);
    const made = changes(cell, form);
    const inside = form.contains(document.activeElement);
    if (!made.length) {
      close();
      if (inside) cell.focus();
      return;
    }
    sent = true;
    form.dataset.sent = "";
    const wrong = await type(made, inside ? cellOf(cell) : null);
    if (wrong) {
      sent = false;
      delete form.dataset.sent;
      // Who went on is left where they type by now.
      warn(form, wrong.join(" "), inside ? form.elements[0] : null);
    }
  }

  const [sets, low, high, load, rir] = FIELDS.map(([name, label]) => field(cell, name, label));
  const week = cell.dataset.week;
  const form = el("form", {
    class: "cell", novalidate: true, "aria-label": `${cell.closest("tr").dataset.lift}, week ${week}`,
    on: {
      submit: send,
      keydown: (event) => {
        if (event.key === "Escape") {
          event.preventDefault();
          close();
          cell.focus();
        }
        event.stopPropagation();
      },
      focusout: () => setTimeout(() => {
        if (form.isConnected && !form.contains(document.activeElement) && document.hasFocus()) send();
      }),
    },
  },
  el("p", {}, sets, " × ", low, "–", high),
  el("p", {}, load, ` ${unit()}`),
  el("p", {}, rir, " in reserve"),
  el("label", { class: "check" }, el("input", { type: "checkbox", name: "only" }), ` week ${week} only`),
  el("p", { class: "warn clash", role: "alert" }),
  el("p", {}, el("button", {}, "Change"), button("Close", () => { close(); cell.focus(); }, { class: "plain" })));
  cell.replaceChildren(form);
  cell.classList.add("open");
  sets.focus();
  form.scrollIntoView({ block: "nearest", inline: "nearest" });
}

// The cell that is being typed into while the answer to another is awaited: opened and typed again
// in the grid that came, with the cursor where it was.
export function keepTyped(place) {
  const form = place.querySelector("form.cell:not([data-sent])");
  if (!form) return null;
  const here = document.activeElement;
  const at = cellOf(form.closest("td"));
  return () => {
    const cell = cellAt(place, at);
    if (!cell) return;
    openCell(cell);
    const { elements } = cell.querySelector("form");
    for (const was of form.elements) {
      const now = was.name ? elements[was.name] : null;
      if (!now) continue;
      if (was.type === "checkbox") now.checked = was.checked;
      else now.value = was.value;
      if (was !== here) continue;
      now.focus({ preventScroll: true });
      if (was.selectionStart != null) now.setSelectionRange(was.selectionStart, was.selectionEnd);
    }
  };
}
