"""What became of what was said: proposals, claims that came true, sets foreseen.

The claim of a load is that the first set at it reaches the bottom of the range with the week's
repetitions in reserve. It is judged as the log says it: repetitions, plus what was in reserve
beyond (or short of) the plan. A set at another load, or none, judges nothing. Each set is scored
against what was expected of it before it was seen."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from blockwright.engine.review.exposures import Exposure, in_week
from blockwright.engine.review.proposals import Offered, number_of
from blockwright.engine.strength import Beliefs, backtest_rows, score
from blockwright.engine.training import Block, BlockDecision

Verdict = Literal["accepted", "changed", "declined", "open"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """One proposal and its fate."""

    id: str
    kind: str
    week: int | None
    says: str | None
    """None where the letter was not at hand: the block keeps decisions, not sentences."""
    confidence: float | None
    verdict: Verdict
    words: str
    change: Mapping[str, float | str]
    came_true: bool | None
    """Whether its claim came true; None where that cannot be told from the log."""


def fates_of(
    decisions: Sequence[BlockDecision],
    told: Sequence[Offered],
    came_true: Mapping[str, bool],
    weeks: int,
) -> tuple[Fate, ...]:
    """Every proposal for the first `weeks` weeks and beyond the end, in order of week; those
    without a decision are open."""
    letters = {one.id: one for one in told}
    decided = {one.proposal: one for one in decisions}
    found = []
    for name in dict.fromkeys((*letters, *decided)):
        letter, decision = letters.get(name), decided.get(name)
        found.append(
            Fate(
                id=name,
                kind=letter.kind if letter else decision.kind if decision else "",
                week=letter.week if letter else _week(decision),
                says=letter.says if letter else None,
                confidence=letter.confidence if letter else None,
                verdict=decision.verdict if decision else "open",
                words=decision.words if decision else "",
                change=dict(decision.change) if decision else {},
                came_true=came_true.get(name),
            )
        )
    return tuple(sorted(found, key=lambda fate: fate.week if fate.week is not None else weeks + 1))


def _week(decision: BlockDecision | None) -> int | None:
    week = decision.change.get("week") if decision is not None else None
    return None if week is None else round(float(week))


LOAD_KINDS = ("raise_load", "lower_load")


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimsKept:
    """How often claims came true, beside how often we said they would."""

    judged: int
    kept: int
    expected: float  # The sum of the confidences
    expected_sd: float  # Of the number kept, were every confidence right and every claim on its own


def claims_came_true(
    block: Block, told: Sequence[Offered], exposures: Sequence[Exposure]
) -> dict[str, bool]:
    """By proposal id, for the load proposals whose set was done at the proposed load."""
    found = {}
    for one in told:
        to_load_kg = number_of(one.after) if one.kind in LOAD_KINDS else None
        if one.week is None or to_load_kg is None:
            continue
        exposure = _exposure(block, one, to_load_kg, exposures)
        if exposure is not None and exposure.target is not None:
            first, target = exposure.sets[0], exposure.target
            spare = 0.0 if first.rir is None else first.rir - target.rir
            found[one.id] = first.first_reps + spare >= target.reps_low
    return found


def _exposure(
    block: Block, told: Offered, load_kg: float, exposures: Sequence[Exposure]
) -> Exposure | None:
    for exposure in in_week(block, told.week or 0, exposures):
        if (exposure.lift, exposure.session) == (told.lift, told.session) and math.isclose(
            exposure.sets[0].load_kg, load_kg, rel_tol=1e-4, abs_tol=1e-6
        ):
            return exposure
    return None


def claims_kept(told: Sequence[Offered], came_true: Mapping[str, bool]) -> ClaimsKept | None:
    """The count of kept claims beside the stated confidence; None when none can be judged."""
    judged = [one for one in told if one.id in came_true]
    if not judged:
        return None
    return ClaimsKept(
        judged=len(judged),
        kept=sum(came_true[one.id] for one in judged),
        expected=sum(one.confidence for one in judged),
        expected_sd=math.sqrt(sum(one.confidence * (1 - one.confidence) for one in judged)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PredictionScore:
    """The block's sets against what was expected of each from the sets before it."""

    sets: int
    inside: int  # Sets within their 80 % interval
    rmse_reps: float
    rule: str  # The best of the simple rules scored on the same sets
    rule_rmse_reps: float
    flagged: int  # Sets out of line and not confirmed; in both all the same


def prediction_score(beliefs: Beliefs, start: date, end: date) -> PredictionScore | None:
    """Scores the sets from `start` to before `end` (the build weeks: what a deload leaves in
    reserve is a guess); None without any. Needs kept predictions."""
    rows = [
        row
        for row in backtest_rows(beliefs.replayed)
        if beliefs.sets[row.source].is_logged and start <= beliefs.sets[row.source].moment.day < end
    ]
    found = score(rows)
    if not found.n or found.coverage80 is None or found.rmse_reps is None or not found.baselines:
        return None
    rule = min(found.baselines, key=lambda name: found.baselines[name])
    return PredictionScore(
        sets=found.n,
        inside=round(found.coverage80 * found.n),
        rmse_reps=found.rmse_reps,
        rule=rule,
        rule_rmse_reps=found.baselines[rule],
        flagged=found.n_flagged,
    )
