"""Loads the block left open, filled from what was logged since, by the planner's own rule."""

import math
from dataclasses import dataclass, replace

from blockwright.engine.planning.deload import eased_load_kg
from blockwright.engine.planning.deload_two_part import half_load_kg
from blockwright.engine.planning.loads import open_load_kg
from blockwright.engine.policy import Policy
from blockwright.engine.strength import Beliefs
from blockwright.engine.tolerated_load import easier
from blockwright.engine.training import Entry, Lift, Lifter
from .find_session import PlannedSession


@dataclass(frozen=True, slots=True)
class OpenLoads:
    """Fills open loads of one session; a load that the coach has accepted is never touched."""

    chosen: PlannedSession
    lifter: Lifter
    policy: Policy
    beliefs: Beliefs | None

    def filled(self, entry: Entry, lift: Lift, *, steady: bool) -> Entry:
        """The entry with every open load filled, or as it is while the lift was never logged; of a
        lift that keeps its load (`steady`) with no more than its last day had."""
        if self.beliefs is None or all(planned.load_kg is not None for planned in entry.sets):
            return entry
        load_kg = self._load_kg(entry, lift, self.beliefs)
        if load_kg is None:
            return entry
        mine = [one for one in self.beliefs.sets if one.lift == lift.name and one.is_work]
        last = [one.load_kg for one in mine if one.moment.day == mine[-1].moment.day]
        if steady and last:
            most_kg = min(last) if lift.load_kind == "assisted" else max(last)
            load_kg = easier(lift, (load_kg, most_kg))
        sets = (
            planned if planned.load_kg is not None else replace(planned, load_kg=load_kg)
            for planned in entry.sets
        )
        return replace(entry, sets=tuple(sets))

    def below_lifted(self, lift: Lift, load_kg: float, reps: int) -> float:
        """A deload's load, or an easier one: below the hardest that gave as many repetitions in the
        week before, which may have been a hard one that the block knows nothing of."""
        monday = min(session.day for session in self.chosen.week.sessions)
        lately = [
            one.load_kg
            for one in (() if self.beliefs is None else self.beliefs.sets)
            if one.lift == lift.name and one.is_work and one.first_reps >= reps
            and 0 < (monday - one.moment.day).days <= 7
        ]  # fmt: skip
        if not lately or lift.load_kind == "assisted":
            return load_kg
        return min(load_kg, eased_load_kg(lift, max(lately), self.lifter.gym, self.policy))

    def _load_kg(self, entry: Entry, lift: Lift, beliefs: Beliefs) -> float | None:
        load_kg = open_load_kg(
            beliefs, self.lifter, lift, entry, self.chosen.session.day, self.policy
        )
        if load_kg is None or not self._is_halved():
            return load_kg
        return half_load_kg(lift, load_kg, self.lifter.gym, self.lifter.bodyweight_kg, self.policy)

    def _is_halved(self) -> bool:
        """The second half of a deload in two parts, where loads are halved."""
        if self.lifter.deload_style != "two-part":
            return False
        week = self.chosen.week
        full = math.ceil(len(week.sessions) / 2)
        return week.kind == "deload" and self.chosen.session.session > full


def no_harder(entry: Entry, lift: Lift, most_kg: float | None) -> Entry:
    """The entry with every set at this load or an easier one; None: with no load."""
    sets = (
        replace(
            one,
            load_kg=most_kg
            if most_kg is None or one.load_kg is None
            else easier(lift, (one.load_kg, most_kg)),
            forecast_kg=None,
        )
        for one in entry.sets
    )
    return replace(entry, sets=tuple(sets))
