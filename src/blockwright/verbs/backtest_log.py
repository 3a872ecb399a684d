"""How good has the estimate been on this log? Each set is predicted from earlier sets only."""

from collections.abc import Mapping, Sequence
from datetime import datetime, time
from heapq import merge
from itertools import chain
from typing import Any

from blockwright.engine.case import CoachCase, together
from blockwright.engine.strength import BacktestRow, backtest_rows, score
from blockwright.engine.training import SetDone
from blockwright.files.codec import document
from blockwright.files.reading import Answer
from blockwright.files.strength_documents import SetPredicted, SetsPredicted

RULES = {
    "last_session_same_set": "the same set of the last session",
    "mean_of_last_three": "the mean of that set over the last three sessions",
    "mean_of_last_three_sets": "the mean of the last three sets",
    "best_recent": "the best of the last three sessions",
}
"""The simple rules in words; all of them through Epley's equation."""


def backtest_log(cases: Sequence[CoachCase]) -> Answer:
    """Predicts every set of a log from the sets before it."""
    together(cases, None, foresight=True, roster=True)
    by_lifter = [_rows(case) for case in cases if case.sets]
    rows = [row for _, row in chain.from_iterable(by_lifter)]
    in_time = merge(*by_lifter, key=lambda one: _when(one[0]))
    predicted = SetsPredicted(tuple(_row(done, row) for done, row in in_time), score(rows))
    answer = document("backtest", predicted)
    return Answer(answer, backtest_text(answer))


def _rows(case: CoachCase) -> list[tuple[SetDone, BacktestRow]]:
    """Each set and what was expected of it, in time order."""
    beliefs = case.foresight()
    rows = sorted(backtest_rows(beliefs.replayed), key=lambda row: row.source)
    told = [(beliefs.sets[row.source], row) for row in rows]
    return [(done, row) for done, row in told if done.is_logged]


def _when(done: SetDone) -> datetime:
    """Plain dates come before the day's timed sets."""
    return done.moment.at or datetime.combine(done.moment.day, time())


def _row(done: SetDone, row: BacktestRow) -> SetPredicted:
    return SetPredicted(
        when=(done.moment.at or done.moment.day).isoformat(),
        lifter=done.lifter,
        lift=done.lift,
        set=done.set_number,
        load_kg=done.load_kg,
        reps=done.first_reps,
        rir=done.rir,
        reps_to_failure=row.reps_to_failure,
        predicted=row.predicted,
        skipped=row.skipped or None,
        flagged=row.flagged,
        row=done.row,
    )


def backtest_text(answer: Mapping[str, Any]) -> str:
    """The summary as a coach reads it."""
    summary = answer["summary"]
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
        apart = summary["rmse_reps_in_line"]
        lines.append(
            f"Out of line, and counted all the same: {summary['flagged']}"
            + ("." if apart is None else f"; without them {apart:.2f} repetitions.")
        )
    return "\n".join(lines)
