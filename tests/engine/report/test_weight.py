"""The trend of the weigh-ins: a line by least squares, its interval, and the block's phase."""

import re
from datetime import date, timedelta

import numpy as np
import pytest

from blockwright.engine.report import trend_of, weight_finding
from blockwright.files.words import reason_says

TODAY = date(2027, 1, 31)


def weighed(rate: float, noise: list[float], every: int = 3) -> list[tuple[date, float]]:
    """So many kg a week up to 80 kg today, with what the scale adds."""
    return [
        (TODAY - timedelta(days=every * back), 80.0 - rate * every * back / 7 + odd)
        for back, odd in enumerate(noise)
    ]


def test_the_line_is_that_of_least_squares() -> None:
    seen = weighed(-0.4, [0.2, -0.3, 0.1, 0.4, -0.2, 0.0, -0.1, 0.3])
    found = trend_of(seen, TODAY)
    assert found is not None
    days = np.array([(day - TODAY).days for day, _ in seen], dtype=float)
    slope, now = np.polyfit(days, [kg for _, kg in seen], 1)
    assert found.per_week == pytest.approx(7 * slope)
    assert found.value == pytest.approx(now)


def test_the_interval_holds_the_rate_eight_times_in_ten() -> None:
    rng = np.random.default_rng(20270131)
    held = 0
    for _ in range(600):
        found = trend_of(weighed(-0.3, list(rng.normal(0, 0.5, 8))), TODAY)
        assert found is not None
        held += abs(found.per_week + 0.3) <= found.spread
    assert 0.75 < held / 600 < 0.85


@pytest.mark.parametrize(
    ("rate", "energy", "says"),
    [
        (-0.5, "deficit", "falling by 0.5 kg a week (0.5 to 0.5 kg), as a deficit asks"),
        (0.4, "deficit", "(0.4 to 0.4 kg), and the block is at a deficit"),
        (0.0, "maintenance", "no clear change"),
        (0.0, "surplus", "and the block is at a surplus"),
    ],
)  # fmt: skip
def test_the_finding_stands_beside_the_phase(rate: float, energy: str, says: str) -> None:
    noise = [0.001, -0.001, 0.001, -0.001, 0.001, -0.001] if rate else [0.3, -0.3, 0.2, 0.3, -0.4]
    found = trend_of(weighed(rate, noise), TODAY)
    assert found is not None
    assert says in reason_says(weight_finding(found, energy, "kg"))  # type: ignore[arg-type]
    pounds = reason_says(weight_finding(found, energy, "lb"))  # type: ignore[arg-type]
    assert re.search(r"Body weight \d+(\.\d)? lb, ", pounds), "no hundredth of a pound"


def test_too_few_or_too_old_weigh_ins_tell_no_rate() -> None:
    assert trend_of(weighed(-0.5, [0.0] * 3), TODAY) is None
    assert trend_of(weighed(-0.5, [0.0] * 6, every=1), TODAY) is None
    assert trend_of(weighed(-0.5, [0.0] * 6), TODAY + timedelta(days=40)) is None
