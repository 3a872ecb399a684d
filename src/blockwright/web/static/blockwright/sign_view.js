// Warning signs in what was written on this sheet: said and asked about at once, signal or none.

import { button, el } from "./dom.js";

// The tables are large: they come once the page is drawn. What was written before is read then.
let reading = null, signsFound = () => [];

export function readSigns() {
  reading ??= import("./signs.js").then((module) => { signsFound = module.signsFound; }, () => { reading = null; });
  return reading;
}

// What a person wrote in words in one fact.
function wordsOf(fact) {
  const said = fact[fact.kind];
  return ["note", "text", "where", "why", "about"].map((key) => said[key] ?? "").filter(Boolean);
}

// The signs in a session's facts, each once: {id, sign, sure, asks}.
function signsWritten(session) {
  const found = new Map();
  for (const fact of session.happened) {
    for (const one of wordsOf(fact).flatMap((words) => signsFound(words))) {
      const id = `${session.document.lifter.id} ${one.sign}`;
      if (!found.has(id) || one.sure) found.set(id, { id, ...one });
    }
  }
  return [...found.values()];
}

const open = (page) => page.tracks.flatMap(({ session }) => session.stopSign === null ? signsWritten(session) : [])
  .filter(({ id, sure }) => sure || !page.answered.has(id));

// What decides how the part looks.
export const signLooks = (page) => open(page).map(({ id, sure }) => [id, sure]);

export function signsView(page) {
  const signs = open(page);
  return signs.length === 0 ? el("div", {}) : el("div", { id: "signs", role: "alert" }, signs.map(signView(page)));
}

const signView = (page) => ({ id, sign, sure, asks }) => sure ? el("div", {},
  el("p", { class: "caution" }, `You wrote of ${sign}. Stop now, and get help at once if it is still there. `
    + "A doctor says when training goes on. Your coach is told."),
  button("Stop the session", page.act.stopSign, { class: "plain", "data-key": `stop ${id}` }))
  : el("div", {},
    el("p", { class: "caution" }, `What you wrote may be ${sign}. Which is it: ${asks}`),
    el("div", { class: "choices" },
      button(`It may be ${sign}: stop the session`, page.act.stopSign, { class: "plain", "data-key": `stop ${id}` }),
      button("Not that: go on", () => page.act.notASign(id), { class: "plain", "data-key": `not ${id}` })),
    el("p", {}, "Your coach is told either way."));
