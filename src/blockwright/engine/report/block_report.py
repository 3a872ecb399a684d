"""The report of a block: gathered once, a value."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.report import findings
from blockwright.engine.report.claims import ClaimsKept, claims_came_true, claims_kept
from blockwright.engine.report.done import LiftDone, SetKey, WeekDone, lifts_done, weeks_done
from blockwright.engine.report.fates import Fate, Told, fates_of
from blockwright.engine.report.lifts import LiftStrength, lifts_strength, shown_since
from blockwright.engine.report.muscles import MuscleDone, muscles_done
from blockwright.engine.report.predictions import PredictionScore, prediction_score
from blockwright.engine.review import NextBlock, next_block
from blockwright.engine.review.case import of_lifter
from blockwright.engine.review.exposures import exposures_of, week_start
from blockwright.engine.review.replays import bodyweights_of
from blockwright.engine.strength import Beliefs, replay
from blockwright.engine.training import Block, Catalogue, CheckIn, SetDone


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockReport:
    """Everything a report shows. Titles are `*_finding`, made into words at the edge."""

    block: Block
    """The last revision."""
    through: date
    weeks: tuple[WeekDone, ...]
    lifts: tuple[LiftDone, ...]
    muscles: tuple[MuscleDone, ...]
    strength: tuple[LiftStrength, ...]
    proposals: tuple[Fate, ...]
    claims: ClaimsKept | None
    predictions: PredictionScore | None
    following: NextBlock
    cautions: tuple[Caution, ...]
    findings: dict[str, Reason]
    """By part: done, muscles, strength, proposals, predictions, claims, load, next."""

    @property
    def is_over(self) -> bool:
        """Whether every week of the block had ended by `through`."""
        return self.through >= last_day(self.block)


def last_day(block: Block) -> date:
    """The Sunday of the block's last week."""
    return week_start(block, len(block.weeks) + 1) - timedelta(days=1)


def block_report(
    block: Block,
    sets: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    catalogue: Catalogue,
    policy: Policy,
    *,
    told: Sequence[Told] = (),
    through: date | None = None,
) -> BlockReport:
    """The report as of `through` (the block's last day if None).

    `block` is the last revision, whose decisions it carries; `told` are the proposals as the
    letters told them, where they are at hand. Facts after `through` and of other lifters are
    left out. Raises BadInput when nothing of the block was done.
    """
    end = min(through or last_day(block), last_day(block))
    mine, said = of_lifter(block, sets, checkins)
    mine = tuple(done for done in mine if done.moment.day <= end)
    said = tuple(one for one in said if one.moment.day <= end)
    if not any(done.moment.day >= block.start for done in mine):
        raise BadInput(
            Problem(
                says=f"no set was logged from {block.start} to {end}: there is nothing to report",
                mend="give the log of the block's own weeks with --facts",
            )
        )
    exposures = exposures_of(block, mine, catalogue, end)
    weeks = weeks_done(block, exposures, said, end)
    weights = bodyweights_of(block, said)
    eve = block.start - timedelta(days=1)
    before = replay(mine, catalogue, policy, bodyweights=weights, through=eve)
    after = replay(mine, catalogue, policy, bodyweights=weights, through=end, keep_predictions=True)
    lifts = lifts_done(block, exposures, catalogue, len(weeks), _mistyped(after))
    starts_next = replace(block.lifter, start=end + timedelta(days=1))
    following = next_block(block, mine, said, catalogue, policy, starts_next)
    muscles = muscles_done(block, mine, following.ceilings, catalogue, policy, len(weeks))
    strength = lifts_strength(
        before, after, [lift.lift for lift in lifts], block.start, shown_since(block.start)
    )
    came_true = claims_came_true(block, told, exposures)
    fates = fates_of(block.decisions, told, came_true, len(block.weeks))
    builds = sum(week.kind == "build" for week in weeks)
    predictions = prediction_score(after, block.start, week_start(block, builds + 1))
    kept = claims_kept(told, came_true)
    return BlockReport(
        block=block,
        through=end,
        weeks=weeks,
        lifts=lifts,
        muscles=muscles,
        strength=strength,
        proposals=fates,
        claims=kept,
        predictions=predictions,
        following=following,
        cautions=_cautions(block, following),
        findings={
            "done": findings.done_finding(weeks),
            "muscles": findings.muscle_finding(muscles, builds),
            "strength": findings.strength_finding(strength),
            "proposals": findings.proposals_finding(fates),
            "predictions": findings.predictions_finding(predictions),
            "claims": findings.claims_finding(kept),
            "load": findings.load_finding(weeks, policy.number("review.monotony_flag")),
            "next": findings.next_finding(following),
        },
    )


def _mistyped(beliefs: Beliefs) -> frozenset[SetKey]:
    """Sets whose load stands out of line and was not confirmed."""
    return frozenset(
        (lift, flag.day, flag.set_number)
        for who, lift in beliefs.series
        for flag in beliefs.flags(lift, who)
        if flag.code in ("mistyped", "out_of_line")
    )


def _cautions(block: Block, following: NextBlock) -> tuple[Caution, ...]:
    found: list[Caution] = []
    for caution in (*block.cautions, *following.cautions):
        if caution not in found:
            found.append(caution)
    return tuple(found)
