"""What a block spares: what hurts, and what a limit means beyond its words."""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from blockwright.engine.pain import MUCH, clearance_of, place_in
from blockwright.engine.policy import Policy
from blockwright.engine.tolerated_load import NOTHING, tolerated_load
from blockwright.engine.training import REGIONS, Catalogue, CheckIn, Lift, Lifter, SetDone
from .candidates import usable_lifts
from .limits import PlanningLimits
from .log_facts import LogFacts
from .patterns import basic_of


@dataclass(frozen=True, slots=True)
class Spared:
    """What a block spares: regions that hurt, lifts that hurt, and what the limits mean beyond
    their words."""

    regions: frozenset[str] = frozenset()
    lifts: frozenset[str] = frozenset()
    tolerated: frozenset[str] = frozenset()
    """Of these lifts those whose pain was never so bad that it stops a lift, or was cleared."""
    cleared: Mapping[str, date] = field(default_factory=dict)
    """By lift or place, the day on which a professional cleared it."""
    borne: frozenset[str] = frozenset()
    """Lifts that load what hurts much, but were said to be done now, with no pain that stops
    them."""

    def keeps_out(self, lift: Lift, log: LogFacts) -> bool:
        """Whether a lift stays out: it hurts itself, or is new and loads a sore region much."""
        if lift.name in self.lifts:
            return True
        done = lift.name in log.lifts or lift.name in self.borne
        return loads_much(lift, self.regions) and not done

    def none_better(self, lift: Lift, others: Iterable[Lift], log: LogFacts) -> bool:
        """Whether no other of a logged lift's pattern spares more what hurts, or is logged
        without pain; the lift itself can be borne. Where nobody said which place hurts, any other
        spares it."""

        def load(one: Lift) -> int:
            return sum(one.regions.get(region, 0) for region in self.regions)

        if lift.name not in self.tolerated & set(log.lifts) or not load(lift):
            return False
        if basic_of(lift) == "overhead":  # a block may do without
            return False
        alike = [other for other in others if basic_of(other) == basic_of(lift)]
        return not any(load(o) < load(lift) or o.name in log.lifts for o in alike)


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What a block is given beside its lifter: the block before, one begun, pain."""

    kept: frozenset[str] = frozenset()  # Lifts of the block before that come back
    left_out: frozenset[str] = frozenset()  # Lifts that stay out this once
    spared: Spared = Spared()
    steady: frozenset[str] = frozenset()
    """Lifts that a sheet on the first day would add nothing to, for what hurts."""
    held: Mapping[str, int] | None = None
    """Direct sets a week that muscles on hold have already, in a block that has begun."""
    stood: frozenset[tuple[int, str]] = frozenset()
    """(slot, lift) of a block that has begun: what stays where it is."""


NOTHING_CARRIED = Carried()


def loads_much(lift: Lift, regions: Collection[str]) -> bool:
    """Whether a lift loads any of the regions much."""
    return any(lift.regions.get(region, 0) >= MUCH for region in regions)


def is_stand_in_no_better(lift: Lift, lifter: Lifter, catalogue: Catalogue, log: LogFacts) -> bool:
    """Whether a lift loads what a limit is meant to spare as much as what the limit names."""
    if lift.name in log.lifts:
        return False
    patterns = {name.strip().lower() for name in lifter.limits.avoid_patterns}
    if "hinge" in patterns and basic_of(lift) in ("knee", "hip") and lift.axial >= 2:
        return True
    return any(
        lift.name != avoided.name
        and (lift.family, lift.angle) == (avoided.family, avoided.angle)
        and lift.axial >= max(avoided.axial, 1)
        and set(lift.kit) & set(avoided.kit)
        for avoided in catalogue.known(lifter.limits.avoid_lifts)
    )


def what_hurts(
    lifter: Lifter,
    facts: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    catalogue: Catalogue,
    policy: Policy,
    cleared: Mapping[str, date] = NOTHING,
) -> Spared:
    """Regions and lifts whose latest report of the last days before the start says pain: what is
    quiet again is spared no more. What a clearance answers is spared all the same, and stops
    nothing."""
    if lifter.start is None:
        return Spared()
    since = lifter.start - timedelta(days=PlanningLimits(policy).count("log_days"))
    least, stop = policy.number("compose.pain_least"), policy.number("safety.pain_stop_above")
    latest: dict[str, tuple[date, float]] = {}
    for day, about, pain in _reports(facts, checkins, catalogue):
        if since <= day < lifter.start:
            latest[about] = max(latest.get(about, (day, pain)), (day, pain))
    hurting = {about: said for about, said in latest.items() if said[1] >= least}
    regions = frozenset(hurting) & frozenset(REGIONS)
    lately = (x for x in facts if since <= x.moment.day < lifter.start)
    lifts = frozenset({*hurting, *_named(lately, regions, lifter, catalogue)}) - regions
    stopped = {
        about for about, (day, pain) in hurting.items()
        if pain > stop and day > _answered(about, catalogue, cleared)
    }  # fmt: skip

    def is_tolerated(name: str) -> bool:
        lift = catalogue.lifts[name]
        held = tolerated_load(lift, facts, policy, cleared)
        borne = held is None or held.load_kg is not None
        return borne and stopped.isdisjoint({name, *(r for r, g in lift.regions.items() if g)})

    said = catalogue.known(x.lift for x in lifter.known if (x.on or lifter.start) >= since)
    borne = frozenset(x.name for x in said if loads_much(x, regions) and is_tolerated(x.name))
    return Spared(regions, lifts, frozenset(filter(is_tolerated, lifts)), cleared, borne)


_TALK = re.compile(r"\b(?:no|not|without|fine|ok|okay|good|better|in|out|tucked|up|down|high)\b")
"""Words beside a place that deny pain there or say how the lift is done (judgement)."""


def _named(
    facts: Iterable[SetDone], regions: Collection[str], lifter: Lifter, catalogue: Catalogue
) -> Iterator[str]:
    """Small lifts that load much what hurts, and whose notes without a figure name the place, where
    another lift for the muscle spares it: one of these takes over, and the muscle is kept."""
    others = [
        x for x in usable_lifts(lifter, catalogue) if not (x.compound or loads_much(x, regions))
    ]
    for done in facts:
        lift, place = catalogue.find(done.lift), (place_in(done.note) or "").replace(" ", "_")
        if lift is None or lift.compound or not done.is_work or done.pain is not None:
            continue
        if loads_much(lift, {place} & {*regions}) and not _TALK.search(done.note.lower()):
            yield from (lift.name for x in others if set(lift.direct) <= set(x.direct))


def _reports(
    facts: Sequence[SetDone], checkins: Sequence[CheckIn], catalogue: Catalogue
) -> Iterator[tuple[date, str, float]]:
    """Day, lift or region, and pain of 10; of a set also for the region its note names."""
    for said in checkins:
        if said.measure == "pain" and said.about is not None:
            words, lift = said.about.lower().replace(" ", "_"), catalogue.find(said.about)
            named = [region for region in REGIONS if region in words]
            if lift is not None and not named:
                named = [lift.name]
            yield from ((said.moment.day, about, said.value) for about in named)
    for done in facts:
        lift = catalogue.find(done.lift)
        if done.pain is not None and lift is not None:
            for about in {lift.name, place_in(done.note) or ""} & {lift.name, *REGIONS}:
                yield done.moment.day, about, done.pain


def _answered(about: str, catalogue: Catalogue, cleared: Mapping[str, date]) -> date:
    """The last day on which a professional cleared what a check-in is about."""
    lift = catalogue.find(about)
    if lift is not None:
        return clearance_of(lift, cleared)
    return cleared.get(place_in(about) or about.strip().lower(), date.min)
