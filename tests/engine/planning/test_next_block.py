"""The block after a block: an invented person trains the first as printed, a little stronger every
week; the next one carries on from it."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import pytest

from blockwright.engine.editing import Closed, EditContext, rest_solved
from blockwright.engine.gym import Gym, Ladder
from blockwright.engine.planning import QUICK, frame_of
from blockwright.engine.rack import rack_for
from blockwright.engine.review.next_block import _twins, stepped_down
from blockwright.engine.training import Block, SetDone, Week
from blockwright.files.catalogue import builtin_catalogue, catalogue_for
from blockwright.files.policy_files import block_policy, default_policy
from blockwright.files.words import reason_says
from blockwright.verbs.compose_block import composed
from planned_people import logged, planned
from studies.continuity_study import compared, first_loads, person_as_logged, train
from studies.simulate_block import Person


@cache
def trained(key: str) -> Person:
    person = person_as_logged(0, planned(key), list(logged(key)))
    train(person)
    return person


@cache
def following(key: str, sets: tuple[SetDone, ...] | None = None) -> tuple[Block, Block]:
    person = trained(key)
    before = person.block
    start: date = before.start + timedelta(weeks=len(before.weeks))
    lifter = replace(before.lifter, start=start, name=planned(key).lifter.name)
    facts = person.sets if sets is None else sets
    return before, composed(lifter, list(facts), previous=before, budget=QUICK)


KEY = "full_body_logged"


def test_lifts_come_back_and_each_that_leaves_is_named() -> None:
    before, after = following(KEY)
    turn = compared(KEY, 2, before, after)
    assert len(turn.back) >= 0.7 * (len(turn.back) + len(turn.gone))
    assert turn.unsaid == []


def test_starting_loads_follow_strength() -> None:
    """After +7 % no lift begins below where the block before began, wide steps or not; with
    plates most begin above it."""
    before, after = following(KEY)
    old, new = first_loads(before), first_loads(after)
    both = [key for key in old if key in new]
    assert len(both) >= 5
    assert [key for key in both if new[key] < old[key]] == []
    turn = compared("powerlifter", 2, *following("powerlifter"))
    assert turn.compared >= 4
    assert turn.heavier >= 0.6 * turn.compared


@pytest.mark.parametrize(
    ("step", "began", "starts"), [(2, 10, 30), (4, 10, 32), (2, 30, 32), (2, 28, 30)]
)
def test_a_block_starts_one_small_step_lower(step: int, began: float, starts: float) -> None:
    """A wide step of the dumbbells is not taken down, nor one to where the last block began."""
    dumbbells = (Ladder(low=4, high=40, step=step, unit="kg"),)
    gym = Gym(kit=frozenset({"dumbbells"}), unit="kg", dumbbells=dumbbells)
    rack = rack_for(builtin_catalogue().lifts["goblet squat"], gym, default_policy())
    assert stepped_down(rack, 32, 1, began, 0.08 * 32) == starts


def test_without_a_log_the_frame_of_the_block_before_comes_back() -> None:
    """A lifter who logged nothing keeps which patterns stand on which day."""
    before = planned("knee_limit")
    lifter = replace(before.lifter, start=before.start + timedelta(weeks=len(before.weeks)))
    moved = moved_days(before)
    after = composed(lifter, previous=moved, budget=QUICK)
    known = catalogue_for(lifter)
    kept, had = (
        {(day, basic) for day, basics in frame_of(one, known).roles.items() for basic in basics}
        for one in (after, moved)
    )
    assert len(kept & had) >= 0.8 * len(had)


def moved_days(block: Block) -> Block:
    """The block as a coach turned it round: the first day's lifts on the last day, and back."""

    def turned(week: Week) -> Week:
        first, *others, last = week.sessions
        swapped = [replace(a, entries=b.entries) for a, b in ((first, last), (last, first))]
        return replace(week, sessions=(swapped[0], *others, swapped[1]))

    return replace(block, weeks=tuple(map(turned, block.weeks)))


def test_an_easy_deload_is_not_read_as_a_lift_that_stands_still() -> None:
    """Every lift gained one per cent a week; in the deload most stopped far too early."""
    person = trained(KEY)
    deload: date = person.block.weeks[-1].sessions[0].day
    lazy = tuple(
        replace(done, reps=(max(done.first_reps - 4, 1),)) if done.moment.day >= deload else done
        for done in person.sets
    )
    _, after = following(KEY, lazy)
    usual = {r.facts["lift"] for r in following(KEY)[1].reasons if r.code == "next_block_stale"}
    stale = {r.facts["lift"] for r in after.reasons if r.code == "next_block_stale"}
    assert stale <= usual, [reason_says(r) for r in after.reasons if r.code == "next_block_stale"]


def test_solving_the_rest_of_an_untouched_block_moves_hardly_a_lift() -> None:
    block = planned("trained_six_days")
    known = EditContext(
        catalogue=catalogue_for(block.lifter),
        policy=block_policy(block),
        closed=Closed(today=block.start),
    )
    new = rest_solved(block, known, facts=logged("trained_six_days"))
    was, now = (
        {(s.session, e.lift) for s in one.weeks[-2].sessions for e in s.entries}
        for one in (block, new)
    )
    assert len(was & now) >= 0.8 * len(was)


def test_what_stood_still_does_not_come_back_as_its_twin() -> None:
    """A stiff-leg deadlift in the place of a romanian one: the same movement, without a history."""
    known = builtin_catalogue()
    hinge = known.lifts["romanian deadlift"]
    stale = _twins(hinge, known, ["dumbbell romanian deadlift"], hurts=False)
    assert "stiff-leg deadlift" in stale
    assert "dumbbell romanian deadlift" not in stale
    press = known.lifts["bench press"]
    other = _twins(press, known, [], hurts=False)
    assert {known.lifts[name].angle for name in other} <= {press.angle}
    assert len(_twins(press, known, [], hurts=True)) >= len(other)
