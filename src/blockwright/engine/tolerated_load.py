"""The load a lift that hurts may keep: the last one it tolerated, or less; or none.

The worst pain a day's sets say is one report (as in `review.safety`); the latest report rules until
a lower one. Thresholds are policy (`safety.pain_carry_on`, `safety.pain_stop_above`). A clearance
answers what stops a lift, not what holds it: what was reported until then stops nothing."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType

from .pain import clearance_of
from .policy import Policy
from .training import Lift, SetDone

NOTHING: Mapping[str, date] = MappingProxyType({})  # Cleared by nobody


@dataclass(frozen=True, slots=True)
class ToleratedLoad:
    """Of a lift to which nothing is added today."""

    load_kg: float | None  # As written on the sheet; None: the lift is left out
    day: date  # Of the latest report
    pain: float | None = None  # None: not held for pain
    about: str = ""  # The lift or the place that hurts; "" where everything is held
    tolerated: bool = True
    """False: it hurts at `load_kg` too, the easiest it was done at since it hurts."""
    least_kg: float = 0.0  # Less of it is no set worth doing: the lift is left out
    signed: bool = False  # Whether a warning sign of its own, in no doubt, leaves it out

    def and_also(self, other: "ToleratedLoad | None", lift: Lift) -> "ToleratedLoad":
        """The stricter of two, about the later report."""
        if other is None or self.load_kg is None:
            return self
        if other.load_kg is None:
            return other
        said = other if other.about and other.day > self.day else self
        load_kg = easier(lift, (self.load_kg, other.load_kg))
        least_kg = max(self.least_kg, other.least_kg)
        # a print that is easier already than what hurt is not eased again
        tolerated = all(one.tolerated for one in (self, other) if one.load_kg == load_kg)
        return replace(said, load_kg=load_kg, tolerated=tolerated, least_kg=least_kg)


def tolerated_load(
    lift: Lift, sets: Iterable[SetDone], policy: Policy, cleared: Mapping[str, date] = NOTHING
) -> ToleratedLoad | None:
    """What `lift` may keep by its own sets (one lifter's, in time order); None: it does not hurt.

    A load was tolerated on a day without pain above `safety.pain_carry_on`, unless it hurt since;
    then the hardest that went before the last painful sets of its day without hurting; where none
    was, the easiest load since on a day that stops nothing stands in: one without pain above
    `safety.pain_stop_above`, or one a clearance answers (`cleared`: by lift or place)."""
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
    since = [day for day in sorted(days) if not quiet or day > quiet[-1]]
    hurting = [
        one.load_kg
        for day in since
        if (worst[day] or 0.0) <= stop or day <= answered
        for one in _that_hurt(days[day], carry_on)
    ]
    kept = [days[quiet[-1]][-1].load_kg] if quiet else []
    load_kg = easier(lift, kept + hurting)
    borne = [
        one.load_kg
        for day in since[-1:]
        for one in days[day]
        if one.load_kg > 0 and one.load_kg != load_kg
        and easier(lift, (one.load_kg, load_kg)) == one.load_kg
    ]  # fmt: skip
    if load_kg in hurting and borne:
        load_kg = min(borne) if lift.load_kind == "assisted" else max(borne)
    weighed = not lift.moves_body
    least = policy.number("safety.pain_least_share") if weighed else 0.0
    return ToleratedLoad(
        load_kg=load_kg, pain=reported[last], day=last, about=lift.name,
        tolerated=load_kg not in hurting, least_kg=least * max(kept + hurting),
    )  # fmt: skip


def _that_hurt(sets: Sequence[SetDone], carry_on: float) -> list[SetDone]:
    """The sets of a day from the first that hurt on: those before it did not."""
    at = next(at for at, one in enumerate(sets) if (one.pain or 0.0) > carry_on)
    return list(sets[at:])


def easier(lift: Lift, loads_kg: Sequence[float]) -> float:
    """The load that asks least of the lifter; of an assisted lift the most help."""
    return max(loads_kg) if lift.load_kind == "assisted" else min(loads_kg)


def _worst(sets: Sequence[SetDone]) -> float | None:
    return max((one.pain for one in sets if one.pain is not None), default=None)
