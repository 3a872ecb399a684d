"""Which session of a block is meant: by its date, or by week and number."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.errors import BadInput
from blockwright.engine.training import Block, Session, Week

_NEAREST = 2


@dataclass(frozen=True, slots=True)
class PlannedSession:
    """A session and the week it belongs to."""

    week: Week
    session: Session

    @property
    def says(self) -> str:
        """ "Mon 4 January 2027 at 06:30 (week 1, session 1)"."""
        day = self.session.day
        return (
            f"{day:%a} {day.day} {day:%B %Y} at {self.session.start_time} "
            f"(week {self.week.week}, session {self.session.session})"
        )


def sessions_of(block: Block) -> Iterator[PlannedSession]:
    """Every session of the block in the order of time."""
    found = [PlannedSession(week, session) for week in block.weeks for session in week.sessions]
    yield from sorted(found, key=lambda one: (one.session.day, one.session.start_time))


def session_on(block: Block, day: date, session: int | None = None) -> PlannedSession:
    """The session on `day`; where there are two, the one numbered `session`.

    Raises BadInput naming the nearest sessions, or the two among which to choose."""
    there = [one for one in sessions_of(block) if one.session.day == day]
    if not there:
        mend = f"the nearest: {_listed(_nearest(block, day))}"
        raise BadInput.of(f"there is no session on {day}", mend, column="date")
    return _only(there, session, f"on {day}")


def session_in_week(block: Block, week: int, session: int | None = None) -> PlannedSession:
    """Session number `session` of week `week`; BadInput names what there is instead."""
    there = [one for one in sessions_of(block) if one.week.week == week]
    if not there:
        weeks = sorted(one.week for one in block.weeks)
        mend = f"the block has weeks {weeks[0]} to {weeks[-1]}"
        raise BadInput.of(f"there is no session in week {week}", mend, column="week")
    return _only(there, session, f"in week {week}")


def _only(there: Sequence[PlannedSession], session: int | None, where: str) -> PlannedSession:
    if session is None and len(there) == 1:
        return there[0]
    for one in there:
        if one.session.session == session:
            return one
    says = (
        f"there are {len(there)} sessions {where}"
        if session is None
        else f"there is no session {session} {where}"
    )
    raise BadInput.of(says, f"choose by its number: {_listed(there)}", column="session")


def _nearest(block: Block, day: date) -> Sequence[PlannedSession]:
    """The nearest sessions in days, in the order of time."""
    nearest = sorted(sessions_of(block), key=lambda one: abs((one.session.day - day).days))
    return sorted(nearest[:_NEAREST], key=lambda one: one.session.day)


def _listed(sessions: Sequence[PlannedSession]) -> str:
    return " or ".join(one.says for one in sessions)
