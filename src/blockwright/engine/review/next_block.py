"""What a block teaches the next one: ceilings, lifts that come back, lifts that make way.

The composer takes the ceilings (what the last build week reaches for, and a start never above it)
and the lifts to keep; a stale or painful lift is left out where another covers its muscles.
Starting loads come from the estimate and then lie one step of the kit below it, where that is a
small one."""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from statistics import NormalDist

from blockwright.engine.case import CoachCase
from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, rack_for
from blockwright.engine.reasons import Caution, Reason, because
from blockwright.engine.training import Block, Catalogue, Lift, Lifter, effective_load_kg
from blockwright.engine.volume import CeilingBelief
from .block_weeks import BlockWeeks
from .case import WeekCase
from .exposures import week_start
from .proposals import percent
from .recovery import monday_of
from .review import week_case
from .safety_proposals import pain_caution, pain_facts
from .set_and_load_changes import put_load
from .swaps import has_stand_in
from .week_state import ever_overreached


@dataclass(frozen=True, slots=True, kw_only=True)
class NextBlock:
    """The seeds of the next block."""

    ceilings: Mapping[str, CeilingBelief]
    kept: tuple[str, ...]  # Lifts of the block before that come back
    left_out: tuple[str, ...]  # Lifts that make way
    twins: tuple[str, ...]  # Near twins of those, which do not come in their place
    steps_below: int  # Steps of the kit under what the estimate supports, in week one
    reasons: tuple[Reason, ...]
    cautions: tuple[Caution, ...]


def next_block(known: CoachCase, lifter: Lifter) -> NextBlock:
    """What a block and what was logged before the new start teach the block of `lifter`.

    Raises BadInput when the new block starts before the old one has begun."""
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
            reasons += [why, because("next_block_stays_wanted", lift=lift.name)]
            kept.append(name)
        else:
            reasons.append(why)
            left_out.append(lift.name)
            stay = {*wanted, *_lifts_of(previous)}
            twins += _twins(lift, catalogue, stay, hurts=lift.name in case.pain)
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
    block: Block,
    lifter: Lifter,
    seeds: NextBlock,
    previous: Block,
    catalogue: Catalogue,
    policy: Policy,
) -> Block:
    """A composed block with the lifter as the file has it, week one's loads the seeds' steps
    below the estimate, and the reasons why."""
    began = {
        (entry.lift, row.reps_low, row.reps_high): row.load_kg
        for week in previous.weeks[:1]
        for entry in week.entries
        if (row := entry.sets[0]).load_kg is not None
    }
    weeks = BlockWeeks(block, catalogue, policy)
    for session in weeks.weeks[0].sessions:
        for entry in session.entries:
            _ease(weeks, session.session, entry.lift, seeds.steps_below, began)
    cautions = [caution for caution in seeds.cautions if caution not in block.cautions]
    return replace(
        block,
        lifter=lifter,
        weeks=weeks.finished(1),
        reasons=(*block.reasons, *seeds.reasons, *_lifts_gone(block, seeds, weeks)),
        cautions=(*block.cautions, *cautions),
    )


def _ease(
    weeks: BlockWeeks,
    session: int,
    name: str,
    steps: int,
    began_kg: Mapping[tuple[str, int, int], float],
) -> None:
    """Week one some steps easier, but not as easy as the block before began; the later weeks are
    forecast from there."""
    lift, lifter = weeks.lift(name), weeks.block.lifter
    places = weeks.entries(1, session, lift.name)
    row = places[0][2].sets[0] if places else None
    if row is None or row.load_kg is None:
        return
    rack = rack_for(lift, lifter.gym, weeks.policy)
    never = math.inf if rack.more_is_easier else -math.inf
    began = began_kg.get((lift.name, row.reps_low, row.reps_high), never)
    whole = effective_load_kg(lift, row.load_kg, lifter.bodyweight_kg) or row.load_kg
    most = weeks.policy.number("next_block.step_most") * whole
    put_load(weeks, lift, places, stepped_down(rack, row.load_kg, steps, began, most))


def stepped_down(rack: Rack, load_kg: float, steps: int, began_kg: float, most_kg: float) -> float:
    """The load some steps of the kit easier, while none is wider than `most_kg` nor as easy as
    the block before began."""
    for _ in range(steps):
        setting = rack.next_easier(load_kg)
        if setting is None or abs(load_kg - setting.load_kg) > most_kg:
            break
        if (setting.load_kg >= began_kg) if rack.more_is_easier else (setting.load_kg <= began_kg):
            break
        load_kg = setting.load_kg
    return load_kg


def _lifts_gone(block: Block, seeds: NextBlock, weeks: BlockWeeks) -> list[Reason]:
    """Lifts of the block before that found no place and are not told of yet (small ones, mostly),
    each with what trains its muscle now."""
    there = {e.lift for e in block.weeks[0].entries}
    told = {reason.facts.get("lift") for reason in block.reasons}
    gone = []
    for name in seeds.kept:
        lift = weeks.catalogue.find(name)
        if lift is None or lift.name in there or lift.name in told:
            continue
        instead = sorted(
            one for one in there
            if one not in seeds.kept and set(weeks.lift(one).direct) & set(lift.direct)
        )  # fmt: skip
        gone.append(f"{lift.name} ({instead[0]} instead)" if instead else lift.name)
    return [because("next_block_gone", lifts=", ".join(gone))] if gone else []


def _lifts_of(block: Block) -> list[str]:
    return list(dict.fromkeys(e.lift for week in block.builds for e in week.entries))


def _twins(lift: Lift, catalogue: Catalogue, stay: Collection[str], *, hurts: bool) -> list[str]:
    """Near twins of a lift that makes way, of a painful one its whole family: none comes in its
    place."""
    return [
        other.name
        for other in catalogue.lifts.values()
        if other.family == lift.family and other.name not in (lift.name, *stay)
        and (hurts or other.angle == lift.angle)
    ]  # fmt: skip


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
    """Judged by the build weeks: sets far from failure in a deload say nothing of a trend."""
    policy, block = case.policy, case.block
    easy = {week_start(block, week.week) for week in block.weeks if week.kind == "deload"}
    days = {e.day for e in case.evidence.exposures if e.lift == lift.name and e.day >= since}
    sessions = {day for day in days if monday_of(day, block.start) not in easy}
    if len(sessions) < policy.whole("next_block.stale_exposures"):
        return None
    trend = case.facts.beliefs(max(sessions)).trend_pct_per_week(lift.name)
    line = policy.number("next_block.stale_pct_per_week")
    p_stale = NormalDist(trend.median, trend.sd).cdf(line)
    if p_stale < policy.number("next_block.stale_probability"):
        return None
    return because(
        "next_block_stale",
        "next_block.stale_probability",
        "next_block.stale_pct_per_week",
        lift=lift.name,
        trend_pct_per_week=round(trend.median, 2),
        sessions=len(sessions),
        p_stale_said=percent(p_stale),
    )


def _ceiling_reasons(case: WeekCase) -> list[Reason]:
    """What was learnt of muscles that some week of the block went over."""
    over = ever_overreached(case.states, case.block.start, case.policy)
    return [
        because(
            "next_block_ceiling",
            "volume.ceiling.prescribe_below_sd",
            muscle=muscle.replace("_", " "),
            ceiling_median=round(belief.median, 1),
            weeks=belief.weeks_seen,
        )
        for muscle, belief in case.ceilings.items()
        if muscle in over
    ]
