"""Simulated lifters: a world's law, a coach's choice of loads, and a log as a person types it.

Everything random comes from the generator that is passed in.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from blockwright.demo.laws import Today, counting_noise
from blockwright.engine.training import Lift, Moment, SetDone
from blockwright.engine.units import KG_PER_LB
from studies.worlds import World

START = date(2027, 1, 4)
LIFT = "trial press"


def trial_lift(name: str = LIFT, **changes: object) -> Lift:
    """A lift for simulated lifters: a barbell press unless told otherwise."""
    usual: dict[str, object] = {
        "name": name,
        "muscles": {"chest": 1.0},
        "pattern": "horizontal press",
        "kit": (),
        "axial": 0,
        "load_kind": "external",
        "bodyweight_share": 0.0,
        "role": "main",
        "family": name,
        "stability": "free",
        "fatigue_group": "press",
        "setup_s": 60,
        "seconds_per_rep": 3.0,
        "reps": {},
        "standard": "",
    }
    return Lift(**{**usual, **changes})  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class TrueSession:
    """What was really so on one day of one lifter."""

    lifter: str
    day: date
    exposure: int
    """From 0."""
    one_rm_kg: float


@dataclass(frozen=True, slots=True)
class SimulatedLog:
    """Facts as a log shows them, and the truth behind them."""

    world: World
    sets: tuple[SetDone, ...]
    truth: tuple[TrueSession, ...]
    true_reps: tuple[float, ...]
    """Per set: repetitions + RIR a reader of the lifter's mind would have expected."""
    slips: tuple[bool, ...]
    """Per set: whether it was typed wrong."""


@dataclass(slots=True)
class _Person:
    """One simulated lifter, in motion."""

    name: str
    ln_one_rm: float
    steepness: float
    phi: float
    bias: float
    drift: float
    ratio: float
    """The coach's running guess of the load for the session, as a share of the last."""


def simulated(
    world: World,
    rng: np.random.Generator,
    *,
    lifters: int,
    exposures: int,
    lift: str = LIFT,
    sets: tuple[int, int] = (3, 5),
    fall: float = 0.0,
    fall_from: int = 10**9,
    fading: float = 0.0,
    gaps: Sequence[int] | None = None,
) -> SimulatedLog:
    """Logs of `lifters` people over `exposures` sessions of one lift, three to nine days apart.

    `fall` lowers ln(1RM) for good from session `fall_from` on, for studies of the watch; `fading`
    by so much more a week from then on, instead of the lifter's drift. `gaps`
    are the days from each session to the next (exposures - 1 of them) for everyone, so that
    lifts simulated one by one can fall on the same days.
    """
    log = _Log()
    for number in range(lifters):
        person = _person(f"L{number:04d}", world, rng)
        days = _gaps(rng, exposures) if gaps is None else gaps
        _train(person, world, rng, log, days, lift, sets, fall, fall_from, fading)
    return SimulatedLog(
        world, tuple(log.sets), tuple(log.truth), tuple(log.true_reps), tuple(log.slips)
    )


def _gaps(rng: np.random.Generator, exposures: int) -> list[int]:
    """Days between sessions: mostly three to nine, now and then a break."""
    usual = rng.choice([3, 4, 4, 7, 7, 9], size=exposures - 1)
    breaks = rng.integers(14, 30, size=exposures - 1)
    return np.where(rng.random(exposures - 1) < 0.03, breaks, usual).tolist()  # type: ignore[no-any-return]


class _Log:
    def __init__(self) -> None:
        self.sets: list[SetDone] = []
        self.truth: list[TrueSession] = []
        self.true_reps: list[float] = []
        self.slips: list[bool] = []


def _person(name: str, world: World, rng: np.random.Generator) -> _Person:
    return _Person(
        name=name,
        ln_one_rm=float(rng.normal(np.log(95.0), 0.35)),
        steepness=float(rng.normal(world.steepness_mean, world.steepness_sd)),
        phi=world.phi * float(np.exp(rng.normal(0.0, world.phi_ln_sd))),
        bias=float(max(rng.normal(world.rir_bias_mean, world.rir_bias_sd), -0.4)),
        drift=float(rng.normal(world.drift_mean, world.drift_sd)),
        ratio=0.0,
    )


def _train(
    person: _Person,
    world: World,
    rng: np.random.Generator,
    log: _Log,
    gaps: Sequence[int],
    lift: str,
    sets: tuple[int, int],
    fall: float,
    fall_from: int,
    fading: float,
) -> None:
    day, load, said_rir = START, 0.0, 3.0
    target, number_of_sets = int(rng.integers(6, 13)), int(rng.integers(sets[0], sets[1] + 1))
    for exposure in range(len(gaps) + 1):
        if exposure:
            gap = gaps[exposure - 1]
            day += timedelta(days=gap)
            drift = -fading / 7 if fading and exposure >= fall_from else person.drift
            person.ln_one_rm += drift * min(gap, 10) - 0.0012 * max(gap - 10, 0)
            person.ln_one_rm += float(rng.normal(0.0, world.process_sd * np.sqrt(gap)))
            said_rir = float(max(3 - exposure // 3 % 3, 1))
        if exposure == fall_from:
            person.ln_one_rm -= fall
        log.truth.append(TrueSession(person.name, day, exposure, float(np.exp(person.ln_one_rm))))
        zone = target + (6 if rng.random() < world.other_zone_share else 0)
        if not load:
            load = _first_load(person, world, rng, target, said_rir)
        scale = 1.0 if zone == target else 0.86
        first = _session(person, world, rng, log, lift, day, load * scale, zone, said_rir,
                         number_of_sets)  # fmt: skip
        if first is not None:
            load = _next_load(load, first, zone)


def _first_load(
    person: _Person, world: World, rng: np.random.Generator, target: int, rir: float
) -> float:
    """A load that should allow the target, as a person guesses it: off by about 6 %."""
    guess = _today(person, world, float(rng.normal(0.0, 0.06)))
    return max(round(guess.load_for(target, rir, 0.4) / 2.5) * 2.5, 2.5)


def _today(person: _Person, world: World, off: float) -> Today:
    tired = world.fatigue(person.phi)
    return Today(world.curve, person.steepness, person.ln_one_rm + off, person.bias, tired)


def _next_load(load: float, first_reps: int, target: int) -> float:
    """The usual rule: up a step for two repetitions too many, down for two too few."""
    step = max(2.5, round(0.03 * load / 2.5) * 2.5)
    if first_reps >= target + 2:
        return load + step
    return max(load - step, 2.5) if first_reps <= target - 3 else load


def _session(
    person: _Person,
    world: World,
    rng: np.random.Generator,
    log: _Log,
    lift: str,
    day: date,
    load: float,
    target: int,
    said_rir: float,
    number_of_sets: int,
) -> int | None:
    """One session's sets; the repetitions of the first, None when it was mistyped."""
    load = max(round(load / 2.5) * 2.5, 2.5)
    today = _today(person, world, float(rng.normal(0.0, world.day_sd)))
    fails = rng.random() < world.failure_share
    first: int | None = None
    for number in range(1, number_of_sets + 1):
        rest = float(rng.choice([90, 120, 150, 180, 240]))
        today.tired.rest(rest)
        m = today.reps_to_failure(load)
        failure = fails and number == number_of_sets
        rir = 0.0 if failure else said_rir
        expected = today.reps_wanted(m, rir)
        reps = max(round(expected + _noise(world, rng, m, expected, rir, failure)), 0)
        today.tired.set_done(reps, m)
        slip = bool(rng.random() < world.slip_share)
        typed_load, typed_reps = _typed(load, reps, rng) if slip else (load, reps)
        missing = not failure and rng.random() < world.rir_missing_share
        log.sets.append(
            SetDone(
                moment=Moment(day=day),
                lift=lift,
                set_number=number,
                loads_kg=(typed_load,),
                entered_load=f"{typed_load:g}",
                entered_unit="kg",
                reps=(typed_reps,),
                rir_low=None if missing else rir,
                rir_high=None if missing else rir,
                rest_s=rest if number > 1 else None,
                lifter=person.name,
                row=len(log.sets) + 2,
            )
        )
        log.true_reps.append(expected + rir)
        log.slips.append(slip)
        if number == 1 and not slip:
            first = reps
        if reps <= 2 and number > 1:
            load = max(round(0.9 * load / 2.5) * 2.5, 2.5)
    return first


def _noise(
    world: World, rng: np.random.Generator, m: float, reps: float, rir: float, failure: bool
) -> float:
    """Counting and judging noise in repetitions (SDs as in `strength.noise`)."""
    sd = 0.55 + 0.022 * max(m, 0.0)
    if not failure:
        said = 0.35 + 0.30 * rir + 0.02 * max(reps - 8.0, 0.0)
        sd = float(np.hypot(sd, said))
    return counting_noise(rng, sd, world.tail_freedom)


def _typed(load: float, reps: int, rng: np.random.Generator) -> tuple[float, int]:
    kind = int(rng.integers(0, 6))
    if kind == 0:
        return load * 10.0, reps
    if kind == 1:
        return load / 10.0, reps
    if kind == 2:
        return load / KG_PER_LB, reps
    if kind == 3:
        return load + 20.0, reps
    if kind == 4:
        return max(load - 20.0, 2.5), reps
    return load, int(f"1{reps}") if reps < 10 else reps // 10
