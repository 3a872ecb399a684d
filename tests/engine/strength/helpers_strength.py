"""Small logs for the tests of strength; everything here is invented."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from blockwright.engine.strength import Beliefs, Bodyweights, replay
from blockwright.engine.training import Catalogue, Moment, SetDone, catalogue_of
from blockwright.files.policy_files import default_policy
from studies.lifters import simulated, trial_lift
from studies.worlds import WORLDS

POLICY = default_policy()
START = date(2027, 1, 4)
PRESS = trial_lift("press", family="press", pattern="horizontal press")
INCLINE = trial_lift("incline press", family="incline", pattern="horizontal press")
SQUAT = trial_lift("squat", family="squat", pattern="squat", fatigue_group="squat")
PULL_UP = trial_lift(
    "pull-up", pattern="pull", fatigue_group="pull", load_kind="bodyweight_plus",
    bodyweight_share=1.0,
)  # fmt: skip
CATALOGUE: Catalogue = catalogue_of((PRESS, INCLINE, SQUAT, PULL_UP))


def one(day: int = 0, reps: int = 8, load: float = 80.0, **changes: object) -> SetDone:
    """A set of the press, `day` days after the start, RIR 2 unless told otherwise."""
    usual: dict[str, object] = {
        "moment": Moment(day=START + timedelta(days=day)),
        "lift": PRESS.name,
        "set_number": 1,
        "loads_kg": (load,),
        "entered_load": f"{load:g}",
        "entered_unit": "kg",
        "reps": (reps,),
        "rir_low": 2.0,
        "rir_high": 2.0,
    }
    return SetDone(**{**usual, **changes})  # type: ignore[arg-type]


def steady(sessions: int = 8, sets: int = 3, every: int = 4, **changes: object) -> list[SetDone]:
    """The same sets session after session."""
    return [
        one(every * session, 9 - number, set_number=number + 1, rest_s=150.0, **changes)
        for session in range(sessions)
        for number in range(sets)
    ]


def beliefs(sets: list[SetDone], **changes: object) -> Beliefs:
    """The sets replayed with a bodyweight of 80 kg."""
    usual: dict[str, object] = {"bodyweights": Bodyweights(80.0), "keep_predictions": True}
    return replay(sets, CATALOGUE, POLICY, **{**usual, **changes})  # type: ignore[arg-type]


def random_log(seed: int, lifters: int = 3, exposures: int = 5) -> list[SetDone]:
    """Several lifters, two lifts, a world foreign in everything, in the order of time."""
    rng = np.random.default_rng(seed)
    sets: list[SetDone] = []
    for lift in (PRESS.name, SQUAT.name):
        sets += simulated(WORLDS[-1], rng, lifters=lifters, exposures=exposures, lift=lift).sets
    sets.sort(key=lambda done: done.moment.day)
    return [replace(done, row=number + 2) for number, done in enumerate(sets)]
