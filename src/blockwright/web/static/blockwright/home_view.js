// The first page of the phone: whose session, which day.

import { button, el } from "./dom.js";
import { countText, dayText } from "./words.js";

export function homeView({ home, sessions, ready, today, act }) {
  if (home === null) {
    return [el("h1", { tabindex: "-1" }, "Sessions"),
      el("p", {}, "Nothing is on this phone yet. With signal, the sessions come by themselves.")];
  }
  const near = [...sessions].sort((one, other) =>
    `${one.date} ${one.start_time} ${one.name}`.localeCompare(`${other.date} ${other.start_time} ${other.name}`));
  const first = near.filter((one) => one.date === today);
  const coming = near.filter((one) => one.date > today), past = near.filter((one) => one.date < today).reverse();
  const nextDay = coming[0]?.date ?? "";
  const parts = [["Next", coming.filter((one) => one.date === nextDay)], ["Later", coming.filter((one) => one.date > nextDay)], ["Earlier", past]];
  return [
    el("h1", { tabindex: "-1" }, "Sessions"),
    first.length > 0 ? [el("h2", {}, "Today"), list(first, ready, act, () => "", " Not on the phone yet.")] : el("p", {}, "No session is planned for today."),
    ...parts.filter(([, those]) => those.length > 0).map(([title, those]) => {
      const drawn = list(those, ready, act, (one) => `${dayText(one.date)}, `);
      return title === "Next" ? [el("h2", {}, title), drawn]
        : el("details", { class: "more" }, el("summary", { "data-key": title }, `${title}: ${countText(those.length, "session")}`), drawn);
    }),
    el("p", {}, el("a", { href: "/", class: "away" }, "The rest of the site")),
  ];
}

const list = (sessions, ready, act, day, missing = "") => el("ul", { class: "ruled" }, sessions.map((one) => el("li", {},
  button(one.name, () => act.go(one.key), { class: "choice", "data-key": `go-${one.key}`, "aria-describedby": `about-${one.key}` }),
  el("p", { class: "planned", id: `about-${one.key}` },
    `${day(one)}${one.start_time}. ${countText(one.lifts, "lift")}, ${countText(one.sets, "set")}`
    + `${one.kind === "deload" ? ", deload" : ""}.${ready.has(one.key) ? " Ready without signal." : missing}`))));
