"""What is believed of one lift: its 1RM, the repetitions at a load, the load for repetitions."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from .curve import count_variance, psi_with_slope
from .filter import advanced, prediction, step
from .law import StrengthLaw
from .levels import shift_of
from .mixture import mixture_quantiles, normal_cdf, tailed_cdf
from .observation_arrays import USUAL_RIR, parts_left
from .state import XX, FilterState, Prediction, SetInput, X

Floats = NDArray[np.float64]

LOW80, MEDIAN, HIGH80 = 0.1, 0.5, 0.9
Z80 = 1.2815515655446004  # Standard normal quantile at 0.9


@dataclass(frozen=True, slots=True)
class Interval:
    """A median and the bounds that hold eight times in ten."""

    median: float
    low80: float
    high80: float

    @property
    def sd(self) -> float:
        """The SD of a normal with these bounds, never none."""
        return max((self.high80 - self.low80) / (2 * Z80), 1e-9)


@dataclass(frozen=True, slots=True)
class RepsForecast:
    """Repetitions to be expected at a load when the set ends at `rir` as the lifter says it."""

    predicted: Prediction  # Of one series
    ln_load: float
    rir: float  # 0: to failure
    rir_extra_variance: float
    law: StrengthLaw

    @property
    def median(self) -> float:
        return self.quantiles((MEDIAN,))[0]

    @property
    def low80(self) -> float:
        return self.quantiles((LOW80,))[0]

    @property
    def high80(self) -> float:
        return self.quantiles((HIGH80,))[0]

    def quantiles(self, probabilities: tuple[float, ...]) -> tuple[float, ...]:
        """Quantiles of the repetitions, real-valued, not below zero."""
        said = forecast_quantiles(self.predicted, *self._asked(), probabilities, self.law)[:, 0]
        return tuple(max(float(value) - self.rir, 0.0) for value in said)

    def p_at_least(self, reps: float) -> float:
        """Probability of at least `reps` repetitions at the forecast's RIR."""
        return float(self.chances(reps)[0])

    def chances(self, reps: float) -> Floats:
        """`p_at_least` by each of several series, (series,)."""
        said = np.array([[reps - 0.5 + self.rir]])
        return np.asarray(1.0 - forecast_cdf(self.predicted, *self._asked(), said, self.law)[0])

    def _asked(self) -> tuple[Floats, Floats, Floats, Floats]:
        return (
            np.array([self.ln_load]),
            np.array([self.rir]),
            np.array([1.0 if self.rir == 0 else 0.0]),
            np.array([self.rir_extra_variance]),
        )


def forecast_cdf(
    predicted: Prediction,
    ln_load: Floats,
    rir: Floats,
    to_failure: Floats,
    rir_extra_variance: Floats,
    said: Floats,
    law: StrengthLaw,
) -> Floats:
    """P(reps + RIR <= said). `said`: (points, sets); the rest (sets,); result (points, sets)."""
    middle, spread = _ln_load_for(predicted, said, rir, to_failure, rir_extra_variance, law)
    z = (ln_load - middle) / np.sqrt(spread)
    below = np.sum(predicted.weight * _cdf(z, law), axis=1)
    return np.asarray(np.where(said < 0.0, 0.0, below))


def _ln_load_for(
    predicted: Prediction,
    said: Floats,
    rir: Floats,
    to_failure: Floats,
    rir_extra_variance: Floats,
    law: StrengthLaw,
) -> tuple[Floats, Floats]:
    """ln of the load at which reps + RIR are `said`, and its variance: (points, nodes, sets)."""
    open_rir = rir * (1.0 - to_failure)
    m = np.maximum(said[:, None] + predicted.bias * open_rir, 0.0)
    curve, slope = psi_with_slope(m, law.curve_power)
    slope *= predicted.kappa
    reps = np.maximum(said[:, None] - open_rir, 0.0)
    noise = count_variance(m, reps, open_rir, to_failure, law.noise) + rir_extra_variance
    pulled = slope * open_rir
    spread = (
        predicted.capacity_variance
        - 2.0 * pulled * predicted.capacity_bias_cov
        + pulled * pulled * predicted.bias_variance
        + slope * slope * noise * predicted.noise_scale
    )
    return predicted.capacity - predicted.kappa * curve, spread


def _cdf(z: Floats, law: StrengthLaw) -> Floats:
    """The shape of a counted set's surprise: Student where the filter is robust, else normal."""
    return tailed_cdf(z, law.robust.tail_freedom) if law.robust.on else normal_cdf(z)


def forecast_quantiles(
    predicted: Prediction,
    ln_load: Floats,
    rir: Floats,
    to_failure: Floats,
    rir_extra_variance: Floats,
    probabilities: tuple[float, ...],
    law: StrengthLaw,
) -> Floats:
    """Quantiles of reps + RIR, (probabilities, sets): the interval [0, 200] is halved 24 times. For
    one set it is cut in sixteen six times, which comes to the same number in fewer calls."""
    count = ln_load.shape[0]
    parts, times = (16, 6) if count == 1 else (2, 24)
    low, width = np.zeros((len(probabilities), count)), 200.0
    wanted = np.array(probabilities)[:, None, None]
    for _ in range(times):
        width /= parts
        inside = low[:, None] + width * np.arange(1, parts)[:, None]
        said = inside.reshape(-1, count)
        below = forecast_cdf(predicted, ln_load, rir, to_failure, rir_extra_variance, said, law)
        low += width * np.sum(below.reshape(inside.shape) < wanted, axis=1)
    return low + width / 2.0


def _at_load(states: FilterState, fatigue: Floats, ln_load: float) -> Prediction:
    """What is expected of a set with this load: of a lift with two levels, of the one it is for."""
    predicted = prediction(states, fatigue)
    shift = shift_of(states, np.full(len(states.fast), ln_load))
    return predicted if shift is None else replace(predicted, capacity=predicted.capacity + shift)


def chances_of(
    reps: float, effective_kg: float, rir: float, states: FilterState, law: StrengthLaw
) -> Floats:
    """P(at least `reps` repetitions at this load and RIR) by each of the states, each with the
    fatigue it carries: (series,)."""
    ln_load = float(np.log(effective_kg))
    predicted = _at_load(states, states.fast + states.slow, ln_load)
    return RepsForecast(predicted, ln_load, rir, 0.0, law).chances(reps)


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftBelief:
    """One lifter's strength on one lift. Loads are effective kg throughout."""

    lifter: str | None
    lift: str
    as_of: date
    state: FilterState  # Of one series, after the last set
    last_day: date  # Day of the last set
    law: StrengthLaw
    _by_day: dict[date, FilterState] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    """The state as it will be on each day that was asked about."""

    @property
    def sets_used(self) -> int:
        return int(self.state.sets_used[0])

    @property
    def sessions(self) -> int:
        return int(self.state.exposures[0])

    @property
    def one_rm_kg(self) -> Interval:
        """The load for one repetition on an ordinary day, as of `as_of`."""
        state = self._on(self.as_of)
        weight = state.weight[:, 0]
        mean, sd = state.mean[X, :, 0], np.sqrt(state.cov[XX, :, 0])
        low, median, high = np.exp(mixture_quantiles(weight, mean, sd, (LOW80, MEDIAN, HIGH80)))
        return Interval(float(median), float(low), float(high))

    def forecast(
        self,
        effective_kg: float,
        rir: float | None,
        *,
        on: date | None = None,
        fatigue: float = 0.0,
    ) -> RepsForecast:
        """Repetitions at this load and said RIR (0: to failure), `fatigue` as left by
        earlier sets of the lift that day. `rir` None: about two, less sure."""
        if not effective_kg > 0:
            raise ValueError(f"effective load {effective_kg} kg must be above zero")
        state = self._on(self.as_of if on is None else on)
        unknown = rir is None
        return RepsForecast(
            predicted=_at_load(state, np.array([fatigue]), float(np.log(effective_kg))),
            ln_load=float(np.log(effective_kg)),
            rir=USUAL_RIR if rir is None else rir,
            rir_extra_variance=self.law.noise.rir_unknown_sd**2 if unknown else 0.0,
            law=self.law,
        )

    def load_kg_for(self, reps: float, rir: float, *, on: date | None = None) -> float:
        """The effective load at which `reps` at `rir` are the expected number."""
        asked, law = self.forecast(self._own_kg, rir, on=on), self.law
        said = np.array([[reps + rir]])
        ln_load, spread = _ln_load_for(asked.predicted, said, *asked._asked()[1:], law)
        found = mixture_quantiles(
            asked.predicted.weight[:, 0],
            ln_load[0, :, 0],
            np.sqrt(spread[0, :, 0]),
            (MEDIAN,),
            lambda z: _cdf(z, law),
        )
        return float(np.exp(found[0]))

    def after(
        self,
        effective_kg: float,
        reps: float,
        rir: float | None,
        *,
        on: date | None = None,
        rest_s: float | None = None,
        later_reps: Sequence[float] = (),
        part_rest_s: float = 0.0,
    ) -> "LiftBelief":
        """The belief with one more set: of the same session when `on` is the last set's day.

        Of a rest-pause or drop set, load and `reps` are the first part's: the parts after it,
        `part_rest_s` apart, only tire."""
        state = self.states_after(
            effective_kg, (reps,), rir, on=on, rest_s=rest_s, later_reps=later_reps,
            part_rest_s=part_rest_s,
        )  # fmt: skip
        day = self.as_of if on is None else on
        return replace(self, state=state, as_of=day, last_day=day)

    def states_after(
        self,
        effective_kg: float,
        results: Sequence[float],
        rir: float | None,
        *,
        on: date | None = None,
        rest_s: float | None = None,
        later_reps: Sequence[float] = (),
        part_rest_s: float = 0.0,
    ) -> FilterState:
        """As `after`, for each of several results (repetitions) of that one set, side by side:
        the last axis is (results,)."""
        gap_days, new = self._since_last(self.as_of if on is None else on)
        parts = parts_left(later_reps, rir, part_rest_s, self.law.fatigue)
        count = len(results)
        one = SetInput(
            gap_days=np.full(count, gap_days),
            new_session=np.full(count, new),
            rest_s=np.full(count, self.law.fatigue.unknown_rest_s if rest_s is None else rest_s),
            ln_load=np.log(np.full(count, effective_kg)),
            reps=np.array(results, dtype=np.float64),
            rir=np.full(count, USUAL_RIR if rir is None else rir),
            rir_extra_variance=np.full(
                count, self.law.noise.rir_unknown_sd**2 if rir is None else 0.0
            ),
            to_failure=np.full(count, 1.0 if rir == 0 else 0.0),
            evidence=np.full(count, True),
            confirmed=np.full(count, False),
            beyond=np.full(count, False),
            parts_s=np.full(count, parts[0]),
            parts_fast=np.full(count, parts[1]),
            parts_slow=np.full(count, parts[2]),
        )
        alike = self.state.at(np.zeros(count, dtype=np.int64))
        return step(alike, one, self.law)[0]

    def state_on(self, day: date) -> FilterState:
        """The state at the session's start: as `after` has it before the first set."""
        gap_days, new = self._since_last(day)
        return advanced(self.state, np.array([gap_days]), np.array([new]), self.law)

    def _since_last(self, day: date) -> tuple[float, bool]:
        """Days since the last set, and whether one on that day begins a session."""
        gap = (day - self.last_day).days
        return float(max(gap, 0)), gap > 0 or self.sets_used == 0

    @property
    def fatigue(self) -> float:
        """What the sets of the last session had left at the end of the last set."""
        return float(self.state.fast[0] + self.state.slow[0])

    @property
    def _own_kg(self) -> float:
        """A load of the lift's own level."""
        return float(np.exp(self.state.own_load[0])) if self.state.two[0] else 1.0

    def _on(self, day: date) -> FilterState:
        if day not in self._by_day:
            gap = (day - self.last_day).days
            new, days = np.array([gap > 0]), np.array([float(max(gap, 0))])
            self._by_day[day] = advanced(self.state, days, new, self.law)
        return self._by_day[day]
