"""How the week went, one sentence in the trade's words; and what happened, behind the face."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.evidence import LiftEvidence
from blockwright.engine.review.exposures import Exposure
from blockwright.engine.review.proposals import Proposal
from blockwright.engine.review.week_facts import says_bad_day
from blockwright.engine.review.week_state import had_too_much, is_bad, most_fell
from blockwright.engine.review.wellness import poor_week
from blockwright.engine.signs import WHOLE_BODY_SIGNS
from blockwright.engine.training import DAY_NAMES, DAYS, Measure, SetDone

MOST_NAMED = 3
"""More names than these make no sentence; they are counted instead."""
BACK_SOURCE = "Halonen et al. 2024, Scand J Med Sci Sports: ten weeks off made good in five"
EVEN = 0.5
"""More likely matched than not."""
_MOST_WORDS = 6
"""Of a note that is quoted."""
_MUCH_LEFT = 2.0
"""Repetitions beyond range and reserve from which a first set was too easy (judgement)."""
_POOR: Mapping[Measure, str] = {"sleep": "bad sleep", "fatigue": "fatigue", "stress": "stress"}
_NUMBERS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
            "eleven", "twelve")  # fmt: skip


def verdict_of(case: WeekCase, proposals: Sequence[Proposal]) -> Reason:
    """The sentence of the week just done, true to what is proposed after it."""
    matched, done, planned = sessions_of(case)
    left_out = _left_out(case) or _shortened(case)
    back = " in the first week back" if case.first_back else ""
    said = _sessions_words(matched, done, planned) + left_out + back
    facts: dict[str, FactValue] = {
        "week": case.window.week.week,
        "done": done,
        "planned": planned,
        "sessions": said,
        "sessions_lower": said.lower(),
        "but": "",
        "body": _body(case),
        "held": "every lift done held" if done < planned else "every lift held",
    }
    if not facts["body"]:
        facts |= {"but": _hard(case)} if _hard(case) else {"body": _sore(case)}
    if not done:
        return Reason(code="verdict_empty", facts=facts)
    if case.awaits_clearance is not None:
        return Reason(code="verdict_refer", facts=facts)
    if case.window.week.kind == "deload":
        return Reason(code="verdict_deload", facts=facts)
    if not case.known_before:
        facts |= {
            "but": f"{_easy_words(case)}{facts['but']}",
            "body": f"{_poor_day(case)}{facts['body']}",
        }
        return Reason(code="verdict_first", facts=facts)
    if not any(e.planned for e in case.evidence.exposures if case.window.holds(e.day)):
        return Reason(code="verdict_elsewhere", facts=facts)
    down = _down(case, proposals)
    days_off = _days_off(case)
    long_off = days_off > case.policy.number("review.gap_days")
    if days_off and (long_off or case.lower or down):
        facts["but"] = f"; the old loads again in {back_in(days_off, case.policy)}{facts['but']}"
    if long_off:
        return Reason(code="verdict_back", facts=facts)
    answered = any(one.kind in ("light_week", "deload_now") for one in proposals)
    named = _state(case, down, answered=answered)
    if named is not None:
        told = facts | named[1]
        if told.get("after") and told["body"] == f"; {poor_words(case)}":
            told["body"] = ""  # the week or the day says it
        return Reason(code=named[0], facts=told)
    judged = [found for found in case.evidence.lifts.values() if found.matched is not None]
    if not judged:
        facts["body"] = f"{_poor_day(case)}{facts['body']}"
        return Reason(code="verdict_done", facts=facts)
    if _too_easy(case):
        return Reason(code="verdict_easy", facts=facts)
    if len(down) > MOST_NAMED:
        facts["but"] = f"{'' if poor_words(case) else _poor_day(case)}{facts['but']}"
        main = [lift.name for lift in case.catalogue.known(down) if lift.compound]
        most = f", {and_listed(main[: MOST_NAMED - 1])} among them" if main else ""
        told = facts | {"down": len(down), "lifts": len(judged), "most": most}
        return Reason(code="verdict_down", facts=told)
    facts["down"] = and_listed(down) if down else ""
    if case.lower:
        facts["most"] = f", {facts['down']} most" if down else ""
        return Reason(code="verdict_lower", facts=facts)
    return Reason(code="verdict_held_but" if down else "verdict_held", facts=facts)


def shared(verdict: Reason) -> Reason:
    """The verdict as a training partner may read it: without what is of the body."""
    code = "verdict_waits" if verdict.code == "verdict_refer" else verdict.code
    return replace(verdict, code=code, facts={**verdict.facts, "body": "", "after": ""})


def _down(case: WeekCase, proposals: Sequence[Proposal]) -> list[str]:
    """Lifts done before, on another than a bad day, that fell, in the week or over the last ones,
    those whose first set failed, or fell short of its range where the load comes down for it or the
    set is in doubt: nobody knows that they held; and those that come down for ending too near to
    failure, where not most did."""
    before = {e.lift for e in case.evidence.exposures if e.day < case.window.start}
    lowered = {proposal.lift for proposal in proposals if proposal.kind == "lower_load"}
    raised = {proposal.lift for proposal in proposals if proposal.kind == "raise_load"}
    too_hard = {one.lift for one in proposals if one.kind == "lower_load" and not _hard(case)
                and one.reasons[0].code == "effort_beyond_target"}  # fmt: skip
    return [
        found.lift
        for found in case.evidence.lifts.values()
        if found.lift in before
        and not (found.done and case.bad_days.issuperset(_days(found)))
        and (
            (found.fell and found.lift not in raised and not _gave_more(case, found))
            or (found.lift in lowered and found.watch_sounded)
            or (found.lift in too_hard and found.matched is not None)
            or any(one.failed for one in found.done)
            or (found.lift in lowered and any(_fell_short(one, one.sound) for one in found.done))
            or any(_fell_short(one, one.sets) for one in found.done if one.sets[0] not in one.sound)
        )
    ]


def _gave_more(case: WeekCase, found: LiftEvidence) -> bool:
    """Whether a lift, bad days apart, failed nowhere with more than the last time: just raised, it
    did not fall."""
    mine = (e for e in case.evidence.exposures if e.lift == found.lift)
    last = [e.work_load_kg for e in mine if e.day < case.window.start][-1]
    here = [e for e in found.done if e.day not in case.bad_days]
    return not any(e.failed or e.work_load_kg <= last for e in here)


def _days_off(case: WeekCase) -> int:
    """Days without training before the first week back; 0 of any other week."""
    if not case.first_back:
        return 0
    last = max(e.day for e in case.evidence.exposures if e.day < case.window.start)
    return (case.window.start - last).days - 1


def back_in(days_off: int, policy: Policy) -> str:
    """How long until the old loads are to be expected again: "about two weeks", one at least."""
    weeks = max(1, round(days_off / 7 * policy.number("review.back.weeks_a_week_off")))
    return "about a week" if weeks == 1 else f"about {number_word(weeks)} weeks"


def _fell_short(exposure: Exposure, sets: Sequence[SetDone]) -> bool:
    asked = exposure.target
    return asked is not None and any(done.first_reps < asked.reps_low for done in sets[:1])


def _state(
    case: WeekCase, down: Sequence[str], *, answered: bool
) -> tuple[str, dict[str, FactValue]] | None:
    """A week or a day that explains itself: code and facts, or None."""
    state = case.state
    if state is None:
        return None
    tired = sorted(m.replace("_", " ") for m in case.overreached)
    if had_too_much(state, case.policy):
        return "verdict_too_much", {}
    if is_bad(state, case.policy) or (case.down and answered):
        return "verdict_bad_week", {"after": tired_after(case)}
    if tired:
        other = [found for found in case.evidence.lifts.values() if not _trains(case, found)]
        facts: dict[str, FactValue] = {"muscles": and_listed(tired[:MOST_NAMED])}
        if (rest := _rest(other, down)) is not None:
            return "verdict_muscles", facts | {"rest": rest}
    elif days := sorted(case.bad_days):
        others = [f for f in case.evidence.lifts.values() if not case.bad_days.issuperset(_days(f))]
        named = and_listed([DAYS[day.weekday()] for day in days])
        code = "verdict_bad_day" if len(days) == 1 else "verdict_bad_days"
        known = any(one.matched is not None for one in others)
        if known and (rest := _rest(others, down)) is not None:
            return code, {"days": named, "after": _after(case, days), "rest": rest}
    if most_fell(state) and (case.weak or (case.lower and answered)):
        return "verdict_weak", {"after": tired_after(case)}
    return None


def _trains(case: WeekCase, found: LiftEvidence) -> bool:
    """Whether a lift trains a muscle that had too much."""
    lift = case.catalogue.find(found.lift)
    return lift is not None and not case.overreached.isdisjoint(lift.muscles)


def _rest(others: Sequence[LiftEvidence], fell: Sequence[str]) -> str | None:
    """What the other lifts did: "the rest held but bench press"; None where too many fell to speak
    of one day or muscle."""
    down = [found.lift for found in others if found.lift in fell]
    if len(down) > MOST_NAMED:
        return None
    return "the rest held" + (f" but {and_listed(down)}" if down else "")


def _days(found: LiftEvidence) -> set[date]:
    return {exposure.day for exposure in found.done}


def poor_words(case: WeekCase) -> str:
    """ "bad sleep and fatigue, two weeks running"; "" of a usual week."""
    weeks = []
    for back in (0, 7):
        first, last = (day - timedelta(days=back) for day in (case.window.start, case.window.end))
        weeks.append([
            words for measure, words in _POOR.items()
            if poor_week(case.facts.checkins, measure, first, last, case.policy)
        ])  # fmt: skip
    running = ", two weeks running" if weeks[0] and weeks[1] else ""
    return f"{and_listed(weeks[0])}{running}"


def tired_after(case: WeekCase) -> str:
    """ " after bad sleep and fatigue" of a weak week, or in the words of a note; "" where nobody
    said anything."""
    if poor := poor_words(case):
        return f" after {poor}"
    here = [e for e in case.evidence.exposures if case.window.holds(e.day)]
    notes = (one.note.split() for e in here for one in e.sets if says_bad_day(one.note))
    words = next(notes, [])
    cut = " ..." if len(words) > _MOST_WORDS else ""
    return f' ("{" ".join(words[:_MOST_WORDS])}{cut}")' if words else ""


def _poor_day(case: WeekCase) -> str:
    """ "; Wednesday after a bad night" of a week with nothing earlier to show it by."""
    days = sorted({e.day for e in case.evidence.exposures if case.window.holds(e.day)})
    said = [f"{DAY_NAMES[DAYS[day.weekday()]]}{words}" for day in days
            if (words := _after(case, [day]))]  # fmt: skip
    return f"; {and_listed(said)}" if 0 < len(said) <= len(days) / 2 else ""


def _after(case: WeekCase, days: list[date]) -> str:
    """What the lifter said of their bad days that explains them; "" where nothing."""
    line = case.policy.number("review.read.very_poor")
    said = {c.measure for c in case.facts.checkins if c.moment.day in days and c.value >= line}
    for measure, words in (("sleep", " after a bad night"), ("stress", ", under stress"),
                           ("fatigue", ", already tired")):  # fmt: skip
        if measure in said:
            return words
    return ""


def _easy_words(case: WeekCase) -> str:
    """What a first week says of the loads that were printed for it; "" where they fit."""
    if _too_easy(case):
        return ", most of it with more left than asked: too easy"
    here = [e for e in case.evidence.exposures if case.window.holds(e.day)]
    printed = [e for e in here if e.target is not None and e.target.load_kg is not None]
    top = [e for e in printed if e.target is not None and e.first.first_reps >= e.target.reps_high
           and (e.first.rir or 0.0) >= e.target.rir]  # fmt: skip
    full = len(top) >= MOST_NAMED and 2 * len(top) > len(printed)
    return ", most first sets at the top of their range" if full else ""


def _too_easy(case: WeekCase) -> bool:
    """Whether most first sets ended with much more left than asked."""
    here = [e.spare for e in case.evidence.exposures if case.window.holds(e.day)]
    spare = [more for more in here if more is not None]
    easy = sum(more >= _MUCH_LEFT for more in spare)
    return len(spare) >= MOST_NAMED and easy > len(spare) / 2


def sessions_of(case: WeekCase) -> tuple[int, int, int]:
    """Sessions of the plan done in the week, all done, and planned; two sessions of one day are
    two, a day with nothing of the plan is one."""
    window = case.window
    planned = [s for s in window.week.sessions if s.entries or s.missed]
    here = [e for e in case.evidence.exposures if window.holds(e.day)]
    by_plan = {(e.day, e.session) for e in here if e.session is not None}
    others = {e.day for e in here} - {day for day, _ in by_plan}
    matched = len({session for _, session in by_plan})
    return matched, len(by_plan) + len(others), len(planned)


def _sessions_words(matched: int, done: int, planned: int) -> str:
    """ "All four sessions", "Both sessions and one more", "Two of four sessions"."""
    more = ""
    if done > planned:
        done, more = matched, f" and {number_word(done - matched)} more"
    if done == planned == 2:
        return f"Both sessions{more}"
    if done == planned > 1:
        return f"All {number_word(done)} sessions{more}"
    noun = "session" if planned == 1 else "sessions"
    return f"{number_word(done)} of {number_word(planned)} {noun}{more}".capitalize()


def _left_out(case: WeekCase) -> str:
    """ " (Sunday missed)", " (Sunday to come)"; "" of a week with neither."""
    parts = [
        f"{and_listed([DAY_NAMES[DAYS[day.weekday()]] for day in days])} {what}"
        for days, what in ((_missed(case), "missed"), (case.evidence.to_come, "to come"))
        if days
    ]
    return f" ({'; '.join(parts)})" if parts else ""


def _missed(case: WeekCase) -> list[date]:
    """Days missed, those that a changed plan took out of the week too."""
    out = {s.day for s in case.window.week.sessions if s.missed and not s.entries}
    return sorted({*case.evidence.missed, *out})


def _shortened(case: WeekCase) -> str:
    """ " (27 of 40 sets)" where the sessions were done, but not with all that was in them."""
    window = case.window
    asked = sum(len(e.sets) for s in window.week.sessions for e in s.entries)
    done = sum(len(e.sets) for e in case.evidence.exposures if window.holds(e.day))
    share = case.policy.number("review.sets.done_share")
    return f" ({done} of {asked} sets)" if 0 < done < share * asked else ""


def number_word(n: int) -> str:
    """ "five"; figures beyond twelve."""
    return _NUMBERS[n] if n < len(_NUMBERS) else str(n)


def _hurt(case: WeekCase) -> str:
    """ "; shoulder hurts"; of what nobody reported in the week, since when nothing was said of it.
    A lift that was swapped out is not done and hurts nobody."""
    states = [
        state
        for state in (*case.pain.values(), *case.pain_elsewhere.values())
        if case.catalogue.find(state.about) is None or state.about in case.evidence.lifts
    ]
    if now := dict.fromkeys(s.about for s in states if case.window.holds(s.latest.day)):
        return f"; {and_listed(list(now)[:MOST_NAMED])} {'hurts' if len(now) == 1 else 'hurt'}"
    quiet = dict.fromkeys(
        state.about if case.catalogue.find(state.about) else f"the {state.about}"
        for state in states
    )
    return f"; nothing new of {and_listed(list(quiet)[:MOST_NAMED])}" if quiet else ""


def _body(case: WeekCase) -> str:
    """What a coach hears in the same breath, and no partner: lifts out for a sign of their own,
    then pain, then bad sleep."""
    signs = [w for w in case.warnings if w.sure and w.sign not in WHOLE_BODY_SIGNS and w.lift]
    if own := dict.fromkeys(sign.lift for sign in signs):
        return f"; {and_listed(list(own)[:MOST_NAMED])} out until a professional has had a look"
    poor = poor_words(case)
    return _hurt(case) or (f"; {poor}" if poor else "")


def _hard(case: WeekCase) -> str:
    done = [found for found in case.evidence.lifts.values() if found.done]
    most = 2 * sum(found.beyond_effort >= 2 for found in done) > len(done)
    return "; most of it closer to failure than asked" if most else ""


def _sore(case: WeekCase) -> str:
    line = case.policy.number("review.sore.not_from")
    sore = [
        muscle.replace("_", " ")
        for muscle, found in case.evidence.muscles.items()
        if found.sore is not None and found.sore >= line
    ]
    named = sore if len(sore) <= MOST_NAMED else [f"{len(sore)} muscles"]
    return f"; {and_listed(named)} slow to recover" if sore else ""
