"""A load added to the body: in a column as narrow as a week, and in a proposal's sentence."""

import pytest

import people
from blockwright.engine.review.proposals import load_facts
from blockwright.files.catalogue import catalogue_for
from blockwright.verbs.block_words import load_words


@pytest.mark.parametrize(
    ("lift", "load_kg", "says"),
    [
        ("pull-up", 10.0, "+10 kg"),
        ("pull-up", 0.0, "bodyweight"),
        ("bench press", 80.0, "80 kg"),
    ],
)
def test_what_is_added_to_the_body_is_said_so(lift: str, load_kg: float, says: str) -> None:
    mara = people.mara()
    found = catalogue_for(mara).lifts[lift]
    assert load_words(found, load_kg, "kg") == says
    assert load_facts(load_kg, mara, "after", found)["after"] == says
