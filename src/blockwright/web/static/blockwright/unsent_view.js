// What is not on the server yet: the count that is always on screen, and the entries that need a
// person, with the server's own words.

import { button, el, makeKeeper, setText } from "./dom.js";
import { capital, clockText, countText, doneText } from "./words.js";

const same = makeKeeper();

// The fixed foot: the rest, what is unsent, and the two ways that must never be far.
export function barView(page) {
  const { waiting, attention } = page.counts;
  const rest = same("rest", null, () => el("p", { id: "rest" }));
  showRest(rest, page.rest);
  return [
    rest,
    same("unsent", [waiting, attention], () => waiting + attention === 0
      ? el("p", { id: "unsent" }, "All sent")
      : button(attention === 0 ? `${waiting} unsent, send`
        : `${waiting} unsent, ${attention} refused`, page.act.send, { id: "unsent", class: "plain", "data-key": "unsent" })),
    page.session === null ? null : [
      same("hurts", page.panel === "hurts", () => button("Hurts", () => page.act.panel(page.panel === "hurts" ? null : "hurts"), {
        class: "way", "aria-label": "Something hurts", "aria-expanded": String(page.panel === "hurts"), "data-key": "hurts",
      })),
      page.session.next === null
        ? same("next", "end", () => button("End", () => page.act.panel("end"), { class: "way", "data-key": "next" }))
        : same("next", page.isAway, () => button(page.isAway ? "Back" : "Next lift", page.act.next, {
          class: "way", "aria-label": page.isAway ? "Back to the set in hand" : null, "data-key": "next",
        })),
    ],
  ];
}

// The clock large, for somebody who stands a step away; the words around it small.
export function showRest(place, rest) {
  if (rest === null) {
    place.replaceChildren();
    return;
  }
  const { elapsed, planned } = rest;
  const [before, after] = planned === null ? ["Rest ", ""]
    : elapsed < planned ? ["Rest ", ` of ${clockText(planned)}`] : ["Rest over", ""];
  const [word, clock, of] = place.children.length === 3 ? place.children
    : [el("span", {}), el("span", { class: "clock" }), el("span", {})];
  if (place.children.length !== 3) place.replaceChildren(word, clock, of);
  setText(word, before);
  setText(clock, clockText(elapsed));
  setText(of, after);
}

// Sentences about the phone and the connection, each with what to do.
export function phoneView(page) {
  return el("section", { class: "phone", "aria-label": "This phone" },
    page.held > 0 ? el("p", { class: "caution", role: "alert" },
      `The phone is full: ${countText(page.held, "entry", "entries")} could not be kept and will be lost if this page `
      + "closes before they are sent. Free some room, or stay on the page until there is signal.") : null,
    Object.entries(page.ofOthers).map(([name, count]) => el("p", { class: "caution" }, othersText(name || "somebody else", count))),
    troubleView(page),
    page.attention.map((entry) => el("div", { class: "refused" },
      el("p", { class: "caution" }, `Not taken: ${describe(entry.event)}. ${sentence(entry.says)} ${sentence(entry.mend)}`),
      el("div", { class: "choices" },
        button("Send it again", () => page.act.sendAgain(entry.id), { class: "plain" }),
        button("Throw it away", () => page.act.throwAway(entry.id), { class: "plain" })))),
    page.clockSays ? el("p", { class: "caution" }, page.clockSays) : null,
    page.worker === "none" ? el("p", {},
      "This page came over plain http. Open, it goes on writing sets down without signal and sends them "
      + "later. Closed or reloaded without signal, it does not open: keep it open during the session, or ask "
      + "the coach to start the site with --https.") : null,
    page.worker === "new" ? el("div", {},
      el("p", {}, page.counts.waiting > 0
        ? "A newer page is ready. It can be taken once everything is sent." : "A newer page is ready."),
      page.counts.waiting > 0 ? null : button("Take the newer page", page.act.takeNew, { class: "plain" })) : null,
    page.atRisk ? el("p", {},
      "The browser does not promise to keep unsent entries if the phone runs out of room: let it send soon.") : null);
}

export const othersText = (name, count) => `${countText(count, "unsent entry", "unsent entries")} of ${name} `
  + `${count === 1 ? "is" : "are"} kept on this phone. Nobody else sees ${count === 1 ? "it" : "them"}; `
  + `${count === 1 ? "it is" : "they are"} sent when ${name} signs in here again.`;

function troubleView(page) {
  const { trouble, counts } = page;
  if (trouble === null) return null;
  if (trouble.code === "signed_out" || trouble.code === "other_person") {
    return el("p", { class: "caution" }, "You are signed out; nothing is lost. ",
      el("a", { href: "/sign-in/?next=/phone/" }, "Sign in"), " and the rest is sent.");
  }
  if (trouble.code === "no_answer") {
    return counts.waiting === 0 ? null
      : el("p", {}, "No answer from the server. What is written down stays here and is sent when there is signal.");
  }
  return el("p", { class: "caution" }, `The server could not take it now: ${sentence(trouble.says)} It stays here and is tried again.`);
}

const sentence = (text) => !text ? "" : `${capital(text)}${/[.!?]$/.test(text) ? "" : "."}`;

function describe(event) {
  const when = event.at.slice(11, 16);
  if (event.kind === "set") return `${event.set.lift}, ${doneText(event.set)}, at ${when}`;
  if (event.kind === "checkin") return `${event.checkin.measure} ${event.checkin.about} ${event.checkin.value}, at ${when}`;
  return `${event.session.what.replaceAll("_", " ")}, at ${when}`;
}
