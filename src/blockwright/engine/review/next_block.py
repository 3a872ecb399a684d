"""What a block teaches the next one: ceilings, lifts that come back, lifts that make way.

The composer takes the ceilings (what the last build week reaches for, and a start never above
it) and the lifts to keep; a stale or painful lift is left out where another covers its muscles.
Starting loads come from the estimate and then lie one step of the kit below it.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import Caution, FactValue, Reason
from blockwright.engine.review.baseline import normal_cdf
from blockwright.engine.review.block_weeks import BlockWeeks
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.forecast import later_loads, with_load
from blockwright.engine.review.proposals import percent
from blockwright.engine.review.review import week_case
from blockwright.engine.review.safety_proposals import pain_caution, pain_facts
from blockwright.engine.review.swaps import has_stand_in
from blockwright.engine.training import Block, Catalogue, Lift, Lifter
from blockwright.engine.volume import CeilingBelief

Z80 = 1.2816
"""Standard normal quantile at 0.9: an 80 % interval is this many SDs either way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextBlock:
    """The seeds of the next block."""

    ceilings: Mapping[str, CeilingBelief]
    kept: tuple[str, ...]
    """Lifts of the block before that come back."""
    left_out: tuple[str, ...]
    """Lifts that make way."""
    twins: tuple[str, ...]
    """Near twins of those that hurt, which do not come in their place."""
    steps_below: int
    """Steps of the kit under what the estimate supports, in week one."""
    reasons: tuple[Reason, ...]
    cautions: tuple[Caution, ...]


def next_block(known: CoachCase, lifter: Lifter) -> NextBlock:
    """What a block and what was logged before the new start teach the block of `lifter`.

    Raises BadInput when the new block starts before the old one has begun.
    """
    previous, catalogue, policy = known.block, known.catalogue, known.policy
    if previous is None:
        raise ValueError("what a block teaches needs a block")
    start = lifter.start or previous.start + timedelta(days=7 * len(previous.weeks))
    case = week_case(known.until(start - timedelta(days=1)))
    wanted = {pin.lift for pin in lifter.pins} | set(lifter.likes)
    kept, left_out, twins, reasons, cautions = [], [], [], [], []
    for name in _lifts_of(previous):
        lift = catalogue.find(name)
        why = None if lift is None else _why_not(case, lift)
        if lift is not None and lift.name in case.pain:
            cautions.append(pain_caution(case.pain[lift.name], lift.name))
        if lift is None or why is None:
            kept.append(name)
            continue
        if lift.name in wanted or not has_stand_in(lift, catalogue, lifter):
            facts: dict[str, FactValue] = {"lift": lift.name}
            reasons += [why, Reason(code="next_block_stays_wanted", facts=facts)]
            kept.append(name)
        else:
            reasons.append(why)
            left_out.append(lift.name)
            if lift.name in case.pain:
                twins += _twins(lift, catalogue, {*wanted, *_lifts_of(previous)})
    return NextBlock(
        ceilings=case.ceilings,
        kept=tuple(kept),
        left_out=tuple(left_out),
        twins=tuple(twins),
        steps_below=policy.whole("next_block.steps_below"),
        reasons=(*reasons, *_ceiling_reasons(case)),
        cautions=tuple(cautions),
    )


def seeded(
    block: Block, lifter: Lifter, seeds: NextBlock, catalogue: Catalogue, policy: Policy
) -> Block:
    """A composed block with the lifter as the file has it, week one's loads the seeds' steps
    below the estimate, and the reasons why."""
    weeks = BlockWeeks(block, catalogue, policy)
    for session in weeks.weeks[0].sessions:
        for entry in session.entries:
            _ease(weeks, session.session, entry.lift, seeds.steps_below)
    cautions = [caution for caution in seeds.cautions if caution not in block.cautions]
    return replace(
        block,
        lifter=lifter,
        weeks=weeks.finished(1),
        reasons=(*block.reasons, *seeds.reasons),
        cautions=(*block.cautions, *cautions),
    )


def _ease(weeks: BlockWeeks, session: int, name: str, steps: int) -> None:
    """Week one so many steps easier; the later weeks are forecast from there."""
    lift = weeks.lift(name)
    places = weeks.entries(1, session, lift.name)
    load = places[0][2].sets[0].load_kg if places else None
    if load is None:
        return
    rack = rack_for(lift, weeks.block.lifter.gym, weeks.policy)
    for _ in range(steps):
        setting = rack.next_easier(load)
        load = load if setting is None else setting.load_kg
    (week, planned, entry), later = places[0], places[1:]
    first = with_load(entry, load, rack, decided=True)
    weeks.put(week, planned.session, first)
    entries = [found for _, _, found in later]
    made = later_loads(lift, weeks.block.lifter, rack, weeks.policy, first.sets[0], entries)
    for (number, found, _), forecast in zip(later, made, strict=True):
        weeks.put(number, found.session, forecast)


def _lifts_of(block: Block) -> list[str]:
    builds = [week for week in block.weeks if week.kind == "build"]
    lifts = [e.lift for week in builds for s in week.sessions for e in s.entries]
    return list(dict.fromkeys(lifts))


def _twins(lift: Lift, catalogue: Catalogue, stay: Collection[str]) -> list[str]:
    """Near twins of a painful lift: none of them comes in its place."""
    return [
        other.name
        for other in catalogue.lifts.values()
        if other.family == lift.family and other.name != lift.name and other.name not in stay
    ]


def _why_not(case: WeekCase, lift: Lift) -> Reason | None:
    """Why a lift should make way: it hurts, or it has gone nowhere."""
    state = case.pain.get(lift.name)
    if state is not None:
        return Reason(
            code="next_block_painful",
            facts=pain_facts(state, lift.name),
            policy=("safety.pain_carry_on",),
        )
    return _stale(case, lift, since=case.block.start)


def _stale(case: WeekCase, lift: Lift, since: date) -> Reason | None:
    policy = case.policy
    sessions = {e.day for e in case.evidence.exposures if e.lift == lift.name and e.day >= since}
    if len(sessions) < policy.whole("next_block.stale_exposures"):
        return None
    trend = case.facts.beliefs().trend_pct_per_week(lift.name)
    sd = max((trend.high80 - trend.low80) / (2 * Z80), 1e-9)
    line = policy.number("next_block.stale_pct_per_week")
    p_stale = normal_cdf((line - trend.median) / sd)
    if p_stale < policy.number("next_block.stale_probability"):
        return None
    return Reason(
        code="next_block_stale",
        facts={
            "lift": lift.name,
            "trend_pct_per_week": round(trend.median, 2),
            "sessions": len(sessions),
            "p_stale_said": percent(p_stale),
        },
        policy=("next_block.stale_probability", "next_block.stale_pct_per_week"),
    )


def _ceiling_reasons(case: WeekCase) -> list[Reason]:
    """What was learnt of muscles that some week went over."""
    return [
        Reason(
            code="next_block_ceiling",
            facts={
                "muscle": muscle.replace("_", " "),
                "ceiling_median": round(belief.median, 1),
                "weeks": belief.weeks_seen,
            },
            policy=("volume.ceiling.prescribe_below_sd",),
        )
        for muscle, belief in case.ceilings.items()
        if belief.failure_seen
    ]
