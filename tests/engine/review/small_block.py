"""A small invented block, a lifter whose truth is known, and the logs that truth would write.

The truth is simple on purpose: one level a lift, an exponential-free curve (the engine's mean
curve, no noise), so that what a good coach would do next is plain from the scenario's name.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from math import exp, log

import numpy as np

from blockwright.engine.gym import Bar as GymBar
from blockwright.engine.gym import Gym, Ladder, Mass, PlatePairs
from blockwright.engine.planning.deload import deload_after
from blockwright.engine.planning.week_figures import counted, session_minutes
from blockwright.engine.policy import Policy
from blockwright.engine.strength.curve import psi, reps_at
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    CheckIn,
    Entry,
    Lift,
    Lifter,
    Measure,
    Moment,
    MuscleSets,
    RepRange,
    Screening,
    Session,
    SetDone,
    SetPlan,
    Slot,
    SolverReport,
    Week,
    catalogue_of,
)
from blockwright.files.policy_files import default_policy

START = date(2027, 1, 4)
RIRS = (3.0, 3.0, 2.0, 2.0, 1.0, 1.0)
KAPPA, POWER = 0.0335, 0.92
"""The truth's curve; equal to the engine's mean so that scenarios speak of levels only."""


def _lift(name: str, muscles: Mapping[str, float], **more: object) -> Lift:
    usual: dict[str, object] = {
        "name": name,
        "muscles": muscles,
        "pattern": name,
        "kit": ("bar",),
        "axial": 0,
        "load_kind": "external",
        "bodyweight_share": 0.0,
        "role": "main" if len(muscles) > 1 else "small",
        "family": name,
        "stability": "free",
        "fatigue_group": "press",
        "setup_s": 45,
        "seconds_per_rep": 3.0,
        "reps": {
            "low": RepRange(low=4, high=8),
            "mid": RepRange(low=8, high=15),
            "high": RepRange(low=15, high=30),
        },
        "standard": "full range, under control",
        "safe_to_fail": False,
    }
    return Lift(**{**usual, **more})  # type: ignore[arg-type]


BENCH = _lift(
    "bench press", {"chest": 1.0, "triceps": 0.5, "front_delts": 0.5},
    regions={"shoulder": 2, "elbow": 1, "wrist": 1},
)  # fmt: skip
ROW = _lift("row", {"upper_back": 1.0, "lats": 1.0, "biceps": 0.5}, fatigue_group="pull")
SQUAT = _lift("squat", {"quads": 1.0, "glutes": 0.5}, fatigue_group="squat", axial=2)
PRESS = _lift(
    "chest press", {"chest": 1.0, "triceps": 0.5, "front_delts": 0.5},
    kit=("chest press",), stability="machine", safe_to_fail=True,
    regions={"shoulder": 2, "elbow": 1, "wrist": 1},
)  # fmt: skip
CURL = _lift(
    "dumbbell curl", {"biceps": 1.0}, kit=("dumbbells",), load_kind="per_hand",
    fatigue_group="single_joint",
)  # fmt: skip
LEG_PRESS = _lift(
    "leg press", {"quads": 1.0, "glutes": 0.5}, kit=("leg press",), stability="machine",
    fatigue_group="leg_press", safe_to_fail=True,
)  # fmt: skip
FLY = _lift(
    "cable fly", {"chest": 1.0, "front_delts": 0.5}, kit=("cable",), stability="supported",
    regions={"shoulder": 1},
)  # fmt: skip
CATALOGUE: Catalogue = catalogue_of((BENCH, ROW, SQUAT, PRESS, CURL, LEG_PRESS, FLY))

KG_PLATES = {"20": 4, "15": 2, "10": 2, "5": 2, "2.5": 2, "1.25": 2}


def gym(unit: str = "kg", plates: Mapping[str, int] | None = None, bar: float = 20.0) -> Gym:
    """A gym with one bar, these plates (pairs), dumbbells by 2 and a few machines."""
    listed = KG_PLATES if plates is None else plates
    return Gym(
        kit=frozenset({"bar", "dumbbells", "chest press", "leg press", "cable"}),
        unit=unit,  # type: ignore[arg-type]
        bars=(GymBar(name="bar", mass=Mass(value=bar, unit=unit, label=f"{bar:g}")),),  # type: ignore[arg-type]
        plates=tuple(
            PlatePairs(mass=Mass(value=float(label), unit=unit, label=label), pairs=pairs)  # type: ignore[arg-type]
            for label, pairs in listed.items()
        ),
        dumbbells=(Ladder(low=4, high=40, step=2, unit=unit),),  # type: ignore[arg-type]
        stacks={
            "chest press": Ladder(low=10, high=150, step=5, unit=unit),  # type: ignore[arg-type]
            "leg press": Ladder(low=20, high=300, step=10, unit=unit),  # type: ignore[arg-type]
        },
    )


SCREENED = Screening(
    heart_or_metabolic_condition=False,
    symptoms_at_effort=False,
    pregnant_or_postpartum=False,
    kidney_disease=False,
    high_blood_pressure=False,
    currently_active=True,
    under_18=False,
    surgery_or_injury_last_year=False,
)
"""Every question answered, and nothing wrong."""


def small_lifter(**more: object) -> Lifter:
    """Bo Invented, who trains on Monday, Wednesday and Friday."""
    facts: dict[str, object] = {
        "name": "Bo Invented",
        "bodyweight": 80.0,
        "bodyweight_kg": 80.0,
        "start": START,
        "screening": SCREENED,
        "slots": tuple(Slot(day=d, start_minute=1080, minutes=75) for d in ("mon", "wed", "fri")),
        "emphasis": {"chest": "lead"},
        "gym": gym(),
    }
    facts["deload_style"] = "two-part"  # the arithmetic these tests work out by hand
    return Lifter(**{**facts, **more})  # type: ignore[arg-type]


PLAN = (
    (("bench press", "mid", 3, 70.0), ("row", "mid", 3, 60.0), ("dumbbell curl", "mid", 2, 14.0)),
    (("squat", "mid", 3, 90.0), ("chest press", "mid", 3, 60.0)),
    (("bench press", "low", 3, 80.0), ("row", "mid", 3, 60.0), ("leg press", "mid", 3, 140.0)),
)
"""Sessions of (lift, zone, sets, first load)."""
RANGES = {"low": (5, 8), "mid": (8, 12), "high": (15, 20)}


def small_block(lifter: Lifter | None = None, policy: Policy | None = None) -> Block:
    """Six build weeks with the same loads and sets, effort 3 to 1, and the deload after them."""
    lifter = small_lifter() if lifter is None else lifter
    policy = default_policy() if policy is None else policy
    builds = tuple(_week(number, lifter, policy) for number in range(1, 7))
    block = Block(
        revision=1,
        status="ready",
        lifter=lifter,
        start=START,
        weeks=builds,
        solver=SolverReport(status="optimal", objective=1.0, bound=1.0, gap=0.0),
    )
    deload = deload_after(builds[0], builds[-1], lifter, CATALOGUE, policy)[0]
    return replace(block, weeks=(*builds, deload))


def _week(number: int, lifter: Lifter, policy: Policy) -> Week:
    sessions = []
    for index, (day, entries) in enumerate(zip((0, 2, 4), PLAN, strict=True), start=1):
        session = Session(
            session=index,
            day=START + timedelta(days=7 * (number - 1) + day),
            start_time="18:00",
            minutes_available=75,
            minutes_planned=0.0,
            entries=tuple(
                Entry(
                    order=order,
                    lift=lift,
                    method="straight",
                    rest_s=150,
                    zone=zone,  # type: ignore[arg-type]
                    sets=(
                        SetPlan(
                            load_kg=load,
                            reps_low=RANGES[zone][0],
                            reps_high=RANGES[zone][1],
                            rir=RIRS[number - 1],
                        ),
                    )
                    * sets,
                )
                for order, (lift, zone, sets, load) in enumerate(entries, start=1)
            ),
        )
        minutes = session_minutes(session, CATALOGUE, policy)
        sessions.append(replace(session, minutes_planned=minutes))
    plain = MuscleSets(direct=0, indirect=0, fractional=0, floor=4.0, ceiling=14.0)
    week = Week(
        week=number,
        kind="build",
        rir=RIRS[number - 1],
        sessions=tuple(sessions),
        muscle_sets=dict.fromkeys(MUSCLES, plain),
    )
    return counted(week, CATALOGUE)


def with_lift(block: Block, old: str, new: str, load_kg: float | None = None) -> Block:
    """The block with another lift for one of its own, at its loads or at `load_kg`."""

    def swapped(entry: Entry) -> Entry:
        if entry.lift != old:
            return entry
        sets = tuple(replace(s, load_kg=load_kg or s.load_kg) for s in entry.sets)
        return replace(entry, lift=new, sets=sets)

    def session(one: Session) -> Session:
        return replace(one, entries=tuple(swapped(e) for e in one.entries))

    weeks = (replace(w, sessions=tuple(session(s) for s in w.sessions)) for w in block.weeks)
    return replace(block, weeks=tuple(weeks))


@dataclass(frozen=True)
class Truth:
    """What the lifter can do. `level` gives the factor on strength on a day."""

    level: Callable[[date, str], float] = lambda day, lift: 1.0
    closer_by: float = 0.0
    """Repetitions nearer to failure than asked (RIR as logged is the true one)."""
    spare: float = 1.5
    """Repetitions the planned loads leave above the bottom of the range at week 1's effort."""
    full_range: Callable[[date, str], bool] = lambda day, lift: True
    pain: Callable[[date, str], float | None] = lambda day, lift: None
    does: Callable[[date, str], bool] = lambda day, lift: True
    extra: Mapping[str, str] = field(default_factory=dict)


def log_of(block: Block, truth: Truth, through: date, *, history_weeks: int = 3) -> list[SetDone]:
    """What the lifter writes down up to `through`: weeks before the block as week 1, then the
    block as planned. Whole repetitions, said RIR true, no noise."""
    done: list[SetDone] = []
    first = block.weeks[0]
    for back in range(history_weeks, 0, -1):
        for session in first.sessions:
            done += _session(session, session.day - timedelta(days=7 * back), block, truth, 3.0)
    for week in block.weeks:
        for session in week.sessions:
            if session.day <= through and not session.missed:
                done += _session(session, session.day, block, truth, week.rir)
    return [replace(one, row=row) for row, one in enumerate(done, start=2)]


def _session(session: Session, day: date, block: Block, truth: Truth, rir: float) -> list[SetDone]:
    made: list[SetDone] = []
    for entry in session.entries:
        if not truth.does(day, entry.lift):
            continue
        for number, planned in enumerate(entry.sets, start=1):
            reach = _to_failure(block, entry, planned, day, truth)
            said = max(rir - truth.closer_by, 0.0)
            reps = max(round(reach - 0.4 * (number - 1) - said), 0)
            made.append(
                SetDone(
                    moment=Moment(day=day),
                    lift=entry.lift,
                    set_number=number,
                    loads_kg=(planned.load_kg or 0.0,),
                    entered_load=f"{planned.load_kg or 0.0:g}",
                    entered_unit="kg",
                    reps=(reps,),
                    rir_low=said,
                    rir_high=said,
                    rest_s=150 if number > 1 else None,
                    full_range=truth.full_range(day, entry.lift),
                    pain=truth.pain(day, entry.lift),
                    note=truth.extra.get(f"{day} {entry.lift}", ""),
                )
            )
    return made


def _to_failure(block: Block, entry: Entry, planned: SetPlan, day: date, truth: Truth) -> float:
    """Repetitions to failure: what week 1's load would leave, moved by load and level."""
    same = [
        e
        for s in block.weeks[0].sessions
        for e in s.entries
        if (e.lift, e.zone) == (entry.lift, entry.zone)
    ]
    first = same[0] if same else entry
    start = first.sets[0]
    fresh = RANGES[entry.zone][0] + truth.spare + 3.0
    start_kg, now_kg = start.load_kg or 1.0, planned.load_kg or 1.0
    easier = log(start_kg / now_kg) + log(truth.level(day, entry.lift))
    return float(reps_at(np.array(easier / KAPPA) + psi(np.array(fresh), POWER), POWER))


def checkin(day: date, measure: Measure, value: float, about: str | None = None) -> CheckIn:
    return CheckIn(moment=Moment(day=day), measure=measure, about=about, value=value)


def grows(pct_per_week: float) -> Callable[[date, str], float]:
    """A level that rises by so many per cent a week from the block's start."""

    def level(day: date, lift: str) -> float:
        return exp(pct_per_week / 100 * max((day - START).days, 0) / 7)

    return level


def falls(share: float, since: date) -> Callable[[date, str], float]:
    """A level that is lower by `share` from a day on."""
    return lambda day, lift: 1.0 - share if day >= since else 1.0


def sunday(week: int) -> date:
    """The last day of a week of the block."""
    return START + timedelta(days=7 * week - 1)


def monday(week: int) -> date:
    return START + timedelta(days=7 * (week - 1))
