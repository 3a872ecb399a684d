"""What no lifter can have done: a load beyond anyone, whatever the other sets of the log say.

Deliberately generous: a limit in kilograms for each lift group and one in bodyweights, both far
above a strong lifter's best. Machines count what their makers print, hence the leg press's limit.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import get_args

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.lifts import FatigueGroup
from blockwright.engine.policy import Policy
from blockwright.engine.training import Experience, Lift

_HUNG = 0.2
"""Bodyweights that hang on a small lift of the body's own weight at most, on top of the share of it
that is moved, before the limit is taken of both (judgement)."""
Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Limits:
    """The most a 1RM can be, by lift group, and how a set is read as one."""

    most_kg: Mapping[str, float]
    most_bodyweights: Mapping[str, float]
    ask_bodyweights: Mapping[str, float]
    """Beyond these a set that nothing bears out is asked about, long before anyone's limit."""
    far_ratio: float  # So many times as strong as the best of another day is borne out by none
    per_rep: float  # What a repetition adds to the load, as a share of it
    step: float  # How many times as heavy the next try is at most
    leap: float  # A set so many times as heavy as the tries before it looks like a point too far

    @classmethod
    def of(cls, policy: Policy, experience: Experience = "advanced") -> "Limits":
        """`experience` lowers what is asked about, never what is possible."""
        groups = get_args(FatigueGroup)
        share = policy.number(f"suspect.ask_share.{experience}")
        return cls(
            {g: policy.number(f"suspect.most_kg.{g}") for g in groups},
            {g: policy.number(f"suspect.most_bodyweights.{g}") for g in groups},
            {g: share * policy.number(f"suspect.ask_bodyweights.{g}") for g in groups},
            policy.number("suspect.far_ratio"),
            policy.number("suspect.kg_per_rep_share"),
            1.0 + policy.number("finding.far_step") + 1e-9,
            10.0 / (1.0 + policy.number("suspect.ten_tolerance_pct") / 100.0),
        )

    def most_one_rm_kg(self, lift: Lift | None, bodyweight_kg: float | None) -> float:
        """kg of effective load; infinite for a lift nobody knows."""
        if lift is None:
            return inf
        most = self.most_kg[lift.fatigue_group]
        if bodyweight_kg is not None:
            most = min(most, self.most_bodyweights[lift.fatigue_group] * bodyweight_kg)
        return most / lift.hands

    def ask_one_rm_kg(self, lift: Lift | None, bodyweight_kg: float | None) -> float:
        """As `most_one_rm_kg`: from where on a set is asked about; without bodyweight the same.

        Calves carry the body all day; what hangs on a leg raise is held against the legs raised."""
        most = self.most_one_rm_kg(lift, bodyweight_kg)
        if lift is None or bodyweight_kg is None:
            return most
        group = "hinge" if "calves" in lift.direct else lift.fatigue_group
        usual = self.ask_bodyweights[group] * bodyweight_kg
        if group == "single_joint" and lift.load_kind == "bodyweight_plus":
            usual *= lift.bodyweight_share + _HUNG
        return min(most, usual / lift.hands)

    def one_rm_kg(self, effective_kg: Floats, reps: Floats) -> Floats:
        """Sets read as 1RMs, cautiously: repetitions beyond ten add nothing more."""
        return np.asarray(effective_kg * (1.0 + self.per_rep * np.clip(reps - 1.0, 0.0, 9.0)))

    def led_to(self, light: Bools, moved: Floats, fresh: Bools) -> Floats:
        """The heaviest load that the `light` sets before each set of its session led to, step by
        step; nan where there were none. Arrays (sets,); `fresh` where a session begins."""
        found = np.full(len(moved), np.nan)
        session = np.cumsum(fresh)
        for place in np.flatnonzero(~fresh & np.isin(session, session[light])).tolist():
            last, top = moved[place - 1], found[place - 1]
            is_step = light[place - 1] and not last > top * self.step
            found[place] = np.fmax(top, last) if is_step else top
        return found

    def alone(self, asked: Bools, worth: Floats, day: Whole, series_of: Whole) -> Bools:
        """Which of the `asked` sets no other day of their series bears out. Arrays (sets,); `worth`
        as `one_rm_kg`, 0 where a set says nothing."""
        found = asked.copy()
        for series in np.unique(series_of[asked]).tolist():
            here = np.flatnonzero(series_of == series)
            days, at = np.unique(day[here], return_inverse=True)
            best = np.zeros(len(days))
            np.maximum.at(best, at, worth[here])
            rising = np.argsort(best)
            top, second = rising[-1], best[rising[-2]] if len(days) > 1 else 0.0
            others = np.where(at == top, second, best[top])
            found[here] &= others * self.far_ratio < worth[here]
        return found
