"""The report of a block: gathered once, a value."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.report import findings
from blockwright.engine.report.claims import ClaimsKept, claims_came_true, claims_kept
from blockwright.engine.report.done import LiftDone, WeekDone, lifts_done, weeks_done
from blockwright.engine.report.fates import Fate, Told, fates_of
from blockwright.engine.report.lifts import LiftStrength, lifts_strength, shown_since
from blockwright.engine.report.muscles import MuscleDone, muscles_done
from blockwright.engine.report.predictions import PredictionScore, prediction_score
from blockwright.engine.review import NextBlock, next_block
from blockwright.engine.review.case import of_lifter
from blockwright.engine.review.exposures import doubted_sets, exposures_of, week_start
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
    mine, said = _facts_through(block, sets, checkins, end)
    case = _Case(block, mine, said, catalogue, policy, end)
    before, after = case.beliefs()
    exposures = exposures_of(block, mine, catalogue, end, doubted_sets(after))
    weeks = weeks_done(block, exposures, said, end)
    lifts = lifts_done(block, exposures, catalogue, len(weeks))
    names = [lift.lift for lift in lifts]
    builds = sum(week.kind == "build" for week in weeks)
    came_true = claims_came_true(block, told, exposures)
    following = case.following()
    parts = _Parts(
        weeks=weeks,
        muscles=muscles_done(block, mine, following.ceilings, catalogue, policy, len(weeks)),
        strength=lifts_strength(before, after, names, block.start, shown_since(block.start)),
        proposals=fates_of(
            [one for one in block.decisions if not one.by_hand],
            told,
            came_true,
            len(block.weeks),
        ),
        claims=claims_kept(told, came_true),
        predictions=prediction_score(after, block.start, week_start(block, builds + 1)),
        following=following,
    )
    return BlockReport(
        block=block,
        through=end,
        lifts=lifts,
        cautions=_cautions(block, following),
        findings=_findings(parts, builds, policy),
        **{each.name: getattr(parts, each.name) for each in fields(parts)},
    )


def _facts_through(
    block: Block, sets: Sequence[SetDone], checkins: Sequence[CheckIn], end: date
) -> tuple[tuple[SetDone, ...], tuple[CheckIn, ...]]:
    """The lifter's own facts up to `end`. BadInput when no set of the block is among them."""
    mine, said = of_lifter(block, sets, checkins)
    mine = tuple(done for done in mine if done.moment.day <= end)
    if not any(done.moment.day >= block.start for done in mine):
        raise BadInput(
            Problem(
                says=f"no set was logged from {block.start} to {end}: there is nothing to report",
                mend="give the log of the block's own weeks with --facts",
            )
        )
    return mine, tuple(one for one in said if one.moment.day <= end)


@dataclass(frozen=True, slots=True)
class _Case:
    """What a report is made from: the block, and the lifter's own facts up to `end`."""

    block: Block
    sets: Sequence[SetDone]
    checkins: Sequence[CheckIn]
    catalogue: Catalogue
    policy: Policy
    end: date

    def beliefs(self) -> tuple[Beliefs, Beliefs]:
        """Strength on the eve of the block, and at the end."""
        weights = bodyweights_of(self.block, self.checkins)
        eve = self.block.start - timedelta(days=1)
        return (
            replay(self.sets, self.catalogue, self.policy, bodyweights=weights, through=eve),
            replay(
                self.sets,
                self.catalogue,
                self.policy,
                bodyweights=weights,
                through=self.end,
                keep_predictions=True,
            ),
        )

    def following(self) -> NextBlock:
        """What all of it teaches the block that starts the day after."""
        starts_next = replace(self.block.lifter, start=self.end + timedelta(days=1))
        return next_block(
            self.block, self.sets, self.checkins, self.catalogue, self.policy, starts_next
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Parts:
    """The parts that have a finding; fields as in `BlockReport`."""

    weeks: tuple[WeekDone, ...]
    muscles: tuple[MuscleDone, ...]
    strength: tuple[LiftStrength, ...]
    proposals: tuple[Fate, ...]
    claims: ClaimsKept | None
    predictions: PredictionScore | None
    following: NextBlock


def _findings(parts: _Parts, builds: int, policy: Policy) -> dict[str, Reason]:
    """What the title of each part says."""
    return {
        "done": findings.done_finding(parts.weeks),
        "muscles": findings.muscle_finding(parts.muscles, builds),
        "strength": findings.strength_finding([lift.heading for lift in parts.strength]),
        "proposals": findings.proposals_finding(parts.proposals),
        "predictions": findings.predictions_finding(parts.predictions),
        "claims": findings.claims_finding(parts.claims),
        "load": findings.load_finding(parts.weeks, policy.number("review.monotony_flag")),
        "next": findings.next_finding(parts.following),
    }


def _cautions(block: Block, following: NextBlock) -> tuple[Caution, ...]:
    found: list[Caution] = []
    for caution in (*block.cautions, *following.cautions):
        if caution not in found:
            found.append(caution)
    return tuple(found)
