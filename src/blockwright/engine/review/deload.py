"""Deload now, or one more build week: both are proposals.

Now: when the pooled watch sounds, when the watches of lifts that carry half of the lead and
normal sets sound, or when wellness and performance fall together. One more week: at the
end of the build weeks, while recovery is high and the ceilings are not near.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Reason
from blockwright.engine.review.baseline import LevelLaw, UsualChanges, change_since
from blockwright.engine.review.evidence import Evidence, all_as_one
from blockwright.engine.review.proposals import percent
from blockwright.engine.review.recovery import RecoveryLaw
from blockwright.engine.training import Block, Catalogue
from blockwright.engine.volume import CeilingBelief

SLOW_FALL_DAYS = 7
"""A fall that began longer than this before the week is judged from its own beginning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekChange:
    """A change of the week's kind or the block's length, why, and how sure."""

    reasons: tuple[Reason, ...]
    confidence: float


def deload_now(
    block: Block, evidence: Evidence, catalogue: Catalogue, policy: Policy
) -> WeekChange | None:
    """Whether the next build week should be the deload, or None."""
    reasons = [
        reason
        for reason in (
            _pooled_watch(evidence, policy),
            _many_watches(block, evidence, catalogue, policy),
            _tired_and_falling(evidence, policy),
        )
        if reason is not None
    ]
    if not reasons:
        return None
    return WeekChange(reasons=tuple(reasons), confidence=_p_down(evidence, policy))


def _pooled_watch(evidence: Evidence, policy: Policy) -> Reason | None:
    watch = evidence.watches.pooled
    sounded = any(evidence.window.holds(day) for day in watch.alarms)
    trained = any(evidence.window.holds(point.day) for point in watch.points)
    if not sounded and not (watch.alarm and trained):
        return None
    known = (evidence.window.end - watch.points[0].day).days
    if known < policy.number("review.deload.days_known"):
        return None
    return Reason(
        code="pooled_watch_sounded",
        facts={
            "statistic_sd": round(watch.statistic, 2),
            "limit_sd": round(watch.limit, 2),
            "since": None if watch.falling_since is None else watch.falling_since.isoformat(),
        },
        policy=("watch.false_alarms_a_year", "watch.slack", "watch.lift_correlation"),
        source="one-sided CUSUM; run lengths computed (Lucas & Crosier 1982)",
    )


def _many_watches(
    block: Block, evidence: Evidence, catalogue: Catalogue, policy: Policy
) -> Reason | None:
    sounding, total, names = 0, 0, []
    for session in evidence.window.week.sessions:
        for entry in session.entries:
            lift = catalogue.find(entry.lift)
            if lift is None or not any(
                block.lifter.emphasis_of(muscle) in ("lead", "normal") for muscle in lift.direct
            ):
                continue
            total += len(entry.sets)
            found = evidence.lifts.get(lift.name)
            if found is not None and found.watch_sounded:
                sounding += len(entry.sets)
                names.append(lift.name)
    share = sounding / total if total else 0.0
    if not names or share < policy.number("review.deload.lifts_share"):
        return None
    return Reason(
        code="many_watches_sounded",
        facts={"lifts": ", ".join(dict.fromkeys(names)), "share_pct": round(100 * share)},
        policy=("review.deload.lifts_share", "watch.limit"),
    )


def _tired_and_falling(evidence: Evidence, policy: Policy) -> Reason | None:
    wellness, overall = evidence.lifter.wellness, evidence.overall
    if wellness is None or not wellness.tired or overall is None:
        return None
    p_matched = RecoveryLaw.of(policy).p_matched(overall)
    if p_matched >= policy.number("review.deload.performance_below"):
        return None
    return Reason(
        code="tired_and_falling",
        facts={
            "hooper_total": wellness.total,
            "usual": round(wellness.usual, 1),
            "check_ins": wellness.in_a_row,
            "p_matched": round(p_matched, 3),
            "p_matched_said": percent(p_matched),
        },
        policy=(
            "review.wellness.sds",
            "review.wellness.check_ins",
            "review.deload.performance_below",
        ),
        source="Hooper & Mackinnon 1995, Sports Med 20:321 (from memory)",
    )


def _p_down(evidence: Evidence, policy: Policy) -> float:
    """P(performance as a whole is really lower): this week against before it, or, for a fall
    that has gone on for longer, since the pooled chart left 0."""
    since, start = evidence.watches.pooled.falling_since, evidence.window.start
    if since is not None and since < start - timedelta(days=SLOW_FALL_DAYS):
        start = since
    law = LevelLaw.of(policy)
    parts = []
    for capacities in evidence.capacities.values():
        change = change_since(capacities, start, evidence.window.end, law)
        if change is not None:
            parts.append((float(change.sessions), change))
    whole = all_as_one(parts, policy)
    return 0.5 if whole is None else 1.0 - whole.p_above(0.0, UsualChanges.of(policy))


def extend_block(
    block: Block,
    evidence: Evidence,
    ceilings: Mapping[str, CeilingBelief],
    policy: Policy,
) -> WeekChange | None:
    """Whether one more build week is worth offering before the deload, or None."""
    build_weeks = sum(week.kind == "build" for week in block.weeks)
    if build_weeks >= policy.whole("review.extend.most_weeks") or evidence.missed:
        return None
    wanted = policy.number("review.extend.recovered_from")
    known = [
        found
        for muscle, found in evidence.muscles.items()
        if block.lifter.emphasis_of(muscle) in ("lead", "normal") and found.sets_planned > 0
    ]
    if not known or any(f.p_recovered is None or f.p_recovered < wanted for f in known):
        return None
    share = policy.number("review.extend.ceiling_share")
    for found in known:
        lead = block.lifter.emphasis_of(found.muscle) == "lead"
        if lead and found.sets_done > share * ceilings[found.muscle].median:
            return None
    lowest = min(known, key=lambda f: f.p_recovered or 0.0)
    return WeekChange(
        reasons=(
            Reason(
                code="recovery_holds",
                facts={
                    "muscles": len(known),
                    "lowest": lowest.muscle.replace("_", " "),
                    "lowest_said": percent(lowest.p_recovered or 0.0),
                },
                policy=("review.extend.recovered_from", "review.extend.ceiling_share"),
            ),
        ),
        confidence=min(
            ceilings[f.muscle].p_recovered(f.sets_done, policy) for f in known if f.sets_done > 0
        ),
    )
