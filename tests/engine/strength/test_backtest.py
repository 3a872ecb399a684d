"""The backtest: earlier sets only, honest skips, baselines worked by hand."""

from dataclasses import replace

import numpy as np
import pytest
from helpers_strength import beliefs, one, random_log, steady

from blockwright.engine.strength import BacktestRow, backtest_rows, score
from blockwright.engine.training import SetDone


def rows_of(sets: list[SetDone]) -> dict[int, BacktestRow]:
    """Rows by the row number of the set in its file."""
    return {sets[row.source].row: row for row in backtest_rows(beliefs(sets).replayed)}


def same(one_row: BacktestRow, other: BacktestRow) -> bool:
    if (one_row.predicted is None) != (other.predicted is None):
        return False
    if one_row.skipped != other.skipped or one_row.baselines != other.baselines:
        return False
    if one_row.predicted is None or other.predicted is None:
        return True
    names = ("median", "low80", "high80")
    return all(
        abs(getattr(one_row.predicted, n) - getattr(other.predicted, n)) < 1e-12 for n in names
    )


def test_a_file_cut_after_any_row_gives_the_same_row() -> None:
    """Several lifters and lifts, slips and missing RIR included; every row."""
    sets = random_log(11, lifters=2, exposures=5)
    whole = rows_of(sets)
    for cut in range(1, len(sets) + 1):
        last = sets[cut - 1].row
        assert same(rows_of(sets[:cut])[last], whole[last]), last


def test_later_rows_never_change_earlier_ones_even_when_wild() -> None:
    sets = steady(sessions=4)
    sets = [replace(done, row=number + 2) for number, done in enumerate(sets)]
    wild = [*sets, one(30, 1, load=900.0, row=99), one(31, 30, load=1.0, row=100)]
    before, after = rows_of(sets), rows_of(wild)
    assert all(same(before[row], after[row]) for row in before)


def test_baselines_by_hand() -> None:
    """Epley 1985 (from memory): 1RM = load (1 + reps / 30), reps + RIR as logged."""
    sets = [
        one(0, 8, 100.0, set_number=1, row=2),
        one(0, 6, 100.0, set_number=2, row=3),
        one(4, 9, 100.0, set_number=1, row=4),
        one(4, 7, 105.0, set_number=2, row=5),
        one(8, 7, 110.0, set_number=1, row=6),
    ]
    rows = rows_of(sets)
    assert rows[2].skipped == "first_set"
    rms = {row: 100.0 * (1 + (reps + 2) / 30) for row, reps in ((2, 8), (3, 6), (4, 9))}
    second = 105.0 * (1 + 9 / 30)

    def reps_at(one_rm: float, load: float) -> float:
        return 30.0 * (one_rm / load - 1.0)

    assert rows[5].baselines["last_session_same_set"] == pytest.approx(reps_at(rms[3], 105.0))
    assert rows[6].baselines["last_session_same_set"] == pytest.approx(reps_at(rms[4], 110.0))
    assert rows[6].baselines["mean_of_last_three"] == pytest.approx(
        reps_at((rms[2] + rms[4]) / 2, 110.0)
    )
    assert rows[6].baselines["mean_of_last_three_sets"] == pytest.approx(
        reps_at((rms[3] + rms[4] + second) / 3, 110.0)
    )
    assert rows[6].baselines["best_recent"] == pytest.approx(
        reps_at(max(*rms.values(), second), 110)
    )


def test_the_score_by_hand() -> None:
    sets = [replace(done, row=number + 2) for number, done in enumerate(steady(sessions=5))]
    rows = backtest_rows(beliefs(sets).replayed)
    found = score(rows)
    kept = [row for row in rows if row.predicted is not None]
    misses = [row.predicted.median - row.reps_to_failure for row in kept]  # type: ignore[union-attr, operator]
    assert found.n == len(kept) == len(sets) - 1
    assert found.rmse_reps == pytest.approx(float(np.sqrt(np.mean(np.square(misses)))))
    assert found.n_flagged == 0
    assert set(found.baselines) == {
        "last_session_same_set", "mean_of_last_three", "mean_of_last_three_sets", "best_recent",
    }  # fmt: skip


def test_nothing_to_score_is_said_with_nulls() -> None:
    found = score(backtest_rows(beliefs([one()]).replayed))
    assert (found.n, found.rmse_reps, found.coverage80) == (0, None, None)


def test_predictions_must_have_been_kept() -> None:
    with pytest.raises(ValueError, match="keep_predictions"):
        backtest_rows(beliefs(steady(), keep_predictions=False).replayed)
