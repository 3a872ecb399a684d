"""The report of a block: gathered once, a value."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.errors import BadInput
from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.review import NextBlock, Offered, next_block, week_case
from blockwright.engine.review.case import WeekCase, pain_said
from blockwright.engine.review.decisions import PAIN_CODES
from blockwright.engine.review.exposures import exposures_in, week_start
from blockwright.engine.training import Block
from . import findings
from .done import LiftDone, MuscleDone, WeekDone, lifts_done, muscles_done, too_light, weeks_done
from .fates import (
    ClaimsKept,
    Fate,
    PredictionScore,
    claims_came_true,
    claims_kept,
    fates_of,
    prediction_score,
)
from .lifts import LiftStrength, lifts_strength, pooled_gain

_SHOWN_BEFORE = timedelta(weeks=4)  # How far back before the block the pictures look


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockReport:
    """Everything a report shows. Titles are `*_finding`, made into words at the edge."""

    block: Block  # The last revision
    through: date
    findings: dict[str, Reason]  # By part, as `_findings` names them
    weeks: tuple[WeekDone, ...]
    lifts: tuple[LiftDone, ...]
    muscles: tuple[MuscleDone, ...]
    strength: tuple[LiftStrength, ...]
    proposals: tuple[Fate, ...]
    claims: ClaimsKept | None
    predictions: PredictionScore | None
    following: NextBlock
    cautions: tuple[Caution, ...]

    @property
    def is_over(self) -> bool:
        """Whether every week of the block had ended by `through`."""
        return self.through >= last_day(self.block)


def last_day(block: Block) -> date:
    """The Sunday of the block's last week."""
    return week_start(block, len(block.weeks) + 1) - timedelta(days=1)


def block_report(
    facts: CoachCase, *, told: Sequence[Offered] = (), through: date | None = None
) -> BlockReport:
    """The report as of `through` (the block's last day if None).

    The case's block is the last revision, whose decisions it carries; `told` are the proposals as
    the letters told them, where they are at hand. Facts after `through` are left out. Raises
    BadInput when nothing of the block was done."""
    block, catalogue, policy = facts.block, facts.catalogue, facts.policy
    if block is None:
        raise ValueError("a report needs a block")
    end = min(through or last_day(block), last_day(block))
    case = facts.until(end)
    _require_sets(case, block, end)
    foresight = case.foresight()
    before, after = case.beliefs(block.start - timedelta(days=1)), case.beliefs()
    exposures = exposures_in(case)
    weeks = weeks_done(block, exposures, case.checkins, end)
    lifts = lifts_done(block, exposures, catalogue, len(weeks))
    done = {lift.lift: lift for lift in lifts}
    builds = sum(week.kind == "build" for week in weeks)
    came_true = claims_came_true(block, told, exposures)
    following = next_block(case, replace(block.lifter, start=end + timedelta(days=1)))
    report = BlockReport(
        block=block,
        through=end,
        findings={},
        lifts=lifts,
        cautions=_cautions(block, following),
        weeks=weeks,
        muscles=muscles_done(block, case.sets, following.ceilings, catalogue, policy, len(weeks)),
        strength=tuple(
            _as_shown(one, done[one.lift])
            for one in lifts_strength(
                before,
                after,
                [*done],
                block.start,
                block.start - _SHOWN_BEFORE,
                too_light(exposures, block.start),
            )
        ),
        proposals=fates_of(
            [one for one in block.decisions if not one.kind.startswith("coach_")],
            told,
            came_true,
            len(block.weeks),
        ),
        claims=claims_kept(told, came_true),
        predictions=prediction_score(foresight, block.start, week_start(block, builds + 1)),
        following=following,
    )
    return replace(report, findings=_findings(report, builds, week_case(case)))


def _as_shown(one: LiftStrength, done: LiftDone) -> LiftStrength:
    """No change is clear that the first and the last set, at one load, do not show too."""
    more = (done.last_reps or 0) + (done.last_rir or 0) - (done.first_reps or 0)
    more -= done.first_rir or 0
    if one.gain is None or done.first_load_kg != done.last_load_kg or one.gain.pct * more > 0:
        return one
    return replace(one, gain=replace(one.gain, certainty="even"))


def _require_sets(case: CoachCase, block: Block, end: date) -> None:
    """BadInput when no set of the block is among the facts."""
    if not any(done.moment.day >= block.start for done in case.sets):
        says = f"no set was logged from {block.start} to {end}: there is nothing to report"
        raise BadInput.of(says, "give the log of the block's own weeks", column="facts")


def _findings(report: BlockReport, builds: int, case: WeekCase) -> dict[str, Reason]:
    """What the title of each part says. A week that is not over says nothing of its leads yet."""
    ended = [week for week in report.weeks if week.start + timedelta(days=6) <= report.through]
    whole = sum(week.kind == "build" for week in ended)
    return {
        "done": findings.done_finding(report.weeks),
        "muscles": findings.recovery_finding(report.muscles, builds, case),
        "strength": findings.strength_finding(
            [lift.heading for lift in report.strength],
            pooled_gain(report.strength, case.policy.number("watch.lift_correlation")),
        ),
        "proposals": findings.proposals_finding(report.proposals),
        "predictions": findings.predictions_finding(report.predictions),
        "claims": findings.claims_finding(report.claims),
        "load": findings.load_finding(report.weeks, case.policy.number("review.monotony_flag")),
        "leads": findings.lead_finding(report.muscles, whole, report.strength, case.catalogue),
        "pain": findings.pain_finding(pain_said(case.facts), case.block.start),
        "weight": findings.weighed_finding(
            case.facts, case.lifter.energy, case.lifter.units, report.through
        ),
        "next": findings.next_finding(report.following),
    }


def _cautions(block: Block, following: NextBlock) -> tuple[Caution, ...]:
    """Each caution once: of one kind about one lift the last; of pain, what hurts now."""
    past = (c for c in block.cautions if c.code not in PAIN_CODES)
    last = {
        (c.code, c.facts.get("lift"), c.facts.get("about")): c for c in (*past, *following.cautions)
    }
    return tuple(last.values())
