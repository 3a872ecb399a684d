"""How good has the estimate been on this log? Each set is predicted from earlier sets only."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from blockwright.engine.errors import Problem
from blockwright.engine.strength import BacktestRow, Score, backtest_rows, score
from blockwright.engine.training import SetDone
from blockwright.verbs.read_log import ReadLog, read_log


@dataclass(frozen=True, slots=True)
class Backtest:
    """The `blockwright/backtest/1` document, its text, and what reading made us assume."""

    document: dict[str, Any]
    text: str
    warnings: tuple[Problem, ...]


RULES = {
    "last_session_same_set": "the same set of the last session",
    "mean_of_last_three": "the mean of that set over the last three sessions",
    "mean_of_last_three_sets": "the mean of the last three sets",
    "best_recent": "the best of the last three sessions",
}
"""The simple rules in words; all of them through Epley's equation."""


def backtest_log(sets_file: Path, lifter_file: Path | None, coach: Path | None = None) -> Backtest:
    """Predicts every set of the log from the sets before it; raises BadInput for bad files."""
    return backtest_of(read_log(sets_file, lifter_file, coach))


def backtest_of(log: ReadLog) -> Backtest:
    """The same for a log that was read already."""
    rows = backtest_rows(log.beliefs(keep_predictions=True).replayed) if log.sets else ()
    by_source = sorted(rows, key=lambda row: row.source)
    result = score(rows)
    document = {
        "format": "blockwright/backtest/1",
        "rows": _rows_json(log, by_source),
        "summary": _summary_json(result),
    }
    return Backtest(document, backtest_text(document), log.warnings)


def _rows_json(log: ReadLog, rows: Sequence[BacktestRow]) -> list[dict[str, Any]]:
    return [_row_json(log.sets[row.source], row) for row in rows]


def _row_json(done: SetDone, row: BacktestRow) -> dict[str, Any]:
    predicted = row.predicted
    return {
        "when": done.moment.at.isoformat() if done.moment.at else done.moment.day,
        "lifter": done.lifter,
        "lift": done.lift,
        "set": done.set_number,
        "load_kg": done.load_kg,
        "reps": done.first_reps,
        "rir": done.rir,
        "reps_to_failure": row.reps_to_failure,
        "predicted": None
        if predicted is None
        else {"median": predicted.median, "low80": predicted.low80, "high80": predicted.high80},
        "skipped": row.skipped or None,
        "row": done.row,
    }


def _summary_json(result: Score) -> dict[str, Any]:
    return {
        "n": result.n,
        "coverage80": result.coverage80,
        "rmse_reps": result.rmse_reps,
        "baselines": dict(result.baselines),
        "flagged": result.n_flagged,
    }


def backtest_text(document: Mapping[str, Any]) -> str:
    """The summary as a coach reads it."""
    summary = document["summary"]
    if not summary["n"]:
        return "nothing to score yet: a lift needs a first set and a later one with its RIR"
    lines = [
        f"{summary['n']} sets were predicted from the sets before them.",
        f"80 % intervals held {summary['coverage80']:.0%} of them; "
        f"the typical miss was {summary['rmse_reps']:.2f} repetitions.",
    ]
    for name, miss in summary["baselines"].items():
        lines.append(f"  {RULES[name]}: {miss:.2f} repetitions")
    if summary["flagged"]:
        lines.append(f"Left out as out of line, and not in these figures: {summary['flagged']}.")
    return "\n".join(lines)
