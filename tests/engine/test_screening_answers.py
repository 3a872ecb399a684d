"""What screening answers, readings and clearances lead to."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from blockwright.engine.published.safety import RIEBE_2015
from blockwright.engine.reasons import Caution
from blockwright.engine.screening import (
    When,
    as_on,
    inactive_reason,
    is_minor,
    is_new,
    least_rir,
    screening_cautions,
    status_of,
    unanswered,
)
from blockwright.engine.training import Block, Lifter, Screening
from blockwright.files.policy_files import default_policy
from blockwright.files.words import caution_says
from sheet_people import block, lifter

START = date(2027, 1, 4)
WHEN = When(START, START)
POLICY = default_policy()
ANSWERED: dict[str, Any] = {
    "heart_or_metabolic_condition": False,
    "symptoms_at_effort": False,
    "pregnant_or_postpartum": False,
    "kidney_disease": False,
    "high_blood_pressure": False,
    "currently_active": True,
    "under_18": False,
    "surgery_or_injury_last_year": False,
}


def somebody(*, more: dict[str, Any] | None = None, **answers: Any) -> Lifter:
    return lifter(screening=Screening(**{**ANSWERED, **answers}), **(more or {}))


def codes(who: Lifter, when: When = WHEN) -> list[str]:
    return [one.code for one in screening_cautions(who, when, POLICY)]


def test_who_was_not_screened_is_ready_and_it_is_said_first() -> None:
    who = lifter(screening=Screening(), born=2012)
    assert codes(who)[:2] == ["not_screened", "screening_refer"]
    assert status_of(lifter(screening=Screening()), WHEN, POLICY) == "ready"
    first = screening_cautions(lifter(screening=Screening()), WHEN, POLICY)[0]
    assert caution_says(first).startswith("Not screened: 8 questions")
    assert first.source == str(RIEBE_2015)
    assert codes(somebody()) == []


@pytest.mark.parametrize(
    ("answers", "status"),
    [
        ({"currently_active": False}, "ready"),
        ({"high_blood_pressure": True}, "ready"),
        ({"symptoms_at_effort": True}, "refer"),
        ({"heart_or_metabolic_condition": True}, "refer"),
        ({"kidney_disease": True, "currently_active": False}, "refer"),
        ({"pregnant_or_postpartum": True}, "refer"),
        ({"under_18": True}, "refer"),
        ({"surgery_or_injury_last_year": True}, "refer"),
    ],
)
def test_what_each_answer_leads_to(answers: dict[str, bool], status: str) -> None:
    """Riebe et al. 2015 (from memory, published.md `riebe_table`); pregnancy, youth and recent
    surgery defer to licensed practice (design.md part 6)."""
    assert status_of(somebody(**answers), WHEN, POLICY) == status
    assert ("screening_refer" in codes(somebody(**answers))) == (status == "refer")


def test_what_the_rest_of_the_file_says_is_not_asked_again() -> None:
    man = somebody(pregnant_or_postpartum=None, under_18=None, more={"sex": "male", "born": 1980})
    assert unanswered(man) == ()
    woman = somebody(pregnant_or_postpartum=None, more={"sex": "female"})
    assert unanswered(woman) == ("pregnant_or_postpartum",)
    assert unanswered(somebody(high_blood_pressure=None, systolic=120, diastolic=80)) == ()


@pytest.mark.parametrize(
    ("cleared_on", "status", "why"),
    [
        (None, "refer", []),
        (date(2015, 3, 1), "refer", ["clearance_too_old"]),
        (date(2026, 1, 3), "refer", ["clearance_too_old"]),
        (date(2026, 1, 4), "ready", []),
        (START, "ready", []),
        (date(2027, 1, 5), "refer", ["clearance_to_come"]),
    ],
)
def test_a_clearance_lasts_twelve_months(
    cleared_on: date | None, status: str, why: list[str]
) -> None:
    who = somebody(symptoms_at_effort=True, cleared_on=cleared_on)
    assert status_of(who, WHEN, POLICY) == status
    assert codes(who) == ["screening_cleared" if status == "ready" else "screening_refer", *why]


def test_what_was_cleared_is_said_and_asks_for_no_clearance_again() -> None:
    """By cause: the one that is not covered still asks."""
    who = somebody(
        symptoms_at_effort=True,
        kidney_disease=True,
        cleared_on=date(2026, 12, 1),
        cleared_for=("symptoms_at_effort",),
    )
    assert codes(who) == ["screening_cleared", "screening_refer", "clearance_for_other"]
    said = caution_says(screening_cautions(who, WHEN, POLICY)[0])
    assert said.startswith("Cleared on 1 December 2026 (signs or symptoms at effort)")
    assert "before this block begins" not in said


def test_a_clearance_of_a_leap_day_ends_with_february() -> None:
    leap = date(2028, 2, 29)
    who = somebody(kidney_disease=True, cleared_on=date(2027, 2, 28))
    assert status_of(who, When(leap, leap), POLICY) == "ready"
    who = somebody(kidney_disease=True, cleared_on=date(2027, 2, 27))
    assert status_of(who, When(leap, leap), POLICY) == "refer"


@pytest.mark.parametrize(
    ("named", "status"),
    [
        (None, "ready"),
        (("kidney_disease", "symptoms_at_effort"), "ready"),
        (("kidney_disease",), "refer"),
        (("symptoms_at_effort", "under_18"), "refer"),
        ((), "refer"),
    ],
)
def test_a_clearance_is_for_the_causes_it_names(named: tuple[str, ...] | None, status: str) -> None:
    who = somebody(
        symptoms_at_effort=True,
        kidney_disease=True,
        cleared_on=date(2026, 12, 1),
        cleared_for=named,
    )
    assert status_of(who, WHEN, POLICY) == status
    assert ("clearance_for_other" in codes(who)) == (status == "refer")


@pytest.mark.parametrize(
    ("systolic", "diastolic", "status", "found"),
    [
        (160, 100, "ready", []),
        (161, 90, "refer", ["screening_refer", "high_blood_pressure"]),
        (150, 101, "refer", ["screening_refer", "high_blood_pressure"]),
        (None, 105, "refer", ["screening_refer", "high_blood_pressure"]),
        (179, 109, "refer", ["screening_refer", "high_blood_pressure"]),
        (180, 95, "refer", ["pressure_stop", "high_blood_pressure"]),
        (150, 110, "refer", ["pressure_stop", "high_blood_pressure"]),
    ],
)
def test_blood_pressure_as_numbers(
    systolic: int | None, diastolic: int | None, status: str, found: list[str]
) -> None:
    """Limits of the AHA 2007 (from memory): refer above 160/100, no training at 180/110."""
    who = somebody(systolic=systolic, diastolic=diastolic)
    assert (status_of(who, WHEN, POLICY), codes(who)) == (status, found)
    cleared = somebody(systolic=systolic, diastolic=diastolic, cleared_on=date(2026, 12, 1))
    no_training = "pressure_stop" in found
    assert status_of(cleared, WHEN, POLICY) == ("refer" if no_training else "ready")


def test_somebody_not_active_begins_light_and_comes_nearer_week_by_week() -> None:
    who = somebody(currently_active=False)
    assert status_of(who, WHEN, POLICY) == "ready"
    assert [least_rir(who, week, POLICY) for week in range(1, 7)] == [4, 4, 3, 2, 1, 0]
    assert {least_rir(somebody(), week, POLICY) for week in range(1, 7)} == {0}


@pytest.mark.parametrize(
    ("file", "today", "start"),
    [(None, START, START), (START, date(2026, 12, 1), START), (START, date(2027, 3, 1), None)],
)
def test_a_question_is_about_the_start_until_training_has_begun(
    file: date | None, today: date, start: date | None
) -> None:
    assert When.at(somebody(more={"start": file}), today) == When(start or today, today)


@pytest.mark.parametrize(
    ("under_18", "born", "is_one"),
    [(True, None, True), (True, 1980, True), (None, None, False), (False, 2009, True),
     (None, 2008, False), (False, 2008, False), (None, 2010, True)],
)  # fmt: skip
def test_the_year_in_which_18_is_reached_counts_as_under(
    under_18: bool | None, born: int | None, is_one: bool
) -> None:
    who = somebody(under_18=under_18, more={"born": born})
    assert is_minor(who, START) is is_one
    assert (status_of(who, WHEN, POLICY) == "refer") is is_one


def test_heavy_sets_wait_for_a_novice_and_for_who_was_not_active() -> None:
    assert is_new(somebody(more={"experience": "novice"}))
    assert is_new(somebody(currently_active=False, more={"experience": "advanced"}))
    assert not is_new(somebody(currently_active=None, more={"experience": "advanced"}))
    why = inactive_reason(POLICY)
    assert (why.code, why.source) == ("rir_kept_to_begin", str(RIEBE_2015))
    asked = ("weeks", "rir")
    assert why.facts == {name: POLICY.number(f"screening.inactive_{name}") for name in asked}
    assert sorted(why.policy) == ["screening.inactive_rir", "screening.inactive_weeks"]


def waiting_on(made: Block, day: date) -> tuple[str, list[str]]:
    stands = as_on(made, day, POLICY)
    return stands.status, [one.code for one in stands.cautions]


def test_a_block_waits_from_the_day_its_clearance_has_lasted_its_time() -> None:
    last = date(2027, 2, 1)
    who = somebody(kidney_disease=True, cleared_on=date(2026, 2, 1))
    made = replace(block(who), status="ready", cautions=(Caution(code="minutes_short", facts={}),))
    assert as_on(made, last, POLICY) is made
    late = date(2027, 2, 2)
    assert waiting_on(made, late) == ("refer", ["clearance_too_old", "minutes_short"])
    once = as_on(made, late, POLICY)
    assert waiting_on(replace(once, status="ready"), late)[1] == [c.code for c in once.cautions]
    assert as_on(once, late, POLICY) is once, "it waits already"
    for other in (replace(who.screening, kidney_disease=False), Screening(kidney_disease=True)):
        free = replace(made, lifter=replace(who, screening=other))
        assert as_on(free, late, POLICY) is free, "nothing asks for it, or it was never there"
