"""A stored lifter with a whole composed block, for tests of the desk: the fixed block, moved to
the start a test wants, and a log of what was planned in its first days."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import uuid4

from blockwright.accounts.models import User
from blockwright.engine.training import Block, Moment, SetDone
from blockwright.files.block_json import block_to_json
from blockwright.files.json_text import plain
from blockwright.files.lifter_file import lifter_to_table
from blockwright.store.blocks import add_revision
from blockwright.store.convert import set_body
from blockwright.store.facts import append_all
from blockwright.store.models import Fact, Lifter, Share
from planned_people import fixed_block
from when import noon_of


def block_from(start: date) -> Block:
    """The fixed block, begun on another Monday."""
    block = fixed_block()
    moved = start - block.start
    weeks = tuple(
        replace(week, sessions=tuple(replace(s, day=s.day + moved) for s in week.sessions))
        for week in block.weeks
    )
    return replace(block, start=start, lifter=replace(block.lifter, start=start), weeks=weeks)


def store(block: Block, coach: User | None = None, made: date | None = None) -> Lifter:
    """The block's lifter as a row, with the block as its first revision, made on the Friday before
    its start unless told otherwise."""
    lifter = Lifter.objects.create(
        name=block.lifter.name, document=dict(plain(lifter_to_table(block.lifter)))
    )
    if coach is not None:
        Share.objects.create(person=coach, lifter=lifter, kind=Share.COACH)
    with noon_of(block.start - timedelta(days=3) if made is None else made):
        add_revision(lifter, dict(plain(block_to_json(block))), coach)
    return lifter


def log(row: Lifter, block: Block, through: date, load_kg: float = 40.0) -> None:
    """Every planned set up to `through`, done as planned and logged."""
    facts: list[Fact] = []
    for week in block.weeks:
        for session in week.sessions:
            for entry in session.entries if session.day <= through else ():
                for number, planned in enumerate(entry.sets, 1):
                    done = _done(session.day, entry.lift, number, planned, load_kg)
                    facts.append(_fact(done, len(facts)))
    append_all(facts, row, None, datetime(2026, 1, 1, tzinfo=UTC))


def hurt(row: Lifter, day: date, pains: Mapping[str, float]) -> None:
    """A set of each lift on `day`, with so much pain."""
    planned = fixed_block().weeks[0].sessions[0].entries[0].sets[0]
    sets = [replace(_done(day, lift, 1, planned, 40.0), pain=p) for lift, p in pains.items()]
    facts = [_fact(done, n) for n, done in enumerate(sets)]
    append_all(facts, row, None, datetime(2026, 1, 1, tzinfo=UTC))


def _done(day: date, lift: str, number: int, planned: Any, load_kg: float) -> SetDone:
    load = planned.load_kg or load_kg
    return SetDone(
        moment=Moment(day=day), lift=lift, set_number=number, loads_kg=(load,),
        entered_load=f"{load:g}", entered_unit="kg", reps=(planned.reps_high - number % 2,),
        rir_low=planned.rir, rir_high=planned.rir,
    )  # fmt: skip


def _fact(done: SetDone, n: int) -> Fact:
    key = uuid4()
    return Fact(
        id=key, kind="set", day=done.moment.day, at=None, body=set_body(done), digest=key.hex, n=n
    )


def monday_of(day: date) -> date:
    return day - timedelta(days=day.weekday())
