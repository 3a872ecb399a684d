"""How the week went, one sentence in the trade's words; and what happened, behind the face."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import takewhile

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Certainty, FactValue, Reason, and_listed, certainty_word
from blockwright.engine.signs import WHOLE_BODY_SIGNS
from blockwright.engine.training import DAY_NAMES, DAYS, Measure
from blockwright.engine.units import spoken
from .case import WeekCase
from .evidence import LiftEvidence
from .exposures import Exposure
from .proposals import Proposal
from .week_facts import says_bad_day
from .week_state import had_too_much, is_bad, most_fell, slow_muscles
from .wellness import poor_week

MOST_NAMED = 3  # More names than these make no sentence; they are counted instead
BACK_SOURCE = "Halonen et al. 2024, Scand J Med Sci Sports: ten weeks off made good in five"
_HAD: Mapping[Certainty, str] = {"sure": "had", "likely": "probably had", "even": "may have had"}
_SLOW, _SHORT = "down over the last sessions", "short of the range"
_NEARER = "closer to failure than asked"
_MOST_WORDS = 6  # Of a note that is quoted
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
        "held": "every lift done held" if left_out else "every lift held",
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
    if not any(e.planned for e in case.done):
        return Reason(code="verdict_elsewhere", facts=facts)
    down = [found.lift for found in case.evidence.lifts.values() if found.likely_fell]
    days_off = _days_off(case)
    long_off = days_off > case.policy.number("review.gap_days")
    if days_off and (long_off or case.lower or down):
        facts["but"] = f"; the old loads again in {back_in(days_off, case.policy)}{facts['but']}"
    if long_off:
        return Reason(code="verdict_back", facts=facts)
    if (named := _state(case, proposals)) is not None:
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
    if case.lower:
        facts["most"] = f", {and_listed(down)} most" if down else ""
        return Reason(code="verdict_lower", facts=facts)
    facts["held"] = f"{facts['held']}{_but(case, judged, proposals)}"
    return Reason(code="verdict_held", facts=facts)


def shared(verdict: Reason) -> Reason:
    """The verdict as a training partner may read it: without what is of the body."""
    code = "verdict_waits" if verdict.code == "verdict_refer" else verdict.code
    return replace(verdict, code=code, facts={**verdict.facts, "body": "", "after": ""})


def _but(case: WeekCase, lifts: Sequence[LiftEvidence], proposals: Sequence[Proposal]) -> str:
    """Which lifts likely fell; then what the lines below rest on of those that held,
    each named once: " but squat; leg curl down over the last sessions; row short of the range"."""
    lowered = {p.lift: p.reasons[0].code for p in proposals if p.kind == "lower_load"}
    raised = {p.lift for p in proposals if p.kind == "raise_load"}
    said: dict[str, list[str]] = {_SLOW: [], _SHORT: [], _NEARER: []}
    for found in lifts:
        if found.likely_fell or found.matched is None:
            continue
        here = [e for e in found.done if e.day not in case.bad_days]
        if found.watch_sounded and found.lift not in raised:
            said[_SLOW].append(found.lift)
        elif any(_was_short(one, lowered=found.lift in lowered) for one in here):
            said[_SHORT].append(found.lift)
        elif lowered.get(found.lift) == "effort_beyond_target" and not _hard(case):
            said[_NEARER].append(found.lift)
    down = [found.lift for found in lifts if found.likely_fell]
    beside = (f"; {_few(named, 'lifts')} {words}" for words, named in said.items() if named)
    return (f" but {and_listed(down)}" if down else "") + "".join(beside)


def _few(names: Sequence[str], nouns: str) -> str:
    """The names, or how many, where they are too many."""
    return and_listed(names) if len(names) <= MOST_NAMED else f"{len(names)} {nouns}"


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


def _was_short(exposure: Exposure, *, lowered: bool) -> bool:
    """Whether the first set failed, or fell short of its range where the load comes down for it or
    the set is in doubt."""
    asked, first = exposure.target, exposure.sets[0]
    told = exposure.sound[:1] if lowered else () if first in exposure.sound else (first,)
    return exposure.failed or (
        asked is not None and any(done.first_reps < asked.reps_low for done in told)
    )


def _state(
    case: WeekCase, proposals: Sequence[Proposal]
) -> tuple[str, dict[str, FactValue]] | None:
    """A week or a day that explains itself: code and facts, or None."""
    state = case.state
    if state is None:
        return None
    answered = any(one.kind in ("light_week", "deload_now") for one in proposals)
    tired = sorted(spoken(m) for m in case.overreached)
    if had_too_much(state, case.policy):
        slow = _few([*map(spoken, slow_muscles(state, case.policy))], "muscles")
        last = takewhile(lambda one: had_too_much(one, case.policy), reversed(case.states))
        weeks = sum(1 for _ in last)
        since = f", {number_word(weeks)} weeks running" if weeks > 1 else ""
        return "verdict_too_much", {"muscles": slow or "all muscles", "since": since}
    if is_bad(state, case.policy) or (case.down and answered):
        return "verdict_bad_week", {"after": tired_after(case)}
    if tired:
        spared = {one.name for one in case.catalogue.known(case.evidence.lifts)
                  if case.overreached.isdisjoint(one.muscles)}  # fmt: skip
        other = [one for name, one in case.evidence.lifts.items() if name in spared]
        had = _HAD[certainty_word(min(state.muscles[muscle] for muscle in case.overreached))]
        if sum(found.likely_fell for found in other) <= MOST_NAMED:
            rest = _rest(case, other, proposals)
            return "verdict_muscles", {"muscles": _few(tired, "muscles"), "had": had, "rest": rest}
    elif days := sorted(case.bad_days):
        others = [f for f in case.evidence.lifts.values()
                  if any(e.day not in case.bad_days and (e.short > 0 or not f.likely_fell)
                         for e in f.done)]  # fmt: skip
        named = and_listed([DAYS[day.weekday()] for day in days])
        code = "verdict_bad_day" if len(days) == 1 else "verdict_bad_days"
        known = sum(one.matched is not None for one in others)
        if known and sum(f.likely_fell for f in others) <= max(MOST_NAMED, (known - 1) // 2):
            rest = _rest(case, others, proposals)
            return code, {"days": named, "after": _after(case, days), "rest": rest}
    if most_fell(state) and (case.weak or (case.lower and answered)):
        return "verdict_weak", {"after": tired_after(case)}
    return None


def _rest(case: WeekCase, others: Sequence[LiftEvidence], proposals: Sequence[Proposal]) -> str:
    """What the other lifts did: "the rest held but bench press"."""
    if (fell := sum(found.likely_fell for found in others)) > MOST_NAMED:
        return f"{number_word(fell)} others below their usual"
    return f"the rest held{_but(case, others, proposals)}"


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
    notes = (one.note.split() for e in case.done for one in e.sets if says_bad_day(one.note))
    words = next(notes, [])
    cut = " ..." if len(words) > _MOST_WORDS else ""
    return f' ("{" ".join(words[:_MOST_WORDS])}{cut}")' if words else ""


def _poor_day(case: WeekCase) -> str:
    """ "; Wednesday after a bad night" of a week with nothing earlier to show it by."""
    days = sorted({e.day for e in case.done})
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
    printed = [e for e in case.done if e.target is not None and e.target.load_kg is not None]
    top = [e for e in printed if e.target is not None and e.first.first_reps >= e.target.reps_high
           and (e.first.rir or 0.0) >= e.target.rir]  # fmt: skip
    full = len(top) >= MOST_NAMED and 2 * len(top) > len(printed)
    return ", most first sets at the top of their range" if full else ""


def _too_easy(case: WeekCase) -> bool:
    """Whether most first sets ended with much more left than asked."""
    spare = [e.spare for e in case.done if e.spare is not None]
    easy = sum(more >= _MUCH_LEFT for more in spare)
    return len(spare) >= MOST_NAMED and easy > len(spare) / 2


def sessions_of(case: WeekCase) -> tuple[int, int, int]:
    """Sessions of the plan done in the week, all done, and planned; two sessions of one day are
    two, a day with nothing of the plan is one."""
    planned = [s for s in case.window.week.sessions if s.entries or s.missed]
    here = case.done
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
    """ " (Sunday missed)", " (Sunday to come)"; "" of a week with neither. Days that a
    changed plan took out of the week are missed too."""
    out = {s.day for s in case.window.week.sessions if s.missed and not s.entries}
    missed = sorted({*case.evidence.missed, *out})
    parts = [
        f"{and_listed([DAY_NAMES[DAYS[day.weekday()]] for day in days])} {what}"
        for days, what in ((missed, "missed"), (case.evidence.to_come, "to come"))
        if days
    ]
    return f" ({'; '.join(parts)})" if parts else ""


def _shortened(case: WeekCase) -> str:
    """ " (27 of 40 sets)" where the sessions were done, but not with all that was in them."""
    done, asked = case.sets_of_week
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
    eased = case.pain_eased
    if now := dict.fromkeys(s.about for s in states if case.window.holds(s.latest.day)):
        since = next(
            (f", down to {e.pain:g} of 10 since" for e in eased if [e.about] == [*now]), ""
        )
        hurts = f"hurts{since}" if len(now) == 1 else "hurt"
        return f"; {and_listed(list(now)[:MOST_NAMED])} {hurts}"
    if eased:
        return f"; {eased[0].about} down to {eased[0].pain:g} of 10 ({eased[0].before:g} before)"
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
        spoken(muscle)
        for muscle, found in case.evidence.muscles.items()
        if found.sore is not None and found.sore >= line
    ]
    return f"; {_few(sore, 'muscles')} slow to recover" if sore else ""
