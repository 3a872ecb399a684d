// What a tap on the sheet does: each makes events and hands them to `page.keep`.

import { setText } from "./dom.js";
import { makeEvent } from "./events.js";
import { restBefore } from "./clock.js";
import { methodOf, nextAfter } from "./session.js";
import { leaveOut } from "./shorten.js";
import { leftOutText } from "./panels.js";
import { readSigns, signLooks } from "./sign_view.js";
import { saidOf } from "./set_view.js";
import { NOT_KEPT, adviceText, loadText, writtenText } from "./words.js";

const DOUBLE_TAP_MS = 500;
const isCount = (text) => /^\d+(\+\d+)*$/.test(String(text).trim());

export function commandsOf(page) {
  const place = () => ({
    lifter: page.session.document.lifter.id, ...page.session.document.plan, began: page.session.began,
  });
  const made = (kind, said, more = {}) => makeEvent(kind, said, place(), page.device, page.now(), more);
  const told = (what, more = {}, entry = null) => made("session", { what, ...more }, { entry });

  // Says what became of the entries, in the words for success or in those for a full phone; a
  // warning sign among their words comes before both.
  async function keepAndSay(events, words) {
    const before = signLooks(page).length;
    const keeping = page.keep(events);
    // Drawn at the tap: what is typed while the disk answers is typed into what will stay.
    page.show();
    page.say(await keeping ? words : NOT_KEPT);
    sayNewSigns(before);
  }

  // Nothing waits for the tables where they have not come yet: what was written is judged then.
  async function sayNewSigns(before) {
    await readSigns();
    if (signLooks(page).length <= before) return;
    page.say("Read this first: what you wrote may be a warning sign.");
    page.show("signs");
  }

  let wroteAt = -Infinity;

  // Why a set is not written, beside its button, and the field that wants it.
  function refuse(text, field) {
    page.say(text);
    const words = document.querySelector(".lift.open .hand .lacks");
    words.textContent = text;
    words.hidden = false;
    document.getElementById(`field-${field}`).focus({ preventScroll: true });
    page.toHand();
    return true;
  }

  // Whether something is missing of a set. Only bodyweight needs no load.
  function lacks({ load, reps }, kind) {
    if (String(load).trim() === "" && kind !== "bodyweight_plus") return refuse("Write the load first.", "load");
    return !isCount(reps) && refuse("Write the repetitions as a number first.", "reps");
  }

  const nextNumber = (line) => 1 + Math.max(0, ...[...line.rows.map(({ done }) => done), ...line.tries]
    .filter((fact) => fact?.set.lift === line.entry.lift).map(({ set }) => set.set));

  // A try on the way to a load: how it went is the tap that writes it down.
  async function writeTry(line, draft, rir) {
    if (lacks(draft, line.entry.load_kind)) return undefined;
    if (performance.now() - wroteAt < DOUBLE_TAP_MS) return undefined;
    wroteAt = performance.now();
    const said = saidOf(line, "try", { ...draft, rir, note: "", fullRange: true }, page.unit, nextNumber(line), null);
    const keeping = page.keep([made("set", said, { entry: line.order, set: null })]);
    const { finding, nextKg } = lineOf(line.key);
    const kg = finding?.next?.setting.load_kg ?? nextKg;
    passOn(kg === null ? "the try is done." : `${finding?.next ? "next try" : "the sets at"} ${loadText(kg, page.unit)}.`,
      lineOf(line.key).doubts.size > 0);
    page.say(await keeping ? "The try is written down." : NOT_KEPT);
    return page.show();
  }

  async function write(line, row, draft) {
    if (lacks(draft, line.entry.load_kind)) return undefined;
    // Two taps of one impatient finger are one set.
    if (performance.now() - wroteAt < DOUBLE_TAP_MS) return undefined;
    wroteAt = performance.now();
    const restS = restBefore(line, page.session.document, draft.reps, page.now());
    const method = methodOf(line.entry, row.planned);
    const event = made("set", saidOf(line, method, draft, page.unit, nextNumber(line), restS), {
      entry: line.order, set: row.planned === null ? null : row.number,
    });
    page.justDone = event.id;
    page.extra = null;
    const before = signLooks(page).length;
    // The phone writes while the advice is worked out and drawn; what it says of the set changes
    // from "being written" only when its disk has answered: a word, unless it has no room.
    const keeping = page.keep([event]);
    const said = afterWriting(line.key);
    if (await keeping) {
      page.say(`Written down. ${said}`);
      if (page.justDone === event.id) document.querySelectorAll(".written").forEach((place) => setText(place, writtenText(event)));
    } else {
      page.say(NOT_KEPT);
      page.show();
    }
    sayNewSigns(before);
    return undefined;
  }

  // Shows the advice and goes on to the next set: of this lift, of the next, or of the partner.
  function afterWriting(key) {
    const line = lineOf(key);
    const said = line.advice !== null ? adviceText(line.advice, page.unit, line.entry.load_kind) : "";
    const isAsked = line.doubts.size > 0;
    page.openKey = (isAsked ? line : nextAfter(page.session, line))?.key ?? key;
    passOn(said.replace("Next set: ", "") || "set done.", isAsked);
    return said;
  }

  const lineOf = (key) => page.session.lines.find((one) => one.key === key);

  // It is the partner's turn, unless something is asked first; what it came to stays in sight.
  function passOn(said, isAsked = false) {
    page.lastSaid = `${page.session.document.lifter.name.split(" ")[0]}: ${said}`;
    if (!isAsked && page.due !== page.turn) page.take(page.due);
    page.show();
    page.toHand();
  }

  const replaced = (fact, said, more = {}) => made(fact.kind, said, {
    entry: fact.plan?.entry ?? null, set: fact.plan?.set ?? null, amends: fact.id,
    knew: page.knew(fact.lifter), ...more,
  });
  // Takes back the fact itself, whatever corrected it since.
  const takenBack = (fact, amends = fact.root) => replaced(fact, fact[fact.kind], { amends, withdrawn: true });

  // What a set that was asked about comes to, now that it is known; a try leads on by itself.
  function answered({ root }) {
    const line = page.session.lines.find(({ rows }) => rows.some(({ done }) => done?.root === root));
    if (line !== undefined) return void afterWriting(line.key);
    page.show();
    page.toHand();
  }

  const commands = {
    write,
    writeTry,

    knowLoad(line) {
      page.loadsKnown.add(`${line.key} ${line.entry.lift}`);
      page.show();
      page.toHand();
    },

    // The answer to "is it true?": what was written stands.
    async confirm(fact) {
      await keepAndSay([replaced(fact, { ...fact.set, confirmed: true })], "Written down as true.");
      answered(fact);
    },

    async meant(fact, load) {
      await keepAndSay([replaced(fact, { ...fact.set, load, confirmed: false })], `Corrected: ${load} ${fact.set.unit}.`);
      answered(fact);
    },

    async amend(line, row, draft) {
      if (lacks(draft, line.entry.load_kind)) return undefined;
      const { set } = row.done;
      const said = saidOf({ entry: { lift: set.lift } }, set.method, draft, set.unit, set.set, set.rest_s);
      page.editing = null;
      await keepAndSay([replaced(row.done, { ...said, pain: set.pain ?? null })], "Corrected.");
      page.show();
      return page.toHand();
    },

    async withdraw(fact) {
      page.editing = null;
      page.justDone = null;
      await keepAndSay([takenBack(fact)], "Taken back.");
      page.show();
    },

    // What stood before the last correction stands again.
    async withdrawEdit(fact) {
      page.editing = null;
      await keepAndSay([takenBack(fact, fact.id)], "The correction is taken back.");
      page.show();
    },

    // Which of two is true: `word` is one of the facts of a dispute.
    async settle({ first }, word) {
      await keepAndSay([replaced(first, word[word.kind], { amends: first.id, withdrawn: word.withdrawn })],
        word.withdrawn ? "Taken back." : "Written down as true.");
      page.show();
    },

    async undo() {
      for (const [at, track] of page.tracks.entries()) {
        const fact = track.session.happened.find((one) => one.root === page.justDone);
        if (fact === undefined) continue;
        page.take(at);
        page.openKey = track.session.lines.find((line) => line.rows.some((row) => row.done === fact)).key;
        page.lastSaid = null;
        await commands.withdraw(fact);
        page.toHand();
      }
    },

    async checkin(measure, about, value, unit = "") {
      const before = page.session.checkins.get(`${measure} ${about}`.trim());
      const said = { measure, about, value: String(value), unit };
      await keepAndSay([before === undefined ? made("checkin", said) : replaced(before, said)], `Written down: ${value}.`);
      page.show();
    },

    // How somebody is, in their own words.
    async note(text, draft = "day-note") {
      if (text === "") return page.say("Write the note first.");
      page.drafts.delete(draft);
      await keepAndSay([told("note", { text })], "Written down; your coach reads it.");
      return page.show();
    },

    measured(measure, value, unit) {
      if (!/^\d+([.,]\d+)?$/.test(value)) return page.say("Write the measurement as a number first.");
      page.drafts.delete("measured");
      return commands.checkin(measure, "", value, unit);
    },

    effort(value) {
      return commands.checkin("session_rpe", "", value);
    },

    async hurts(line, pain, region, where) {
      const lift = line.entry.lift;
      const painIn = (about) => made("checkin", { measure: "pain", about, value: String(pain), unit: "" });
      // Every report stays: a lower one later takes nothing back.
      const { carryOn, stopAbove } = page.session.limits;
      await keepAndSay([
        told("hurts", { entry: line.order, lift, region, where, pain }, line.order),
        painIn(lift), ...region === "" ? [] : [painIn(region)],
      ], pain > stopAbove ? `Stop ${lift} for today.` : pain > carryOn ? "No more load on this lift today." : "Carry on.");
      page.show("hurts-where");
    },

    // The region of what was said already: one report, told better.
    async hurtsRegion(line, region) {
      const { happened, document } = page.session;
      // A partner corrects nothing that was said of the body.
      const said = document.lifter.partner ? undefined : happened.findLast(({ kind, session }) => kind === "session"
        && session.what === "hurts" && session.lift === line.entry.lift);
      if (said !== undefined && said.session.region !== region) {
        const { region: before = "", pain } = said.session;
        const known = before === "" ? undefined : happened.findLast(({ kind, checkin }) => kind === "checkin"
          && checkin.measure === "pain" && checkin.about === before);
        const about = { measure: "pain", about: region, value: String(pain), unit: "" };
        await keepAndSay([
          replaced(said, { ...said.session, region }),
          ...known !== undefined ? [region === "" ? takenBack(known) : replaced(known, about)]
            : region === "" ? [] : [made("checkin", about)],
        ], "Written down.");
      }
      page.show("hurts-where");
    },

    // The lifter's answer to a question; the coach hears of what was written all the same.
    notASign(id) {
      page.answered.add(id);
      page.say("Go on. Stop at once if it comes again.");
      page.show();
    },

    async stopSign() {
      const keeping = page.keep([told("hurts", { entry: null, lift: "", where: "stop sign", pain: null }), told("ended")]);
      Object.assign(page, { panel: null, openKey: null });
      page.say("Stop now. Get help if it does not pass.");
      page.show("top");
      await keeping;
    },

    async swap(line, lift, why) {
      const events = [told("swap_lift", { entry: line.order, lift, why }, line.order)];
      if (why === "machine taken") events.unshift(told("machine_taken", { entry: line.order }, line.order));
      // What was said after the last set was said of the other lift.
      Object.assign(page, { panel: null, openKey: line.key, justDone: null });
      await keepAndSay(events, `${lift} instead.`);
      page.show();
      page.toHand();
    },

    async later(line) {
      page.panel = null;
      await keepAndSay([told("machine_taken", { entry: line.order }, line.order)], `${line.entry.lift} comes last.`);
      page.openKey = page.session.next?.key ?? null;
      page.show(page.openKey === null ? null : `lift-${page.openKey}`);
    },

    async skip(line, why) {
      page.panel = null;
      await keepAndSay([told("skip_lift", { entry: line.order, why }, line.order)], "Left out today.");
      page.openKey = page.session.next?.key ?? null;
      page.show();
      page.toHand();
    },

    async shortOfTime(minutes) {
      if (!(minutes > 0)) return;
      const left = leftOutText(page.session, leaveOut(page.session, minutes));
      page.panel = null;
      await keepAndSay([told("short_of_time", { minutes, left_out: left })], "The sheet is shorter now.");
      page.openKey = page.session.next?.key ?? null;
      page.show("top");
    },

    async addLift(lift) {
      if (lift === "") return;
      page.panel = null;
      page.drafts.delete("lift");
      const keeping = page.keep([told("add_lift", { lift })]);
      page.openKey = page.session.lines.find((line) => line.unplanned && line.entry.lift === lift)?.key ?? null;
      page.show(`lift-${page.openKey}`);
      await keeping;
    },

    async end(note) {
      const events = [];
      if (note !== "") events.push(told("note", { text: note }));
      const sets = page.session.happened.filter((fact) => fact.kind === "set");
      const minutes = sets.length === 0 ? 0 : Math.round((page.now() - Date.parse(sets[0].at)) / 60_000);
      if (minutes > 0 && minutes < 300 && !page.session.checkins.has("session_minutes")) {
        events.push(made("checkin", { measure: "session_minutes", about: "", value: String(minutes), unit: "" }));
      }
      events.push(told("ended"));
      page.panel = null;
      page.drafts.delete("end");
      await keepAndSay(events, "The session is ended and written down.");
      // The partner's comes next, once it is done too.
      const other = page.tracks.findIndex(({ session }) => session.next === null && session.ended === null);
      if (other < 0) return page.show("top");
      page.take(other);
      return page.act.panel("end");
    },
  };
  return commands;
}
