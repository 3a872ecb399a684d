"""The endurance offset: learnt from a person's other lifts and the roster, of earlier days only."""

from dataclasses import replace
from datetime import date, timedelta
from math import exp

import numpy as np
import pytest

from blockwright.engine.strength import backtest_rows, replay, strength_law
from blockwright.engine.strength.curve import reps_at
from blockwright.engine.strength.state import node_log_prior, node_shares
from blockwright.engine.training import Moment, SetDone, catalogue_of
from blockwright.files.policy_files import default_policy
from studies.lifters import trial_lift

START = date(2027, 1, 4)
POLICY = default_policy()
LIFTS = ("one", "two", "three")
CATALOGUE = catalogue_of(tuple(trial_lift(name) for name in LIFTS))


def log(lifter: str, offset: float, lifts: tuple[str, ...] = LIFTS, seed: int = 1) -> list[SetDone]:
    """Sets to failure at loads that vary by a quarter, on a curve `offset` flatter than shipped."""
    rng, law = np.random.default_rng(seed), strength_law(POLICY)
    kappa = law.kappa * exp(-0.1 + offset)
    made = []
    for session in range(16):
        for lift in lifts:
            load = round(80 * exp(float(rng.uniform(-0.3, -0.05))), 1)
            fresh = float(reps_at(np.array(np.log(95 / load) / kappa), law.curve_power))
            reps = max(round(fresh + float(rng.normal(0.0, 0.5))), 1)
            made.append(SetDone(
                moment=Moment(day=START + timedelta(days=4 * session)), lift=lift, set_number=1,
                loads_kg=(load,), entered_load=str(load), entered_unit="kg", reps=(reps,),
                rir_low=0.0, rir_high=0.0, lifter=lifter, row=len(made) + 2,
            ))  # fmt: skip
    return made


def kappa_of(sets: list[SetDone], lifter: str, lift: str, *, roster: bool = False) -> float:
    belief = replay(sets, CATALOGUE, POLICY, roster=roster).own(lift, lifter)
    assert belief is not None
    weight = np.exp(belief.state.log_weight[:, 0])
    return float(weight @ np.log(belief.state.kappa[:, 0]) / weight.sum())


def test_the_priors_of_nodes_and_offsets_sum_to_one() -> None:
    law = strength_law(POLICY)
    assert np.exp(node_log_prior(law)).sum() == pytest.approx(1.0)
    assert node_shares(law).sum(axis=1) == pytest.approx(np.ones(len(law.offset.grid)))


def test_a_lift_learns_from_the_persons_other_lifts() -> None:
    """Two sets of the third lift alone say next to nothing of a curve."""
    sets = log("Ana", 0.6)
    few = [done for done in sets if done.lift != "three"] + [
        done for done in sets if done.lift == "three"
    ][:2]
    alone = [done for done in few if done.lift == "three"]
    assert kappa_of(few, "Ana", "three") > kappa_of(alone, "Ana", "three") + 0.2


def test_a_roster_shares_only_where_it_is_one_and_as_far_as_policy_says() -> None:
    flat, own = log("Bo", 0.6, seed=2), log("Ana", 0.6, ("three",))[:2]
    apart = kappa_of([*flat, *own], "Ana", "three")
    assert apart == pytest.approx(kappa_of(own, "Ana", "three"))
    assert kappa_of([*flat, *own], "Ana", "three", roster=True) > apart + 0.2
    nobody = POLICY.overridden({"strength.offset.roster_share": 0.0}, "coach")
    belief = replay([*flat, *own], CATALOGUE, nobody, roster=True).own("three", "Ana")
    assert belief is not None
    weight = np.exp(belief.state.log_weight[:, 0])
    kept = float(weight @ np.log(belief.state.kappa[:, 0]) / weight.sum())
    assert kept == pytest.approx(apart)


def test_a_row_of_the_backtest_depends_on_earlier_days_only() -> None:
    """Cut after any day, shuffled: the rows before are the same, other people's sets and all."""
    sets = sorted([*log("Ana", 0.6), *log("Bo", 0.0, seed=2)], key=lambda s: s.moment.day)
    sets = [replace(done, row=place + 2) for place, done in enumerate(sets)]

    def rows(some: list[SetDone]) -> dict[int, object]:
        found = replay(some, CATALOGUE, POLICY, keep_predictions=True, roster=True)
        return {some[row.source].row: row.predicted for row in backtest_rows(found.replayed)}

    whole = rows(sets)
    for days in (20, 44):
        cut = [s for s in sets if (s.moment.day - START).days <= days]
        for row, predicted in rows(cut[::-1]).items():
            kept = whole[row]
            assert (predicted is None) == (kept is None)
            if predicted is not None and kept is not None:
                assert predicted.median == pytest.approx(kept.median, rel=1e-6)  # type: ignore[attr-defined]
