"""What is really so of one invented person: strength, fatigue, ceilings, none of it seen.

Repetitions follow a hyperbolic curve and a reserve that empties and refills (`demo.laws`), not the
engine's laws. All figures are inventions; each person's own knobs are in `cast`."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

import numpy as np

from blockwright.engine.training import MUSCLES, Catalogue, Lift, effective_load_kg
from .laws import ReserveFatigue, Today, counting_noise, hyperbolic_curve

SHARE_OF_BODYWEIGHT: Mapping[str, float] = {
    "squat": 1.35, "lunge": 0.75, "hinge": 1.6, "hip extension": 1.7, "back extension": 0.8,
    "knee extension": 0.85, "knee flexion": 0.7, "hip adduction": 0.7, "hip abduction": 0.7,
    "calf raise": 1.9, "horizontal press": 0.95, "incline press": 0.8, "overhead press": 0.62,
    "dip": 1.3, "fly": 0.55, "row": 0.95, "vertical pull": 1.1, "pullover": 0.5,
    "upright row": 0.5, "shrug": 1.4, "lateral raise": 0.32, "front raise": 0.32,
    "rear delt raise": 0.36, "elbow flexion": 0.46, "elbow extension": 0.46, "wrist": 0.4,
    "trunk flexion": 0.6, "trunk rotation": 0.35, "trunk stability": 0.6,
}  # fmt: skip
"""An intermediate's 1RM by pattern, effective load over bodyweight, on a bar or a machine."""

ONE_HAND, BODYWEIGHT_ONLY, SLED, IN_THE_HANDS = 0.42, 1.45, 2.0, 0.45
"""What a dumbbell in each hand, a bodyweight lift, a leg press sled and a dumbbell held in front
make of that share."""

MOST_REPS, MOST_RIR = 45.0, 5.0
"""Nobody counts further, and nobody can say more than "five or more" is left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BodySpec:
    bodyweight_kg: float
    bodyweight_pct_per_week: float = 0.0
    strength: float = 1.0  # Times an intermediate's
    gain_pct_per_week: float = 0.5
    """Of 1RM, for a muscle trained with about ten recovered sets a week."""
    ceiling_sets: float = 17.0
    """Weekly sets from which a muscle is recovered from half the time; muscles vary by 15 %."""
    steepness_sd: float = 0.2
    phi: float = 0.24
    rir_bias: float = 0.35
    day_sd: float = 0.018
    tail_freedom: float = 5.0


@dataclass(slots=True)
class Strength:
    ln_one_rm: float
    steepness: float


@dataclass(frozen=True, slots=True)
class SetTruth:
    reps: int
    said_rir: float


@dataclass(slots=True)
class Body:
    """One person in motion. `trouble` lowers ln(1RM) of everything while it lasts."""

    spec: BodySpec
    catalogue: Catalogue
    rng: np.random.Generator
    lifts: dict[str, Strength] = field(default_factory=dict)
    ceilings: dict[str, float] = field(default_factory=dict)
    residue: dict[str, float] = field(default_factory=dict)
    """By muscle: how much of ln(1RM) is not recovered."""
    trouble: float = 0.0
    weeks: int = 0
    today: float = 0.0
    _day: date | None = None
    _tired: dict[str, ReserveFatigue] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for muscle in MUSCLES:
            spread = float(np.exp(self.rng.normal(0.0, 0.15)))
            self.ceilings[muscle] = self.spec.ceiling_sets * spread
            self.residue[muscle] = 0.0

    @property
    def bodyweight_kg(self) -> float:
        """On the person's own scales, today."""
        change = 1.0 + self.spec.bodyweight_pct_per_week / 100.0
        return float(self.spec.bodyweight_kg * change**self.weeks)

    def begin_session(self, day: date) -> None:
        """A new session: fresh muscles, and one day effect for all lifts of the day."""
        self._tired = {}
        if day != self._day:
            self._day = day
            self.today = float(self.rng.normal(0.0, self.spec.day_sd))

    def one_rm_kg(self, lift: Lift) -> float:
        """Effective kg, as of now, without the day effect."""
        state = self._strength(lift)
        return math.exp(state.ln_one_rm - self._down(lift))

    def load_for(self, lift: Lift, reps: float, rir: float, guess_sd: float) -> float:
        """The effective load at which the person believes to get `reps` with `rir` left."""
        state = self._strength(lift)
        wanted = reps + (1.0 + self.spec.rir_bias) * rir
        share = 1.0 / (1.0 + (wanted - 1.0) / 29.0 * math.exp(state.steepness))
        guess = float(np.exp(self.rng.normal(0.0, guess_sd)))
        return self.one_rm_kg(lift) * share * guess

    def do_set(
        self, lift: Lift, load_kg: float, rir: float, most_reps: int, rest_s: float
    ) -> SetTruth:
        """One set at a load as written, ended at `rir` as the person feels it, or at `most_reps`
        with more in reserve."""
        today = self._today(lift)
        today.tired.rest(rest_s)
        m = self._reps_to_failure(lift, load_kg)
        reps = max(round(today.reps_wanted(m, rir) + self._noise(m, rir)), 0)
        said = rir
        if reps > most_reps:
            said = rir + round((reps - most_reps) / (1.0 + self.spec.rir_bias))
            reps = most_reps
        today.tired.set_done(reps, m)
        return SetTruth(reps=reps, said_rir=float(min(said, MOST_RIR)))

    def mini_sets(self, lift: Lift, loads_kg: Sequence[float], pause_s: float) -> list[int]:
        """Further parts of a rest-pause or drop set, each to about failure."""
        parts = []
        for load in loads_kg:
            tired = self._tired[lift.name]
            tired.rest(pause_s)
            m = self._reps_to_failure(lift, load)
            reps = max(round(m), 1)
            tired.set_done(reps, m)
            parts.append(reps)
        return parts

    def _reps_to_failure(self, lift: Lift, load_kg: float) -> float:
        effective = effective_load_kg(lift, load_kg, self.bodyweight_kg) or 0.0
        return self._today(lift).reps_to_failure(max(effective, 0.0))

    def _today(self, lift: Lift) -> Today:
        state = self._strength(lift)
        tired = self._tired.setdefault(lift.name, ReserveFatigue(self.spec.phi))
        ln_one_rm = state.ln_one_rm - self._down(lift) + self.today
        return Today(_counted, state.steepness, ln_one_rm, self.spec.rir_bias, tired)

    def _noise(self, m: float, rir: float) -> float:
        sd = math.hypot(0.5 + 0.02 * m, 0.3 + 0.25 * rir if rir else 0.0)
        return counting_noise(self.rng, sd, self.spec.tail_freedom)

    def _down(self, lift: Lift) -> float:
        shares = sum(lift.muscles.values())
        unrecovered = sum(self.residue[m] * share for m, share in lift.muscles.items()) / shares
        return self.trouble + unrecovered

    def _strength(self, lift: Lift) -> Strength:
        """The lift's state, invented at first use."""
        if lift.name not in self.lifts:
            middle = SHARE_OF_BODYWEIGHT[lift.pattern] * self.spec.bodyweight_kg
            middle *= self.spec.strength * _kit_factor(lift)
            self.lifts[lift.name] = Strength(
                ln_one_rm=math.log(middle) + float(self.rng.normal(0.0, 0.08)),
                steepness=float(self.rng.normal(0.0, self.spec.steepness_sd)),
            )
        return self.lifts[lift.name]

    def end_week(self, sets: Mapping[str, float], *, strengthens: float = 1.0) -> None:
        """Seven days pass after `sets` hard sets a muscle: gains, and what was too much."""
        self.weeks += 1
        for muscle in MUSCLES:
            done = sets.get(muscle, 0.0)
            over = max(math.log(max(done, 1.0) / self.ceilings[muscle]), -0.5)
            fresh = 0.10 * max(over + 0.1, 0.0)
            self.residue[muscle] = 0.45 * self.residue[muscle] + fresh
        for name, state in self.lifts.items():
            lift = self.catalogue.lifts[name]
            state.ln_one_rm += strengthens * self._gain(lift, sets)
            state.ln_one_rm += float(self.rng.normal(0.0, 0.004))

    def _gain(self, lift: Lift, sets: Mapping[str, float]) -> float:
        direct = lift.direct or tuple(lift.muscles)
        weekly = sum(min(sets.get(muscle, 0.0), self.ceilings[muscle]) for muscle in direct) / len(
            direct
        )
        return self.spec.gain_pct_per_week / 100.0 * math.sqrt(weekly / 10.0)

    def soreness(self, muscle: str, weekly_sets: float) -> int:
        """What the person answers before the next session, 0-10."""
        over = math.log(max(weekly_sets, 1.0) / self.ceilings[muscle])
        middle = 1.2 + 4.0 * max(over + 0.35, 0.0) + 20.0 * self.residue[muscle]
        return int(np.clip(round(middle + float(self.rng.normal(0.0, 0.9))), 0, 10))


def _counted(share: float, steepness: float) -> float:
    return min(max(hyperbolic_curve(share, steepness), 0.0), MOST_REPS)


def _kit_factor(lift: Lift) -> float:
    if lift.load_kind == "per_hand":
        return ONE_HAND
    if lift.moves_body:
        return BODYWEIGHT_ONLY * lift.bodyweight_share / SHARE_OF_BODYWEIGHT[lift.pattern]
    if "leg press" in lift.kit and lift.pattern == "squat":
        return SLED
    return IN_THE_HANDS if "dumbbells" in lift.kit else 1.0
