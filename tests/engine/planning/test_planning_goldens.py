"""Prices, plans, replanned weeks and deloads, to the letter (`text_goldens`)."""

import pytest

from text_goldens import assert_as_written


@pytest.mark.parametrize("name", ["bills.txt", "plans.txt", "replans.txt", "deloads.txt"])
def test_as_written(name: str) -> None:
    assert_as_written(name)
