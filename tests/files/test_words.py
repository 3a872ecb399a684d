"""Sentences of reasons: from every version's documents, one that a person can read."""

import pytest

from blockwright.engine.reasons import Caution, Reason
from blockwright.files.words import caution_says, reason_says, sentences


def test_numbers_are_written_as_a_person_writes_them() -> None:
    code = next(code for code, says in sentences().items() if "{sets}" in says)
    assert " 3.0" not in reason_says(Reason(code=code, facts={"sets": 3.0}))


def test_a_fact_that_an_older_document_lacks_leaves_the_sentence_standing() -> None:
    for code in sentences():
        said = reason_says(Reason(code=code, facts={}))
        assert said
        assert "{" not in said


def test_a_code_of_another_version_is_said_by_its_name() -> None:
    assert caution_says(Caution(code="stop_and_refer_anew", facts={})) == "stop and refer anew"


@pytest.mark.parametrize(
    ("dates", "said"),
    [
        ("2026-11-19", "19 November 2026"),
        ("2026-11-23, 2026-11-24, 2026-11-26", "23, 24 and 26 November 2026"),
        ("2026-11-30, 2026-12-01", "30 November and 1 December 2026"),
        ("2026-12-30, 2027-01-02", "30 December 2026 and 2 January 2027"),
        ("soon", "soon"),
    ],
)
def test_dates_are_said_as_people_say_them(dates: str, said: str) -> None:
    reason = Reason(code="sessions_missed", facts={"dates": dates})
    assert reason_says(reason) == f"Not done: {said}; nothing is to be made up for"


def test_a_session_is_named_by_its_day() -> None:
    facts = {"lift": "dip", "day": "mon 18:30", "session": 2}
    said = reason_says(Reason(code="lift_full", facts=facts))
    assert said == "dip on Monday 18:30 has as many sets as one lift should"
