"""Speed of the strength filter: a million sets, one more set; each beside statsmodels.

The reference does the same work in statsmodels in the same process: a Kalman filter of four states
with a time-varying design, made and run once for every lifter and node over logs as long as ours
(it cannot relinearise at each set, so it has less to do). All times are the processor's (one
thread), so that a busy machine does not change them much.
"""

import json
import sys
import time
from datetime import timedelta
from statistics import median

import numpy as np
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter

from blockwright.engine.fatigue import fatigue_law
from blockwright.engine.strength import replay, strength_law
from blockwright.engine.strength.observation_arrays import Bodyweights, columns_of
from blockwright.engine.strength.replay import replayed
from blockwright.engine.training import Moment, SetDone, catalogue_of
from blockwright.files.policy_files import default_policy
from studies.lifters import LIFT, START, simulated, trial_lift
from studies.worlds import CLEAN

LIFTERS, SESSIONS, SETS = 20_000, 13, 4
POLICY = default_policy()
CATALOGUE = catalogue_of((trial_lift(),))


def million_sets() -> list[SetDone]:
    """About a million sets: a tenth of the lifters simulated, each told ten times. Logs as long as
    those of the studies."""
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


def statsmodels_s(nodes: int, sets: int, repeats: int = 9) -> float:
    """Seconds statsmodels needs for one log of `sets` sets: `nodes` filters, made and run."""
    rng = np.random.default_rng(2)
    seen, design = rng.normal(0.0, 1.0, (1, sets)), rng.normal(1.0, 0.1, (1, 4, sets))
    noise, spread = np.full((1, 1, sets), 0.01), np.repeat(1e-5 * np.eye(4)[:, :, None], sets, 2)
    move = np.repeat(np.eye(4)[:, :, None], sets, 2)
    times: list[float] = []
    for _ in range(repeats):
        began = time.process_time()
        for _ in range(nodes):
            model = KalmanFilter(k_endog=1, k_states=4)
            model.bind(seen.copy())
            model["design"], model["obs_cov"] = design, noise
            model["transition"], model["state_cov"] = move, spread
            model["selection"] = np.eye(4)
            model.initialize_known(np.zeros(4), np.eye(4))
            model.filter()
        times.append(time.process_time() - began)
    return median(times)


def tell(bench: str, value: float, unit: str, reference: str, ratio: float | None) -> None:
    line = {"bench": bench, "value": value, "unit": unit, "reference": reference, "ratio": ratio}
    sys.stdout.write(json.dumps(line) + "\n")


def main() -> None:
    law = strength_law(POLICY)
    name = f"statsmodels Kalman filter, 4 states x {law.nodes} nodes, CPU time, same process"
    sets = million_sets()
    reference_s = statsmodels_s(law.nodes, SESSIONS * SETS) * LIFTERS
    began = time.process_time()
    columns = columns_of(sets, CATALOGUE, POLICY, fatigue_law(POLICY), Bodyweights())
    read_s = time.process_time() - began
    began = time.process_time()
    replayed(columns, POLICY, law)
    filter_s = time.process_time() - began
    millions = len(sets) / 1e6
    unit = f"s per million sets of {LIFTERS} lifters"
    tell("strength: sets to columns", read_s / millions, unit, name, None)
    tell("strength: replay of columns", filter_s / millions, unit, name, reference_s / filter_s)
    whole_s = read_s + filter_s
    tell("strength: replay from facts", whole_s / millions, unit, name, reference_s / whole_s)
    one_set(law.nodes, name)
    one_series(law.nodes, name)


def one_set(nodes: int, name: str) -> None:
    """The latency of one more set folded into a known state."""
    log = simulated(CLEAN, np.random.default_rng(3), lifters=1, exposures=20)
    belief = replay(log.sets, CATALOGUE, POLICY).own(LIFT, "L0000")
    if belief is None:
        raise RuntimeError("a simulated log gave no belief")
    began = time.process_time()
    for number in range(1000):
        belief.after(80.0, 8, 2.0, on=belief.last_day + timedelta(days=number % 2))
    took = (time.process_time() - began) / 1000
    reference_s = statsmodels_s(nodes, 1)
    tell("strength: one more set", 1000 * took, "ms", name, reference_s / took)


def one_series(nodes: int, name: str) -> None:
    """One lifter, one lift, 400 sets, facts to belief."""
    sets = [
        SetDone(moment=Moment(day=START + timedelta(days=3 * (n // 4))), lift=LIFT,
                set_number=n % 4 + 1, loads_kg=(80.0,), entered_load="80", entered_unit="kg",
                reps=(9 - n % 4,), rir_low=2.0, rir_high=2.0, row=n + 2)
        for n in range(400)
    ]  # fmt: skip
    began = time.process_time()
    for _ in range(5):
        replay(sets, CATALOGUE, POLICY)
    took = (time.process_time() - began) / 5
    reference_s = statsmodels_s(nodes, 400)
    tell("strength: one lifter, 400 sets", took, "s", name, reference_s / took)


if __name__ == "__main__":
    main()
