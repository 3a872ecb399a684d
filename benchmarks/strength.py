"""Speed of the strength filter: a million sets, one more set; each beside statsmodels.

The reference is a Kalman filter of the same state size (four states, one set an observation) in
statsmodels, in the same process, at the price of one node times the number of nodes we carry.
"""

import json
import sys
import time
from datetime import date, timedelta
from statistics import median

import numpy as np
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter

from blockwright.engine.fatigue import fatigue_law
from blockwright.engine.strength import replay, strength_law
from blockwright.engine.strength.columns import Bodyweights, columns_of
from blockwright.engine.strength.replay import replayed
from blockwright.engine.training import Moment, SetDone, catalogue_of
from blockwright.files.policy_files import default_policy
from blockwright.trial.lifters import LIFT, START, simulated, trial_lift
from blockwright.trial.worlds import CLEAN

LIFTERS, SESSIONS, SETS = 10_000, 25, 4
POLICY = default_policy()
CATALOGUE = catalogue_of((trial_lift(),))


def million_sets() -> list[SetDone]:
    """A log of a million sets: 250 simulated lifters of 100 sessions, each told ten times."""
    log = simulated(CLEAN, np.random.default_rng(1), lifters=LIFTERS // 10, exposures=SESSIONS,
                    sets=(SETS, SETS))  # fmt: skip
    sets: list[SetDone] = []
    for copy in range(10):
        names = {name: f"{name}.{copy}" for name in {one.lifter or "" for one in log.sets}}
        sets += [_renamed(one, names[one.lifter or ""], len(sets)) for one in log.sets]
    return sets


def _renamed(one: SetDone, lifter: str, row: int) -> SetDone:
    return SetDone(
        moment=one.moment, lift=one.lift, set_number=one.set_number, loads_kg=one.loads_kg,
        entered_load=one.entered_load, entered_unit=one.entered_unit, reps=one.reps,
        rir_low=one.rir_low, rir_high=one.rir_high, rest_s=one.rest_s, lifter=lifter, row=row,
    )  # fmt: skip


def statsmodels_s_per_set(nodes: int, sets: int = 4000) -> float:
    """Seconds statsmodels needs for one set: four states, a time-varying design, `nodes` passes."""
    rng = np.random.default_rng(2)
    model = KalmanFilter(k_endog=1, k_states=4)
    model.bind(rng.normal(0.0, 1.0, (1, sets)))
    model["design"] = np.ascontiguousarray(rng.normal(1.0, 0.1, (1, 4, sets)))
    model["obs_cov"] = np.full((1, 1, sets), 0.01)
    model["transition"] = np.eye(4)
    model["selection"] = np.eye(4)
    model["state_cov"] = 1e-5 * np.eye(4)
    model.initialize_known(np.zeros(4), np.eye(4))
    times: list[float] = []
    for _ in range(5):
        began = time.perf_counter()
        model.filter()
        times.append(time.perf_counter() - began)
    return nodes * median(times) / sets


def tell(bench: str, value: float, unit: str, reference: str, ratio: float | None) -> None:
    line = {"bench": bench, "value": value, "unit": unit, "reference": reference, "ratio": ratio}
    sys.stdout.write(json.dumps(line) + "\n")


def main() -> None:
    law = strength_law(POLICY)
    reference_s = statsmodels_s_per_set(law.nodes)
    name = f"statsmodels Kalman filter, 4 states x {law.nodes} nodes, same process"
    sets = million_sets()
    began = time.perf_counter()
    columns = columns_of(sets, CATALOGUE, POLICY, fatigue_law(POLICY), Bodyweights())
    read_s = time.perf_counter() - began
    began = time.perf_counter()
    replayed(columns, POLICY, law)
    filter_s = time.perf_counter() - began
    count = len(sets)
    tell("strength: sets to columns", read_s * 1e6 / count, "s per million sets", name, None)
    tell("strength: replay of columns", filter_s * 1e6 / count, "s per million sets", name,
         reference_s * count / filter_s)  # fmt: skip
    tell("strength: replay from facts", (read_s + filter_s) * 1e6 / count, "s per million sets",
         name, reference_s * count / (read_s + filter_s))  # fmt: skip
    one_set(reference_s, name)
    one_series(reference_s, name)


def one_set(reference_s: float, name: str) -> None:
    """The latency of one more set folded into a known state."""
    log = simulated(CLEAN, np.random.default_rng(3), lifters=1, exposures=20)
    belief = replay(log.sets, CATALOGUE, POLICY).of(LIFT, "L0000")
    if belief is None:
        raise RuntimeError("a simulated log gave no belief")
    times: list[float] = []
    for number in range(300):
        began = time.perf_counter()
        belief.after(80.0, 8, 2.0, on=belief.last_day + timedelta(days=number % 2))
        times.append(time.perf_counter() - began)
    tell("strength: one more set", 1000 * median(times), "ms", name, reference_s / median(times))


def one_series(reference_s: float, name: str) -> None:
    """One lifter, one lift, 400 sets, facts to belief."""
    sets = [
        SetDone(moment=Moment(day=START + timedelta(days=3 * (n // 4))), lift=LIFT,
                set_number=n % 4 + 1, loads_kg=(80.0,), entered_load="80", entered_unit="kg",
                reps=(9 - n % 4,), rir_low=2.0, rir_high=2.0, row=n + 2)
        for n in range(400)
    ]  # fmt: skip
    began = time.perf_counter()
    replay(sets, CATALOGUE, POLICY, through=date(2099, 1, 1))
    took = time.perf_counter() - began
    tell("strength: one lifter, 400 sets", took, "s", name, reference_s * 400 / took)


if __name__ == "__main__":
    main()
