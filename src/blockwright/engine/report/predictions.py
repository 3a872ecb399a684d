"""How good our predictions were for this lifter in this block, set by set, before each was seen."""

from dataclasses import dataclass
from datetime import date

from blockwright.engine.strength import Beliefs, backtest_rows, score


@dataclass(frozen=True, slots=True, kw_only=True)
class PredictionScore:
    """The block's sets against what was expected of each from the sets before it."""

    sets: int
    inside: int
    """Sets within their 80 % interval."""
    rmse_reps: float
    rule: str
    """The best of the simple rules scored on the same sets."""
    rule_rmse_reps: float
    flagged: int
    """Sets out of line and not confirmed; in both all the same."""


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
