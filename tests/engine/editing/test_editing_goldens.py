"""A coach's edits and what follows from them, to the letter (`text_goldens`)."""

from text_goldens import assert_as_written


def test_edits_as_written() -> None:
    assert_as_written("edits.txt")
