"""A slice of the calibration study: it plays, it repeats, and claims are near what is said."""

from functools import cache

import pytest

from studies.review_study import (
    Claim,
    calibration_table,
    missed_tenths,
    played,
    wilson,
)
from studies.simulate_block import HardLife
from studies.worlds import WORLDS


@cache
def slice_of_claims() -> tuple[Claim, ...]:
    """Five weeks: in a block of three the print climbs as fast as it may, and no set is added."""
    return tuple(played(WORLDS[-1], HardLife(), lifters=3, weeks=5, seed=1))


def test_claims_of_every_usual_kind_are_settled() -> None:
    kinds = {claim.kind for claim in slice_of_claims()}
    assert {"raise_load", "add_set", "lower_load"} <= kinds


def test_loads_fit_about_as_often_as_said() -> None:
    """Three lifters, five weeks: near, not exact; the long study is in docs/validation.md."""
    loads = [claim for claim in slice_of_claims() if claim.kind.endswith("_load")]
    said = sum(claim.confidence for claim in loads) / len(loads)
    true = sum(claim.true for claim in loads) / len(loads)
    assert len(loads) > 60
    assert true == pytest.approx(said, abs=0.12)


def test_the_table_counts_every_claim_once() -> None:
    claims = [
        Claim(kind="raise_load", confidence=0.85, true=True),
        Claim(kind="raise_load", confidence=0.81, true=False),
        Claim(kind="add_set", confidence=1.0, true=True),
    ]
    table = calibration_table(claims)
    assert "| a raised load fits, 0.8 to 0.9 | 0.83 | 2 | 0.50 |" in table
    assert "| the muscle recovers from one set more, 0.9 to 1.0 | 1.00 | 1 | 1.00 |" in table


def test_a_tenth_that_misses_is_said_where_it_has_enough_claims() -> None:
    claims = [Claim(kind="raise_load", confidence=0.37, true=n < 21) for n in range(100)]
    said = "a raised load fits, 0.3 to 0.4, 0.21 of 100 (said 0.37)"
    assert missed_tenths(claims) == said
    assert missed_tenths(claims[1:]) == "nothing"


def test_wilson_interval() -> None:
    """Wilson 1927, J Am Stat Assoc 22:209: the formula, its figures computed by hand."""
    assert wilson(5, 10) == pytest.approx((0.2366, 0.7634), abs=1e-4)
    assert wilson(0, 10)[0] == 0.0
