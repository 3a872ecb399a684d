"""Loads along the block: from the strength belief, in small steps, as the kit makes them.

Only what the lifter has logged is a basis; without it a load stays None and the sheet shows how
to find one. Week one is for the lifter; later weeks are forecasts and carry a range.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from blockwright.engine.fatigue import FatigueState
from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, rack_for
from blockwright.engine.reasons import Reason
from blockwright.engine.strength import Beliefs, LiftBelief
from blockwright.engine.tolerated_load import tolerated_load
from blockwright.engine.training import (
    Gym,
    Lift,
    RepRange,
    effective_load_kg,
    written_load_kg,
)
from blockwright.engine.units import load_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The load of one entry in one week."""

    load_kg: float | None
    forecast_kg: tuple[float, float] | None = None


@dataclass(slots=True)
class LoadPaths:
    """Makes load paths for one lifter; collects the reasons it met on the way."""

    beliefs: Beliefs | None
    gym: Gym
    bodyweight_kg: float | None
    policy: Policy
    heaviest_kg: Mapping[str, float]
    """Heaviest effective load the lifter has logged, by lift."""
    reasons: list[Reason] = field(default_factory=list)

    def path(
        self, lift: Lift, reps: RepRange, rest_s: int, weeks: list[tuple[date, float, int]]
    ) -> list[Step]:
        """Loads for one lift in one slot; `weeks` holds (day, RIR, sets) of each build week."""
        belief = self._belief(lift)
        rack = rack_for(lift, self.gym, self.policy)
        if belief is None:
            return [Step(load_kg=self._tolerated(lift, rack))] * len(weeks)
        steps: list[Step] = []
        before: float | None = None
        for number, (_, rir, sets) in enumerate(weeks):
            wanted = self._wanted(belief, reps, rest_s, rir, sets, weeks[0][0])
            grown = wanted * (1 + self.policy.number("load.growth_per_week")) ** number
            if number == 0:
                load = self._first(lift, rack, grown)
                if load is None:
                    facts = {"lift": lift.name}
                    self.reasons.append(Reason(code="load_too_heavy_for_kit", facts=facts))
            else:
                load = self._next(lift, rack, belief, reps, rir, before, grown, number)
            if load is None:
                return [Step(load_kg=None)] * len(weeks)
            spread = self._range(lift, rack, belief, load) if number else None
            steps.append(Step(load_kg=load, forecast_kg=spread))
            before = load
        return steps

    def _tolerated(self, lift: Lift, rack: Rack) -> float | None:
        """Of a lift whose every set hurt nothing is known but what it tolerated: that load, without
        a climb."""
        hurt = (
            None if self.beliefs is None else tolerated_load(lift, self.beliefs.sets, self.policy)
        )
        if hurt is None or hurt.load_kg is None:
            return None
        setting = rack.not_harder_than(hurt.load_kg)
        return None if setting is None else setting.load_kg

    def can_start(self, lift: Lift, reps: RepRange, rest_s: int, rir: float, on: date) -> bool:
        """Whether the kit has a load for two sets, as far as the log tells; True without one."""
        belief = self._belief(lift)
        if belief is None:
            return True
        wanted = self._wanted(belief, reps, rest_s, rir, 2, on)
        return self._first(lift, rack_for(lift, self.gym, self.policy), wanted) is not None

    def _belief(self, lift: Lift) -> LiftBelief | None:
        """What the lifter's own sets of the lift say; a guess from other lifts is no basis."""
        return None if self.beliefs is None else self.beliefs.own(lift.name)

    def _wanted(
        self, belief: LiftBelief, reps: RepRange, rest_s: int, rir: float, sets: int, on: date
    ) -> float:
        """Effective kg at which the first set is safe and the last one still in range."""
        first = belief.load_kg_for(
            reps.low, rir, on=on, probability=self.policy.number("load.first_probability")
        )
        tired = FatigueState()
        for _ in range(sets - 1):
            tired = tired.after_set(reps.low, reps.low + rir, self.policy)
            tired = tired.rested(rest_s, self.policy)
        last = belief.load_kg_for(
            reps.low,
            rir,
            on=on,
            fatigue=tired.total,
            probability=self.policy.number("load.last_probability"),
        )
        return min(first, last)

    def _first(self, lift: Lift, rack: Rack, wanted: float) -> float | None:
        heaviest = self.heaviest_kg.get(lift.name)
        if heaviest is not None:
            wanted = min(wanted, heaviest * (1 + self.policy.number("load.most_up")))
        written = written_load_kg(lift, wanted, self.bodyweight_kg)
        if written is None:
            return None
        setting = rack.not_harder_than(max(written, 0.0))
        if setting is None or not self._fits(lift, setting.load_kg, wanted):
            return None
        return setting.load_kg

    def _fits(self, lift: Lift, load_kg: float, wanted: float) -> bool:
        """A lift whose lightest form is harder than wanted has no load that can be written."""
        effective = effective_load_kg(lift, load_kg, self.bodyweight_kg)
        return effective is not None and 0 < effective <= wanted * (1 + 1e-9)

    def _next(
        self,
        lift: Lift,
        rack: Rack,
        belief: LiftBelief,
        reps: RepRange,
        rir: float,
        before: float | None,
        wanted: float,
        number: int,
    ) -> float | None:
        if before is None:
            return None
        effective = effective_load_kg(lift, before, self.bodyweight_kg)
        harder = rack.next_harder(before)
        if effective is None or effective <= 0 or harder is None:
            return before
        most = effective * (1 + self.policy.number("load.most_up"))
        step = effective_load_kg(lift, harder.load_kg, self.bodyweight_kg)
        if step is not None and step > most * (1 + 1e-9):
            if step > wanted * (1 + 1e-9):
                return before  # the whole range must be within reach at the new load, too
            return self._big_step(
                lift, belief, reps, rir, before, effective, harder.load_kg, number
            )
        written = written_load_kg(lift, min(wanted, most), self.bodyweight_kg)
        setting = rack.not_harder_than(max(written or 0.0, 0.0))
        if setting is None or not _harder(rack, setting.load_kg, before):
            return before
        return setting.load_kg

    def _big_step(
        self,
        lift: Lift,
        belief: LiftBelief,
        reps: RepRange,
        rir: float,
        before: float,
        effective: float,
        harder_kg: float,
        number: int,
    ) -> float:
        """Where one step of the kit is more than the limit: only from the top of the range."""
        expected = belief.forecast(effective, rir).median
        if expected < reps.high:
            return before
        self.reasons.append(
            Reason(
                code="smallest_step",
                facts={
                    "lift": lift.name,
                    "week": number + 1,
                    "before_kg": before,
                    "after_kg": harder_kg,
                    "before": load_text(before, self.gym.unit),
                    "after": load_text(harder_kg, self.gym.unit),
                    "reps_high": reps.high,
                },
                policy=("load.most_up",),
            )
        )
        return harder_kg

    def _range(
        self, lift: Lift, rack: Rack, belief: LiftBelief, load_kg: float
    ) -> tuple[float, float] | None:
        """Between which loads the week will probably fall: the belief's own spread."""
        effective = effective_load_kg(lift, load_kg, self.bodyweight_kg)
        if effective is None:
            return None
        now = belief.one_rm_kg
        ends = []
        for side in (now.low80, now.high80):
            written = written_load_kg(lift, effective * side / now.median, self.bodyweight_kg)
            setting = rack.not_harder_than(max(written or 0.0, 0.0)) or rack.easiest
            ends.append(setting.load_kg)
        return min(*ends, load_kg), max(*ends, load_kg)


def _harder(rack: Rack, load_kg: float, than_kg: float) -> bool:
    return load_kg < than_kg if rack.more_is_easier else load_kg > than_kg
