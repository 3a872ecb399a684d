// The session as one ruled page: lifts in order, the set in hand opened.

import { button, el, makeKeeper, redraw, setText } from "./dom.js";
import { isTry } from "./finding.js";
import { asksMachines, methodOf } from "./session.js";
import { doubtText } from "./doubt.js";
import { findView, triesView } from "./find_view.js";
import { signLooks, signsView } from "./sign_view.js";
import { draftOf, firstDraft, makeSetForm } from "./set_view.js";
import { turnView } from "./turns_view.js";
import {
  NOT_KEPT, adviceText, capital, countText, dayText, doneText, inUnit, listText, loadText, numberText, plannedText, writtenText,
} from "./words.js";

const same = makeKeeper();

export function sheetView(page) {
  const { session } = page;
  const { sheet } = session.document;
  const name = page.tracks[page.turn].key;
  const lifts = same(`lifts ${name}`, sheet.date, () => el("ol", { class: "lifts" }));
  redraw(lifts, session.lines.map((line) =>
    same(`line ${name} ${line.key}`, looksOf(page, line), (old) => lineView(page, line, old))));
  return [
    same(`top ${name}`, [session.document.plan, session.ended?.id], () => topView(session)),
    page.tracks.length > 1 ? turnView(page) : null,
    same(`disputes ${name}`, session.disputes.map(({ last, others }) => [last.id, others.map(({ id }) => id)]),
      () => el("div", {}, session.disputes.map((dispute) => disputeView(page, dispute)))),
    same(`signs ${name}`, signLooks(page), () => signsView(page)),
    same(`cautions ${name}`, [session.stopSign?.id, sheet.cautions], () => el("div", {}, cautionsView(page))),
    lifts,
    session.next === null && session.stopSign === null
      ? [el("p", { class: "done" }, "Every planned set is written down or left out."), session.ended !== null ? null
        : button("End the session", () => page.act.panel("end"), { class: "write", "data-key": "finish" })] : null,
    sheet.notes.length === 0 ? null : same(`notes ${name}`, sheet.notes, () => notesView(sheet)),
  ];
}

const topView = ({ document: { lifter, sheet }, ended }) => el("header", { id: "top" },
  el("h1", { tabindex: "-1" }, lifter.name),
  el("p", {}, `${dayText(sheet.date)}, ${sheet.start_time}`),
  el("p", {}, `Week ${sheet.week} of ${sheet.weeks}${sheet.kind === "deload" ? ", deload" : ""}; `
    + `${Math.round(sheet.minutes_planned)} minutes planned.`),
  ended === null ? null : el("p", { class: "advice" }, `Ended at ${ended.at.slice(11, 16)} and written down. `
    + "A set can still be added or corrected."));

const notesView = (sheet) => el("details", { class: "more" },
  el("summary", {}, "Where the loads come from"),
  sheet.notes.map((note) => el("p", {}, `${note.says}.`)));

// Said differently by two who did not know of each other: asked until somebody says which is true.
function disputeView(page, dispute) {
  const { first, last, others } = dispute;
  return el("div", { class: "dispute", role: "group", "aria-label": "Which is true?" },
    el("p", { class: "caution" }, `${capital(saidText(first))}: corrected in two ways. Which is true?`),
    el("div", { class: "choices" }, [last, ...others].map((word) => button(
      word.withdrawn ? "It was not done" : saidText(word), () => page.act.settle(dispute, word),
      { class: "plain", "data-key": `true-${word.id}` }))));
}

function saidText(fact) {
  if (fact.kind === "set") return `${fact.set.lift}, ${doneText(fact.set)}`;
  if (fact.kind === "checkin") return `${fact.checkin.measure} ${fact.checkin.about} ${fact.checkin.value}`.replace(/ +/g, " ");
  return fact.session.text || fact.session.what.replaceAll("_", " ");
}

// Cautions that stand open above the sheet; the others are folded.
const FIRST = ["sheet_refer", "sheet_sign", "sheet_ask_first"];

function cautionsView(page) {
  const { session } = page;
  const { sheet } = session.document;
  const first = (one) => FIRST.some((code) => one.code.startsWith(code));
  const refer = sheet.cautions.filter(first);
  const others = sheet.cautions.filter((one) => !first(one));
  return [
    session.stopSign === null ? null : [
      el("p", { class: "caution", role: "alert" },
        "A stop sign was written down: the session is over. Get help if it does not pass; a licensed "
        + "professional says when training goes on."),
      button("It was a slip of the finger", () => page.act.withdraw(page.session.stopSign), { class: "plain" }),
    ],
    refer.map((one) => el("p", { class: "caution" }, `${one.says}.`)),
    el("details", { class: "more" },
      el("summary", {}, `Cautions for this session, ${others.length}`),
      others.map((one) => el("p", { class: "caution" }, `${one.says}.`))),
  ];
}

// --------------------------------------------------------------------------------------- one lift

// Everything the drawing of a line depends on.
const looksOf = (page, line) => [
  page.openKey === line.key, line.rows.some((row) => row.done !== null && row.done.root === page.editing) && page.editing,
  page.extra === line.key, page.unit,
  Boolean(justDone(page, line)), justDone(page, line)?.done.state === "writing", page.session.document.plan,
  line.entry.lift, line.swappedFrom, line.skipped, line.leftOut, line.waits, line.pain, line.nextKg, line.expected,
  line.advice && [line.advice.setting.load_kg, line.advice.move], line.remaining.length,
  asksMachines(page.session, line), [...line.doubts.keys()], line.tries.map(({ id }) => id), findsLoad(page, line),
  line.rows.map((row) => [row.number, row.done && [row.done.id, ...troubleOf(row.done)]]),
];

// A lift stays one element; of its parts only those that look otherwise are made anew.
function lineView(page, line, old) {
  const open = page.openKey === line.key;
  const title = `${line.order === null ? "" : `${line.order} `}${capital(line.entry.lift)}`;
  const place = old ?? el("li", { id: `lift-${line.key}` });
  place.className = open ? "lift open" : "lift";
  const name = `${page.tracks[page.turn].key} ${page.session.document.plan.revision} ${line.key}`;
  redraw(place,
    same(`head ${name}`, [title, open], () => el("h2", {}, button(title, () => page.act.open(line.key), {
      class: "name", "aria-expanded": String(open), "data-key": `lift-${line.key}`,
    }))),
    same(`about ${name}`, [line.swappedFrom, line.entry.lift, line.stopped, line.held, line.pain, line.skipped, line.leftOut, line.waits && line.remaining.length > 0],
      () => el("div", {}, aboutView(page, line))),
    open ? openView(page, line, name) : closedView(page, line, name));
  return place;
}

const aboutView = (page, line) => [
  line.swappedFrom ? el("p", {}, `In place of ${line.swappedFrom}.`) : null,
  line.unplanned ? el("p", {}, "Not planned, added here.") : null,
  line.entry.pair ? el("p", {}, `In turns with ${listText(partnersOf(page, line))}.`) : null,
  stateView(line), timeView(line),
];

const partnersOf = (page, line) => page.session.lines
  .filter((other) => other !== line && other.entry.pair === line.entry.pair)
  .map((other) => other.entry.lift);

function stateView(line) {
  if (line.stopped && line.pain === null) {
    return el("p", { class: "caution" }, "It hurt too much the last time: leave this lift today. If it is "
      + "quiet now, tap Hurts and say so.");
  }
  if (line.stopped) {
    return el("p", { class: "caution" }, `Stopped: pain ${line.pain} of 10. Leave this lift today. If it was `
      + "like this last time too, see a licensed professional before the next session.");
  }
  if (line.skipped) return el("p", {}, "Left out today.");
  if (line.remaining.length === 0 && line.leftOut > 0) return null;
  if (line.held && line.pain === null) {
    return el("p", { class: "caution" }, "No more load, sets or repetitions on this lift today.");
  }
  if (line.held) {
    return el("p", { class: "caution" }, `Pain ${line.pain} of 10: no more load on this lift today. `
      + "Hurts says what may stand in for it.");
  }
  if (line.waits && line.remaining.length > 0) return el("p", {}, "Machine taken: it comes back last.");
  return null;
}

const timeView = (line) => line.leftOut === 0 || line.stopped || line.skipped ? null
  : el("p", {}, `Left out for time: ${countText(line.leftOut, "set")}.`);

function closedView(page, line, name) {
  const { unit } = page;
  const done = line.rows.filter((row) => row.done !== null);
  const first = line.remaining[0];
  return [
    done.length > 0 ? rowsTable(page, line, done, name) : null,
    doubtsView(page, line),
    justDone(page, line) ? adviceView(page, line, name) : null,
    first ? el("p", { class: "planned" }, `${countText(line.remaining.length, "set")}${done.length > 0 ? " to do" : ""}: `
      + plannedText(first.planned, unit, line.entry.load_kind, line.nextKg, line.rack?.exactly(line.nextKg ?? -1)?.says ?? null)) : null,
  ];
}

function openView(page, line, name) {
  const done = line.rows.filter((row) => row.done !== null);
  const editing = line.rows.find((row) => row.done !== null && row.done.root === page.editing);
  return [
    // Once a set is done the numbers come first.
    done.length === 0 ? aheadView(page, line, name) : null,
    triesView(page, line),
    done.length > 0 ? rowsTable(page, line, done, name) : null,
    doubtsView(page, line),
    done.length > 0 ? machinesView(page, line) : null,
    adviceView(page, line, name),
    editing ? editForm(page, line, editing)
      : findsLoad(page, line) ? findView(page, line) : nextForm(page, line, name),
    done.length === 0 ? machinesView(page, line) : null,
    same(`lift cautions ${name}`, line.entry.lift, () => el("div", { class: "cautions" },
      cautionsOf(line.entry).map((says) => el("p", { class: "caution" }, says)))),
    done.length > 0 ? aheadView(page, line, name) : null,
  ];
}

const cautionsOf = (entry) => [
  ...entry.caution ? [entry.caution] : [], ...entry.cautions.map((one) => `${one.says}.`)];

// Warm-up and technique folded to a line, with the way to the cautions, which stand open below the
// button: the set in hand stays on one screen.
function aheadView(page, line, name) {
  const { entry } = line;
  const isFirst = line.rows.every((row) => row.done === null);
  const warmup = isFirst ? entry.warmup : [];
  const words = [warmup.length > 0 ? "warm-up" : null, entry.standard ? "technique" : null].filter(Boolean);
  const cautions = isFirst ? cautionsOf(entry).length : 0;
  return same(`ahead ${name}`, [entry.lift, words, cautions], () => el("div", { class: words.length + cautions > 0 ? "ahead" : null },
    words.length === 0 ? null : el("details", { class: "more" },
      el("summary", { "data-key": `ahead-${line.key}` }, capital(listText(words))),
      ladderView(warmup, page.unit),
      entry.standard ? el("p", { class: "standard" }, entry.standard) : null),
    cautions === 0 ? null : button(countText(cautions, "caution"), (event) =>
      event.target.closest(".lift").querySelector(".cautions").scrollIntoView({ block: "end" }), {
      class: "plain", "aria-label": `${countText(cautions, "caution")} of ${entry.lift}, below`, "data-key": `cautions-${line.key}`,
    })));
}

// Whether the set in hand is a try on the way to a load.
export const findsLoad = (page, line) => line.finding !== null && !page.loadsKnown.has(`${line.key} ${line.entry.lift}`);

// Sets far from anything known, each asked about once: true, or corrected.
function doubtsView(page, line) {
  const asked = [...line.rows.map(({ done }) => done), ...line.tries].filter((fact) => fact && line.doubts.has(fact.root));
  return asked.map((fact) => {
    const { why, meantKg } = line.doubts.get(fact.root);
    const meant = meantKg === null ? null : numberText(inUnit(meantKg, fact.set.unit));
    return el("div", { class: "caution doubt", role: "alert" },
      el("p", {}, doubtText(fact.set, why)),
      el("div", { class: "choices" },
        meant === null ? null : button(`No, ${meant} ${fact.set.unit}`, () => page.act.meant(fact, meant),
          { "data-key": `meant-${fact.root}` }),
        button("Yes, it is true", () => page.act.confirm(fact), { "data-key": `true-${fact.root}` }),
        isTry(fact) || why === "twice" ? button("No, take it back", () => page.act.withdraw(fact), { class: "plain" })
          : button("No, correct it", () => page.act.edit(line.key, fact.root), { class: "plain", "data-key": `wrong-${fact.root}` }),
        fact.root === page.justDone && why !== "twice" ? button("Undo", page.act.undo, { class: "plain", "data-key": "undo" }) : null));
  });
}

// Below the button before the first set, above it in a rest.
function machinesView(page, line) {
  const { lift } = line.entry;
  const answer = (words, count) => button(words, () => page.act.checkin("machines", lift, count),
    { "data-key": `machines-${count}-${line.key}` });
  return asksMachines(page.session, line) ? el("div", { class: "caution doubt", role: "group", "aria-label": "On how many machines?" },
    el("p", {}, `The loads of ${lift} go in turn between two levels. Two machines, or two gyms?`),
    el("div", { class: "choices" }, answer("Yes, two", 2), answer("No, one", 1))) : null;
}

const ladderView = (rungs, unit) => rungs.length === 0 ? null
  : el("div", { class: "ladder" }, el("ol", {}, rungs.map((rung) => el("li", {}, rungText(rung, unit)))));

// "45 kg × 5: 20 kg bar, 10 + 2.5 each side"; a setting that says its load says it once.
function rungText({ load_kg: kg, reps, says }, unit) {
  const load = loadText(kg, unit);
  return kg === 0 || says.includes(load) ? `${says} × ${reps}` : `${load} × ${reps}: ${says}`;
}

function rowsTable(page, line, rows, name) {
  const table = same(`rows ${name}`, line.entry.lift, () => el("table", { class: "rows" },
    el("caption", { class: "unseen" }, `Sets of ${line.entry.lift}`),
    el("thead", { class: "unseen" }, el("tr", {},
      ["Set", "What was done", "Correct it"].map((word) => el("th", { scope: "col" }, word)))),
    el("tbody", {})));
  redraw(table.tBodies[0], rows.map((row) => same(`row ${name} ${row.done.root}`,
    [row.number, row.done.id, ...troubleOf(row.done), line.entry.lift], () => rowView(page, line, row))));
  return table;
}

const troubleOf = (fact) => [fact.state === "attention", fact.unkept === true];

const rowView = (page, line, row) => el("tr", {},
  el("th", { scope: "row" }, String(row.number)),
  el("td", {},
    el("p", { class: "did" }, doneText(row.done.set, line.entry.load_kind),
      row.done.set.lift === line.entry.lift ? null : el("span", { class: "note" }, `, ${row.done.set.lift}`), row.done.set.note ? el("span", { class: "note" }, `, ${row.done.set.note}`) : null),
    row.done.state === "attention"
      ? el("span", { class: "caution" }, "The server did not take it: see the foot of the page.") : null,
    row.done.unkept ? el("span", { class: "caution" }, "Not on the phone: it has no room.") : null),
  el("td", {}, button("Correct", () => page.act.edit(line.key, row.done.root), {
    class: "plain", "aria-label": `Correct set ${row.number} of ${line.entry.lift}`,
    "data-key": `edit-${row.done.root}`,
  })));

const justDone = (page, line) => page.justDone === null ? undefined
  : line.rows.find((row) => row.done?.root === page.justDone);

// The sentence after a set, and the way back from it. A set that the phone could not keep gets
// no advice: it may not be there any more when the next one is judged.
function adviceView(page, line, name) {
  const row = justDone(page, line);
  const said = line.advice !== null ? adviceText(line.advice, page.unit, line.entry.load_kind) : row ? afterwards(page, line) : null;
  if (said === null) return null;
  const unkept = row?.done.unkept === true;
  // How the bar is loaded stands under the load, in the set in hand.
  const place = same(`advice ${name}`, [said, Boolean(row), unkept], () => el("div", { class: "advice" },
    el("div", {},
      el("p", { id: row ? "advice" : null }, unkept ? NOT_KEPT : said),
      row && !unkept ? el("p", { class: "setting written" }, writtenText(row.done)) : null),
    row ? button("Undo", page.act.undo, { class: "plain", "data-key": "undo" }) : null));
  const written = place.querySelector(".written");
  if (written !== null) setText(written, writtenText(row.done));
  return place;
}

function afterwards({ session: { next } }, line) {
  if (line.doubts.size > 0) return null;
  if (line.stopped) return "Leave this lift for today.";
  if (line.unplanned) return "One more set, or Next lift.";
  if (line.remaining.length === 0) return `This lift is done${next === null ? "" : `; next ${next.entry.lift}`}.`;
  return line.deload ? "A deload: the next set as written, however easy this one was."
    : line.nextKg === null || line.rack === null
      ? "The next set as written: nothing is known of this lift's loads to say more."
      : "The next set as written.";
}

// What the set in hand is about: its row, and what its fields hold.
export function inHand(page, line) {
  const row = line.remaining[0] ?? { number: line.rows.length + 1, planned: null };
  const draft = page.draftFor(`${page.turn} ${line.key} ${line.entry.lift} ${row.number} ${line.nextKg}`,
    () => firstDraft(line, page.unit));
  return { row, draft };
}

function nextForm(page, line, name) {
  if (line.stopped) return null;
  if (line.remaining.length === 0 && page.extra !== line.key && !line.unplanned) {
    return button("Add a set", () => page.act.extra(line.key), { class: "plain", "data-key": "extra" });
  }
  const { row, draft } = inHand(page, line);
  const { entry } = line;
  const method = methodOf(entry, row.planned);
  const form = same(`form ${name}`, [entry.lift, method, entry.load_kind, page.unit],
    () => makeSetForm(entry, method, page.unit, false));
  form.show({ line, row, draft, write: () => page.act.write(line, row, draft) });
  return form.node;
}

function editForm(page, line, row) {
  const draft = page.draftFor(`edit ${row.done.id}`, () => draftOf(row.done.set));
  const form = makeSetForm(line.entry, row.done.set.method, row.done.set.unit, true, row.done.id !== row.done.root);
  form.show({
    line, row, draft,
    write: () => page.act.amend(line, row, draft),
    takeBack: () => page.act.withdraw(row.done),
    takeEditBack: () => page.act.withdrawEdit(row.done),
    cancel: () => page.act.edit(line.key, null),
  });
  return form.node;
}
