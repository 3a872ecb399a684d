"""Questions that a review cannot answer from the facts and asks instead."""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.pain import joints_much
from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.screening import unanswered
from blockwright.engine.signs import Warning
from blockwright.engine.strength import Flag
from blockwright.engine.units import load_text, number_text
from .case import WeekCase, cleared_days, pain_said
from .doubted_sets import asks_about, asks_of_set, is_at
from .exposures import DAYS_OF_WEEK, Exposure, is_doubted, planned_entries
from .load_holds import failed_once, first_set_failed
from .missed_days import asks_of_missed
from .proposals import Proposal, Stay
from .safety import pain_state
from .safety_proposals import pain_facts, pinned_next, unspared_facts
from .sets import SMALL
from .training_facts import short_of
from .verdict import number_word
from .week_state import is_bad

_MOST_WORDS = 16  # Of a note that is quoted
_MOST_NAMED = 3
"""Sets short of usual that are asked about one by one; more are a week, not slips (judgement)."""
_STALLED = 3
"""Sessions without progress after which a lift stands still (common practice, no source)."""
_SHORT = ("ask_set_at_load", "ask_set_effort", "ask_set_failed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question of a letter."""

    id: str  # Stable between letters of the same facts
    asks: Reason
    place: str  # The day and what was being done


def questions_of(
    case: WeekCase, proposals: Sequence[Proposal], stays: Sequence[Stay]
) -> tuple[Question, ...]:
    """What nobody but the coach knows: what keeps somebody safe, then what would change a load,
    then the rest."""
    return (
        *_screening(case), *_signs(case), *_pains(case, proposals), *_unspared(stays),
        *_pins(case), *_gone_quiet(case), *_disputes(case), *_sets(case, proposals),
        *_levels(case), *_missed(case, proposals), *_stalls(case, proposals),
        *_floors(case, proposals), *_unlogged(case), *_weight(case),
    )  # fmt: skip


def _question(code: str, facts: Mapping[str, FactValue], place: str, *words: object) -> Question:
    """A question, named by `words`."""
    asks = Reason(code=code, facts=facts)
    name = re.sub(r"[^a-z0-9]+", "-", " ".join(map(str, words)).lower()).strip("-")
    return Question(id=name, asks=asks, place=place)


def _screening(case: WeekCase) -> list[Question]:
    count = len(unanswered(case.lifter))
    place = "the lifter's file"
    return [_question("ask_screening", {"count": count}, place, "screening")] if count else []


def _disputes(case: WeekCase) -> list[Question]:
    """Corrections that contradict each other, however old: what is asked below may rest on them."""
    found = []
    for one in case.facts.disputes:
        day = one.day.isoformat()
        facts = {"date": day, "says": one.says}
        found.append(_question("ask_dispute", facts, day, "dispute", one.id))
    return found


def _signs(case: WeekCase) -> list[Question]:
    found = []
    for one in case.warnings:
        if one.asks is not None:
            facts = {"iso": one.day.isoformat(), "lift": one.lift, "asks": one.asks}
            facts["note"] = _note(case, one)
            place = f"{one.day}, {one.lift}"
            found.append(_question("ask_sign", facts, place, "sign", one.sign, one.day))
    return found


def _note(case: WeekCase, sign: Warning) -> str:
    """The words in question, in quotes after a comma; "" where they are not those of a set."""
    notes = [
        done.note
        for done in case.facts.sets
        if (done.row, done.lift, done.moment.day) == (sign.row, sign.lift, sign.day)
    ]
    if not notes:
        return ""
    words = notes[0].split()
    cut = " ..." if len(words) > _MOST_WORDS else ""
    return f', "{" ".join(words[:_MOST_WORDS])}{cut}"'


def _pains(case: WeekCase, proposals: Sequence[Proposal]) -> list[Question]:
    """One question for each live report of a place that goes to no professional, of a lift that
    stops, and of several lifts that hurt where nobody said: what brings it on?"""
    found = []
    referred = {one.says.facts.get("about") for one in proposals if one.kind == "refer"}
    lifts = [s for name, s in case.pain.items() if s.band == "stop" and s.about == name]
    own = [n for n, s in case.pain.items() if s.own and s.about == n and s.band == "watchful"]
    if len(own) > 1:
        days = [case.pain[name].latest.day.isoformat() for name in own]
        place = f"{max(days)}, {own[0]}"
        named: dict[str, FactValue] = {"about": and_listed(own)}
        found.append(_question("ask_pain_where", named, place, "pain", *own, max(days)))
    places = [state for state in case.pain_elsewhere.values() if state.about not in referred]
    for state in dict.fromkeys((*places, *lifts)):
        code = "ask_pain" if case.window.holds(state.latest.day) else "ask_pain_still"
        code = "ask_pain_where" if state.refer or state in lifts else code
        day = state.latest.day.isoformat()
        facts: dict[str, FactValue] = {"about": state.about, "pain": state.latest.pain, "date": day}
        place = f"{day}, {state.about}"
        found.append(_question(code, facts, place, "pain", state.about, day))
    return found


def _gone_quiet(case: WeekCase) -> list[Question]:
    """Pain that is told no more since this week: nobody reported it for so long that what it held
    goes up again. A place speaks for its lifts, and is not quiet while what loads it hurts."""
    memory = case.policy.whole("safety.pain_memory_days")
    live = {*case.pain, *(s.about for s in (*case.pain.values(), *case.pain_elsewhere.values()))}
    ended: dict[str, date] = {}
    for about, reports in pain_said(case.facts).items():
        state = pain_state(about, reports, case.policy)
        if state is None or about in live or about in cleared_days(case.facts):
            continue
        if memory < (case.window.end - state.latest.day).days <= memory + DAYS_OF_WEEK:
            ended[about] = state.latest.day
    again = {joint for about in live for joint in _joints(case, about)}
    ended = {one: day for one, day in ended.items() if again.isdisjoint(_joints(case, one))}
    places = [about for about in ended if case.catalogue.find(about) is None]
    if not ended:
        return []
    told = and_listed(places or list(ended))
    facts: dict[str, FactValue] = {"about": told, "date": max(ended.values()).isoformat()}
    place = f"{facts['date']}, {told}"
    return [_question("ask_pain_quiet", facts, place, "pain", told, "quiet")]


def _joints(case: WeekCase, about: str) -> list[str]:
    """A place itself, and the joints that a lift loads much."""
    lift = case.catalogue.find(about)
    return [about] if lift is None else joints_much(lift)


def _unspared(stays: Sequence[Stay]) -> list[Question]:
    """Painful lifts for which nothing stands in, as one question."""
    facts = unspared_facts(stays)
    lifts = str(facts["lifts"])
    return [_question("ask_unspared", facts, lifts, "unspared", lifts)] if lifts else []


def _stalls(case: WeekCase, proposals: Sequence[Proposal]) -> list[Question]:
    """Main lifts that gave no more at one load in the last sessions, each nearer to failure; those
    that change or hurt anyway are no question."""
    told = {one.lift for one in proposals}
    names = {} if case.lower else planned_entries(case.window.week, case.catalogue)
    found = []
    for name in sorted(names.keys() - told - case.pain.keys()):
        lift = case.catalogue.find(name)
        if lift is None or not lift.compound or not (still := _standing_still(case, name)):
            continue
        sets = [one.first for one in still]
        facts: dict[str, FactValue] = {
            "lift": name,
            "load": number_text(float(sets[-1].entered_load)),
            "done": ", ".join(f"{s.first_reps} ({number_text(s.rir or 0)} left)" for s in sets),
            "sessions": number_word(len(sets)),
        }
        place = f"{still[-1].day}, {name}"
        found.append(_question("ask_stall", facts, place, "stall", name, still[-1].day))
    return found


def _standing_still(case: WeekCase, lift: str) -> list[Exposure]:
    """The last exposures of one session of the week where a lift gave no more; else none."""
    mine = [e for e in case.evidence.exposures
            if e.lift == lift and e.sound and not case.was_off(e.day)]  # fmt: skip
    for session in dict.fromkeys(e.session for e in mine if case.window.holds(e.day)):
        last = [e for e in mine if e.session == session][-_STALLED:]
        sets = [e.first for e in last]
        left = [one.rir for one in sets if one.rir is not None]
        same = len(left) == _STALLED and all(is_at(one, sets[0].load_kg) for one in sets)
        more = any(one.first_reps > sets[0].first_reps for one in sets)
        falls = (
            same
            and not more
            and short_of(last[1], last[0]) > 0
            and left == sorted(left, reverse=True)
        )
        if falls and short_of(last[-1], last[0]) >= case.policy.number("review.load.fell_reps"):
            return last
    return []


def _pins(case: WeekCase) -> list[Question]:
    """Lifts of next week that the coach has pinned and that hurt, short of what stops them."""
    pinned = pinned_next(case)
    return [
        _question("ask_pin", pain_facts(state, lift), f"{day}, {lift}", "pin", lift, day)
        for lift, state in case.pain.items()
        if state.band != "stop" and lift in pinned and (day := state.latest.day)
    ]


def _floors(case: WeekCase, proposals: Sequence[Proposal]) -> list[Question]:
    """Muscles that next week's stopped, swapped and trimmed lifts leave below their floor; small
    ones that do not lead are no question."""
    week = case.window.next_week
    if week is None or week.kind != "build":
        return []
    lost: dict[str, float] = {}
    for proposal in proposals:
        for muscle, sets in proposal.loses.items():
            lost[muscle] = lost.get(muscle, 0.0) + sets
    found = []
    for muscle, fewer in lost.items():
        printed = week.muscle_sets[muscle]
        left = printed.fractional - fewer
        emphasis = case.lifter.emphasis_of(muscle)
        skipped = emphasis == "skip" or (muscle in SMALL and emphasis != "lead")
        if skipped or not left < printed.floor <= printed.fractional:
            continue
        facts: dict[str, FactValue] = {
            "muscle": muscle.replace("_", " "),
            "sets": round(left, 1),
            "floor_sets": printed.floor,
        }
        place = f"week {week.week}, {facts['muscle']}"
        found.append(_question("ask_floor", facts, place, "floor", muscle, week.week))
    return found


def _sets(case: WeekCase, proposals: Sequence[Proposal]) -> list[Question]:
    """Sets of the week that were set aside and nobody confirmed: each true? Many that fell short
    of what is usual are one question; those of a bad day or week are none."""
    found = []
    bad = case.state is not None and is_bad(case.state, case.policy)
    bad = bad or any(one.kind in ("light_week", "deload_now") for one in proposals)
    for lift, flag in _doubted_of_the_week(case):
        day, number = flag.day, flag.set_number
        if flag.code != "too_many_reps" and not float(str(flag.facts.get("load") or 0)):
            continue  # bands and bare bodyweight: nothing was written that could be a slip
        place = f"{day}, {lift}, set {number}"
        asks = asks_of_set(case, lift, flag)
        if asks[0] not in _SHORT or not (bad or day in case.bad_days):
            found.append(_question(*asks, place, "set", lift, day, number))
    told = {one.id for one in found}
    lowered = {one.lift for one in proposals if one.kind == "lower_load"}
    found += [one for one in _failed(case, lowered, bad=bad) if one.id not in told]
    short = [one for one in found if one.asks.code in _SHORT]
    if len(short) <= _MOST_NAMED:
        return found
    lifts = list(dict.fromkeys(str(one.asks.facts["lift"]) for one in short))
    more = [f"{len(lifts) - _MOST_NAMED} more"] if len(lifts) > _MOST_NAMED else []
    facts: dict[str, FactValue] = {
        "sets": number_word(len(short)),
        "lifts": and_listed([*lifts[:_MOST_NAMED], *more]),
    }
    place = f"{case.window.start} to {case.window.end}"
    others = [one for one in found if one not in short]
    return [_question("ask_sets_short", facts, place, "sets", case.window.start), *others]


def _failed(case: WeekCase, lowered: Collection[str | None], *, bad: bool) -> list[Question]:
    """Lifts whose first set failed where the session before gave the range, and whose load does not
    come down for it: there the line shows the set."""
    found = []
    for lift, read in case.evidence.lifts.items():
        last, asked = read.latest, first_set_failed(case, read.done)
        if last is None or asked is None or bad or {lift, last.day} & {*lowered, *case.bad_days}:
            continue
        if failed_once(case, last) and not last.first.confirmed:
            one = last.first
            facts = {"date": last.day.isoformat(), "load": number_text(float(one.entered_load)),
                     "unit": one.entered_unit, "reps": one.first_reps, **asked.facts}  # fmt: skip
            place = f"{last.day}, {lift}, set {one.set_number}"
            found.append(
                _question("ask_set_failed", facts, place, "set", lift, last.day, one.set_number)
            )
    return found


def _levels(case: WeekCase) -> list[Question]:
    """Lifts that the week showed to have two levels: two machines?"""
    shown = [found for found in case.facts.two_levels.items() if case.window.holds(found[1].day)]
    return [
        _question(*asks_about("ask_two_levels", lift, flag), f"{flag.day}, {lift}", "levels", lift)
        for lift, flag in sorted(shown, key=lambda found: (found[1].day, found[0]))
    ]


def _doubted_of_the_week(case: WeekCase) -> list[tuple[str, Flag]]:
    """Lift and flag, in time order."""
    beliefs = case.facts.beliefs()
    found = [
        (lift, flag)
        for whose, lift in beliefs.series
        for flag in beliefs.flags(lift, whose)
        if is_doubted(flag, case.policy) and case.window.holds(flag.day)
    ]
    return sorted(found, key=lambda one: (one[1].day, one[0], one[1].set_number))


def _weight(case: WeekCase) -> list[Question]:
    """A bodyweight that falls in a block that is not for cutting, or faster than one should."""
    trend, energy = case.evidence.lifter.bodyweight, case.lifter.energy
    cutting = energy == "deficit"
    line = case.policy.number(f"review.energy.{'fast' if cutting else 'fall'}_pct_per_week")
    if trend is None or trend.pct_per_week > -line:
        return []
    rate_kg = -trend.pct_per_week / 100 * (case.bodyweight_kg or 0.0)
    rate = load_text(round(rate_kg, 1), case.lifter.units)
    facts: dict[str, FactValue] = {"rate": rate, "energy": energy}
    code = "ask_weight_fast" if cutting else "ask_weight_falls"
    return [
        _question(code, facts, f"{case.window.end}, bodyweight", "bodyweight", case.window.start)
    ]


def _missed(case: WeekCase, proposals: Sequence[Proposal]) -> list[Question]:
    """The missed sessions as one question."""
    found = asks_of_missed(case, proposals)
    missed = case.evidence.missed
    return [_question(*found, str(found[1]["dates"]), "missed", *missed)] if found else []


def _unlogged(case: WeekCase) -> list[Question]:
    """Whether much of a week without a missed session was not done, or not written down."""
    if case.evidence.missed or case.half_done is None:
        return []
    facts: dict[str, FactValue] = {"week": case.window.week.week}
    return [_question("ask_unlogged", facts, f"{case.window.start}", "unlogged", *facts.values())]
