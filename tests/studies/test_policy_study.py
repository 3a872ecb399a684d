"""A slice of the comparison of policies: it plays, it repeats, and its counts add up.

It does not ask that the review wins; the long study is in docs/validation.md.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import pytest

from blockwright.engine.training import MUSCLES, Block, Slot
from blockwright.files.catalogue import builtin_catalogue
from studies.policy_scores import (
    MEASURES,
    LivedWeek,
    Played,
    answered,
    declines,
    difference_table,
    score_table,
)
from studies.policy_study import TRUTHS, Truth, composed, trained
from studies.policy_ways import WAYS, plus_one
from studies.simulate_block import HardLife, trial_lifter
from studies.worlds import WORLDS

WEEKS, LIFTERS = 3, 3
EVENINGS = tuple(Slot(day=day, start_minute=1080, minutes=45) for day in ("mon", "thu"))


@cache
def block() -> Block:
    return composed([replace(trial_lifter(WEEKS), slots=EVENINGS)])[0]


@cache
def slice_of_ways() -> Mapping[str, tuple[Played, ...]]:
    return {
        way.name: trained(way, [block()], TRUTHS[1], WORLDS[-1], lifters=LIFTERS, seed=7)
        for way in WAYS
    }


def measured(says: str, played: Played) -> float:
    measure = next(measure for measure in MEASURES if measure.says == says)
    hits, whole = measure.count(played)
    return measure.times * hits / whole


@pytest.mark.parametrize("name", ["fixed plan", "plus one set a week"])
def test_a_way_without_a_review_proposes_nothing(name: str) -> None:
    assert all(not played.proposed for played in slice_of_ways()[name])


def test_two_for_two_decides_loads_alone() -> None:
    """Its sets are the fixed plan's, week by week; what it did propose is about loads."""
    ways = slice_of_ways()
    for ruled, fixed in zip(ways["two-for-two"], ways["fixed plan"], strict=True):
        assert [week.sets for week in ruled.weeks] == [week.sets for week in fixed.weeks]
        assert ruled.proposed
        assert all(kind.endswith("_load") for _, kind, _ in ruled.proposed)


def test_the_review_decides_sets_too() -> None:
    """In five weeks: in the first ones every lift's one change a week is its load."""
    longer = composed([replace(trial_lifter(5), slots=EVENINGS)])
    ours = next(way for way in WAYS if way.name == "our review")
    group = trained(ours, longer, TRUTHS[1], WORLDS[-1], lifters=LIFTERS, seed=7)
    kinds = {kind for played in group for _, kind, _ in played.proposed}
    assert "add_set" in kinds
    assert kinds & {"raise_load", "lower_load"}


def test_every_way_has_the_same_lifters_and_the_same_first_week() -> None:
    """Paired: the same ceilings, the same first week, the same luck in it."""
    first, *others = slice_of_ways().values()
    for group in others:
        for mine, theirs in zip(first, group, strict=True):
            assert mine.person.ceilings == theirs.person.ceilings
            assert mine.weeks[0] == theirs.weeks[0]


def test_every_block_ends_with_its_deload() -> None:
    for name, group in slice_of_ways().items():
        for played in group:
            assert played.weeks[-1].kind == "deload"
            assert all(week.kind == "build" for week in played.weeks[:-1])
            if name != "our review":
                assert len(played.builds) == WEEKS


def test_under_within_and_over_make_all_muscle_weeks() -> None:
    for group in slice_of_ways().values():
        for played in group:
            shares = [
                measured("muscle-weeks under the floor, %", played),
                measured("muscle-weeks in the productive band, %", played),
                measured("overshoots: muscle-weeks over the true ceiling, %", played),
            ]
            # a ceiling under the floor makes some weeks both under and over
            both = any(ceiling < 4.0 for ceiling in played.person.ceilings.values())
            assert sum(shares) >= 100 - 1e-9 if both else sum(shares) == pytest.approx(100)


def test_plus_one_adds_a_direct_set_to_every_trained_muscle() -> None:
    lifts = builtin_catalogue().lifts

    def direct(week_at: int, muscle: str) -> int:
        week = plus_one(block(), builtin_catalogue()).weeks[week_at]
        entries = [entry for session in week.sessions for entry in session.entries]
        return sum(len(e.sets) for e in entries if muscle in lifts[e.lift].direct)

    for muscle in MUSCLES:
        if direct(0, muscle):
            assert direct(1, muscle) >= direct(0, muscle) + 1
            assert direct(2, muscle) >= direct(1, muscle) + 1


def test_the_same_seed_gives_the_same_block() -> None:
    way = WAYS[1]
    again = trained(way, [block()], TRUTHS[1], WORLDS[-1], lifters=LIFTERS, seed=7)
    assert [p.weeks for p in again] == [p.weeks for p in slice_of_ways()[way.name]]


def test_the_tables_have_a_cell_for_every_way_and_measure() -> None:
    ways = slice_of_ways()
    scores, differences = score_table(ways).splitlines(), difference_table(ways).splitlines()
    assert len(scores) == len(differences) == len(MEASURES) + 2
    assert {row.count("|") for row in scores} == {len(ways) + 2}
    assert {row.count("|") for row in differences} == {len(ways) + 1}


def test_a_decline_begins_once_and_again_only_after_recovery() -> None:
    assert declines([0.0, 0.0, 0.035, 0.05, 0.01, 0.04]) == (2, 5)
    assert declines([0.0, 0.029]) == ()


def lived(number: int, sets: float, kind: str = "build") -> LivedWeek:
    return LivedWeek(
        number=number,
        kind=kind,
        sets={"chest": sets},
        capacity={},
        weighed_down=frozenset(),
        strength={},
    )


def test_an_answer_is_fewer_sets_or_a_deload_in_time() -> None:
    person = slice_of_ways()["fixed plan"][0].person

    def told(*weeks: LivedWeek) -> Played:
        return Played(person=person, weeks=weeks, proposed=())

    kept = told(lived(1, 10), lived(2, 10), lived(3, 11), lived(4, 4, "deload"))
    assert not answered(kept, 0, "chest")
    assert answered(kept, 1, "chest")
    trimmed = told(lived(1, 10), lived(2, 9), lived(3, 9))
    assert answered(trimmed, 0, "chest")
    assert not answered(trimmed, 0, None)


def test_the_hidden_law_is_logistic_in_sets() -> None:
    """Even chances at the ceiling; the cost beyond it grows with the excess."""
    truth, life = Truth(name="plain"), HardLife()
    assert truth.carried_over(12.0, 12.0, 0.499, life) == pytest.approx(truth.least_cost)
    assert truth.carried_over(12.0, 12.0, 0.501, life) == 0.0
    assert truth.carried_over(24.0, 12.0, 0.5, life) == pytest.approx(
        truth.least_cost + life.cost_of_overshoot
    )
    assert truth.carried_over(0.0, 12.0, 0.01, life) == 0.0
