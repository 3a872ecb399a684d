// Two lifters on one bar, on one phone or on two: whose turn it is, and what changes on the bar.

import { barChange } from "./clock.js";
import { button, el } from "./dom.js";
import { NOT_KEPT, inUnit, listText, numberText } from "./words.js";

// Up to here two phones' clocks may differ unsaid (docs/sync.md): what came to the server last is the
// later one then, and what this phone has not sent yet is later still.
const CLOCKS_MS = 120_000;

const doneAt = ({ done_at: at, at: own }) => Date.parse(at ?? own);

// Whether the last set of the one session was done after that of the other.
function isLater({ last: one }, { last: other }) {
  if (one === null || other === null) return one !== null;
  const apart = doneAt(one) - doneAt(other);
  if (Math.abs(apart) > CLOCKS_MS) return apart > 0;
  const [place, otherPlace] = [one, other].map(({ root_seq: seq }) => seq ?? Infinity);
  return place === otherPlace ? apart > 0 : place > otherPlace;
}

const firstName = ({ session }) => session.document.lifter.name.split(" ")[0];

// Who begins, on either phone: the lighter bar is loaded first.
const beginner = (tracks) => {
  const [[one, key], [other, otherKey]] = tracks.map(({ session, key: own }) => [session.next?.nextKg ?? Infinity, own]);
  return (one === other ? key < otherKey : one < other) ? 0 : 1;
};

// The number of the track whose turn it is: the other's after every set, on whichever phone it was
// written down, as long as the other has a set to do; `otherwise` when nobody has.
export function turnOf(tracks, otherwise) {
  const open = tracks.flatMap(({ session }, at) => session.next === null ? [] : [at]);
  if (tracks.length < 2 || open.length < 2) return open[0] ?? otherwise;
  const [one, other] = tracks.map(({ session }) => session);
  return isLater(one, other) ? 1 : isLater(other, one) ? 0 : beginner(tracks);
}

const lineOfLast = ({ lines, last }) => lines.find((line) => line.rows.some(({ done }) => done === last));

// What is on the bar since the last set of a session.
function onTheBar(session) {
  const line = session.last === null ? undefined : lineOfLast(session);
  const { load, unit } = session.last?.set ?? {};
  return { lift: line?.entry.lift, setting: line?.rack?.settings.find((one) =>
    numberText(inUnit(one.load_kg, unit)) === load) ?? line?.rack?.exactly(Number(load)) };
}

const forNext = (line) => line === null || line.nextKg === null ? {}
  : { lift: line.entry.lift, setting: line.rack?.exactly(line.nextKg) };

function changeText(from, to) {
  const change = from.lift === undefined || from.lift !== to.lift ? null : barChange(from.setting, to.setting);
  if (change === null) return null;
  const parts = [
    change.off.length > 0 ? `take off ${listText(change.off)}` : null,
    change.on.length > 0 ? `put on ${listText(change.on)}` : null,
  ].filter(Boolean);
  return parts.length === 0 ? "leave the bar as it is" : `each side ${parts.join(", ")}`;
}

// [whose turn and what changes for it, what changes for the one after]; the lines that are known.
export function turnTexts(tracks, turn) {
  const [now, after] = [tracks[turn], tracks[1 - turn]];
  if (now.session.next === null) return [];
  const loaded = onTheBar(isLater(now.session, after.session) ? now.session : after.session);
  const first = changeText(loaded, forNext(now.session.next));
  const then = changeText(forNext(now.session.next), forNext(after.session.next));
  // The lift is out of sight under whose turn it is.
  const { lift } = now.session.next.entry;
  const what = first !== null ? `, ${lift}: ${first}` : after.session.next?.entry.lift === lift ? "" : `, ${lift}`;
  return [
    `${firstName(now)}’s turn${what}.`,
    then === null ? null : `Then ${firstName(after)}: ${then}.`,
  ].filter(Boolean);
}

export function turnView(page) {
  const [first, ...then] = turnTexts(page.tracks, page.due);
  return el("div", { class: "turns" },
    el("div", { class: "choices", role: "group", "aria-label": "Whose turn" },
      page.tracks.map((track, at) => button(firstName(track),
        () => page.act.turn(at), { "aria-pressed": String(at === page.turn), "data-key": `turn-${at}` }))),
    first === undefined ? null : el("p", { class: "bar" }, first),
    then.map((text) => el("p", { class: "setting" }, text)),
    page.lastSaid && !wroteOwn(page) ? lastSaidView(page) : null);
}

// Back at the lift whose set was the last to be written here: what came of it stands with the set.
const wroteOwn = ({ session, openKey, justDone }) => session.lines
  .some(({ key, rows }) => key === openKey && rows.some(({ done }) => done?.root === justDone));

function lastSaidView(page) {
  const done = page.tracks.flatMap((track) => track.session.happened).find((fact) => fact.root === page.justDone);
  return el("div", { class: "advice" },
    el("p", {}, done?.unkept ? NOT_KEPT : page.lastSaid),
    page.justDone === null ? null : button("Undo", page.act.undo, { class: "plain", "data-key": "undo-turn" }));
}
