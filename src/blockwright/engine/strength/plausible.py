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

from blockwright.engine.policy import Policy
from blockwright.engine.training import Experience, FatigueGroup, Lift

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
    far_ratio: float
    """So many times as strong as the best of another day is borne out by none."""
    per_rep: float
    """What a repetition adds to the load, as a share of it."""

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
        )

    def most_one_rm_kg(self, lift: Lift | None, bodyweight_kg: float | None) -> float:
        """kg of effective load; infinite for a lift nobody knows."""
        if lift is None:
            return inf
        most = self.most_kg[lift.fatigue_group]
        if bodyweight_kg is not None:
            most = min(most, self.most_bodyweights[lift.fatigue_group] * bodyweight_kg)
        return most / 2 if lift.load_kind == "per_hand" else most

    def ask_one_rm_kg(self, lift: Lift | None, bodyweight_kg: float | None) -> float:
        """As `most_one_rm_kg`: from where on a set is asked about; without bodyweight the same."""
        most = self.most_one_rm_kg(lift, bodyweight_kg)
        if lift is None or bodyweight_kg is None:
            return most
        usual = self.ask_bodyweights[lift.fatigue_group] * bodyweight_kg
        return min(most, usual / 2 if lift.load_kind == "per_hand" else usual)

    def one_rm_kg(self, effective_kg: Floats, reps: Floats) -> Floats:
        """Sets read as 1RMs, cautiously: repetitions beyond ten add nothing more."""
        return np.asarray(effective_kg * (1.0 + self.per_rep * np.clip(reps - 1.0, 0.0, 9.0)))

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
