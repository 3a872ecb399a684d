"""The load a lift that hurts may keep: the last one it tolerated, or less; or none.

The worst pain a day's sets say is one report (as in `review.safety`); the latest report rules until
a lower one. Thresholds are policy (`safety.pain_carry_on`, `safety.pain_stop_above`). A clearance
answers what stops a lift, not what holds it: what was reported until then stops nothing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType

from blockwright.engine.pain import clearance_of
from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift, SetDone

NOTHING: Mapping[str, date] = MappingProxyType({})
"""Cleared by nobody."""


@dataclass(frozen=True, slots=True)
class ToleratedLoad:
    """Of a lift to which nothing is added today."""

    load_kg: float | None
    """As written on the sheet; None: the lift is left out."""
    day: date
    """Of the latest report."""
    pain: float | None = None
    """None: not held for pain."""
    about: str = ""
    """The lift or the place that hurts; "" where everything is held."""
    tolerated: bool = True
    """False: it hurts at `load_kg` too, the easiest it was done at since it hurts."""
    signed: bool = False
    """Whether a warning sign of its own, in no doubt, leaves it out."""

    def and_also(self, other: "ToleratedLoad | None", lift: Lift) -> "ToleratedLoad":
        """The stricter of two, about the later report."""
        if other is None or self.load_kg is None:
            return self
        if other.load_kg is None:
            return other
        said = other if other.about and other.day > self.day else self
        load_kg = easier(lift, (self.load_kg, other.load_kg))
        return replace(said, load_kg=load_kg, tolerated=self.tolerated and other.tolerated)


def tolerated_load(
    lift: Lift, sets: Iterable[SetDone], policy: Policy, cleared: Mapping[str, date] = NOTHING
) -> ToleratedLoad | None:
    """What `lift` may keep by its own sets (one lifter's, in time order); None: it does not hurt.

    A load was tolerated on a day without pain above `safety.pain_carry_on`, unless it hurt since;
    where none was, the easiest load since on a day that stops nothing stands in: one without pain
    above `safety.pain_stop_above`, or one a clearance answers (`cleared`: by lift or place).
    """
    days: dict[date, list[SetDone]] = {}
    for done in sets:
        if done.lift == lift.name and done.method != "warmup":
            days.setdefault(done.moment.day, []).append(done)
    worst = {day: _worst(here) for day, here in days.items()}
    reported = {day: pain for day, pain in worst.items() if pain is not None}
    if not reported:
        return None
    last = max(reported)
    carry_on, stop = (policy.number(f"safety.pain_{key}") for key in ("carry_on", "stop_above"))
    if reported[last] <= carry_on:
        return None
    answered = clearance_of(lift, cleared)
    if reported[last] > stop and last > answered:
        return ToleratedLoad(load_kg=None, pain=reported[last], day=last, about=lift.name)
    quiet = [day for day in sorted(days) if (worst[day] or 0.0) <= carry_on]
    hurting = [
        one.load_kg
        for day in days
        if not (quiet and day <= quiet[-1]) and ((worst[day] or 0.0) <= stop or day <= answered)
        for one in days[day]
    ]
    kept = [days[quiet[-1]][-1].load_kg] if quiet else []
    load_kg = easier(lift, kept + hurting)
    return ToleratedLoad(
        load_kg=load_kg, pain=reported[last], day=last, about=lift.name,
        tolerated=load_kg not in hurting,
    )  # fmt: skip


def easier(lift: Lift, loads_kg: Sequence[float]) -> float:
    """The load that asks least of the lifter; of an assisted lift the most help."""
    return max(loads_kg) if lift.load_kind == "assisted" else min(loads_kg)


def _worst(sets: Sequence[SetDone]) -> float | None:
    return max((one.pain for one in sets if one.pain is not None), default=None)
