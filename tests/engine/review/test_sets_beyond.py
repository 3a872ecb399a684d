"""Where one set beyond the print goes, and which limit says that none does: one week in which
everything grew, told otherwise one thing at a time."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest
from small_block import (
    CATALOGUE,
    Truth,
    grows,
    log_of,
    monday,
    small_block,
    small_lifter,
    sunday,
)

from blockwright.engine.review import Review, review
from blockwright.engine.training import Block, Emphasis, Entry, Session
from blockwright.files.policy_files import default_policy
from studies.cases import case_of

POLICY = default_policy()
STRONGER = grows(2)
GROWS = Truth(level=STRONGER)
MONDAY, WEDNESDAY, FRIDAY = 1, 2, 3
BENCH, PRESS = "bench press", "chest press"


def found(block: Block, truth: Truth = GROWS, **policy: float) -> Review:
    """The letter after the second week, chest the lead unless the block says otherwise."""
    keys = {key.replace("__", "."): value for key, value in policy.items()}
    rules = POLICY.overridden(keys, "coach") if keys else POLICY
    return review(case_of(block, log_of(block, truth, sunday(2)), (), CATALOGUE, rules), sunday(2))


def gained(said: Review) -> list[tuple[int | None, str | None]]:
    return [(p.session, p.lift) for p in said.proposals if p.kind == "add_set"]


def stays(said: Review, muscle: str) -> list[str]:
    return [stay.why.code for stay in said.stays if stay.muscle == muscle]


def changed(change: Callable[[int, Session, Entry], Entry], block: Block | None = None) -> Block:
    """The block with each entry as `change` makes it of week, session and entry."""
    whole = small_block() if block is None else block
    weeks = (
        replace(
            week,
            sessions=tuple(
                replace(s, entries=tuple(change(week.week, s, e) for e in s.entries))
                for s in week.sessions
            ),
        )
        for week in whole.weeks
    )
    return replace(whole, weeks=tuple(weeks))


def full(*numbers: int) -> Block:
    """These sessions leave no minute."""
    block = small_block()
    weeks = (
        replace(
            week,
            sessions=tuple(
                replace(s, minutes_available=int(s.minutes_planned) + 1)
                if s.session in numbers
                else s
                for s in week.sessions
            ),
        )
        for week in block.weeks
    )
    return replace(block, weeks=tuple(weeks))


def with_sets(lift: str, count: int, week: int | None = None, session: int | None = None) -> Block:
    def change(number: int, s: Session, entry: Entry) -> Entry:
        here = entry.lift == lift and week in (None, number) and session in (None, s.session)
        return replace(entry, sets=entry.sets[:1] * count) if here else entry

    return changed(change)


def paired(lift: str, other: str) -> Block:
    return changed(
        lambda _week, session, entry: (
            replace(entry, pair="A", method="superset")
            if session.session == MONDAY and entry.lift in (lift, other)
            else entry
        )
    )


def ceiling(muscle: str, sets: float) -> Block:
    block = small_block()
    weeks = (
        replace(
            week,
            muscle_sets=week.muscle_sets
            | {muscle: replace(week.muscle_sets[muscle], ceiling=sets)},
        )
        for week in block.weeks
    )
    return replace(block, weeks=tuple(weeks))


def led(**emphasis: Emphasis) -> Block:
    return small_block(small_lifter(emphasis=emphasis))


def weak(lift: str) -> Truth:
    """The lift fell a tenth in the week reviewed, all else grew."""

    def level(day: date, name: str) -> float:
        return 0.9 if name == lift and day >= monday(2) else STRONGER(day, name)

    return replace(GROWS, level=level)


@pytest.mark.parametrize(
    ("block", "gains"),
    [
        (small_block(), [(MONDAY, BENCH)]),
        (full(MONDAY), [(FRIDAY, BENCH)]),
        (full(MONDAY, FRIDAY), [(WEDNESDAY, PRESS)]),
        (full(WEDNESDAY, FRIDAY), [(MONDAY, BENCH)]),
        (with_sets(BENCH, 4), [(WEDNESDAY, PRESS)]),
        (with_sets(BENCH, 2, session=MONDAY), [(MONDAY, BENCH)]),
        # The print adds one there already.
        (with_sets(BENCH, 4, week=3, session=MONDAY), [(FRIDAY, BENCH)]),
        # Done in turn with another, which would gain one too.
        (paired(BENCH, "row"), [(FRIDAY, BENCH)]),
        (paired(BENCH, "dumbbell curl"), [(FRIDAY, BENCH)]),
        (ceiling("triceps", 5.0), [(MONDAY, BENCH)]),
        (led(chest="lead", triceps="hold"), [(MONDAY, BENCH)]),
        (led(upper_back="lead"), [(MONDAY, "row")]),
        (led(quads="lead", chest="hold"), [(WEDNESDAY, "squat")]),
        (led(chest="lead", quads="lead"), [(MONDAY, BENCH), (WEDNESDAY, "squat")]),
        (led(chest="hold"), []),
        (led(), []),
    ],
)
def test_one_set_goes_where_it_disturbs_least(block: Block, gains: list[tuple[int, str]]) -> None:
    assert sorted(gained(found(block))) == gains


@pytest.mark.parametrize(
    ("block", "muscle", "why"),
    [
        (full(MONDAY, WEDNESDAY, FRIDAY), "chest", "no_minutes"),
        (with_sets(BENCH, 6), "chest", "lift_full"),
        (with_sets(BENCH, 5, week=3, session=MONDAY), "chest", "ramp_full"),
        (ceiling("chest", 9.0), "chest", "at_the_ceiling"),
        # A by-product, too, is counted: half a set of triceps to each of chest.
        (ceiling("triceps", 4.9), "chest", "at_the_ceiling"),
        (led(upper_back="lead", lats="hold"), "upper_back", "other_muscle_not_recovered"),
    ],
)
def test_a_limit_that_lets_no_set_in_is_named(block: Block, muscle: str, why: str) -> None:
    said = found(block)
    assert (gained(said), stays(said, muscle)) == ([], [why])


@pytest.mark.parametrize(
    ("truth", "gains", "why"),
    [
        (weak(PRESS), [], ["other_lift_down"]),
        (weak("squat"), [(MONDAY, BENCH)], []),
        (replace(GROWS, full_range=lambda _, lift: lift != BENCH), [(WEDNESDAY, PRESS)], []),
        (replace(GROWS, full_range=lambda _, lift: lift != PRESS), [(MONDAY, BENCH)], []),
        (replace(GROWS, does=lambda day, lift: lift != PRESS or day < monday(2)), [],
         ["sets_left_undone"]),
        (replace(GROWS, pain=lambda day, lift: 3.0 if lift == BENCH and day >= monday(2) else None),
         [], ["lead_in_pain"]),
    ],
)  # fmt: skip
def test_a_lift_that_does_not_go_well_gains_none_nor_lets_its_muscle(
    truth: Truth, gains: list[tuple[int, str]], why: list[str]
) -> None:
    said = found(small_block(), truth)
    assert (gained(said), stays(said, "chest")) == (gains, why)


@pytest.mark.parametrize(
    ("policy", "gains"),
    [
        ({"review__sets__most_muscles": 1}, 1),
        ({"review__sets__most_muscles": 2}, 2),
        ({"ramp__sets_per_week": 0.5}, 0),
        ({"planning__sets_most": 3}, 0),
        ({"review__sets__overshoot_cost": 1.0}, 0),
    ],
)
def test_a_coach_may_say_how_many_muscles_gain_and_from_where(
    policy: dict[str, float], gains: int
) -> None:
    assert len(gained(found(led(chest="lead", quads="lead"), **policy))) == gains


def test_no_set_is_added_that_a_later_week_would_take_off_again() -> None:
    block = small_block()
    places = gained(found(block))
    assert places
    tight = replace(block, weeks=tuple(
        replace(week, sessions=tuple(
            replace(s, minutes_available=int(s.minutes_planned) + 1) for s in week.sessions))
        if week.week > 3 and week.kind == "build" else week for week in block.weeks))  # fmt: skip
    printed = {(s.session, e.lift): len(e.sets) for s in block.weeks[2].sessions for e in s.entries}
    after = {(s.session, e.lift): len(e.sets) for s in block.weeks[3].sessions for e in s.entries}
    stay = [place for place in places if after[place] > printed[place]]
    assert gained(found(tight)) == stay
