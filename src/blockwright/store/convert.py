"""The only mapper between rows and engine values.

Loads stay unrounded kilograms beside what was typed (house style, units): a body's floats are
written and read back bit for bit. Whole documents (lifter, block, proposals) stay documents here;
`files` turns them into values.
"""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from blockwright.engine.training import CheckIn, Moment, SetDone
from blockwright.store.models import Fact
from blockwright.store.standing import done_at, in_done_order, standing


def set_body(done: SetDone) -> dict[str, Any]:
    """A set as a fact's body; everything but moment, row and lifter, which are columns."""
    return {
        "lift": done.lift,
        "set_number": done.set_number,
        "loads_kg": list(done.loads_kg),
        "entered_load": done.entered_load,
        "entered_unit": done.entered_unit,
        "reps": list(done.reps),
        "rir_low": done.rir_low,
        "rir_high": done.rir_high,
        "rest_s": done.rest_s,
        "method": done.method,
        "full_range": done.full_range,
        "pain": done.pain,
        "note": done.note,
        "confirmed": done.confirmed,
    }


def checkin_body(checkin: CheckIn) -> dict[str, Any]:
    """A check-in as a fact's body."""
    return {
        "measure": checkin.measure,
        "about": checkin.about,
        "value": checkin.value,
        "entered_unit": checkin.entered_unit,
        **({"note": checkin.note} if checkin.note else {}),
    }


def stored_moment(moment: Moment) -> datetime | None:
    """A file's local time as the column keeps it: its digits in UTC, with zone ""."""
    return None if moment.at is None else moment.at.replace(tzinfo=UTC)


def local_time(fact: Fact) -> datetime | None:
    """When it was done on the wall clock of the place, naive; set right by a clock that was off
    when it was sent."""
    if fact.at is None:
        return None
    return done_at(fact).astimezone(ZoneInfo(fact.zone) if fact.zone else UTC).replace(tzinfo=None)


def sets_done(facts: Iterable[Fact], lifter: str | None = None) -> tuple[SetDone, ...]:
    """The sets that stand, in the order they were done. `lifter` is written into each."""
    ordered = in_done_order([fact for fact in standing(facts) if fact.kind == Fact.SET])
    disturbed = _days_out_of_order(ordered)
    return tuple(
        _set_done(fact, row, lifter, fact.day not in disturbed)
        for row, fact in enumerate(ordered, 1)
    )


def checkins(facts: Iterable[Fact], lifter: str | None = None) -> tuple[CheckIn, ...]:
    """The check-ins that stand, in the order they were made."""
    ordered = in_done_order([fact for fact in standing(facts) if fact.kind == Fact.CHECKIN])
    return tuple(
        CheckIn(
            moment=Moment(day=fact.day, at=local_time(fact)),
            measure=fact.body["measure"],
            about=fact.body["about"],
            value=fact.body["value"],
            entered_unit=fact.body["entered_unit"],
            note=fact.body.get("note", ""),
            lifter=lifter,
            row=row,
        )
        for row, fact in enumerate(ordered, 1)
    )


def _set_done(fact: Fact, row: int, lifter: str | None, with_time: bool) -> SetDone:
    body = fact.body
    return SetDone(
        moment=Moment(day=fact.day, at=local_time(fact) if with_time else None),
        lift=body["lift"],
        set_number=body["set_number"],
        loads_kg=tuple(body["loads_kg"]),
        entered_load=body["entered_load"],
        entered_unit=body["entered_unit"],
        reps=tuple(body["reps"]),
        rir_low=body["rir_low"],
        rir_high=body["rir_high"],
        rest_s=body["rest_s"],
        method=body["method"],
        full_range=body["full_range"],
        pain=body["pain"],
        note=body["note"],
        confirmed=body["confirmed"],
        lifter=lifter,
        row=row,
    )


def _days_out_of_order(ordered: Sequence[Fact]) -> set[Any]:
    """Days whose times contradict their order: a clock was moved, so the times say nothing."""
    return {
        after.day
        for before, after in pairwise(ordered)
        if before.day == after.day and done_at(after) < done_at(before)
    }
