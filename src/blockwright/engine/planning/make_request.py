"""From a lifter, the catalogue, beliefs and policy to a `Request`.

`waive` leaves out rules by name; the clash finder asks "would it work without this one?".
Names: `kit`, `avoid lift:NAME`, `avoid pattern:NAME`, `skip:MUSCLE`, `lead:MUSCLE`,
`pin:NUMBER`, `slot:NUMBER`, `lifts a session`, `high repetitions`.
"""

from collections.abc import Collection, Mapping

import numpy as np

from blockwright.engine.planning.numbers import QUARTERS, Numbers, numbers_of
from blockwright.engine.planning.request import (
    HOURS_OF_WEEK,
    Bools,
    Ints,
    Option,
    PinRule,
    Request,
)
from blockwright.engine.planning.time_model import lift_time
from blockwright.engine.policy import Policy
from blockwright.engine.screening import is_new
from blockwright.engine.training import (
    MUSCLES,
    ZONES,
    Catalogue,
    Lift,
    Lifter,
    Pin,
    RepRange,
    Zone,
)
from blockwright.engine.volume import CeilingBelief, ceiling_prior

PLENTY_MINUTES = 180
"""What a waived slot has."""


def make_request(
    lifter: Lifter,
    catalogue: Catalogue,
    policy: Policy,
    *,
    ceilings: Mapping[str, CeilingBelief] | None = None,
    gentle: bool = False,
    kept: Collection[str] = (),
    known: Collection[str] = (),
    waive: Collection[str] = (),
) -> Request:
    """The request for `lifter`; `gentle` for a novice's or returner's first week."""
    numbers = numbers_of(policy)
    lifts = usable_lifts(lifter, catalogue, waive)
    pins = {index: pin for index, pin in enumerate(lifter.pins) if f"pin:{index}" not in set(waive)}
    options = _options(lifter, lifts, pins, catalogue, numbers, policy, waive)
    cap_q, target_q = _ceilings(lifter, policy, numbers, ceilings)
    pin_rules = tuple(_pin_rule(pin, lifter, options, catalogue) for pin in pins.values())
    start_s = policy.whole("time.session_start")
    budget_s = tuple(
        60 * (PLENTY_MINUTES if f"slot:{i}" in waive else slot.minutes) - start_s
        for i, slot in enumerate(lifter.slots)
    )
    most = numbers.lifts_most
    if lifter.limits.max_lifts_per_session is not None and "lifts a session" not in waive:
        most = lifter.limits.max_lifts_per_session
    return Request(
        slots=lifter.slots,
        options=options,
        numbers=numbers,
        allowed=_allowed(lifter, options, pin_rules, budget_s, numbers),
        budget_s=budget_s,
        least_lifts=tuple(_least_lifts(options, s, most, numbers) for s in budget_s),
        most_lifts=most,
        target_q=target_q,
        cap_q=cap_q,
        weight=_weights(lifter, numbers),
        leads=_leads(lifter, numbers, waive),
        holds=tuple(i for i, m in enumerate(MUSCLES) if lifter.emphasis_of(m) == "hold"),
        pins=pin_rules,
        gentle=gentle,
        low_share=_low_share(options, numbers, novice=is_new(lifter)),
        liked=frozenset(_canonical(name, catalogue) for name in lifter.likes),
        kept=frozenset(kept),
        known=frozenset(known),
    )


def usable_lifts(
    lifter: Lifter, catalogue: Catalogue, waive: Collection[str] = ()
) -> tuple[Lift, ...]:
    """Lifts the kit allows and nobody avoids, in catalogue order."""
    return tuple(
        lift
        for lift in catalogue.lifts.values()
        if all(rule in waive for rule in rules_against(lift, lifter, catalogue))
    )


def rules_against(lift: Lift, lifter: Lifter, catalogue: Catalogue) -> tuple[str, ...]:
    """Names of the lifter's rules that forbid a lift; empty when it is usable."""
    found = []
    if any(word not in lifter.gym.kit for word in lift.kit):
        found.append("kit")
    for name in lifter.limits.avoid_lifts:
        if _canonical(name, catalogue) == lift.name:
            found.append(f"avoid lift:{name}")
    for name in lifter.limits.avoid_patterns:
        if name.strip().lower() == lift.pattern.lower():
            found.append(f"avoid pattern:{name}")
    for muscle in lift.direct:
        if lifter.emphasis_of(muscle) == "skip":
            found.append(f"skip:{muscle}")
    if lift.load_kind in ("bodyweight_plus", "assisted") and lifter.bodyweight_kg is None:
        found.append("bodyweight")
    return tuple(found)


def working_range(lift: Lift, zone: Zone, numbers: Numbers) -> RepRange | None:
    """What a set of `lift` in `zone` is written as: the policy's range inside the lift's own."""
    usable = lift.reps.get(zone)
    if usable is None:
        return None
    wanted = numbers.reps[zone]
    low, high = max(usable.low, wanted.low), min(usable.high, wanted.high)
    if high - low >= 2:
        return RepRange(low=low, high=high)
    # the lift is at home elsewhere in the zone: keep the width, move the range
    width = min(wanted.high - wanted.low, usable.high - usable.low)
    start = usable.low if usable.low > wanted.low else usable.high - width
    return RepRange(low=start, high=start + width)


def zone_of(reps: RepRange, numbers: Numbers) -> Zone:
    """The zone a coach's own range belongs to, by its middle."""
    middle = (reps.low + reps.high) / 2
    if middle < (numbers.reps["low"].high + numbers.reps["mid"].low) / 2:
        return "low"
    if middle < (numbers.reps["mid"].high + numbers.reps["high"].low) / 2:
        return "mid"
    return "high"


def _options(
    lifter: Lifter,
    lifts: tuple[Lift, ...],
    pins: Mapping[int, Pin],
    catalogue: Catalogue,
    numbers: Numbers,
    policy: Policy,
    waive: Collection[str],
) -> tuple[Option, ...]:
    pinned = {_canonical(pin.lift, catalogue): pin for pin in pins.values()}
    high_reps = lifter.allow.high_reps or "high repetitions" in waive
    options = []
    for lift in lifts:
        pin = pinned.get(lift.name)
        for zone, reps in _ranges(lift, pin, numbers):
            pinned_zone = pin is not None and pin.reps is not None
            if zone == "high" and not (pinned_zone or (high_reps and _suits_high(lift))):
                continue
            if zone == "low" and is_new(lifter) and not (numbers.novice_low or pinned_zone):
                continue
            if zone == "low" and not lift.kit and not pinned_zone and set(lift.reps) != {"low"}:
                continue  # nothing to load it with: the lifter, not the sheet, sets the number
            time = lift_time(lift, zone, reps, policy)
            options.append(Option(lift=lift, zone=zone, reps=reps, time=time))
    return tuple(options)


def _suits_high(lift: Lift) -> bool:
    """Long sets with a heavily loaded spine are no one's friend."""
    return not (lift.compound and lift.axial >= 2)


def _ranges(lift: Lift, pin: Pin | None, numbers: Numbers) -> list[tuple[Zone, RepRange]]:
    if pin is not None and isinstance(pin.reps, RepRange):
        return [(zone_of(pin.reps, numbers), pin.reps)]
    zones: tuple[Zone, ...] = ZONES if pin is None or pin.reps is None else (pin.reps,)  # type: ignore[assignment]
    found = [(zone, working_range(lift, zone, numbers)) for zone in zones]
    ranges = [(zone, reps) for zone, reps in found if reps is not None]
    if not ranges and pin is not None and pin.reps is not None:
        # the coach insists on a zone the catalogue does not list for the lift: the coach's word
        ranges = [(zone, numbers.reps[zone]) for zone in zones]
    return ranges


def _canonical(name: str, catalogue: Catalogue) -> str:
    lift = catalogue.find(name)
    return lift.name if lift is not None else name


def _ceilings(
    lifter: Lifter,
    policy: Policy,
    numbers: Numbers,
    ceilings: Mapping[str, CeilingBelief] | None,
) -> tuple[Ints, Ints]:
    """(M,) the planning ceiling, and what the last build week reaches for."""
    cap, target = [], []
    climb_q = numbers.ramp_q * (lifter.weeks - 1)
    for muscle in MUSCLES:
        belief = (ceilings or {}).get(muscle) or ceiling_prior(
            muscle, lifter.experience, lifter.energy, policy
        )
        most_q = int(belief.prescribed_sets(policy) * QUARTERS)
        emphasis = lifter.emphasis_of(muscle)
        reach = {"lead": 1.0, "normal": numbers.normal_share}.get(emphasis, 1.0)
        start_q = min(numbers.start_q[emphasis], most_q)
        wanted_q = start_q if emphasis in ("hold", "skip") else int(most_q * reach)
        cap.append(most_q)
        target.append(min(wanted_q, start_q + climb_q))
    return np.array(cap, dtype=np.int64), np.array(target, dtype=np.int64)


def _weights(lifter: Lifter, numbers: Numbers) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.array(
        [numbers.weight[lifter.emphasis_of(m)] * numbers.muscle_weight[m] for m in MUSCLES]
    )


def _leads(lifter: Lifter, numbers: Numbers, waive: Collection[str]) -> tuple[int, ...]:
    """Lead muscles, when the week has two slots far enough apart for their exposures."""
    starts = [slot.start_hour_of_week for slot in lifter.slots]
    apart = any(
        numbers.hours_between <= abs(one - two) <= HOURS_OF_WEEK - numbers.hours_between
        for one in starts
        for two in starts
    )
    if not apart:
        return ()
    return tuple(
        i
        for i, muscle in enumerate(MUSCLES)
        if lifter.emphasis_of(muscle) == "lead" and f"lead:{muscle}" not in waive
    )


def _pin_rule(
    pin: Pin, lifter: Lifter, options: tuple[Option, ...], catalogue: Catalogue
) -> PinRule:
    name = _canonical(pin.lift, catalogue)
    groups = tuple(
        tuple(i for i, slot in enumerate(lifter.slots) if slot.day == day) for day in pin.days
    ) or (tuple(range(len(lifter.slots))),)
    return PinRule(
        lift=name,
        options=tuple(i for i, option in enumerate(options) if option.lift.name == name),
        wanted=groups,
    )


def _allowed(
    lifter: Lifter,
    options: tuple[Option, ...],
    pins: tuple[PinRule, ...],
    budget_s: tuple[int, ...],
    numbers: Numbers,
) -> Bools:
    """(S, O): the option fits the slot at all, and a lift pinned to days stays on them."""
    seconds = np.array(
        [o.time.fixed_s + numbers.sets_least * o.time.per_set_s for o in options], dtype=np.int64
    )
    allowed = seconds[None, :] <= np.array(budget_s, dtype=np.int64)[:, None]
    for pin, rule in zip(lifter.pins, pins, strict=False):
        if not pin.days:
            continue
        elsewhere = [i for i, slot in enumerate(lifter.slots) if slot.day not in pin.days]
        allowed[np.ix_(elsewhere, list(rule.options))] = False
    return np.asarray(allowed, dtype=np.bool_)


def _least_lifts(options: tuple[Option, ...], budget_s: int, most: int, numbers: Numbers) -> int:
    """The policy's least, less where the slot is too short for so many quick lifts."""
    quick = sorted(o.time.fixed_s + numbers.sets_least * o.time.per_set_s for o in options)
    # the quickest lifts may be twins; half as long again leaves room for others
    typical = quick[min(len(quick) - 1, len(quick) // 3)] if quick else 1
    return max(1, min(numbers.lifts_least, most, budget_s // max(typical, 1)))


def _low_share(
    options: tuple[Option, ...], numbers: Numbers, *, novice: bool
) -> tuple[float, float] | None:
    families = {option.lift.family for option in options if option.zone == "low"}
    if novice and not numbers.novice_low:
        return None
    if len(families) < numbers.low_share_lifts:
        return None
    return numbers.low_share
