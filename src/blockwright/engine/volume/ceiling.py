"""Floor and ceiling of weekly sets: what literature says, and what a lifter's weeks teach.

The ceiling C of a muscle is the weekly (fractional) sets from which the lifter recovers half
the time. A week of s sets is not recovered from with probability

    P(not | s, C) = lapse + (1 - 2 lapse) * Phi((ln s - ln C) / sigma)

and the belief over ln C is a posterior on a grid from ln 3 to ln 60. The floor is not learnt."""

import math
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.policy import Policy
from blockwright.engine.training import Energy, Experience

Grid = NDArray[np.float64]  # Shape (GRID_POINTS,)

GRID_POINTS = 121
LN_CEILINGS: Grid = np.linspace(math.log(3.0), math.log(60.0), GRID_POINTS)
LN_CEILINGS.flags.writeable = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekRecovery:
    """One week of one muscle: how much was done, how likely it was recovered from."""

    day: date  # A day that stands for the week (its last day)
    sets: float  # Fractional sets done
    p_recovered: float  # Probability between 0 and 1; 0.5 says nothing either way


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CeilingBelief:
    """What we think of one muscle's ceiling. Immutable; every change is a new belief."""

    muscle: str
    prior_ln_mean: float
    prior_ln_sd: float
    weights: Grid  # Posterior mass on `LN_CEILINGS`, sums to 1
    weeks_seen: int = 0
    failure_seen: bool = False
    """Whether some week was more likely not recovered from than recovered from."""
    last: date | None = None  # The day of the last week seen

    @property
    def ln_mean(self) -> float:
        """Mean of ln C."""
        return float(self.weights @ LN_CEILINGS)

    @property
    def ln_sd(self) -> float:
        """Standard deviation of ln C."""
        return math.sqrt(float(self.weights @ (LN_CEILINGS - self.ln_mean) ** 2))

    @property
    def median(self) -> float:
        """Weekly sets that the ceiling is as likely above as below."""
        return self.quantile(0.5)

    @property
    def at_least(self) -> float | None:
        """Weekly sets the ceiling is at or above nine times in ten, while no week has failed.

        None once a failure has been seen: from then on the ceiling has an upper side too and
        quantiles say it."""
        return None if self.failure_seen else self.quantile(0.1)

    def quantile(self, p: float) -> float:
        """Weekly sets below which the ceiling lies with probability `p` (0 < p < 1)."""
        if not 0 < p < 1:
            raise ValueError(f"a quantile needs 0 < p < 1, not {p}")
        # each grid point stands for the cell around it, so the mass to its left is half its own
        below = np.cumsum(self.weights) - self.weights / 2
        return math.exp(float(np.interp(p, below, LN_CEILINGS)))

    def p_overshoots(self, sets: float) -> float:
        """P(C < sets): how likely `sets` a week overshoots."""
        if sets <= 0:
            return 0.0
        below = np.cumsum(self.weights) - self.weights / 2
        return float(np.interp(math.log(sets), LN_CEILINGS, below, left=0.0, right=1.0))

    def p_recovered(self, sets: float, policy: Policy) -> float:
        """Predictive probability that a week of `sets` will be recovered from."""
        if sets <= 0:
            return 1.0
        return 1.0 - float(self.weights @ p_not_recovered(sets, policy))

    def prescribed_sets(self, policy: Policy) -> float:
        """exp(mean - k SD) of ln C, k by `volume.ceiling.prescribe_below_sd`.

        In simulation this learns faster than a fixed ramp and asks for far too much less often
        (docs/validation.md)."""
        below_sd = policy.number("volume.ceiling.prescribe_below_sd")
        return math.exp(self.ln_mean - below_sd * self.ln_sd)

    def updated(self, sets: float, p_recovered: float, policy: Policy) -> "CeilingBelief":
        """The belief after a week of `sets` that was recovered from with `p_recovered`.

        A soft observation mixes the two likelihoods by its probability, so 0.5 changes nothing. A
        week without sets says nothing about the ceiling and returns the belief unchanged."""
        if not 0 <= p_recovered <= 1:
            raise ValueError(f"a probability lies between 0 and 1, not {p_recovered}")
        if sets <= 0:
            return self
        failed = p_not_recovered(sets, policy)
        weights = self.weights * (p_recovered * (1 - failed) + (1 - p_recovered) * failed)
        return replace(
            self,
            weights=_frozen(weights / weights.sum()),
            weeks_seen=self.weeks_seen + 1,
            failure_seen=self.failure_seen or p_recovered < 0.5,
        )

    def after(self, week: WeekRecovery, policy: Policy) -> "CeilingBelief":
        """The belief after one more week with sets."""
        seen = self.on(week.day, policy).updated(week.sets, week.p_recovered, policy)
        return replace(seen, last=week.day)

    def on(self, day: date, policy: Policy) -> "CeilingBelief":
        """The belief on a day: wider by the days beyond `volume.ceiling.grace_days` since the last
        week, whatever the reason for the gap; blocks need no border."""
        if self.last is None:
            return self
        gap = (day - self.last).days - policy.number("volume.ceiling.grace_days")
        return self.widened(gap, policy)

    def widened(self, days: float, policy: Policy) -> "CeilingBelief":
        """The belief after `days` away from hard sets of this muscle.

        ln C is taken to wander as a stationary process around the prior with memory
        `volume.ceiling.memory_days`: the belief widens and drifts back, never past the prior."""
        if days <= 0:
            return self
        kept = math.exp(-days / policy.number("volume.ceiling.memory_days"))
        spread = self.prior_ln_sd * math.sqrt(1 - kept**2)
        centre = self.prior_ln_mean + kept * (LN_CEILINGS - self.prior_ln_mean)
        step = LN_CEILINGS[1] - LN_CEILINGS[0]
        # a kernel narrower than the grid would lose its spread between the points
        scaled = (LN_CEILINGS[:, None] - centre[None, :]) / max(spread, step / 2)
        moves = np.exp(-0.5 * scaled**2)
        weights = (moves / moves.sum(axis=0)) @ self.weights
        return replace(self, weights=_frozen(weights / weights.sum()))


def floor_sets(policy: Policy) -> float:
    """The smallest weekly fractional sets worth doing; from literature, not learnt."""
    return policy.number("volume.floor_sets")


def ceiling_prior(
    muscle: str, experience: Experience, energy: Energy, policy: Policy
) -> CeilingBelief:
    """What is believed of a muscle's ceiling before any week: all of it judgement, in policy."""
    middle = (
        policy.number("volume.ceiling.prior_sets")
        * policy.number(f"volume.ceiling.muscle.{muscle}")
        * policy.number(f"volume.ceiling.experience.{experience}")
        * policy.number(f"volume.ceiling.energy.{energy}")
    )
    ln_sd = policy.number("volume.ceiling.prior_ln_sd")
    weights = np.exp(-0.5 * ((LN_CEILINGS - math.log(middle)) / ln_sd) ** 2)
    return CeilingBelief(
        muscle=muscle,
        prior_ln_mean=math.log(middle),
        prior_ln_sd=ln_sd,
        weights=_frozen(weights / weights.sum()),
    )


def p_not_recovered(sets: float, policy: Policy) -> Grid:
    """P(not recovered | sets, C) for every ceiling of the grid; `sets` above 0."""
    return _p_not_recovered(
        sets, policy.number("volume.ceiling.lapse"), policy.number("volume.ceiling.sigma")
    )


@lru_cache(maxsize=1024)
def _p_not_recovered(sets: float, lapse: float, sigma: float) -> Grid:
    scaled = (math.log(sets) - LN_CEILINGS) / (sigma * math.sqrt(2))
    below = np.array([0.5 * (1 + math.erf(value)) for value in scaled.tolist()])
    return _frozen(lapse + (1 - 2 * lapse) * below)


def _frozen(weights: Grid) -> Grid:
    weights.flags.writeable = False
    return weights
