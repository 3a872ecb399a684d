"""Real people: the jump from a first to a second 1RM test must not be read as growth.

Hammarström et al. 2020 (raw data, CC0; `open_data.one_rm_over_training`). Each measured 1RM is
logged as a set of one to failure; the trend is read after each test, with and without the rule
that the level may jump by learning after first exposures.
"""

from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.strength import Beliefs, replay
from blockwright.engine.training import Lift, Moment, SetDone, catalogue_of
from blockwright.files.policy_files import default_policy
from studies.lifters import START, trial_lift
from studies.open_data import one_rm_over_training

DAY_OF = {"pre": 0, "session1": 7, "week2": 21, "week5": 42, "week9": 70, "post": 91}
"""Days of the tests, assumed: the file names the week only."""
READ_AT = ("session1", "week2", "week5", "week9")
EXERCISES = {"legpress": ("leg press, one leg", "leg_press"), "legext": ("leg extension, one leg",
             "single_joint")}  # fmt: skip


@dataclass(frozen=True, slots=True)
class TrendReading:
    """Trends of all legs after one test, percent a week."""

    exercise: str
    time: str
    legs: int
    growth: float
    """What followed: the mean rate from the second test to the last."""
    with_rule: float
    without_rule: float
    covered_with: float
    """Share of legs whose 80 % interval holds their own later rate."""
    covered_without: float


def learning_jump_pct(exercise: str) -> float:
    """Mean change from the first test to the second, percent."""
    jumps = [
        100.0 * (loads["session1"] / loads["pre"] - 1.0)
        for loads in _legs(exercise).values()
        if "pre" in loads and "session1" in loads
    ]
    return float(np.mean(jumps))


def trend_readings(policy: Policy) -> list[TrendReading]:
    """Every exercise and time of reading."""
    found: list[TrendReading] = []
    for exercise in EXERCISES:
        legs = {
            name: loads
            for name, loads in _legs(exercise).items()
            if {"session1", "post"} <= set(loads)
        }
        for time in READ_AT:
            found.append(_reading(exercise, time, legs, policy))
    return found


def learning_study() -> str:
    """The section of docs/validation.md."""
    lines = [
        "Measured single-leg 1RM of 39 people at up to six times over 12 weeks (Hammarström et al. "
        "2020, raw data, CC0), each logged as one repetition to failure. Days between tests are "
        f"assumed ({', '.join(f'{time} {day}' for time, day in DAY_OF.items())}). From the first "
        f"test to the second the mean rises by {learning_jump_pct('legpress'):.1f} % on the leg "
        f"press and {learning_jump_pct('legext'):.1f} % on the leg extension: learning. "
        "`growth` is what the same legs then did, from the second test to the last; nothing is "
        "simulated. Mean trend in % a week, and the share of legs whose 80 % interval holds their "
        "own later rate:",
        "",
        "| exercise | read after | legs | growth | with the rule | held | without it | held |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for r in trend_readings(default_policy()):
        lines.append(
            f"| {EXERCISES[r.exercise][0]} | {r.time} | {r.legs} | {r.growth:+.2f} | "
            f"{r.with_rule:+.2f} | {r.covered_with:.2f} | {r.without_rule:+.2f} | "
            f"{r.covered_without:.2f} |"
        )
    return "\n".join(lines)


def _legs(exercise: str) -> dict[str, dict[str, float]]:
    """Leg to time to load, repeated tests of one time by their best."""
    legs: dict[str, dict[str, float]] = {}
    for test in one_rm_over_training():
        if test.exercise == exercise and test.load_kg is not None and test.load_kg > 0:
            mine = legs.setdefault(f"{test.participant} {test.leg}", {})
            mine[test.time] = max(test.load_kg, mine.get(test.time, 0.0))
    return legs


def _reading(
    exercise: str, time: str, legs: dict[str, dict[str, float]], policy: Policy
) -> TrendReading:
    name, group = EXERCISES[exercise]
    lift = trial_lift(name, fatigue_group=group, muscles={"quads": 1.0})
    upto = [each for each in DAY_OF if DAY_OF[each] <= DAY_OF[time]]
    mine = {leg: loads for leg, loads in legs.items() if time in loads}
    sets = [
        _test(lift, leg, each, loads[each]) for leg, loads in mine.items() for each in upto
        if each in loads
    ]  # fmt: skip
    beliefs = replay(sets, catalogue_of((lift,)), policy, experience="novice")
    rates = {leg: _later_rate(loads) for leg, loads in mine.items()}
    ruled = _trends(beliefs, lift, mine, rates, learning_rule=True)
    plain = _trends(beliefs, lift, mine, rates, learning_rule=False)
    return TrendReading(
        exercise=exercise,
        time=time,
        legs=len(mine),
        growth=float(np.mean(list(rates.values()))),
        with_rule=ruled[0],
        without_rule=plain[0],
        covered_with=ruled[1],
        covered_without=plain[1],
    )


def _trends(
    beliefs: Beliefs,
    lift: Lift,
    legs: dict[str, dict[str, float]],
    rates: dict[str, float],
    *,
    learning_rule: bool,
) -> tuple[float, float]:
    """Mean of the median trends, and how often their intervals hold the leg's later rate."""
    trends = {
        leg: beliefs.trend_pct_per_week(lift.name, leg, learning_rule=learning_rule) for leg in legs
    }
    held = [trend.low80 <= rates[leg] <= trend.high80 for leg, trend in trends.items()]
    return float(np.mean([trend.median for trend in trends.values()])), float(np.mean(held))


def _later_rate(loads: dict[str, float]) -> float:
    weeks = (DAY_OF["post"] - DAY_OF["session1"]) / 7.0
    return float(100.0 * np.log(loads["post"] / loads["session1"]) / weeks)


def _test(lift: Lift, leg: str, time: str, load: float) -> SetDone:
    return SetDone(
        moment=Moment(day=START + timedelta(days=DAY_OF[time])),
        lift=lift.name,
        set_number=1,
        loads_kg=(load,),
        entered_load=f"{load:g}",
        entered_unit="kg",
        reps=(1,),
        rir_low=0.0,
        rir_high=0.0,
        lifter=leg,
    )
