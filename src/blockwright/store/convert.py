"""The only mapper between rows and engine values.

Loads stay unrounded kilograms beside what was typed (house style, units): a body's floats are
written and read back bit for bit. Whole documents (lifter, block, proposals) stay documents here;
`files` turns them into values.
"""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from blockwright.engine.training import CheckIn, Moment, SetDone
from blockwright.store.models import Fact

CLOCK_TOLERANCE_S = 120.0
"""A phone's clock within two minutes of the server's is taken as it is (judgement)."""


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
    }


def stored_moment(moment: Moment) -> datetime | None:
    """A file's local time as the column keeps it: its digits in UTC, with zone ""."""
    return None if moment.at is None else moment.at.replace(tzinfo=UTC)


def local_time(fact: Fact) -> datetime | None:
    """When it was done on the wall clock of the place, naive; set right by a clock that was off
    when it was sent."""
    if fact.at is None:
        return None
    if not fact.zone:
        return fact.at.astimezone(UTC).replace(tzinfo=None)
    return done_at(fact).astimezone(ZoneInfo(fact.zone)).replace(tzinfo=None)


def done_at(fact: Fact) -> datetime:
    """The instant it was done: the phone's, less what its clock was ahead."""
    if fact.at is None:
        return datetime(fact.day.year, fact.day.month, fact.day.day, tzinfo=UTC)
    if abs(fact.clock_ahead_s) <= CLOCK_TOLERANCE_S:
        return fact.at
    return fact.at - timedelta(seconds=fact.clock_ahead_s)


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


# ------------------------------------------------------------------------------------ what stands


def standing(facts: Iterable[Fact]) -> list[Fact]:
    """For each fact that amends nothing, the last word on it, unless that takes it back.

    The last word: the highest `seq` among its amendments (and theirs) that nothing amends.

    The moment, day and place in order stay those of the first; docs/sync.md has the rule.
    """
    by_id = {fact.id: fact for fact in facts}
    last: dict[Any, Fact] = {}
    amended = {fact.amends for fact in by_id.values()}
    for fact in sorted(by_id.values(), key=lambda fact: fact.seq):
        root = _root(fact, by_id)
        if root is not None and fact.id not in amended:
            last[root.id] = fact
    return [
        fact if fact.id == root_id else _in_place_of(fact, by_id[root_id])
        for root_id, fact in last.items()
        if not fact.withdrawn and fact.kind == by_id[root_id].kind
    ]


def _root(fact: Fact, by_id: dict[Any, Fact]) -> Fact | None:
    """What the fact amends in the end; None while that is not here, or in a ring."""
    seen = set()
    while fact.amends is not None:
        if fact.id in seen or fact.amends not in by_id:
            return None
        seen.add(fact.id)
        fact = by_id[fact.amends]
    return fact


def _in_place_of(fact: Fact, root: Fact) -> Fact:
    """The amendment's content at the original's moment: not saved, a value to read."""
    return Fact(
        seq=fact.seq, id=fact.id, lifter_id=root.lifter_id, kind=root.kind, amends=fact.amends,
        day=root.day, at=root.at, zone=root.zone, device=root.device, n=root.n, body=fact.body,
        clock_ahead_s=root.clock_ahead_s, received_at=fact.received_at,
    )  # fmt: skip


def in_done_order(facts: Sequence[Fact]) -> list[Fact]:
    """By day and time; facts of one device keep the order of its running number, whatever its
    clock did in between. Rows of a file (no device) keep the file's order within equal times."""
    ordered = sorted(facts, key=lambda fact: (fact.day, done_at(fact), fact.n, fact.seq))
    places: dict[Any, list[int]] = {}
    for place, fact in enumerate(ordered):
        if fact.device is not None:
            places.setdefault((fact.day, fact.device), []).append(place)
    result = list(ordered)
    for group in places.values():
        by_number = sorted((ordered[place] for place in group), key=lambda fact: fact.n)
        for place, fact in zip(group, by_number, strict=True):
            result[place] = fact
    return result


def _days_out_of_order(ordered: Sequence[Fact]) -> set[Any]:
    """Days whose times contradict their order: a clock was moved, so the times say nothing."""
    return {
        after.day
        for before, after in pairwise(ordered)
        if before.day == after.day and done_at(after) < done_at(before)
    }
