"""What the first set means for the next: the table is the engine's answer throughout."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.day_sheet import MOST_REPS, NextSet
from blockwright.engine.day_sheet.next_set import believing_the_day
from blockwright.engine.fatigue import FatigueState
from blockwright.engine.gym import Gym, Ladder, Mass, PlatePairs
from blockwright.engine.rack import rack_for
from blockwright.engine.strength import Bodyweights, LiftBelief, replay, unlogged
from blockwright.engine.training import effective_load_kg
from blockwright.engine.units import kg_from
from sheet_people import MONDAY, catalogue, gym, logged, policy, sets

BODYWEIGHT_KG = 78.0
CASES = [
    ("bench press", 82.5, 8, 12, 2.0, 135),
    ("barbell back squat", 102.5, 5, 8, 3.0, 180),
    ("dumbbell shoulder press", 20.0, 8, 12, 2.0, 120),
    ("leg extension", 45.0, 12, 15, 1.0, 90),
    ("seated leg curl", 40.0, 15, 20, 0.0, 75),
    ("pull-up", 5.0, 6, 10, 2.0, 150),
    ("assisted pull-up", 25.0, 8, 12, 2.0, 120),
    ("press-up", 0.0, 10, 20, 2.0, 90),
]


def question(
    lift_name: str,
    load_kg: float,
    low: int,
    high: int,
    rir: float,
    rest_s: float,
    *,
    with_log: bool = True,
    kit: Gym | None = None,
    **changes: object,
) -> NextSet:
    lift = catalogue().find(lift_name)
    assert lift is not None
    belief: LiftBelief | None = unlogged(lift, MONDAY, policy())
    if with_log:
        log_of = logged(lift.name, load_kg, reps=round((low + high) / 2))
        weights = Bodyweights(usual_kg=BODYWEIGHT_KG)
        belief = replay(log_of, catalogue(), policy(), bodyweights=weights).own(lift.name)
    assert belief is not None
    planned = sets(1, load_kg, low, high, rir)[0]
    asked = NextSet(
        belief=belief,
        lift=lift,
        rack=rack_for(lift, kit or gym(), policy()),
        done=planned,
        planned=planned,
        rest_s=rest_s,
        on=MONDAY,
        bodyweight_kg=BODYWEIGHT_KG,
        policy=policy(),
        unit="kg",
    )
    return replace(asked, **changes)  # type: ignore[arg-type]


def next_reaches(asked: NextSet, reps: int, effective_kg: float) -> Callable[[int], float]:
    """P(the next set reaches so many): one result at a time through the public belief, another way
    to it than the table's."""
    belief = believing_the_day(asked.belief, asked.policy)
    load = effective_load_kg(asked.lift, asked.done.load_kg or 0.0, asked.bodyweight_kg)
    assert load is not None
    tired = belief.after(load, min(reps, 30), asked.done.rir, on=asked.on)
    left = FatigueState(float(tired.state.fast[0]), float(tired.state.slow[0]))
    left = left.rested(asked.rest_s, asked.policy)
    forecast = tired.forecast(effective_kg, asked.planned.rir, on=asked.on, fatigue=left.total)
    return forecast.p_at_least


def cost_of_next(asked: NextSet, reps: int, effective_kg: float) -> float:
    """By the load rule."""
    reaches = next_reaches(asked, reps, effective_kg)
    over, far = (reaches(asked.planned.reps_high + more) for more in (1, 3))
    return 3 * (1 - reaches(asked.planned.reps_low)) + (over - far) + 3 * far


@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_a_set_in_its_range_at_the_printed_reserve_never_lowers_the_next(
    case: tuple[str, float, int, int, float, float],
) -> None:
    """Not even before a short rest, nor where another reserve was printed than is said now."""
    asked = replace(question(*case), rest_s=20)
    kept = moved_kg(asked, asked.planned.load_kg or 0.0)
    for reps in range(asked.done.reps_low, MOST_REPS + 1):
        assert moved_kg(asked, asked.load_after(reps).load_kg) >= kept - 1e-6
    harder = replace(asked, printed_rir=asked.done.rir + 1)
    assert moved_kg(harder, harder.load_after(asked.done.reps_low).load_kg) <= kept


@pytest.mark.parametrize("rir", [1.0, 3.0])
@pytest.mark.parametrize(
    ("lift", "load", "low", "high"),
    [("bench press", 82.5, 8, 12), ("barbell back squat", 110.0, 5, 8)],
)
def test_a_set_past_the_top_of_its_range_at_the_reserve_adds_a_step(
    lift: str, load: float, low: int, high: int, rir: float
) -> None:
    """Nineteen or more, add 2.5: for 8 to 12 no advice; a coach adds at thirteen."""
    asked = question(lift, load, low, high, rir, 150)
    assert asked.load_after(high).load_kg == load
    assert load < asked.load_after(high + 1).load_kg <= load * 1.05


def _fives() -> Gym:
    return gym(stacks={"cable": Ladder(low=5, high=60, step=5, unit="kg")})


@pytest.mark.parametrize("with_log", [True, False], ids=["logged", "never logged"])
def test_a_set_far_above_its_range_raises_the_next(with_log: bool) -> None:
    """However much so long a set tires: 28 lateral raises of 12 to 15 are no reason to repeat 10 kg
    (a coach). Not where another, lighter load was lifted, nor half as much again: 23 flies of 10
    to 15 at 10 kg were followed by three at 15, simulated."""
    fly = question("cable fly", 10.0, 10, 15, 3.0, 90, with_log=with_log, kit=_fives())
    assert fly.load_after(24).load_kg == 10.0
    asked = question("lateral raise", 10.0, 12, 15, 2.0, 75, with_log=with_log)
    assert [asked.load_after(reps).load_kg for reps in (20, 21, 28)] == [10.0, 12.0, 12.0]
    lighter = replace(asked, done=replace(asked.done, load_kg=6.0))
    assert lighter.load_after(28).load_kg <= 10.0


def test_a_later_range_that_reaches_lower_takes_less_off_and_adds_no_sooner() -> None:
    """Sooner only past the top of the range, where a step up is what is asked."""
    differs = False
    for case in CASES:
        asked = question(*case)
        low = asked.planned.reps_low
        lower = replace(asked, planned=replace(asked.planned, reps_low=low - 2))
        for reps in range(MOST_REPS + 1):
            before, now = (moved_kg(one, one.load_after(reps).load_kg) for one in (asked, lower))
            if reps <= asked.done.reps_high:
                assert now >= before if reps < low else now <= before, (case, reps)
            differs = differs or now != before
    assert differs


def test_a_set_in_range_nearer_to_failure_than_printed_may_lower_the_next() -> None:
    asked = replace(question("bench press", 82.5, 8, 12, 0.0, 60), printed_rir=3.0)
    assert asked.load_after(8).load_kg < 82.5


def test_a_set_in_range_with_less_than_planned_keeps_what_was_lifted() -> None:
    asked = question("bench press", 82.5, 8, 12, 2.0, 135)
    lighter = replace(asked, done=replace(asked.done, load_kg=80.0), rest_s=20)
    assert lighter.load_after(8).load_kg == 80.0


@pytest.mark.parametrize("with_log", [True, False], ids=["logged", "never logged"])
@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_every_result_gets_the_engines_answer(
    case: tuple[str, float, int, int, float, float], with_log: bool
) -> None:
    asked = question(*case, with_log=with_log)
    rows = asked.table()
    of_result = [row for row in rows for _ in range(row.reps_from, (row.reps_to or MOST_REPS) + 1)]
    assert len(of_result) == MOST_REPS + 1
    for reps in range(MOST_REPS + 1):
        assert of_result[reps].setting == asked.load_after(reps)


@pytest.mark.parametrize("with_log", [True, False], ids=["logged", "never logged"])
@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_every_answer_is_the_choice_that_lands_best(
    case: tuple[str, float, int, int, float, float], with_log: bool
) -> None:
    """0 to 40; no raise before the range is filled, no less load after a set in it, one step less
    at most after one that is short by two."""
    asked = question(*case, with_log=with_log)
    moved = sorted({moved_kg(asked, row.setting.load_kg) for row in asked.table()}, reverse=True)
    kept = moved_kg(asked, asked.done.load_kg or 0.0)
    steps = asked._choices[asked._choices.index(asked._kept) :]
    one_down = min(moved_kg(asked, one.load_kg) for one in steps[:2])
    found = []
    for reps in range(MOST_REPS + 1):
        filled = reps >= asked.done.reps_high
        allowed = [kg for kg in moved if filled or kg <= kept + 1e-6]
        if reps >= asked.done.reps_low - 2:
            allowed = [kg for kg in allowed if kg >= one_down - 1e-6]
        costs = {kg: cost_of_next(asked, reps, kg) for kg in allowed}
        alike = [kg for kg in allowed if costs[kg] <= min(costs.values()) + 1e-4]
        too_hard = reps < asked.done.reps_low  # of alike ones, when every choice misses
        best = alike[-1] if too_hard else alike[0]
        least = kept
        up = next((kg for kg in reversed(moved) if kg > kept + 1e-6), kept)
        low, high = asked.done.reps_low, asked.done.reps_high
        in_range = next_reaches(asked, reps, up)(asked.planned.reps_low) >= 1 / 2
        if reps > high + (0 if in_range else 2 + high - low):
            least = up
        found.append(max(best, least) if reps >= asked.done.reps_low else best)
    middle = asked.done.reps_low
    for reps in range(MOST_REPS + 1):
        near = found[middle : reps + 1] if reps >= middle else found[reps : middle + 1]
        answer = max(near) if reps >= middle else min(near)
        assert moved_kg(asked, asked.load_after(reps).load_kg) == pytest.approx(answer), reps


def moved_kg(asked: NextSet, load_kg: float) -> float:
    found = effective_load_kg(asked.lift, load_kg, asked.bodyweight_kg)
    assert found is not None
    return found


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    name=st.sampled_from([case[0] for case in CASES]),
    load_kg=st.floats(5, 140),
    low=st.integers(3, 20),
    width=st.integers(0, 8),
    rir=st.sampled_from([0.0, 1.0, 2.0, 3.0]),
    rest_s=st.sampled_from([30, 90, 180, 300]),
    with_log=st.booleans(),
)
def test_more_repetitions_never_mean_less_load(
    name: str, load_kg: float, low: int, width: int, rir: float, rest_s: int, with_log: bool
) -> None:
    lift = catalogue().find(name)
    assert lift is not None
    made = rack_for(lift, gym(), policy()).not_harder_than(load_kg)
    if made is None or not (effective_load_kg(lift, made.load_kg, BODYWEIGHT_KG) or 0) > 0:
        return
    asked = question(name, made.load_kg, low, low + width, rir, rest_s, with_log=with_log)
    rows = asked.table()
    moved = [effective_load_kg(lift, row.setting.load_kg, BODYWEIGHT_KG) or 0 for row in rows]
    assert moved == sorted(moved)
    assert rows[0].reps_from == 0
    assert rows[-1].reps_to is None
    assert all(after.reps_from == (before.reps_to or 0) + 1 for before, after in pairwise(rows))
    below = [row for row in rows if (row.reps_to or MOST_REPS) < low + width]
    assert all(row.move != "raise" for row in below), "a raise before the range was filled"


def test_no_raise_is_over_the_limit_but_for_the_kits_smallest_step() -> None:
    most = policy().number("load.most_up")
    for case in CASES:
        asked = question(*case)
        kept = effective_load_kg(asked.lift, asked.done.load_kg or 0.0, BODYWEIGHT_KG) or 0.0
        for row in asked.table():
            if row.move != "raise":
                continue
            moved = effective_load_kg(asked.lift, row.setting.load_kg, BODYWEIGHT_KG) or 0.0
            step = asked.rack.next_harder(asked.done.load_kg or 0.0)
            assert moved <= kept * (1 + most) + 1e-6 or row.setting == step


def test_pounds_are_advised_in_pounds_on_pound_plates() -> None:
    plates = tuple(
        PlatePairs(mass=Mass(value=value, unit="lb", label=f"{value:g}"), pairs=4)
        for value in (45, 25, 10, 5, 2.5)
    )
    asked = question(
        "bench press", kg_from(185, "lb"), 8, 12, 2.0, 135,
        kit=gym("lb", plates=plates), unit="lb",
    )  # fmt: skip
    words = " ".join(str(row.reason.facts["load"]) for row in asked.table())
    assert "185 lb" in words
    assert "kg" not in words


def test_assistance_goes_up_when_the_set_falls_short() -> None:
    asked = question("assisted pull-up", 25.0, 8, 12, 2.0, 120)
    rows = asked.table()
    assert rows[0].setting.load_kg > 25
    assert rows[0].reason.code == "next_set_more_assistance"
    assert rows[-1].setting.load_kg < 25


def test_kit_with_nothing_lighter_keeps_the_lightest() -> None:
    asked = question("bench press", 20.0, 8, 12, 2.0, 135)
    assert asked.table()[0].setting.load_kg == 20.0


def test_a_long_rest_asks_for_no_lighter_set_than_a_short_one() -> None:
    short = question("bench press", 82.5, 8, 12, 2.0, 45)
    long = replace(short, rest_s=300)
    for reps in range(MOST_REPS + 1):
        assert long.load_after(reps).load_kg >= short.load_after(reps).load_kg


def test_a_first_set_far_over_its_range_asks_for_more_load() -> None:
    """Twice the top of the range at the target effort is no reason to keep the load, however
    long the record that expected less (the case that widened `next_set.day_sd`)."""
    for case in CASES:
        asked = question(*case, with_log=True)
        planned = moved_kg(asked, asked.done.load_kg or 0.0)
        after = asked.load_after(2 * asked.done.reps_high + 4)
        if asked._steps("up", 1):
            assert moved_kg(asked, after.load_kg) > planned, case
