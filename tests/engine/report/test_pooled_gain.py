"""What a block came to over all lifts, as one sentence."""

import pytest

from blockwright.engine.report.findings import strength_finding
from blockwright.engine.report.lifts import LiftStrength, gain_of, pooled_gain
from blockwright.engine.strength import Interval
from blockwright.files.words import reason_says

CORRELATION = 0.2
WEEKS = 6.0


def lift(pct: float | None, spread: float = 0.6) -> LiftStrength:
    """A lift that went by `pct` over six weeks; its belief from before the block says another
    thing, as one from other ranges may."""

    def around(middle: float, by: float) -> Interval:
        return Interval(median=middle, low80=middle - by, high80=middle + by)

    trend = around((pct or 0.0) / WEEKS, spread)
    return LiftStrength(
        lift="dip",
        before_kg=around(120, 5),
        after_kg=around(100, 3),
        trend_pct_per_week=trend,
        heading="unsure",
        gain=None if pct is None else gain_of(trend, WEEKS),
        sessions=6,
        sets_used=12,
        points=(),
    )


def test_many_lifts_that_say_little_alone_say_it_together() -> None:
    lifts = [lift(3.0), lift(3.4), lift(2.6), lift(3.0), lift(None)]
    found = pooled_gain(lifts, CORRELATION)
    assert found is not None
    assert (found.lifts, found.pct) == (4, pytest.approx(3.0))
    assert found.p_same_sign > 0.9
    said = reason_says(strength_finding(["unsure"] * 5, found))
    assert said.startswith("Over the block about 3 % stronger, ")
    alone = pooled_gain(lifts[:1], CORRELATION)
    assert alone is not None
    assert alone.p_same_sign < found.p_same_sign
    assert lifts[0].gain is not None
    assert lifts[0].gain.certainty == "likely"


def test_lifts_share_what_errs_in_all_of_them() -> None:
    lifts = [lift(3.0)] * 12
    apart, shared = pooled_gain(lifts, 0.0), pooled_gain(lifts, 0.5)
    assert apart is not None
    assert shared is not None
    assert shared.p_same_sign < apart.p_same_sign


def test_lifts_that_disagree_are_no_gain_for_sure() -> None:
    found = pooled_gain([lift(10, 0.1), lift(-8, 0.1), lift(1, 0.1)], CORRELATION)
    assert found is not None
    assert found.p_same_sign < 0.66


def test_a_fall_is_called_weaker_and_too_few_sessions_say_nothing() -> None:
    found = pooled_gain([lift(-4), lift(-4)], CORRELATION)
    assert "about 4 % weaker" in reason_says(strength_finding(["unsure"] * 2, found))
    assert pooled_gain([lift(None)], CORRELATION) is None
    assert pooled_gain([], CORRELATION) is None
