"""How strong is the lifter on each lift, how sure is that, is performance falling; and how good has
the estimate been on a log, each set predicted from earlier sets only?"""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from heapq import merge
from itertools import chain
from typing import Any

from blockwright.engine.case import CoachCase, together
from blockwright.engine.change import Watches, watch_lifter
from blockwright.engine.reasons import Reason
from blockwright.engine.report import heading_of
from blockwright.engine.strength import (
    BacktestRow,
    Flag,
    Interval,
    LiftBelief,
    backtest_rows,
    score,
)
from blockwright.engine.training import Catalogue, Lift, SetDone, effective_load_kg, written_load_kg
from blockwright.engine.units import Unit, in_unit, kg_from, number_text
from blockwright.files.answer_documents import (
    LiftEstimate,
    PooledWatch,
    RepsAtLoad,
    SetPredicted,
    SetsPredicted,
    SetToLookAt,
    StrengthEstimate,
)
from blockwright.files.codec import document, to_json
from blockwright.files.reading import CommandAnswer
from blockwright.files.words import reason_says

SHARES = (0.9, 0.8, 0.7, 0.6)  # Of the 1RM: the loads of the short table of repetitions


def estimate_strength(
    cases: Sequence[CoachCase], unit: Unit, through: date | None = None
) -> CommandAnswer:
    """Every lift of every lifter, as of `through` or each lift's last set; loads are rounded in
    `unit`."""
    cases = [case.until(through) for case in cases]
    together(cases, through, roster=True)
    watches = [watch_lifter(case.capacities, case.policy) for case in cases]
    seen = list(zip(cases, watches, strict=True))
    estimate = StrengthEstimate(
        through=through,
        lifts=tuple(
            _lift(case, lift, unit, watched)
            for case, watched in seen
            for _, lift in case.beliefs().series
        ),
        lifters=tuple(
            PooledWatch(case.name, watched.pooled) for case, watched in seen if case.sets
        ),
    )
    answer = document("estimate", estimate)
    text = estimate_text(answer, cases[0].catalogue if cases else None, unit)
    return CommandAnswer(answer, text)


def histories(case: CoachCase) -> dict[str, dict[str, Any]]:
    """By lift with evidence, what a picture draws: every session's belief in kg, the belief now,
    the trend and where it heads; and `scale`, what a 1RM weighs."""
    beliefs = case.beliefs()
    found = {}
    for _, lift in beliefs.series:
        belief, points = beliefs.own(lift), beliefs.history(lift)
        if belief is None or not points:
            continue
        trend = beliefs.trend_pct_per_week(lift)
        found[lift] = {
            "lift": lift,
            "points": to_json(points),
            "after_kg": to_json(belief.one_rm_kg),
            "trend_pct_per_week": to_json(trend),
            "heading": heading_of(trend),
            "scale": scale_words(case.catalogue.find(lift)),
        }
    return found


def _lift(case: CoachCase, lift: str, unit: Unit, watches: Watches) -> LiftEstimate:
    beliefs = case.beliefs()
    belief = beliefs.own(lift)
    as_of = beliefs.through or beliefs.last_day(lift)
    assert as_of is not None  # a series has a set
    return LiftEstimate(
        lifter=case.name,
        lift=lift,
        as_of=as_of,
        one_rm_kg=belief.one_rm_kg if belief else None,
        reps_at_load=_reps_table(case, belief, unit) if belief else (),
        trend_pct_per_week=beliefs.trend_pct_per_week(lift) if belief else None,
        sets_used=belief.sets_used if belief else 0,
        watch=watches.lifts[lift],
        flags=tuple(map(_to_look_at, beliefs.flags(lift))),
    )


def _reps_table(case: CoachCase, belief: LiftBelief, unit: Unit) -> tuple[RepsAtLoad, ...]:
    """Repetitions to failure at four loads the sheet could name, heaviest first."""
    lift = case.catalogue.find(belief.lift)
    weight = case.weights.on(belief.lifter, belief.as_of)
    rows: list[RepsAtLoad] = []
    for share in SHARES:
        effective = share * belief.one_rm_kg.median
        written = effective if lift is None else written_load_kg(lift, effective, weight)
        if written is None:
            continue
        # To the nearest 2.5 kg or 5 lb.
        step = 2.5 if unit == "kg" else 5.0
        written = kg_from(step * round(in_unit(written, unit) / step), unit)
        moved = effective_load_kg(lift, written, weight) if lift else written
        if written < 0 or moved is None or moved <= 0:
            continue
        low, median, high = belief.forecast(moved, 0.0).quantiles((0.1, 0.5, 0.9))
        row = RepsAtLoad(written, Interval(median, low, high))
        if row not in rows:
            rows.append(row)
    return tuple(rows)


def _to_look_at(flag: Flag) -> SetToLookAt:
    return SetToLookAt(
        code=flag.code,
        says=reason_says(Reason(code=flag.code, facts=flag.facts)),
        when=flag.day,
        set=flag.set_number,
        row=flag.row,
        facts=flag.facts,
    )


def estimate_text(answer: Mapping[str, Any], catalogue: Catalogue | None, unit: Unit) -> str:
    several = len(answer["lifters"]) > 1
    lines: list[str] = []
    for each in answer["lifters"]:
        if several:
            lines += ["", f"{each['lifter'] or '(no name)'}"]
        mine = [one for one in answer["lifts"] if one["lifter"] == each["lifter"]]
        for one in mine:
            lift = None if catalogue is None else catalogue.find(one["lift"])
            lines += _lift_lines(one, unit, scale_words(lift))
        if each["pooled_watch"]["alarm"]:
            lines.append("All lifts together are lower than expected: see the review.")
    return "\n".join(lines).strip() or "no sets in the log"


def scale_words(lift: Lift | None) -> str:
    """What a 1RM weighs, where that is not what is written on the sheet."""
    if lift is None or lift.load_kind == "external":
        return ""
    return " in one hand" if lift.load_kind == "per_hand" else " with the bodyweight it moves"


def _lift_lines(one: Mapping[str, Any], unit: Unit, scale: str) -> list[str]:
    lines: list[str] = []
    if one["one_rm_kg"] is None:
        lines.append(f"{one['lift']}: nothing to go by yet")
    else:
        low, middle, high = (
            number_text(in_unit(one["one_rm_kg"][key], unit), 0)
            for key in ("low80", "median", "high80")
        )
        trend = one["trend_pct_per_week"]
        lines.append(
            f"{one['lift']}: 1RM about {middle} {unit}{scale}, 80 % sure {low} to {high}; "
            f"{trend['median']:+.1f} % a week ({trend['low80']:+.1f} to {trend['high80']:+.1f}); "
            f"{one['sets_used']} {'set' if one['sets_used'] == 1 else 'sets'}, "
            f"as of {one['as_of']}"
        )
        if one["reps_at_load"]:
            lines.append("  to failure: " + "; ".join(_reps_words(row, unit) for row in
                                                     one["reps_at_load"]))  # fmt: skip
    if one["watch"]["alarm"]:
        lines.append("  performance has fallen below what was expected")
    for flag in one["flags"]:
        lines.append(f"  {flag['when']}, set {flag['set']}: {flag['says']}")
    return lines


def _reps_words(row: Mapping[str, Any], unit: Unit) -> str:
    load = number_text(in_unit(row["load_kg"], unit), 1)
    reps = row["reps"]
    return f"{load} {unit} × {reps['median']:.0f} ({reps['low80']:.0f}-{reps['high80']:.0f})"


# ------------------------------------------------------------------------------------ the backtest
RULES = {
    "last_session_same_set": "the same set of the last session",
    "mean_of_last_three": "the mean of that set over the last three sessions",
    "mean_of_last_three_sets": "the mean of the last three sets",
    "best_recent": "the best of the last three sessions",
}
"""The simple rules in words; all of them through Epley's equation."""


def backtest_log(cases: Sequence[CoachCase]) -> CommandAnswer:
    together(cases, None, foresight=True, roster=True)
    by_lifter = [_rows(case) for case in cases if case.sets]
    rows = [row for _, row in chain.from_iterable(by_lifter)]
    in_time = merge(
        *by_lifter, key=lambda one: one[0].moment.at or datetime.combine(one[0].moment.day, time())
    )
    predicted = SetsPredicted(tuple(_row(done, row) for done, row in in_time), score(rows))
    answer = document("backtest", predicted)
    return CommandAnswer(answer, backtest_text(answer))


def _rows(case: CoachCase) -> list[tuple[SetDone, BacktestRow]]:
    """Each set and what was expected of it, in time order."""
    beliefs = case.foresight()
    rows = sorted(backtest_rows(beliefs.replayed), key=lambda row: row.source)
    told = [(beliefs.sets[row.source], row) for row in rows]
    return [(done, row) for done, row in told if done.is_logged]


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
