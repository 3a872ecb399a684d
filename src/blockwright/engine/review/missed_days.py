"""Days of the week that were missed: what is asked of them, what may be done about them, and what
does not go up for want of them."""

from collections.abc import Mapping, Sequence

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.training import DAY_NAMES, DAYS, Lift, Session
from .case import WeekCase
from .exposures import DAYS_OF_WEEK, Exposure
from .proposals import Proposal

Asks = tuple[str, Mapping[str, FactValue]]  # Code and facts of a question


def asks_of_missed(case: WeekCase, proposals: Sequence[Proposal]) -> Asks | None:
    """What is asked of the missed sessions, with what may be done about them where the letter does
    not answer the week; a week without any training is asked about whole."""
    missed = case.evidence.missed
    if not missed:
        return None
    facts: dict[str, FactValue] = {
        "dates": ", ".join(day.isoformat() for day in missed),
        "sessions": len(missed),
    }
    if not any(case.window.holds(e.day) for e in case.evidence.exposures):
        return "ask_missed_week", facts
    if any(one.kind in ("light_week", "deload_now") for one in proposals):
        return "ask_missed", facts
    code, more = _offer(case)
    return code, {**facts, **more}


def _offer(case: WeekCase) -> Asks:
    """The same sessions missed twice are planned out; a lead's main lift that had no other day
    comes first on the next, where that day opens with nothing a coach would put first; the rest is
    let go."""
    before = {e.session for e in case.evidence.exposures
              if 0 < (case.window.start - e.day).days <= DAYS_OF_WEEK}  # fmt: skip
    missed = [s for s in case.window.week.sessions if s.day in case.evidence.missed]
    if before - {None} and before.isdisjoint(s.session for s in missed):
        return "ask_missed_again", {}
    week = case.window.next_week
    following = next((s for s in case.next_sessions if s.entries), None)
    if following is None or week is None or week.kind != "build":
        return "ask_missed", {}
    done = {name for name, found in case.evidence.lifts.items() if found.done}
    there = case.catalogue.known(entry.lift for entry in following.entries)
    lost = [
        lift
        for lift in case.catalogue.known(e.lift for s in missed for e in s.entries)
        if lift.compound and _leads(case, lift) and lift.name not in done | case.pain.keys()
    ]
    taken = there[:1] and (there[0].axial >= _MUCH_AXIAL or _leads(case, there[0]))
    if not lost or taken or lost[0] in there:
        return "ask_missed_go", {}
    return "ask_missed_lift", {"lift": lost[0].name, "day": _day(following)}


_MUCH_AXIAL = 2
"""A squat or a hinge that loads the spine so much opens its session (common practice)."""


def _leads(case: WeekCase, lift: Lift) -> bool:
    return any(case.lifter.emphasis_of(muscle) == "lead" for muscle in lift.direct)


def missed_there(
    case: WeekCase, lift: Lift, session: Session, done: Sequence[Exposure]
) -> tuple[Reason, ...]:
    """That this session of a lift was missed, where no other day of the week had its range: a
    missed day goes no further up than it is printed."""
    missed = (s for s in case.window.week.sessions
              if s.session == session.session and s.day in case.evidence.missed)  # fmt: skip
    day = next(map(_day, missed), None)
    if day is None or (done and case.window.holds(done[-1].day)):
        return ()
    return (Reason(code="missed_that_day", facts={"lift": lift.name, "day": day}),)


def _day(session: Session) -> str:
    return DAY_NAMES[DAYS[session.day.weekday()]]
