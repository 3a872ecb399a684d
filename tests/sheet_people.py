"""An invented lifter and block for the sheet's tests, on the built-in catalogue."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from blockwright.engine.gym import Gym
from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    Block,
    Catalogue,
    Entry,
    Lifter,
    Method,
    Moment,
    MuscleSets,
    Session,
    SetDone,
    SetPlan,
    Slot,
    SolverReport,
    Week,
)
from blockwright.engine.units import Unit, kg_from
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy

MONDAY = date(2027, 1, 4)
EVERY_KIT = frozenset(word for lift in builtin_catalogue().lifts.values() for word in lift.kit)


def catalogue() -> Catalogue:
    return builtin_catalogue()


def policy() -> Policy:
    return default_policy()


def gym(unit: Unit = "kg", **more: Any) -> Gym:
    return Gym(kit=EVERY_KIT, unit=unit, **more)


def lifter(name: str = "Ines Invented", unit: Unit = "kg", **more: Any) -> Lifter:
    facts: dict[str, Any] = {
        "name": name,
        "units": unit,
        "bodyweight": 78.0 if unit == "kg" else 172.0,
        "bodyweight_kg": kg_from(78.0 if unit == "kg" else 172.0, unit),
        "start": MONDAY,
        "slots": (
            Slot(day="mon", start_minute=6 * 60 + 30, minutes=75),
            Slot(day="thu", start_minute=18 * 60, minutes=60),
        ),
        "gym": gym(unit),
    }
    return Lifter(**(facts | more))


def sets(
    count: int, load_kg: float | None, low: int, high: int, rir: float = 2
) -> tuple[SetPlan, ...]:
    return (SetPlan(load_kg=load_kg, reps_low=low, reps_high=high, rir=rir),) * count


def entry(
    order: int,
    lift: str,
    planned: tuple[SetPlan, ...],
    rest_s: int = 135,
    method: Method = "straight",
    pair: str | None = None,
) -> Entry:
    return Entry(order=order, lift=lift, method=method, rest_s=rest_s, sets=planned, pair=pair)


LOWER_DAY = (
    entry(1, "barbell back squat", sets(4, 102.5, 6, 10), 180),
    entry(2, "romanian deadlift", sets(3, 82.5, 8, 12), 150),
    entry(3, "leg extension", sets(3, 45, 12, 15), 90),
    entry(4, "seated leg curl", sets(3, 40, 10, 15), 75, "superset", "one"),
    entry(5, "dumbbell lateral raise", sets(3, 8, 12, 20), 60, "superset", "one"),
    entry(6, "standing calf raise", sets(3, None, 10, 15), 75),
)
UPPER_DAY = (
    entry(1, "bench press", sets(4, 82.5, 8, 12), 135),
    entry(2, "pull-up", sets(3, 5, 6, 10), 150),
    entry(3, "dumbbell shoulder press", sets(3, 20, 8, 12), 120),
    entry(4, "seated cable row", sets(3, 55, 10, 15), 120),
    entry(5, "assisted dip", sets(2, 20, 8, 12), 120),
)


def session(
    number: int, day: date, entries: Sequence[Entry], start: str = "06:30", minutes: int = 75
) -> Session:
    return Session(
        session=number,
        day=day,
        start_time=start,
        minutes_available=minutes,
        minutes_planned=minutes - 8.5,
        entries=tuple(entries),
    )


def week(number: int, sessions: Sequence[Session], kind: Any = "build", rir: float = 2) -> Week:
    chest = MuscleSets(direct=8, indirect=0, fractional=8, floor=4, ceiling=16)
    return Week(
        week=number, kind=kind, rir=rir, sessions=tuple(sessions), muscle_sets={"chest": chest}
    )


def block(who: Lifter | None = None, weeks: int = 3, **more: Any) -> Block:
    """Build weeks of two sessions each (two on the first Monday of week two), then a deload."""
    made = []
    for number in range(1, weeks + 1):
        monday = MONDAY + timedelta(days=7 * (number - 1))
        sessions = [session(1, monday, LOWER_DAY)]
        if number == 2:
            sessions.append(session(2, monday, UPPER_DAY[3:], "17:30", 45))
        thursday = monday + timedelta(days=3)
        sessions.append(session(len(sessions) + 1, thursday, UPPER_DAY, "18:00", 60))
        made.append(week(number, sessions))
    monday = MONDAY + timedelta(days=7 * weeks)
    easy = [replace(one, sets=sets(2, 50, 5, 6, 5)) for one in LOWER_DAY[:2]]
    made.append(week(weeks + 1, [session(1, monday, easy)], "deload", 5))
    facts: dict[str, Any] = {
        "revision": 1,
        "status": "ready",
        "lifter": who or lifter(),
        "start": MONDAY,
        "weeks": tuple(made),
        "solver": SolverReport(status="feasible", objective=100, bound=103, gap=0.029),
    }
    return Block(**(facts | more))


def logged(lift: str, load_kg: float, reps: int = 10, weeks: int = 4) -> list[SetDone]:
    """Three sets a week before the block, at two in reserve."""
    return [
        SetDone(
            moment=Moment(day=MONDAY - timedelta(days=7 * ago)),
            lift=lift,
            set_number=number,
            loads_kg=(load_kg,),
            entered_load=str(load_kg),
            entered_unit="kg",
            reps=(reps - number + 1,),
            rir_low=2,
            rir_high=2,
            rest_s=150,
        )
        for ago in range(weeks, 0, -1)
        for number in (1, 2, 3)
    ]


def on_two_machines(
    lift: str, load_kg: float, other_kg: float, reps: int = 10, weeks: int = 12
) -> list[SetDone]:
    """The same, in every second week from the sixth on at a machine that reads otherwise."""
    started = MONDAY - timedelta(days=7 * weeks)
    return [
        replace(done, loads_kg=(other_kg,), entered_load=f"{other_kg:g}")
        if (done.moment.day - started).days // 7 in range(5, weeks, 2)
        else done
        for done in logged(lift, load_kg, reps, weeks)
    ]
