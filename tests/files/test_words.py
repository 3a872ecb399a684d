"""Sentences of reasons: from every version's documents, one that a person can read."""

import re
from datetime import date
from importlib import resources
from typing import get_args

import pytest

from blockwright.engine.reasons import Caution, Reason, certainty_word
from blockwright.engine.strength.slips import Suspicion, SuspicionKind
from blockwright.engine.training import Moment, SetDone
from blockwright.files.words import (
    caution_lines,
    caution_says,
    reason_says,
    reason_short,
    sentences,
)
from blockwright.verbs.check_files import _question


def test_numbers_are_written_as_a_person_writes_them() -> None:
    code = next(code for code, says in sentences().items() if "{sets}" in says)
    assert " 3.0" not in reason_says(Reason(code=code, facts={"sets": 3.0}))


@pytest.mark.parametrize(("count", "said"), [(1, "1 question of"), (2, "2 questions of")])
def test_one_question_is_said_as_one(count: int, said: str) -> None:
    caution = caution_says(Caution(code="not_screened", facts={"count": count}))
    assert caution.startswith(f"Not screened: {said} the lifter file")


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
    reason = Reason(code="one_bad_day", facts={"lift": "dip", "dates": dates})
    assert reason_says(reason) == f"dip was last done on a bad day ({said}): the print stands"


def test_a_session_is_named_by_its_day() -> None:
    facts = {"lift": "dip", "day": "mon 18:30", "session": 2}
    said = reason_says(Reason(code="lift_full", facts=facts))
    assert said == "dip on Monday 18:30 has as many sets as one lift should"


def test_every_reason_of_a_proposal_has_a_long_and_a_short_form() -> None:
    words = resources.files("blockwright.files") / "data" / "words" / "review.toml"
    parts = re.split(r"^# -+ (.+)$", words.read_text(encoding="utf-8"), flags=re.M)
    checked = 0
    for title, body in zip(parts[1::2], parts[2::2], strict=True):
        for table in re.split(r"^\[", body, flags=re.M)[1:] if title.startswith("why:") else ():
            checked += 1
            said = dict(re.findall(r'^(says|short) = "(.*)"$', table, flags=re.M))
            assert said.keys() == {"says", "short"}, table
            assert len(said["short"].split()) <= 10, table
            for word in ("%", "SD", "probab", "p_", "smd"):
                assert word not in said["short"], table
    assert checked > 30


def test_a_reason_is_short_on_the_face_and_whole_behind_it() -> None:
    reason = Reason(
        code="pain_above_stop",
        facts={"pain": 6.0, "about": "knee", "where": "knee ", "date": "2027-01-04"},
    )
    assert reason_short(reason) == "knee pain 6 of 10: out until quiet or looked at"
    assert reason_says(reason).startswith("pain 6 of 10 in knee on 4 January 2027")
    assert reason_short(Reason(code="of_another_version")) == "of another version"


def test_cautions_of_one_kind_are_one_line() -> None:
    painful = [
        Caution(
            code="pain_no_progress",
            facts={"lift": lift, "where": "", "pain": 4.0, "carry_on": 1.0, "date": "2027-01-04"},
        )
        for lift in ("dip", "bench press", "dip")
    ]
    assert caution_lines(painful) == [
        "Nothing added until pain is 1 or less: dip, bench press (4 of 10 on Mon 4 Jan)"
    ]


@pytest.mark.parametrize(
    ("confidence", "word"),
    [(0.99, "sure"), (0.9, "sure"), (0.89, "likely"), (0.66, "likely"), (0.65, "even")],
)
def test_certainty_is_one_of_three_words(confidence: float, word: str) -> None:
    assert certainty_word(confidence) == word


def test_every_question_about_a_set_is_said_in_words() -> None:
    for kind in get_args(SuspicionKind):
        asked = Suspicion(kind=kind, usual_kg=60.0, meant_kg=50.0, like_row=4)
        done = SetDone(
            moment=Moment(day=date(2027, 1, 4)), lift="dip", set_number=1, loads_kg=(500.0,),
            entered_load="500", entered_unit="kg", reps=(61,),
        )  # fmt: skip
        problem = _question(done, asked, "log.csv")
        assert problem.mend
        assert "suspect" not in problem.says
        assert "{" not in problem.says
