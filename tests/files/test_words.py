"""Sentences of reasons: from every version's documents, one that a person can read."""

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
