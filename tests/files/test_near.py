"""The nearest word: a slip is mended, and a poor guess is none."""

import pytest

from blockwright.files.near import did_you_mean


@pytest.mark.parametrize(
    ("typed", "said"),
    [("leg pres", 'did you mean "leg press"?'), ("calf machine", "write one that is known")],
)
def test_a_slip_is_mended_and_a_poor_guess_is_none(typed: str, said: str) -> None:
    assert did_you_mean(typed, ["leg press", "machine fly"], "write one that is known") == said
