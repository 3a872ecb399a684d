"""How good predictions and 1RM estimates are on simulated lifters, under the model's own law and
under laws it was not made for."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.policy import Policy
from blockwright.engine.strength import backtest_rows, replay, score, strength_law
from blockwright.engine.strength.belief import forecast_cdf
from blockwright.engine.strength.prequential import predicted_quantiles, predictions_of
from blockwright.engine.strength.replay import Replayed, inputs_of
from blockwright.engine.training import catalogue_of
from blockwright.files.policy_files import default_policy
from studies.lifters import LIFT, SimulatedLog, simulated, trial_lift
from studies.worlds import CLEAN, WORLDS, World

EXPOSURES = (1, 3, 6, 12)
CATALOGUE = catalogue_of((trial_lift(),))
Floats = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class AfterExposures:
    """Scores of the session that follows so many exposures, correctly typed sets only."""

    exposures: int
    sets: int
    rmse_reps: float
    known_rmse: float
    """What knowing the lifter's true state would still miss by."""
    position80: float
    """Share of sets whose randomised PIT lies in 0.1 to 0.9; 0.80 when calibrated."""
    position95: float
    one_rm_rmse_pct: float
    one_rm_held80: float


@dataclass(frozen=True, slots=True)
class WorldScore:
    """One world: scores by exposures, and the whole log beside simple rules."""

    world: World
    after: tuple[AfterExposures, ...]
    coverage80: float
    rmse_reps: float
    best_rule: str
    ratio: float
    """RMSE over the best simple rule's, same rows."""
    rows: int


def probability_positions(replayed: Replayed, places: Whole, uniform: Floats) -> Floats:
    """Where each set fell in its predicted distribution, 0 to 1, ties of whole repetitions spread
    by `uniform` (randomised PIT); uniform when the predictions are calibrated."""
    inputs = inputs_of(replayed.columns, replayed.law).at(places)
    predicted = predictions_of(replayed).at(places)
    said = replayed.columns.reps[places] + replayed.columns.rir[places]
    asked = (inputs.ln_load, inputs.rir, inputs.to_failure, inputs.rir_extra_variance)
    below, upto = forecast_cdf(predicted, *asked, np.stack([said - 0.5, said + 0.5]), replayed.law)
    return np.asarray(below + (upto - below) * uniform)


def world_score(world: World, policy: Policy, *, lifters: int, seed: int) -> WorldScore:
    """Simulates `lifters` over thirteen sessions and scores every set before it is seen."""
    rng = np.random.default_rng(seed)
    log = simulated(world, rng, lifters=lifters, exposures=max(EXPOSURES) + 1)
    replayed = replay(log.sets, CATALOGUE, policy, keep_predictions=True).replayed
    columns = replayed.columns
    typed = ~np.array(log.slips)[columns.source]
    said = columns.reps + columns.rir
    fair = predictions_of(replayed).known & np.isfinite(said) & typed
    places = np.flatnonzero(fair)
    median = np.array([each.median for each in predicted_quantiles(replayed, places)])
    position = probability_positions(replayed, places, rng.random(len(places)))
    error, session = median - said[places], columns.session[places]
    true = np.array(log.true_reps)[columns.source][places] - said[places]
    after = tuple(
        _after(number, session == number, error, true, position, log, policy)
        for number in EXPOSURES
    )
    rows = [row for row in backtest_rows(replayed) if not log.slips[row.source]]
    result = score(rows)
    best = min(result.baselines, key=lambda name: result.baselines[name])
    return WorldScore(
        world=world,
        after=after,
        coverage80=result.coverage80 or 0.0,
        rmse_reps=result.rmse_reps or 0.0,
        best_rule=best,
        ratio=(result.rmse_reps or 0.0) / result.baselines[best],
        rows=result.n,
    )


def floor_rmse(lifters: int, seeds: Sequence[int]) -> tuple[float, float, float]:
    """RMSE of the session after one exposure under the own law: as shipped; by a filter that has
    the world's own constants and nothing for other worlds; by the true state."""
    policy = default_policy()
    told = {"strength.process_sd_per_sqrt_day.press": CLEAN.process_sd,
            "strength.noise_scale.press": 1.0}  # fmt: skip
    law = strength_law(policy)
    own = replace(
        law, day_sd=CLEAN.day_sd, drift_per_day=CLEAN.drift_mean, drift_sd=CLEAN.drift_sd,
        learning_sd=0.0, wander_power=0.0, offset=replace(law.offset, sd=0.0),
        robust=replace(law.robust, on=False),
    )  # fmt: skip
    missed: list[Floats] = []
    for seed in seeds:
        log = simulated(CLEAN, np.random.default_rng(seed), lifters=lifters, exposures=2)
        true = np.array(log.true_reps)
        errors: list[Floats] = []
        for used, constants in ((law, policy), (own, policy.overridden(told, "coach"))):
            replayed = replay(log.sets, CATALOGUE, constants, law=used, keep_predictions=True)
            columns = replayed.replayed.columns
            said = columns.reps + columns.rir
            places = np.flatnonzero(
                predictions_of(replayed.replayed).known & (columns.session == 1)
            )
            expected = predicted_quantiles(replayed.replayed, places)
            errors.append(np.array([each.median for each in expected]) - said[places])
        missed.append(np.array([*errors, true[columns.source][places] - said[places]]))
    shipped, told_law, state = (_rms(row) for row in np.concatenate(missed, axis=1))
    return shipped, told_law, state


def strength_study(lifters: int = 300, seed: int = 20270104) -> str:
    """The section of docs/validation.md."""
    policy = default_policy()
    scores = [world_score(world, policy, lifters=lifters, seed=seed) for world in WORLDS]
    shipped, known, state = floor_rmse(lifters, range(seed, seed + 6))
    return "\n".join(
        [
            f"{lifters} simulated lifters a world, 13 sessions of 3 to 5 sets of one press, three "
            "to nine days apart with some breaks, loads chosen by the usual rules "
            f"(studies/lifters.py; seed {seed}). Every set is predicted from the sets "
            "before it. Scores leave out the mistyped sets themselves, not their effect. A share "
            "of 0.80 over a session's 1,200 sets has a standard error near 0.013 (sets of one "
            "lifter go together).",
            "",
            "Targets: reps RMSE at most 1.90/1.75/1.70/1.65 after 1/3/6/12 exposures under the own "
            "law, 2.1/1.85/1.75/1.75 with typing errors; position in 80 % 0.77-0.86, in 95 % "
            "0.93-0.98, under another law at least 0.74 and 0.91; 1RM error at most 9.0/8.0/7.2/7.0"
            " %, held by its 80 % interval 0.73-0.85, under the own law; RMSE at most 0.88 of the "
            "best simple rule under a foreign law.",
            "",
            "**Repetitions of the next session, and the 1RM, after 1/3/6/12 exposures**",
            "",
            "| world | RMSE, reps | true state known | in 80 % | in 95 % | 1RM error, % | held |",
            "|---|---|---|---|---|---|---|",
            *(_after_row(each) for each in scores),
            "",
            f"Missed under the own law: {_missed(scores[0])}.",
            "",
            f"How low the first of these can go: over 6 x {lifters} lifters of the own law the "
            f"session after one exposure is missed by {shipped:.2f}, by {known:.2f} when the "
            "filter is given that world's own constants and allows for no other, and by "
            f"{state:.2f} by whoever knows the lifter's true state.",
            "",
            "**Whole logs, beside the best simple rule through Epley's equation**",
            "",
            "| world | sets | RMSE, reps | of the best rule | which | 80 % interval held |",
            "|---|---|---|---|---|---|",
            *(
                f"| {s.world.name} | {s.rows} | {s.rmse_reps:.2f} | {s.ratio:.2f} | "
                f"{s.best_rule.replace('_', ' ')} | {s.coverage80:.3f} |"
                for s in scores
            ),
        ]
    )


def _after(
    number: int,
    mine: NDArray[np.bool_],
    error: Floats,
    true: Floats,
    position: Floats,
    log: SimulatedLog,
    policy: Policy,
) -> AfterExposures:
    miss, held = _one_rm(log, number, policy)
    inside80 = np.abs(position[mine] - 0.5) < 0.4
    inside95 = np.abs(position[mine] - 0.5) < 0.475
    return AfterExposures(
        exposures=number,
        sets=int(mine.sum()),
        rmse_reps=_rms(error[mine]),
        known_rmse=_rms(true[mine]),
        position80=float(inside80.mean()),
        position95=float(inside95.mean()),
        one_rm_rmse_pct=100.0 * _rms(miss),
        one_rm_held80=float(held.mean()),
    )


def _one_rm(log: SimulatedLog, exposures: int, policy: Policy) -> tuple[Floats, NDArray[np.bool_]]:
    """ln(estimate / truth) of every lifter after so many sessions; whether the interval held."""
    truth = {t.lifter: (t.day, t.one_rm_kg) for t in log.truth if t.exposure == exposures - 1}
    upto = [one for one in log.sets if one.moment.day <= _last_day(truth, one.lifter)]
    beliefs = replay(upto, CATALOGUE, policy)
    misses: list[float] = []
    held: list[bool] = []
    for lifter, (_, one_rm) in truth.items():
        belief = beliefs.own(LIFT, lifter)
        if belief is not None:
            interval = belief.one_rm_kg
            misses.append(float(np.log(interval.median / one_rm)))
            held.append(interval.low80 <= one_rm <= interval.high80)
    return np.array(misses), np.array(held)


def _last_day(truth: dict[str, tuple[date, float]], lifter: str | None) -> date:
    return truth[lifter or ""][0]


def _rms(errors: Floats) -> float:
    return float(np.sqrt(np.mean(errors**2)))


def _missed(own: WorldScore) -> str:
    """What lies beyond the targets under the own law."""
    asked = zip(own.after, (1.90, 1.75, 1.70, 1.65), (9.0, 8.0, 7.2, 7.0), strict=True)
    found = []
    for one, reps, pct in asked:
        measured = (
            ("reps RMSE", one.rmse_reps, reps, 2),
            ("1RM error", one.one_rm_rmse_pct, pct, 1),
        )
        found += [
            f"{name} {value:.{places}f} after {one.exposures} (asked {most:.{places}f})"
            for name, value, most, places in measured
            if round(value, places) > most
        ]
    return ", ".join(found) or "nothing"


def _after_row(each: WorldScore) -> str:
    def joined(name: str, places: int) -> str:
        return "/".join(f"{getattr(one, name):.{places}f}" for one in each.after)

    return (
        f"| {each.world.name} | {joined('rmse_reps', 2)} | {joined('known_rmse', 2)} | "
        f"{joined('position80', 2)} | {joined('position95', 2)} | "
        f"{joined('one_rm_rmse_pct', 1)} | {joined('one_rm_held80', 2)} |"
    )
