"""Warm-up ladders rise, stay below the work and can be loaded; so do tries that find a load."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rack_brute_force import rack_of, some_gym
from test_rack_kit import HOME, POLICY, lift

from blockwright.engine.gym import Gym, Ladder
from blockwright.engine.rack import FindingWay, Rack, WarmupSet, bar_rack, rack_for
from blockwright.engine.rack import warmup_ladder as ladder_of
from blockwright.engine.rack.plates import moves_between
from blockwright.engine.training import Lift, SetPlan

ONE_KG_STEPS = Ladder(low=1, high=40, step=1, unit="kg")
COMMERCIAL = Gym(kit=frozenset({"bar"}), unit="kg")


def loads(ladder: tuple[WarmupSet, ...]) -> list[float]:
    return [each.load_kg for each in ladder]


def moves(ladder: tuple[WarmupSet, ...], rack: Rack, work_kg: float) -> int:
    work = rack.exactly(work_kg)
    assert work is not None
    stops = [{}, *(each.plates_per_side for each in ladder), work.plates_per_side]
    return sum(moves_between(one or {}, other or {}) for one, other in pairwise(stops))


@settings(deadline=None, derandomize=True, max_examples=80)
@given(data=st.data())
def test_ladders_rise_below_the_work_and_can_be_made(data: st.DataObject) -> None:
    gym = data.draw(some_gym("kg", "lb"))
    rack = rack_of(gym)
    work = rack.at_most(data.draw(st.floats(0, 300)))
    if work is None:
        return
    compound, warm = data.draw(st.booleans()), data.draw(st.booleans())
    ladder = ladder_of(rack, work.load_kg, lift("bar", compound=compound), POLICY, warm=warm)
    assert all(one < other for one, other in pairwise([*loads(ladder), work.load_kg]))
    assert all(one.reps >= other.reps for one, other in pairwise(ladder))
    for each in ladder:
        assert rack.exactly(each.load_kg) == each.setting
        assert each.setting.bar == work.bar


def test_a_ladder_has_three_rungs_at_most_the_bar_among_them_where_it_is_near() -> None:
    """Common practice, no source: about 40, 65 and 85 %."""
    rack = bar_rack(COMMERCIAL, POLICY)
    ladder = ladder_of(rack, 100, None, POLICY)
    assert [(each.load_kg, each.reps) for each in ladder] == [(40, 8), (65, 5), (85, 2)]
    ladder = ladder_of(rack, 60, None, POLICY)
    assert [(each.load_kg, each.reps) for each in ladder] == [(20, 10), (37.5, 5), (50, 2)]
    for load in (60, 70, 82.5, 95, 111, 140, 180, 240):
        ladder = ladder_of(rack, load, None, POLICY)
        assert len(ladder) == 3
        assert ladder[-1].load_kg <= 0.9 * load


def test_light_loads_get_fewer_rungs() -> None:
    rack = bar_rack(COMMERCIAL, POLICY)
    counts = [len(ladder_of(rack, load, None, POLICY)) for load in (20, 25, 40, 60, 100)]
    assert counts == sorted(counts)
    assert counts[0] == 0
    assert counts[-1] == 3


@pytest.mark.parametrize(("load_kg", "count"), [(5, 0), (8, 1), (16, 2), (24, 3)])
def test_a_light_dumbbell_has_few_rungs(load_kg: float, count: int) -> None:
    gym = Gym(kit=frozenset({"dumbbells"}), unit="kg", dumbbells=(ONE_KG_STEPS,))
    pair = lift("dumbbells", kind="per_hand")
    assert len(ladder_of(rack_for(pair, gym, POLICY), load_kg, pair, POLICY)) == count


@pytest.mark.parametrize(
    ("added", "warm", "count"), [(7.5, False, 1), (7.5, True, 0), (0, False, 0)]
)
def test_the_body_alone_comes_before_a_small_load_on_it(
    added: float, warm: bool, count: int
) -> None:
    pull_up = lift("pull-up bar", "plates", kind="bodyweight_plus")
    gym = Gym(kit=frozenset({"pull-up bar", "plates", "bar"}), unit="kg")
    rack = rack_for(pull_up, gym, POLICY)
    ladder = ladder_of(rack, added, pull_up, POLICY, warm=warm, bodyweight_kg=80.0)
    assert [(each.load_kg, each.reps) for each in ladder] == [(0.0, 5)] * count


def test_later_lifts_for_warm_muscles_and_single_joint_lifts_get_fewer() -> None:
    rack = bar_rack(COMMERCIAL, POLICY)
    cold = ladder_of(rack, 100, lift("bar"), POLICY)
    warm = ladder_of(rack, 100, lift("bar"), POLICY, warm=True)
    single = ladder_of(rack, 100, lift("bar", compound=False), POLICY)
    assert (len(warm), len(single), len(cold)) == (1, 1, 3)
    assert ladder_of(rack, 100, lift("bar", compound=False), POLICY, warm=True) == ()
    assert min(loads(warm)) >= 62


def test_plate_changes_are_saved_where_the_share_allows() -> None:
    """140 kg: rungs that reuse the twenties; sticking to the shares would move more plates."""
    rack = bar_rack(COMMERCIAL, POLICY)
    ladder = ladder_of(rack, 140, None, POLICY)
    strict = POLICY.overridden({"warmup.plate_move_worth": 0.0}, "coach")
    to_the_share = ladder_of(rack, 140, None, strict)
    assert len(ladder) == len(to_the_share)
    assert moves(ladder, rack, 140) < moves(to_the_share, rack, 140)


def test_bodyweight_lifts_warm_up_on_what_is_moved() -> None:
    pull_up = lift("pull-up bar", kind="bodyweight_plus")
    rack = rack_for(pull_up, HOME, POLICY)
    heavy = ladder_of(rack, 40, pull_up, POLICY, bodyweight_kg=80)
    assert [(each.load_kg, each.reps) for each in heavy] == [(0, 5), (20, 2)]
    assert ladder_of(rack, 0, pull_up, POLICY, bodyweight_kg=80) == ()
    assert ladder_of(rack, 0, pull_up, POLICY) == ()
    assert loads(ladder_of(rack, 40, pull_up, POLICY)) == [0]


def test_assisted_lifts_warm_up_with_more_assistance() -> None:
    assisted = lift("assisted pull-up", kind="assisted")
    rack = rack_for(assisted, HOME, POLICY)
    known = loads(ladder_of(rack, 20, assisted, POLICY, bodyweight_kg=80))
    assert known == sorted(known, reverse=True)
    assert known
    assert min(known) > 20
    assert loads(ladder_of(rack, 20, assisted, POLICY)) == [25]


def test_a_landmine_starts_with_its_bar() -> None:
    press = lift("landmine", "bar")
    ladder = ladder_of(rack_for(press, HOME, POLICY), 60, press, POLICY)
    assert loads(ladder)[0] == 20


def test_dumbbells_have_no_empty_rung() -> None:
    press = lift("dumbbells", kind="per_hand")
    ladder = ladder_of(rack_for(press, HOME, POLICY), 30, press, POLICY)
    assert loads(ladder)[0] >= 0.3 * 30


def way(rack: Rack, of: Lift, bodyweight_kg: float | None = 80.0, rir: float = 3.0) -> FindingWay:
    asked = SetPlan(load_kg=None, reps_low=8, reps_high=12, rir=rir)
    return FindingWay(rack, of, asked, POLICY, bodyweight_kg)


def test_finding_a_load_goes_far_while_each_try_is_far_too_light() -> None:
    found = way(bar_rack(COMMERCIAL, POLICY), lift("bar")).ladder()
    assert [each.load_kg for each in found.tries] == [20, 30, 45, 67.5]
    codes = [rule.code for rule in found.rules]
    assert codes[0] == "find_load_climb"
    assert {"find_load_step", "find_load_stop_effort", "find_load_stop_pain"} < set(codes)


@pytest.mark.parametrize(
    ("left", "tries", "then"),
    [
        (10, 1, (60, True)),
        (8, 1, (47.5, True)),
        (5, 1, (42.5, False)),
        (3.5, 1, (40, False)),
        (2, 1, (35, False)),
        (-3, 1, (35, False)),
        (10, 4, (60, False)),
        (8, 4, (47.5, False)),
        (5, 4, (42.5, False)),
    ],
)
def test_what_a_try_leaves_says_what_comes_next(
    left: float, tries: int, then: tuple[float, bool]
) -> None:
    found, goes_on = way(bar_rack(COMMERCIAL, POLICY), lift("bar")).after(40, left, tries)
    assert (found.load_kg, goes_on) == then


def test_a_coarse_kit_is_climbed_a_step_at_a_time_and_worked_with_never_above() -> None:
    """Dumbbells of 8, 10 and 12 kg: a try takes the next pair, five left do not."""
    press = way(rack_for(lift("dumbbells", kind="per_hand"), HOME, POLICY), lift("dumbbells"))
    least = press.rack.easiest.load_kg
    one_up = press.rack.next_harder(least)
    assert press.after(least, 8, 1) == (one_up, True)
    assert press.after(least, 5, 1) == (press.rack.easiest, False)
    assert press.after(least, 0, 1) == (press.rack.easiest, False)


def test_finding_assistance_falls_from_the_most_and_belts_grow_with_care() -> None:
    assisted = lift("assisted pull-up", kind="assisted")
    unlisted = replace(HOME, stacks={})
    for gym, bodyweight_kg, first in ((HOME, 80.0, 55), (HOME, 120.0, 60), (HOME, None, 60),
                                      (unlisted, 74.0, 50), (unlisted, 120.0, 80)):  # fmt: skip
        found = way(rack_for(assisted, gym, POLICY), assisted, bodyweight_kg).ladder()
        tries = [each.load_kg for each in found.tries]
        assert tries[0] == first
        assert tries == sorted(tries, reverse=True)
    raised = replace(lift("pull-up bar", kind="bodyweight_plus"), bodyweight_share=0.35)
    for bodyweight_kg, most_kg in ((90.0, 0.1 * 0.35 * 90), (None, 2.5)):
        belt = way(rack_for(raised, HOME, POLICY), raised, bodyweight_kg).ladder().tries
        assert belt[0].load_kg == 0
        assert 0 < belt[1].load_kg <= most_kg
        for one, two in pairwise(belt[1:]):
            step = rack_for(raised, HOME, POLICY).next_harder(one.load_kg)
            assert step is not None
            assert two.load_kg <= max(1.5 * one.load_kg, step.load_kg)


def test_finding_with_nothing_to_set_is_one_try() -> None:
    bands = lift("bands")
    tries = way(rack_for(bands, HOME, POLICY), bands).ladder().tries
    assert [each.load_kg for each in tries] == [0]
    said = tries[0].setting.says
    assert "rating" in said, "a log of none would be refused"
