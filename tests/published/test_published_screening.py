"""The screening table, branch by branch."""

import pytest

from blockwright.engine.published.safety import riebe_clearance


@pytest.mark.parametrize(
    ("active", "disease", "symptoms", "clearance"),
    [
        (False, False, False, "none"),
        (False, True, False, "first"),
        (False, False, True, "first"),
        (False, True, True, "first"),
        (True, False, False, "none"),
        (True, True, False, "before vigorous"),
        (True, False, True, "stop"),
        (True, True, True, "stop"),
    ],
)
def test_riebe_2015_truth_table(
    active: bool, disease: bool, symptoms: bool, clearance: str
) -> None:
    """Six branches; symptoms outweigh known disease, which gives the other two rows."""
    said = riebe_clearance(active=active, known_disease=disease, symptoms=symptoms)
    assert said == clearance
