"""The whole log through the filter, all series side by side, one set of each at a time."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.policy import Policy
from .endurance import SetScores, learnt, told_predictions, told_state, useful
from .filter import step
from .law import StrengthLaw, lift_prior, strength_law
from .levels import begun_with_two
from .observation_arrays import TRY, WARMUP, SetColumns
from .state import FilterState, Outcome, Prediction, SetInput, new_state

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Replayed:
    """What the filter made of a log. Outcome arrays run over the sets of `columns`."""

    columns: SetColumns
    law: StrengthLaw
    state: FilterState  # After each series' last set; the last axis runs over `columns.series`
    outcome: Outcome
    predictions: Prediction | None
    """Before each set, last axis (sets,); None unless they were asked for."""

    def part(self, series: slice, offset: int) -> "Replayed":
        """Some neighbouring series alone; `offset` is where their sets began in the log."""
        first = self.columns.first[series.start : series.stop + 1]
        sets = slice(int(first[0]), int(first[-1]))
        return Replayed(
            columns=self.columns.part(series, offset),
            law=self.law,
            state=self.state.at(series),
            outcome=self.outcome.at(sets),
            predictions=None if self.predictions is None else self.predictions.at(sets),
        )


CHUNK = 2048  # Series filtered side by side: as many as keep the state in the processor's cache


def replayed(
    columns: SetColumns,
    policy: Policy,
    law: StrengthLaw | None = None,
    *,
    keep_predictions: bool = False,
    roster: bool = False,
) -> Replayed:
    """Runs every series of `columns` through the filter; a lifter's lifts, and in a roster its
    lifters, then tell one another of their endurance (`endurance`).

    Cost: for every `CHUNK` series one vector step per set of the longest; series are ranked by
    length so that a step does no idle work."""
    law = strength_law(policy) if law is None else law
    count = len(columns.source)
    run = _Run(
        columns=columns,
        law=law,
        inputs=inputs_of(columns, law),
        outcome=_empty_outcome(count),
        kept=None,
        scores=SetScores(law, count) if useful(columns, law, roster=roster) else None,
    )
    ranked = np.argsort(-np.diff(columns.first), kind="stable")
    names = [lift for _, lift in columns.series]
    lift_of = dict(zip(names, columns.lifts, strict=True))
    prior_of = {name: lift_prior(lift, policy) for name, lift in lift_of.items()}
    state, shown = new_state([prior_of[name] for name in names], law), np.array([], dtype=np.int64)
    if keep_predictions:
        run.kept = _empty_predictions(count, len(state.log_weight))
    else:  # nothing is predicted from what comes later
        state, shown = begun_with_two(state, columns, run.inputs.ln_load, law)
    state = state.at(ranked)
    for start in range(0, len(ranked), CHUNK):
        part = np.arange(start, min(start + CHUNK, len(ranked)))
        state.put(run.chunk(ranked[part], state.at(part)), part)
    state, kept = state.at(np.argsort(ranked)), run.kept
    run.outcome.paired[shown] = True
    if run.scores is not None:
        told, end = learnt(columns, run.scores.scores, law, roster=roster)
        state = told_state(state, end, law)
        kept = None if kept is None else told_predictions(kept, told, law)
    return Replayed(columns, law, state, run.outcome, kept)


@dataclass(slots=True)
class _Run:
    """One replay in progress: what goes in, and the arrays that are being filled."""

    columns: SetColumns
    law: StrengthLaw
    inputs: SetInput
    outcome: Outcome
    kept: Prediction | None
    scores: SetScores | None

    def chunk(self, series: Whole, state: FilterState) -> FilterState:
        """The state of `series` (longest first) after all their sets."""
        starts = self.columns.first[series]
        lengths = self.columns.first[series + 1] - starts
        going = np.searchsorted(-lengths, -np.arange(lengths[0])).tolist()
        places = np.concatenate([starts[:each] + number for number, each in enumerate(going)])
        inputs, outcome = self.inputs.at(places), _empty_outcome(len(places))
        seen = None if self.scores is None else self.scores.seen(state)
        end = 0
        for each in going:
            now = slice(end, end := end + each)
            before = state if each == len(series) else state.at(slice(each))
            after, predicted, judged = step(before, inputs.at(now), self.law)
            outcome.put(judged, now)
            if self.scores is not None and seen is not None:
                known = self.scores.seen(after)
                self.scores.add(places[now], seen[:, :each], known)
                seen = known
            if self.kept is not None:
                self.kept.put(predicted, places[now])
            if each == len(series):
                state = after
            else:
                state.put(after, slice(each))  # last: predictions may be views of the state before
        self.outcome.put(outcome, places)
        return state


def inputs_of(columns: SetColumns, law: StrengthLaw) -> SetInput:
    said = np.isfinite(columns.rir)
    width = np.where(said, columns.rir_width, 0.0)
    return SetInput(
        gap_days=columns.gap_days,
        new_session=columns.new_session,
        rest_s=np.where(np.isnan(columns.rest_s), law.fatigue.unknown_rest_s, columns.rest_s),
        ln_load=np.log(np.where(columns.load_kg > 0, columns.load_kg, 1.0)),
        reps=np.where(np.isin(columns.why_not, (WARMUP, TRY)), 0.0, columns.reps),
        rir=columns.rir_or_usual,
        rir_extra_variance=np.where(said, width * width / 12.0, law.noise.rir_unknown_sd**2),
        to_failure=np.where(said & (columns.rir == 0.0) & (width == 0.0), 1.0, 0.0),
        evidence=columns.why_not == 0,
        confirmed=columns.confirmed,
        beyond=columns.beyond & ~columns.confirmed,
        parts_s=columns.parts_s,
        parts_fast=columns.parts_fast,
        parts_slow=columns.parts_slow,
    )


def _empty_outcome(count: int) -> Outcome:
    marks = [np.zeros(count, dtype=bool) for _ in range(4)]
    return Outcome(*marks, *(np.full(count, np.nan) for _ in range(9)))


def _empty_predictions(count: int, nodes: int) -> Prediction:
    arrays = [*np.zeros((7, nodes, count)), np.ones(count), np.zeros(count, dtype=bool)]
    return Prediction(*arrays)
