"""The benefit curve: its published points and its shape."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.published.volume import STEELE_2026_TRIAL
from blockwright.engine.volume import benefit, gain
from blockwright.files.policy_files import default_policy
from published.doses import DETECTABLE_LIMITS, PELLAND_CONTRAST

POLICY = default_policy()


def pooled(effects: list[float], errors: list[float]) -> tuple[float, float]:
    """Random-effects mean and its error, DerSimonian & Laird 1986."""
    fixed = [1 / e**2 for e in errors]
    mean = sum(w * x for w, x in zip(fixed, effects, strict=True)) / sum(fixed)
    q = sum(w * (x - mean) ** 2 for w, x in zip(fixed, effects, strict=True))
    spread = (q - len(effects) + 1) / (sum(fixed) - sum(w**2 for w in fixed) / sum(fixed))
    weights = [1 / (e**2 + max(spread, 0)) for e in errors]
    mean = sum(w * x for w, x in zip(weights, effects, strict=True)) / sum(weights)
    return mean, sum(weights) ** -0.5


def test_slope_pools_pelland_2025_and_steele_2026() -> None:
    """9 against 36 sets: 0.294 [0.20, 0.39] and 0.023 [-0.044, 0.091]; root differs by 3."""
    both = [PELLAND_CONTRAST.value, STEELE_2026_TRIAL.value["36 minus 9 sets"]]
    slope, sd = pooled(
        [effect.estimate / 3 for effect in both],
        [(effect.high - effect.low) / 3.92 / 3 for effect in both],
    )
    assert POLICY.number("volume.benefit.slope") == pytest.approx(slope, abs=0.001)
    assert POLICY.number("volume.benefit.slope_sd") == pytest.approx(sd, abs=0.001)


def test_curve_is_level_where_no_superiority_is_detected() -> None:
    """Pelland et al. in Steele et al. 2026: 31 sets a week."""
    assert POLICY.number("volume.benefit.level_after") == DETECTABLE_LIMITS.value["sets a week"]


def test_both_sources_are_within_two_sd_of_the_curve() -> None:
    slope, sd = (POLICY.number(f"volume.benefit.slope{end}") for end in ("", "_sd"))
    for effect in (PELLAND_CONTRAST.value, STEELE_2026_TRIAL.value["36 minus 9 sets"]):
        assert abs(effect.estimate / 3 - slope) < 2 * sd


@settings(deadline=None, derandomize=True, max_examples=60)
@given(st.floats(0, 50), st.floats(0, 20))
def test_benefit_rises_with_falling_gains(sets: float, step: float) -> None:
    assert benefit(sets + step, POLICY) >= benefit(sets, POLICY)
    first = gain(sets, sets + step, POLICY)
    second = gain(sets + step, sets + 2 * step, POLICY)
    assert second.mean <= first.mean + 1e-12
    assert gain(sets + step, sets, POLICY).mean == -first.mean
    assert first.sd >= 0


def test_ends_of_the_curve() -> None:
    assert benefit(0, POLICY) == 0
    assert benefit(31, POLICY) == benefit(60, POLICY)
    with pytest.raises(ValueError, match="negative"):
        benefit(-1, POLICY)
