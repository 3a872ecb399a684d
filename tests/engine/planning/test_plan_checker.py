"""The checker is no rubber stamp: planted faults are found."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from small_gym import lifter, small_catalogue

from blockwright.engine.gym import Gym
from blockwright.engine.planning import QUICK, compose
from blockwright.engine.training import Block, Entry, Session, Week
from blockwright.files.policy_files import default_policy
from plan_checker import findings_of


@cache
def good() -> Block:
    return compose(
        lifter("mon 18:00 60", "tue 18:00 60", "fri 18:00 60", emphasis={"quads": "lead"}),
        small_catalogue(),
        default_policy(),
        budget=QUICK,
    )


def with_session(block: Block, week: int, change: Callable[[Session], Session]) -> Block:
    weeks = list(block.weeks)
    sessions = list(weeks[week].sessions)
    sessions[0] = change(sessions[0])
    weeks[week] = replace(weeks[week], sessions=tuple(sessions))
    return replace(block, weeks=tuple(weeks))


def with_entry(block: Block, week: int, change: Callable[[Entry], Entry]) -> Block:
    def changed(session: Session) -> Session:
        return replace(session, entries=(change(session.entries[0]), *session.entries[1:]))

    return with_session(block, week, changed)


def too_long(block: Block) -> Block:
    return with_session(block, 3, lambda s: replace(s, minutes_planned=61.0))


def no_kit(block: Block) -> Block:
    return replace(block, lifter=replace(block.lifter, gym=Gym(kit=frozenset(), unit="kg")))


def a_set_more(block: Block) -> Block:
    return with_entry(block, 2, lambda e: replace(e, sets=(*e.sets, e.sets[0])))


def backwards(block: Block) -> Block:
    def turned(session: Session) -> Session:
        entries = tuple(
            replace(entry, order=number)
            for number, entry in enumerate(reversed(session.entries), start=1)
        )
        return replace(session, entries=entries)

    return with_session(block, 1, turned)


def always_heavy(block: Block) -> Block:
    def heavier(session: Session) -> Session:
        return replace(session, entries=tuple(replace(e, zone="low") for e in session.entries))

    build = block.weeks[0]
    week = replace(build, sessions=tuple(heavier(session) for session in build.sessions))
    return replace(block, weeks=(week, *block.weeks[1:]))


def too_near_failure(block: Block) -> Block:
    def pushed(entry: Entry) -> Entry:
        return replace(entry, sets=tuple(replace(row, rir=0.0) for row in entry.sets))

    return with_entry(block, 0, pushed)


def hard_deload(block: Block) -> Block:
    return with_entry(block, -1, lambda e: replace(e, sets=(*e.sets,) * 3))


def without_its_reasons(block: Block) -> Block:
    weeks = tuple(
        replace(
            week,
            muscle_sets={m: replace(sets, floor=99.0) for m, sets in week.muscle_sets.items()},
        )
        for week in block.weeks
    )
    return replace(block, weeks=weeks)


def steep(block: Block) -> Block:
    def raised(week: Week) -> Week:
        sets = {m: replace(s, fractional=s.fractional + 3) for m, s in week.muscle_sets.items()}
        return replace(week, muscle_sets=sets)

    weeks = list(block.weeks)
    weeks[4] = raised(weeks[4])
    return replace(block, weeks=tuple(weeks))


def test_a_good_block_has_no_findings() -> None:
    assert findings_of(good(), small_catalogue(), default_policy()) == []


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (too_long, "61.0 min in a slot of 60"),
        (no_kit, "needs"),
        (a_set_more, "the block says"),
        (backwards, "before"),
        (always_heavy, "2 low and 0 higher exposures"),
        (too_near_failure, "RIR"),
        (hard_deload, "deload"),
        (without_its_reasons, "below the floor and no reason"),
        (steep, "climbs by"),
    ],
)
def test_planted_faults_are_found(fault: Callable[[Block], Block], words: str) -> None:
    found = findings_of(fault(good()), small_catalogue(), default_policy())
    assert any(words in says for says in found), found
