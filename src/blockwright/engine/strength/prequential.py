"""How good the estimate has been: every set against what was expected from the sets before it.

Simple rules a person could use instead are scored on the same rows, with the same sets to go by."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from .belief import HIGH80, LOW80, MEDIAN, Interval, forecast_quantiles
from .observation_arrays import NOT_EVIDENCE
from .replay import Replayed, inputs_of
from .state import Prediction

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

EPLEY_REPS = 30.0
"""1RM = load (1 + reps / 30): Epley 1985, from memory; the rule the baselines are corrected by."""

CHUNK = 20_000  # Rows whose quantiles are found at a time, to bound memory


@dataclass(frozen=True, slots=True, kw_only=True)
class BacktestRow:
    """One logged set and what was expected of it. Repetitions count reps + RIR as written."""

    source: int  # Index in the log as given
    effective_kg: float | None
    reps_to_failure: float | None
    predicted: Interval | None
    skipped: str  # Why there is no prediction; empty where there is one
    baselines: Mapping[str, float]  # Rule to its prediction; empty where `predicted` is None
    flagged: bool = False
    """Out of line and not confirmed, or the set that changed the level: predicted all the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """How well predictions have done."""

    n: int
    coverage80: float | None
    rmse_reps: float | None
    baselines: Mapping[str, float]
    n_flagged: int
    """Sets out of line and not confirmed; those that could be predicted are scored too."""
    rmse_in_line: float | None = None  # Of the rows that are not flagged, apart


def backtest_rows(replayed: Replayed) -> tuple[BacktestRow, ...]:
    """A row for every set, in the order of `replayed.columns`; row i depends on earlier sets only.

    Needs a replay that kept its predictions; raises ValueError otherwise."""
    columns = replayed.columns
    known = predictions_of(replayed).known
    said = columns.reps + columns.rir
    filled = columns.reps + columns.rir_or_usual
    skipped = [_skipped(replayed, place, bool(known[place])) for place in range(len(said))]
    scored = np.array([place for place, why in enumerate(skipped) if not why], dtype=np.int64)
    quantiles = dict(zip(scored.tolist(), predicted_quantiles(replayed, scored), strict=True))
    rules = _baselines(replayed, filled)
    flagged = replayed.outcome.flagged | replayed.outcome.restarted
    rows: list[BacktestRow] = []
    for place, why in enumerate(skipped):
        load = float(columns.load_kg[place])
        rows.append(
            BacktestRow(
                source=int(columns.source[place]),
                effective_kg=load if np.isfinite(load) else None,
                reps_to_failure=float(said[place]) if np.isfinite(said[place]) else None,
                predicted=None if why else quantiles[place],
                skipped=why,
                flagged=bool(flagged[place]),
                baselines=MappingProxyType({} if why else rules[place]),
            )
        )
    return tuple(rows)


def score(rows: Sequence[BacktestRow]) -> Score:
    """Coverage of the 80 % intervals and root mean squared errors over the predicted rows."""
    flagged = sum(row.flagged for row in rows)
    scored = [row for row in rows if row.predicted is not None]
    kept = [(row.reps_to_failure, row.predicted, row.baselines) for row in scored]
    if not kept:
        return Score(n=0, coverage80=None, rmse_reps=None, baselines={}, n_flagged=flagged)
    said = np.array([row[0] for row in kept], dtype=float)
    low, median, high = (
        np.array([getattr(row[1], name) for row in kept]) for name in ("low80", "median", "high80")
    )
    names = kept[0][2] if all(row[2] for row in kept) else ()
    rules = {name: np.array([row[2][name] for row in kept]) for name in names}
    in_line = np.array([not row.flagged for row in scored])
    return Score(
        n=len(kept),
        coverage80=float(np.mean((said >= low) & (said <= high))),
        rmse_reps=_rmse(median, said),
        baselines={name: _rmse(values, said) for name, values in rules.items()},
        n_flagged=flagged,
        rmse_in_line=_rmse(median[in_line], said[in_line]) if in_line.any() else None,
    )


def predicted_quantiles(replayed: Replayed, places: Whole) -> list[Interval]:
    """80 % intervals of reps + RIR for the sets at `places`."""
    found: list[Interval] = []
    inputs, predictions = inputs_of(replayed.columns, replayed.law), predictions_of(replayed)
    for start in range(0, len(places), CHUNK):
        where = places[start : start + CHUNK]
        one = inputs.at(where)
        low, median, high = forecast_quantiles(
            predictions.at(where), one.ln_load, one.rir, one.to_failure,
            one.rir_extra_variance, (LOW80, MEDIAN, HIGH80), replayed.law,
        )  # fmt: skip
        found += [Interval(*each) for each in zip(median.tolist(), low.tolist(), high.tolist(),
                                                 strict=True)]  # fmt: skip
    return found


def _skipped(replayed: Replayed, place: int, known: bool) -> str:
    columns = replayed.columns
    why = NOT_EVIDENCE[columns.why_not[place]]
    if why:
        return why
    if columns.parts_s[place] > 0:
        return "mini_sets"
    if not known:
        return "first_set"
    return "" if np.isfinite(columns.rir[place]) else "no_rir"


def _rmse(predicted: Floats, said: Floats) -> float:
    return float(np.sqrt(np.mean((predicted - said) ** 2)))


def _baselines(replayed: Replayed, said: Floats) -> list[dict[str, float]]:
    """For every set, what each simple rule expects; sets that count as evidence feed the rules,
    flagged ones too, as a person's habit would take them."""
    columns = replayed.columns
    usable = replayed.outcome.used | (replayed.outcome.flagged & (columns.why_not == 0))
    rules: list[dict[str, float]] = []
    for start, end in zip(columns.first[:-1].tolist(), columns.first[1:].tolist(), strict=True):
        history = _History()
        for place in range(start, end):
            history.turn_to(int(columns.session[place]))
            load = float(columns.load_kg[place])
            rules.append(history.expected(load))
            history.add(load * (1.0 + said[place] / EPLEY_REPS) if usable[place] else None)
    return rules


class _History:
    """Epley 1RMs of one series: by session and place in the session, newest session last."""

    def __init__(self) -> None:
        self._sessions: list[list[float | None]] = []
        self._session = -1
        self._today: list[float | None] = []

    def turn_to(self, session: int) -> None:
        if session != self._session:
            if any(value is not None for value in self._today):
                self._sessions = [*self._sessions[-2:], self._today]
            self._session, self._today = session, []

    def add(self, one_rm: float | None) -> None:
        self._today.append(one_rm)

    def expected(self, load: float) -> dict[str, float]:
        """Repetitions each rule expects at `load`; empty before the first usable set."""
        same = [self._same_set(session) for session in self._sessions]
        recent = [v for session in self._sessions for v in session if v is not None]
        today = [v for v in self._today if v is not None]
        every = recent + today
        if not every:
            return {}
        last = same[-1] if same else today[-1]
        three = float(np.mean(same)) if same else float(np.mean(today))
        rules = {
            "last_session_same_set": last,
            "mean_of_last_three": three,
            "mean_of_last_three_sets": float(np.mean(every[-3:])),
            "best_recent": max(every),
        }
        return {name: max(EPLEY_REPS * (rm / load - 1.0), 0.0) for name, rm in rules.items()}

    def _same_set(self, session: list[float | None]) -> float:
        """The 1RM at the same place of a past session, else the nearest before, else any."""
        upto = [value for value in session[: len(self._today) + 1] if value is not None]
        return upto[-1] if upto else next(value for value in session if value is not None)


def predictions_of(replayed: Replayed) -> Prediction:
    """The predictions a replay kept; raises ValueError when it kept none."""
    if replayed.predictions is None:
        raise ValueError("replay with keep_predictions=True to look at predictions")
    return replayed.predictions
