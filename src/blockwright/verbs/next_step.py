"""What to do next for one lifter, in sentences: what the roster says of them, then the session.

The roster is the one source of what waits for a coach, so that the two pages cannot disagree."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.day_sheet import PlannedSession
from blockwright.verbs.roster import RosterReason

_LACKING = {"bodyweight": "the bodyweight", "start": "the first Monday", "slot": "a slot"}
_A_PROFESSIONAL_FIRST = ("sign", "refer", "clearance")


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a lifter stands on a day."""

    today: date
    reasons: Sequence[RosterReason]
    """Of the roster, the most urgent first; of a partner's view, none."""
    lacks: Sequence[str] = ()
    """Keys of the lifter file without which nothing can be composed."""
    has_block: bool = False
    refers: bool = False
    says_why: bool = True
    """Whether whoever looks may know that it is a clearance."""
    next_session: PlannedSession | None = None


@dataclass(frozen=True, slots=True)
class NextStep:
    """A sentence without its full stop, and the page where it is done ("" where there is nothing
    to do)."""

    says: str
    page: str = ""
    link: str = ""


def next_steps(at: Standing, *, may_change: bool, may_read: bool) -> tuple[NextStep, ...]:
    """What waits, the most urgent first, for somebody with these rights; never empty."""
    if may_change:
        return tuple(_at_the_desk(at)) or (NextStep("Nothing waits"),)
    first = [one for one in at.reasons if one.need in _A_PROFESSIONAL_FIRST]
    told = tuple(NextStep(one.says) for one in first if one.need != "clearance")
    if at.next_session is not None:
        return (*told, _session(at, at.next_session))
    if not at.has_block:
        return (*told, NextStep("There is no block yet: the coach composes one"))
    over = "The block has ended: the coach composes the next"
    return (*told, NextStep(over, "report" if may_read else "", "Read its report"))


def _at_the_desk(at: Standing) -> list[NextStep]:
    steps = []
    for one in at.reasons:
        if one.page == "compose" and at.lacks:
            missing = " and ".join(_LACKING.get(key, key) for key in at.lacks)
            says = f"{one.says}. It still needs {missing}"
            steps.append(NextStep(says, "lifter_file", "Fill in the lifter file"))
        elif one.need != "nothing":
            steps.append(NextStep(one.says, one.page, one.link))
    if at.next_session is not None:
        steps.append(_session(at, at.next_session))
    return steps


def _session(at: Standing, planned: PlannedSession) -> NextStep:
    session = planned.session
    day = session.day
    when = "Today" if day == at.today else f"{day:%A}, {day.day} {day:%B}"
    if at.refers:
        says = "The block waits for medical clearance; no session before that"
        if not at.says_why:
            says = "The block waits; no session before the coach says so"
        return NextStep(says, "sheet", "See the next sheet")
    if any(one.need in _A_PROFESSIONAL_FIRST for one in at.reasons):
        says = f"{when} at {session.start_time} is the next session; read its cautions first"
        return NextStep(says, "sheet", "See the next sheet")
    return NextStep(f"{when} at {session.start_time}: train", "sheet", "Open the sheet")
