"""From a lifter, the catalogue, log and policy to a `Problem`."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Catalogue, Lift, Lifter, Pin, RepRange
from blockwright.engine.volume import CeilingBelief
from .baseline import muscle_aims
from .candidates import Candidates, as_done, ranges_of, usable_lifts
from .limits import PlanningLimits
from .log_facts import LogFacts
from .patterns import BASICS, basic_of, is_on_the_arms
from .problem import Option, PinRule, Problem
from .spared import NOTHING_CARRIED, Carried, Spared, is_stand_in_no_better, loads_much
from .time_model import lift_time

_NEVER_HEAVY_ALONE = ("row", "pull", "overhead")
"""Patterns of which no machine or cable lift is trained heavy, even where no free one is."""
PLENTY_MINUTES = 180  # What a waived slot has


def make_problem(
    lifter: Lifter,
    catalogue: Catalogue,
    policy: Policy,
    *,
    log: LogFacts | None = None,
    ceilings: Mapping[str, CeilingBelief] | None = None,
    gentle: bool = False,
    known: Collection[str] = (),
    carried: Carried = NOTHING_CARRIED,
    waive: Collection[str] = (),
    wide: bool = False,
) -> Problem:
    """The problem of `lifter`; `gentle` for a novice's or returner's first week, `wide` offers
    every lift that fits, not only the best few."""
    limits = PlanningLimits(policy)
    log = log or LogFacts()
    kept = {m: e for m, e in lifter.emphasis.items() if f"lead:{m}" not in waive}
    lifter = replace(lifter, emphasis=kept)
    pins = {index: pin for index, pin in enumerate(lifter.pins) if f"pin:{index}" not in waive}
    pinned = {catalogue.canonical(pin.lift) for pin in pins.values()}
    liked = {catalogue.canonical(name) for name in lifter.likes}
    said = {catalogue.canonical(one.lift) for one in lifter.known}
    known = frozenset(known) | said | set(log.lifts)
    wanted = pinned | liked | carried.kept | set(log.lifts) | said | {x.name for x in lifter.lifts}
    usable = usable_lifts(lifter, catalogue, waive)
    fit = [
        lift
        for lift in usable
        if lift.name in pinned or not is_stand_in_no_better(lift, lifter, catalogue, log)
    ]
    lifts = _spared(usable, fit, carried, log, pinned, wanted)
    spare = carried.spared
    candidates = Candidates(lifter, lifts, log, limits, wanted, known, spare.regions, wide=wide)
    return Problem(
        lifter=lifter,
        limits=limits,
        log=log,
        aims=muscle_aims(lifter, log, limits, ceilings, gentle=gentle),
        slots=lifter.slots,
        options=_options(candidates, pins, catalogue, spare, waive),
        budget_s=_budgets(lifter, policy, waive),
        most_lifts=limits.lifts_most
        if "lifts a session" in waive
        else limits.lifts_session(lifter),
        pins=tuple(pin_rule(pin, lifter, catalogue) for pin in pins.values()),
        gentle=gentle,
        known=frozenset(known),
        carried=carried,
        liked=frozenset(liked),
        scores={lift.name: candidates.score(lift) for lift in lifts},
    )


def _spared(
    usable: Sequence[Lift],
    fit: Sequence[Lift],
    carried: Carried,
    log: LogFacts,
    pinned: Collection[str],
    wanted: Collection[str],
) -> list[Lift]:
    """The fit lifts that load nothing sore too much; where none of a pattern spares it more, the
    logged one that is borne, and nothing new beside it."""
    spare = carried.spared
    offered = [x for x in usable if x.name not in carried.left_out]
    lifts = [
        lift
        for lift in fit
        if lift.name in pinned or not (lift.name in carried.left_out or spare.keeps_out(lift, log))
    ]
    borne = [
        lift
        for lift in offered
        if lift.compound and lift not in lifts and spare.none_better(lift, lifts, log)
    ]
    held = {basic_of(lift) for lift in borne}
    return [x for x in lifts if x.name in wanted or basic_of(x) not in held] + borne


def _budgets(lifter: Lifter, policy: Policy, waive: Collection[str]) -> tuple[int, ...]:
    start_s = policy.whole("time.session_start")
    return tuple(
        60 * (PLENTY_MINUTES if f"slot:{i}" in waive else slot.minutes) - start_s
        for i, slot in enumerate(lifter.slots)
    )


def _options(
    candidates: Candidates,
    pins: Mapping[int, Pin],
    catalogue: Catalogue,
    spare: Spared,
    waive: Collection[str],
) -> tuple[Option, ...]:
    lifter, limits = candidates.lifter, candidates.limits
    pinned = {catalogue.canonical(pin.lift): pin for pin in pins.values()}
    high = lifter.allow.high_reps or "high repetitions" in waive
    offered: list[Lift] = []
    for basic in BASICS:
        offered += candidates.mains(basic)
    offered += candidates.others
    for muscle in MUSCLES:
        offered += candidates.smalls(muscle)
    for muscle in MUSCLES:
        if lifter.emphasis_of(muscle) == "lead":
            offered += candidates.other_angle(muscle, offered)
    options = []
    for lift in offered:
        pin, logged = pinned.get(lift.name), candidates.log.lifts.get(lift.name)
        said = [x.reps for x in lifter.known if catalogue.canonical(x.lift) == lift.name]
        for reps in _pinned_ranges(lift, pin, candidates.log, limits) or ranges_of(
            lift, lifter, candidates.log, limits, high_reps=high, said=said
        ):
            zone = limits.zone_of(reps)
            if pin is not None and isinstance(pin.reps, str):
                zone = pin.reps
            elif zone == "low" and logged is not None and logged.is_light(reps):
                zone = "mid"  # a back-off day is no second heavy one
            time = lift_time(lift, zone, reps, limits.policy)
            asked_for = pin is not None
            options.append(Option(lift=lift, zone=zone, reps=reps, time=time, pinned=asked_for))
    asked = {name for name, done in candidates.log.lifts.items() if done.is_heavy}
    free = {o.basic for o in options if o.heavy and o.lift.stability == "free"}
    never = {*free, *_NEVER_HEAVY_ALONE}
    done = {name: logged.reps for name, logged in candidates.log.lifts.items()}
    lighter = {  # nothing takes weight off the arms: longer sets than are done are no lighter ones
        o.lift.name
        for o in options
        if not (o.heavy or (is_on_the_arms(o.lift) and done.get(o.lift.name, 99) < o.reps.low))
    }

    def may_be(option: Option) -> bool:
        lift = option.lift
        if not option.heavy or lift.name in pinned:
            return True
        if lift.name in spare.lifts or loads_much(lift, spare.regions):
            return lift.name not in lighter and lift.name in candidates.log.lifts
        return lift.name in asked or lift.stability == "free" or option.basic not in never

    return tuple(option for option in options if may_be(option))


def _pinned_ranges(
    lift: Lift, pin: Pin | None, log: LogFacts, limits: PlanningLimits
) -> Sequence[RepRange]:
    """What a pin says of repetitions; nothing where it says nothing."""
    if pin is None or pin.reps is None:
        return ()
    if isinstance(pin.reps, RepRange):
        return [pin.reps]
    zone = pin.reps
    own = [r for r in lift.prefers if limits.zone_of(r) == zone]
    # a zone the catalogue does not list for the lift: the coach's word
    found = own[0] if own else limits.working_range(lift, zone) or limits.range_of(zone)
    logged = log.lifts.get(lift.name)
    return [as_done(found, logged.days.values() if logged else (), lift, limits)]


def pin_rule(pin: Pin, lifter: Lifter, catalogue: Catalogue) -> PinRule:
    """A coach's pin over the lifter's slots."""
    groups = tuple(
        tuple(i for i, slot in enumerate(lifter.slots) if slot.day == day) for day in pin.days
    )
    return PinRule(
        lift=catalogue.canonical(pin.lift),
        wanted=groups or (tuple(range(len(lifter.slots))),),
        by_day=bool(pin.days),
    )
