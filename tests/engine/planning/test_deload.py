"""Deload arithmetic, as design.md and engine.md state it."""

from datetime import date
from itertools import product

import pytest
from small_gym import FULL_KIT, small_catalogue

from blockwright.engine.gym import Gym, Ladder
from blockwright.engine.planning.deload import eased_load_kg, eased_set
from blockwright.engine.planning.deload_two_part import (
    _spread,
    deload_sessions_for,
    half_load_kg,
    halved,
    merged,
)
from blockwright.engine.training import Entry, Lift, RepRange, Session, SetPlan
from blockwright.files.policy_files import default_policy

GYM = Gym(kit=FULL_KIT, unit="kg")


def entry(sets: int, low: int, high: int, load_kg: float | None = 90.0) -> Entry:
    row = SetPlan(load_kg=load_kg, reps_low=low, reps_high=high, rir=1.0)
    return Entry(order=1, lift="barbell back squat", method="straight", rest_s=180,
                 sets=(row,) * sets)  # fmt: skip


@pytest.mark.parametrize(
    ("before", "after"), [(1, 1), (2, 2), (3, 2), (4, 2), (5, 3), (6, 3), (7, 4), (9, 5), (14, 7)]
)
def test_about_half_as_many_sessions(before: int, after: int) -> None:
    """design.md: 9 to 5, 6 to 3, 4 to 2, 3 to 2, 2 to 2."""
    assert deload_sessions_for(before) == after
    groups = merged(before, after)
    assert len(groups) == after
    assert [i for group in groups for i in group] == list(range(before))


def test_the_days_of_two_parts_lie_apart_before_they_are_long() -> None:
    """Thursday and Friday in a row were the second half of a week of six."""
    week = [Session(session=n + 1, day=date(2027, 1, 4 + n), start_time="17:00", entries=(),
                    minutes_available=minutes, minutes_planned=0.0)
            for n, minutes in enumerate((90, 75, 75, 90, 75, 75))]  # fmt: skip
    homes = max(product(*merged(6, 3)), key=lambda chosen: _spread([week[i] for i in chosen]))
    assert homes == (0, 3, 5)


@pytest.mark.parametrize(("sets", "kept"), [(2, 1), (3, 2), (4, 2), (5, 3)])
def test_sets_are_halved_and_rounded_up(sets: int, kept: int) -> None:
    assert len(halved(entry(sets, 8, 12)).sets) == kept


@pytest.mark.parametrize(("reps", "kept"), [(12, 6), (5, 3), (8, 4), (15, 8)])
def test_repetitions_are_halved_and_rounded_up(reps: int, kept: int) -> None:
    row = halved(entry(3, reps, reps)).sets[0]
    assert (row.reps_low, row.reps_high) == (kept, kept)


def test_the_worked_example() -> None:
    """engine.md part 5: 4 x 12 at 90 kg becomes 2 x 6 at 90 kg, then 2 x 6 at 45 kg (common
    practice, no source)."""
    half = halved(entry(4, 12, 12))
    assert [(row.load_kg, row.reps_low) for row in half.sets] == [(90.0, 6), (90.0, 6)]
    assert half.sets[0].rir == 5
    squat = small_catalogue().lifts["barbell back squat"]
    assert half_load_kg(squat, 90.0, GYM, 80.0, default_policy()) == 45.0


def test_a_bar_alone_when_half_is_less() -> None:
    squat = small_catalogue().lifts["barbell back squat"]
    assert half_load_kg(squat, 30.0, GYM, 80.0, default_policy()) == 20.0


def bodyweight_lift(kind: str) -> Lift:
    return Lift(
        name="pull", muscles={"lats": 1.0}, pattern="vertical pull", kit=("pull-up bar",), axial=0,
        load_kind=kind,  # type: ignore[arg-type]
        bodyweight_share=1.0, role="main", family="pull", stability="free",
        fatigue_group="pull", setup_s=20, seconds_per_rep=3.0,
        reps={"mid": RepRange(low=8, high=15)}, standard="full hang",
    )  # fmt: skip


def test_bodyweight_stays_bodyweight() -> None:
    pull = bodyweight_lift("bodyweight_plus")
    assert half_load_kg(pull, 0.0, GYM, 80.0, default_policy()) == 0.0
    assert half_load_kg(pull, 20.0, GYM, 80.0, default_policy()) == 0.0, "half of 100 kg"


def test_an_assisted_lift_takes_more_assistance_where_the_machine_has_it() -> None:
    pull = bodyweight_lift("assisted")
    machine = Gym(
        kit=FULL_KIT,
        unit="kg",
        stacks={"pull": Ladder(low=5, high=60, step=5, unit="kg")},
    )
    # 80 kg less 20 kg is 60 effective; half of it leaves 30, so 50 kg of help
    assert half_load_kg(pull, 20.0, machine, 80.0, default_policy()) == 50.0


def test_without_a_load_there_is_none_in_the_deload() -> None:
    assert halved(entry(3, 8, 12, None)).sets[0].load_kg is None


@pytest.mark.parametrize(("load_kg", "eased_kg"), [(90.0, 87.5), (22.5, 20.0), (20.0, 20.0)])
def test_a_deload_of_half_the_sets_goes_one_step_down(load_kg: float, eased_kg: float) -> None:
    """coach.md 1, rule 9: one kit step or 10 % below, whichever is nearer."""
    squat = small_catalogue().lifts["barbell back squat"]
    assert eased_load_kg(squat, load_kg, GYM, default_policy()) == eased_kg


def test_small_steps_of_the_kit_are_taken_as_ten_percent_at_most() -> None:
    leg_press = small_catalogue().lifts["leg press"]
    machine = Gym(
        kit=FULL_KIT, unit="kg", stacks={"leg press": Ladder(low=20, high=300, step=20, unit="kg")}
    )
    assert eased_load_kg(leg_press, 100.0, machine, default_policy()) == 80.0


@pytest.mark.parametrize(
    ("printed", "easy"),
    [((90.0, 8, 12), (87.5, 6, 6)), ((90.0, 6, 8), (87.5, 3, 3)), ((20.0, 8, 12), (20.0, 5, 5))],
)
def test_a_deload_asks_for_repetitions_that_leave_five(
    printed: tuple[float, int, int], easy: tuple[float, int, int]
) -> None:
    """Of somebody who ends the last week's range with its one left; coach.md 1, rule 9."""
    load_kg, low, high = printed
    squat = small_catalogue().lifts["barbell back squat"]
    row = eased_set(squat, entry(3, low, high, load_kg).sets[0], GYM, 80.0, default_policy())
    assert (row.load_kg, row.reps_low, row.reps_high) == easy
