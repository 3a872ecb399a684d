"""What to do next for one lifter, in a sentence: the first thing that waits."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from blockwright.engine.day_sheet import PlannedSession
from blockwright.engine.training import Week

Page = Literal["lifter_file", "compose", "review", "report", "sheet", ""]

_LACKING = {"bodyweight": "the bodyweight", "start": "the first Monday", "slot": "a slot"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a lifter stands on a day. Without a block all but `lacks` is empty."""

    today: date
    lacks: tuple[str, ...] = ()
    """Keys of the lifter file without which nothing can be composed."""
    start: date | None = None
    ends: date | None = None
    refers: bool = False
    week: Week | None = None
    """The block's week in hand; None before and after it."""
    next_session: PlannedSession | None = None
    letter_through: date | None = None
    open_lines: int = 0
    """Lines of the last letter that wait for a word."""
    unreviewed_week: int | None = None


@dataclass(frozen=True, slots=True)
class NextStep:
    """A sentence, and the page where it is done ("" where there is nothing to do)."""

    says: str
    page: Page = ""
    link: str = ""


def next_step(at: Standing, *, may_change: bool, may_read: bool) -> NextStep:
    """The first thing that waits, for somebody with these rights."""
    desk = _at_the_desk(at) if may_change else None
    if desk is not None:
        return desk
    if at.next_session is not None:
        return _session(at, at.next_session)
    if at.start is None:
        return NextStep("There is no block yet: the coach composes one.")
    says = "The block has ended: the coach composes the next."
    return NextStep(says, "report" if may_read else "", "Read its report")


def _at_the_desk(at: Standing) -> NextStep | None:
    if at.lacks and (at.start is None or _is_over(at)):
        missing = " and ".join(_LACKING.get(key, key) for key in at.lacks)
        return NextStep(f"A block still needs {missing}.", "lifter_file", "Fill in the lifter file")
    if at.start is None:
        return NextStep("There is no block yet.", "compose", "Compose the first block")
    if at.open_lines:
        lines = "1 proposal waits" if at.open_lines == 1 else f"{at.open_lines} proposals wait"
        return NextStep(f"{lines} for your word.", "review", "Read the letter and decide")
    if at.unreviewed_week is not None:
        says = f"Week {at.unreviewed_week} is over and has not been reviewed."
        return NextStep(says, "review", "Write its review")
    if _is_over(at):
        return NextStep("The block has ended.", "compose", "Compose the next block")
    return None


def _is_over(at: Standing) -> bool:
    return at.ends is not None and at.ends < at.today


def _session(at: Standing, planned: PlannedSession) -> NextStep:
    session = planned.session
    day = session.day
    when = "Today" if day == at.today else f"{day:%A}, {day.day} {day:%B}"
    if at.refers:
        says = "The block waits for medical clearance; no session before that."
        return NextStep(says, "sheet", "See the next sheet")
    return NextStep(f"{when} at {session.start_time}: train.", "sheet", "Open the sheet")
