"""Single sets to failure on machines, about weekly: logs like those of a real trial.

We may carry only moment figures of that trial (`e1rm_noise` in the list of published values:
Gschneidner, Steele et al. 2025, computed from half of its participants); these logs are simulated
with its observation and process noise and drift, under three curves. They stand in for real logs,
and prove nothing about them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from blockwright.demo.laws import Curve, hyperbolic_curve
from blockwright.engine.policy import Policy
from blockwright.engine.strength import Beliefs, Score, backtest_rows, replay, score
from blockwright.engine.training import Moment, SetDone, catalogue_of
from blockwright.files.policy_files import default_policy
from studies.lifters import START, trial_lift
from studies.worlds import levelling_curve, model_curve

EPLEY_SLOPE = 1.0 / 41.0
"""d ln(1RM) / d reps of Epley's equation at eleven repetitions: the figures' scale."""


@dataclass(frozen=True, slots=True)
class Machine:
    """One machine: SDs and drift of ln(estimated 1RM), a session (published.md `e1rm_noise`)."""

    name: str
    group: str
    observation_sd: float
    process_sd: float
    drift: float
    steepness: float


MACHINES = (
    Machine("chest press", "press", 0.021, 0.022, 0.0075, -0.10),
    Machine("leg press", "leg_press", 0.039, 0.015, 0.0055, -0.40),
    Machine("pulldown", "pull", 0.023, 0.018, 0.0050, -0.10),
)
CURVES: tuple[tuple[str, Curve, float], ...] = (
    ("own curve", model_curve, 0.0),
    ("hyperbolic curve", hyperbolic_curve, 0.1),
    ("levelling curve", levelling_curve, 0.1),
)
"""Name, curve, what is added to the machine's steepness so that repetitions are alike."""


def machine_log(
    curve: Curve, shift: float, rng: np.random.Generator, *, lifters: int, sessions: int
) -> tuple[SetDone, ...]:
    """One set to failure a session and machine, a load step up after three repetitions more."""
    sets: list[SetDone] = []
    for number in range(lifters):
        for machine in MACHINES:
            sets += _one_lifter(f"M{number:03d}", machine, curve, shift, rng, sessions)
    return tuple(sets)


def machine_beliefs(sets: tuple[SetDone, ...], policy: Policy) -> Beliefs:
    """The replayed log, predictions kept."""
    lifts = tuple(trial_lift(m.name, fatigue_group=m.group) for m in MACHINES)
    return replay(sets, catalogue_of(lifts), policy, keep_predictions=True, roster=True)


def still_log(
    curve: Curve, shift: float, rng: np.random.Generator, *, lifters: int, sessions: int
) -> tuple[tuple[SetDone, ...], dict[tuple[str, str], float]]:
    """Three sets to failure twice a week at a load that never moves, strength that stays; and the
    ln(1RM) of each lifter and machine. Each further set gives a tenth less."""
    sets: list[SetDone] = []
    truth: dict[tuple[str, str], float] = {}
    for lifter in (f"S{number:03d}" for number in range(lifters)):
        for machine in MACHINES:
            steepness = float(rng.normal(machine.steepness + shift, 0.235))
            ln_one_rm = truth[lifter, machine.name] = float(rng.normal(np.log(80.0), 0.3))
            share = _share(curve, steepness, int(rng.integers(8, 13)))
            set_kg = round(float(np.exp(ln_one_rm)) * share / 2.5) * 2.5
            fresh = curve(float(min(set_kg / np.exp(ln_one_rm), 1.2)), steepness)
            for session in range(sessions):
                day = START + timedelta(days=7 * (session // 2) + 3 * (session % 2))
                for number in range(3):
                    noise = float(rng.normal(0.0, machine.observation_sd)) / EPLEY_SLOPE
                    reps = max(round(fresh * 0.9**number + noise), 1)
                    one = _set(lifter, machine.name, day, set_kg, reps)
                    rest_s = 150.0 if number else None
                    sets.append(replace(one, set_number=number + 1, rest_s=rest_s))
    return tuple(sets), truth


def still_one_rms(
    sets: tuple[SetDone, ...], truth: Mapping[tuple[str, str], float], policy: Policy
) -> tuple[float, float]:
    """Mean of ln(estimated / true 1RM), and the share held by the 80 % interval."""
    beliefs = machine_beliefs(sets, policy)
    misses, held = [], []
    for (lifter, machine), ln_one_rm in truth.items():
        found = beliefs.own(machine, lifter)
        if found is not None:
            one_rm = found.one_rm_kg
            misses.append(float(np.log(one_rm.median)) - ln_one_rm)
            held.append(one_rm.low80 <= np.exp(ln_one_rm) <= one_rm.high80)
    return float(np.mean(misses)), float(np.mean(held))


def machine_study(lifters: int = 80, sessions: int = 14, seed: int = 20270105) -> str:
    """The section of docs/validation.md."""
    policy = default_policy()
    lines = [
        f"{lifters} simulated lifters a curve, {sessions} sessions about a week apart, one set to "
        f"failure on each of three machines (seed {seed}), with the observation SD, process SD and "
        "drift of a real trial (studies/machine_study.py says which). Target for real logs: RMSE "
        "at most 0.94 of the best simple rule, 80 % intervals holding 0.76 to 0.90.",
        "",
        "| curve | machine | sets | RMSE, reps | of the best rule | 80 % interval held |",
        "|---|---|---|---|---|---|",
    ]
    for name, curve, shift in CURVES:
        rng = np.random.default_rng(seed)
        sets = machine_log(curve, shift, rng, lifters=lifters, sessions=sessions)
        for machine, result in machine_scores(sets, policy):
            best = min(result.baselines.values())
            lines.append(
                f"| {name} | {machine} | {result.n} | {result.rmse_reps:.2f} | "
                f"{(result.rmse_reps or 0.0) / best:.3f} | {result.coverage80:.3f} |"
            )
    lines += [
        "",
        "The 1RM where three sets end in failure twice a week at a load that never moves, and "
        "strength stays as it is: it should miss by less than 10 % in the mean.",
        "",
        "| curve | 1RM beside the true one | 80 % interval held |",
        "|---|---|---|",
    ]
    for name, curve, shift in CURVES:
        rng = np.random.default_rng(seed)
        sets, truth = still_log(curve, shift, rng, lifters=lifters, sessions=sessions)
        miss, held = still_one_rms(sets, truth, policy)
        lines.append(f"| {name} | {100 * miss:+.1f} % | {held:.2f} |")
    return "\n".join(lines)


def machine_scores(sets: tuple[SetDone, ...], policy: Policy) -> list[tuple[str, Score]]:
    """The score of every machine and of all together."""
    rows = backtest_rows(machine_beliefs(sets, policy).replayed)
    found = [
        (m.name, score([row for row in rows if sets[row.source].lift == m.name])) for m in MACHINES
    ]
    return [*found, ("all", score(rows))]


def _one_lifter(
    lifter: str,
    machine: Machine,
    curve: Curve,
    shift: float,
    rng: np.random.Generator,
    sessions: int,
) -> list[SetDone]:
    steepness = float(rng.normal(machine.steepness + shift, 0.235))
    # what one repetition is worth on this lifter's curve, beside Epley's, on which the figures are
    scale = 0.0335 * np.exp(steepness - shift) * 0.92 * 10**-0.08 / EPLEY_SLOPE
    drift = float(rng.normal(machine.drift, 0.003))
    ln_one_rm, day, target = float(rng.normal(np.log(80.0), 0.3)), START, int(rng.integers(8, 13))
    load = np.exp(ln_one_rm + rng.normal(0.0, 0.08)) * _share(curve, steepness, target)
    sets: list[SetDone] = []
    for session in range(sessions):
        if session:
            day += timedelta(days=int(rng.choice([5, 7, 7, 7, 7, 9, 14])))
            ln_one_rm += scale * (drift + float(rng.normal(0.0, machine.process_sd)))
        set_kg = max(round(float(load) / 2.5) * 2.5, 2.5)
        fresh = curve(float(min(set_kg / np.exp(ln_one_rm), 1.2)), steepness)
        noise = float(rng.normal(0.0, machine.observation_sd)) / EPLEY_SLOPE
        reps = max(round(fresh + noise), 1)
        load *= 1.05 if reps >= target + 3 else 0.95 if reps < target - 4 else 1.0
        sets.append(_set(lifter, machine.name, day, set_kg, reps))
    return sets


def _share(curve: Curve, steepness: float, target: int) -> float:
    shares = np.linspace(0.3, 1.0, 141)
    reps = np.array([curve(float(share), steepness) for share in shares])
    return float(shares[int(np.argmin(np.abs(reps - target)))])


def _set(lifter: str, lift: str, day: date, load_kg: float, reps: int) -> SetDone:
    return SetDone(
        moment=Moment(day=day),
        lift=lift,
        set_number=1,
        loads_kg=(load_kg,),
        entered_load=f"{load_kg:g}",
        entered_unit="kg",
        reps=(reps,),
        rir_low=0.0,
        rir_high=0.0,
        lifter=lifter,
    )
