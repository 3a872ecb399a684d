"""Days as logs write them."""

import pytest

from blockwright.files.importing.days import read_day, split_day


@pytest.mark.parametrize(
    "text", ["Lunes 3 de marzo 2025", "3 de março de 2025", "lundi 3 mars 2025"]
)
def test_a_day_in_words_of_several_languages(text: str) -> None:
    day = read_day(text)
    assert day is not None
    assert day.readings == ((2025, 3, 3),)


def test_a_line_may_begin_with_its_day() -> None:
    cut = split_day("13.1. Squat 60x5")
    assert cut is not None
    assert (cut[0].readings[0][1:], cut[1]) == ((1, 13), "Squat 60x5")
