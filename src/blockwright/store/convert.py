"""The only mapper between rows and engine values.

Loads stay unrounded kilograms beside what was typed (house style, units): a body's floats are
written and read back bit for bit. Whole documents (lifter, block, proposals) stay documents here;
`files` turns them into values."""

from collections.abc import Iterable, Sequence
from dataclasses import fields
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from blockwright.engine.training import CheckIn, Moment, SetDone
from .models import Fact
from .standing import done_at, in_done_order, standing

_COLUMNS = ("moment", "row", "lifter")
"""What of a fact stands in columns of its row; its other fields are the body."""
_BODY = tuple(each.name for each in fields(SetDone) if each.name not in _COLUMNS)
_CHECKIN_BODY = tuple(each.name for each in fields(CheckIn) if each.name not in _COLUMNS)
_SEVERAL = ("loads_kg", "reps")


def set_body(done: SetDone) -> dict[str, Any]:
    """A set as a fact's body; everything but moment, row and lifter, which are columns."""
    body = {name: getattr(done, name) for name in _BODY}
    return body | {name: list(body[name]) for name in _SEVERAL}


def checkin_body(checkin: CheckIn) -> dict[str, Any]:
    """A check-in as a fact's body; a note where there is one."""
    body = {name: getattr(checkin, name) for name in _CHECKIN_BODY}
    return body if checkin.note else {name: body[name] for name in body if name != "note"}


def stored_moment(moment: Moment) -> datetime | None:
    """A file's local time as the column keeps it: its digits in UTC, with zone ""."""
    return None if moment.at is None else moment.at.replace(tzinfo=UTC)


def local_time(fact: Fact) -> datetime | None:
    """When it was done on the wall clock of the place, naive; set right by a clock that was off
    when it was sent."""
    if fact.at is None:
        return None
    return done_at(fact).astimezone(ZoneInfo(fact.zone) if fact.zone else UTC).replace(tzinfo=None)


def sets_done(facts: Iterable[Fact]) -> tuple[SetDone, ...]:
    """The sets that stand, in the order they were done."""
    ordered = in_done_order([fact for fact in standing(facts) if fact.kind == Fact.SET])
    disturbed = _days_out_of_order(ordered)
    return tuple(
        set_of(fact, row, timed=fact.day not in disturbed) for row, fact in enumerate(ordered, 1)
    )


def checkins(facts: Iterable[Fact]) -> tuple[CheckIn, ...]:
    """The check-ins that stand, in the order they were made."""
    ordered = in_done_order([fact for fact in standing(facts) if fact.kind == Fact.CHECKIN])
    return tuple(
        CheckIn(
            moment=Moment(day=fact.day, at=local_time(fact)),
            row=row,
            **{name: fact.body[name] for name in _CHECKIN_BODY if name in fact.body},
        )
        for row, fact in enumerate(ordered, 1)
    )


def set_of(fact: Fact, row: int = 0, *, timed: bool = True) -> SetDone:
    """The set of a fact."""
    said = {name: fact.body[name] for name in _BODY if name in fact.body}
    said |= {name: tuple(said[name]) for name in _SEVERAL}
    moment = Moment(day=fact.day, at=local_time(fact) if timed else None)
    return SetDone(moment=moment, row=row, **said)


def _days_out_of_order(ordered: Sequence[Fact]) -> set[Any]:
    """Days whose times contradict their order: a clock was moved, by hand or in the night when
    summer time ends, or phones were in two zones; so the times say nothing."""
    return {
        after.day
        for before, after in pairwise(ordered)
        if before.day == after.day and _wall(after) < _wall(before)
    }


def _wall(fact: Fact) -> datetime:
    return local_time(fact) or datetime.min
