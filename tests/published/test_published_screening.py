"""The screening table and the warning signs, branch by branch."""

import pytest

from blockwright.engine.published import safety
from blockwright.engine.published.safety import riebe_outcome


@pytest.mark.parametrize(
    ("active", "disease", "symptoms", "clearance", "then"),
    [
        (False, False, False, "none", "light to moderate, progress slowly"),
        (False, True, False, "first", "light to moderate, progress slowly"),
        (False, False, True, "first", "as cleared"),
        (False, True, True, "first", "as cleared"),
        (True, False, False, "none", "continue"),
        (True, True, False, "before vigorous", "continue"),
        (True, False, True, "stop", "as cleared"),
        (True, True, True, "stop", "as cleared"),
    ],
)
def test_riebe_2015_truth_table(
    active: bool, disease: bool, symptoms: bool, clearance: str, then: str
) -> None:
    """Six branches; symptoms outweigh known disease, which gives the other two rows."""
    outcome = riebe_outcome(active=active, known_disease=disease, symptoms=symptoms)
    assert (outcome.clearance, outcome.then) == (clearance, then)


def test_acsm_nine_major_signs() -> None:
    assert len(safety.WARNING_SIGNS.value) == len(set(safety.WARNING_SIGNS.value)) == 9
