"""What a block came to over all lifts, as one sentence."""

import math

import pytest

from blockwright.engine.report.findings import strength_finding
from blockwright.engine.report.lifts import LiftStrength, pooled_gain
from blockwright.engine.strength import Interval
from blockwright.files.words import reason_says


def lift(before: float | None, after: float, spread: float = 0.03) -> LiftStrength:
    def around(kg: float) -> Interval:
        return Interval(median=kg, low80=kg * math.exp(-spread), high80=kg * math.exp(spread))

    return LiftStrength(
        lift="dip",
        before_kg=None if before is None else around(before),
        after_kg=around(after),
        trend_pct_per_week=Interval(median=0.5, low80=-0.5, high80=1.5),
        heading="unsure",
        sessions=4,
        sets_used=12,
        points=(),
    )


def test_many_lifts_that_say_little_alone_say_it_together() -> None:
    lifts = [lift(100, 103), lift(60, 61.8), lift(40, 41.2), lift(80, 82.4), lift(None, 50)]
    found = pooled_gain(lifts)
    assert found is not None
    assert (found.lifts, found.pct) == (4, pytest.approx(3.0))
    assert found.p_same_sign > 0.9
    said = reason_says(strength_finding(["unsure"] * 5, found))
    assert said.startswith("Over the block about 3 % stronger, sure, over 4 lifts")
    alone = pooled_gain(lifts[:1])
    assert alone is not None
    assert alone.p_same_sign < found.p_same_sign


def test_lifts_that_disagree_are_no_gain_for_sure() -> None:
    found = pooled_gain([lift(100, 110), lift(100, 92), lift(100, 101)])
    assert found is not None
    assert found.p_same_sign < 0.66


def test_a_fall_is_called_weaker_and_nothing_known_before_says_nothing() -> None:
    found = pooled_gain([lift(100, 96), lift(50, 48)])
    assert "about 4 % weaker" in reason_says(strength_finding(["unsure"] * 2, found))
    assert pooled_gain([lift(None, 100)]) is None
    assert pooled_gain([]) is None
