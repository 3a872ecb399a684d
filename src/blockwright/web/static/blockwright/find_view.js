// Finding a load, drawn: the tries so far, the next one, and how it went as one tap.

import { button, el, stepper } from "./dom.js";
import { count, lacksView, loadLabel, loadStep, repsUnit } from "./set_view.js";
import { askedText, countText, doneText, inUnit, loadText, numberText } from "./words.js";

// What a tap says of a try, and how it is written: from five on nobody can tell exactly, and a log
// holds ten at most.
const howItWent = (policy) => {
  const far = policy["finding.far_rir"], more = policy["finding.more_rir"];
  return [["10", `${far} or more`], [`${more}`, `${more} to ${far - 1}`], ["5", `5 to ${more - 1}`],
    ["3-4", "3 or 4"], ["2", "2"], ["1", "1"], ["0", "None"]];
};

// Where the body is moved, a try begins with what the kit makes easiest; else nothing is known.
const beginning = ({ load_kind: kind, find_load: [first] }) => ["assisted", "bodyweight_plus"].includes(kind) ? first : null;

// What the fields hold before anybody touches them: nothing while there is no basis.
function firstTryDraft({ finding, entry }, unit) {
  const kg = (finding.next?.setting ?? beginning(entry))?.load_kg ?? null;
  return { load: kg === null ? "" : numberText(inUnit(kg, unit)), reps: String(entry.find_load[0].reps) };
}

// What the load is for, and where to begin.
function startText({ entry, remaining: [{ planned }] }) {
  const first = beginning(entry), begins = first === null ? "at half of your guess" : `with ${first.says}`;
  return `For ${askedText(planned)}. Start ${begins}; no try is a work set.`;
}

export function findView(page, line) {
  const { unit } = page;
  const { tries } = line;
  const draft = page.draftFor(`${page.turn} ${line.key} ${line.entry.lift} try ${tries.map(({ id }) => id).join(" ")}`,
    () => firstTryDraft(line, unit));
  const field = (name, more) => stepper({
    key: name, mode: "decimal", value: draft[name], changed: (text) => { draft[name] = text; }, ...more,
  });
  return el("form", { class: "hand", on: { submit: (event) => event.preventDefault() } },
    el("h3", {}, `Find the load: try ${tries.length + 1}`),
    el("p", { class: "plan" }, line.finding.next === null ? startText(line)
      : `Next try: ${loadText(line.finding.next.setting.load_kg, unit)}. ${line.finding.next.setting.says}.`),
    field("load", { label: loadLabel(line.entry), unit, step: (text, way) => loadStep(line, unit)(text, way) }),
    field("reps", { label: "Reps", unit: repsUnit(line.entry), mode: "numeric", step: count(0, 200) }),
    lacksView(),
    el("div", { role: "group", "aria-labelledby": "how-it-went" },
      el("p", { id: "how-it-went" }, "How many more could you have done?"),
      el("div", { class: "choices" }, howItWent(page.session.document.advice.policy).map(([rir, words]) =>
        button(words, () => page.act.writeTry(line, draft, rir), { "data-key": `try-${rir}` })))),
    el("details", { class: "more" }, el("summary", { "data-key": "find-rules" }, "How to find a load"),
      line.entry.find_rules.map((rule) => el("p", {}, `${rule.says}.`))),
    button("I know the load: write a work set", () => page.act.knowLoad(line), { class: "plain", "data-key": "know-load" }));
}

const tryText = (page, set, kind) => {
  const left = howItWent(page.session.document.advice.policy).find(([rir]) => rir === set.rir)?.[1] ?? set.rir;
  return `${doneText({ ...set, rir: "" }, kind)}, ${left.toLowerCase()} left`;
};

// The tries so far, one line each; a slip is taken back. Folded once a work set is done.
export const triesView = (page, line) => line.tries.length === 0 ? null
  : el("details", { class: "more ladder tries", open: line.rows.every(({ done }) => done === null) },
    el("summary", { "data-key": "tries" }, `${countText(line.tries.length, "try", "tries")}, no work sets`),
    el("ol", {}, line.tries.map((fact, at) => el("li", {}, `${at + 1}: ${tryText(page, fact.set, line.entry.load_kind)}`,
      button("Take back", () => page.act.withdraw(fact), {
        class: "plain", "aria-label": `Take back try ${at + 1} of ${line.entry.lift}`, "data-key": `try-back-${fact.root}`,
      })))));
