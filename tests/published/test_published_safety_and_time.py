"""Screening, pain bands, limits, and how long a session takes."""

import pytest

from blockwright.engine.published import safety
from blockwright.engine.published.safety import riebe_outcome
from published import care
from published import time as published_time
from published.care import pain_band
from published.time import session_s


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


def test_riebe_2015_three_factors_and_no_risk_factors() -> None:
    assert len(care.SCREENING_FACTORS.value) == 3
    assert not any("smok" in factor or "age" in factor for factor in care.SCREENING_FACTORS.value)


def test_acsm_nine_major_signs() -> None:
    assert len(safety.WARNING_SIGNS.value) == len(set(safety.WARNING_SIGNS.value)) == 9


@pytest.mark.parametrize(
    ("pain", "band"),
    [(0, "safe"), (2, "safe"), (2.5, "acceptable"), (5, "acceptable"), (5.1, "high risk"),
     (10, "high risk")],
)  # fmt: skip
def test_thomee_1997_boundaries_belong_to_the_lower_band(pain: float, band: str) -> None:
    assert pain_band(pain) == band


@pytest.mark.parametrize("pain", [-1, 10.5, float("nan")])
def test_pain_outside_the_scale_is_refused(pain: float) -> None:
    with pytest.raises(ValueError, match="0 to 10"):
        pain_band(pain)


def test_silbernagel_2007_variant_is_not_stricter_than_its_bands() -> None:
    variants = care.PAIN_VARIANTS.value
    assert variants["Silbernagel 2007, acceptable to"] == care.PAIN_BANDS.value["acceptable"][1]
    assert variants["clinic, safe to"] > care.PAIN_BANDS.value["safe"][1]


def test_honda_2017_rhabdomyolysis() -> None:
    assert [case.creatine_kinase for case in care.RHABDO_CASES.value] == [95100, 59159]
    assert "dark urine" in care.RHABDO_SIGNS.value


def test_racgp_2016_novice_start_and_faigenbaum_2009_youth() -> None:
    novice, youth = care.NOVICE_START.value, care.YOUTH.value
    assert novice.sets == youth.sets == (1, 3)
    assert novice.load_pct == (60, 70)
    assert youth.increase_pct == (5, 10)
    assert youth.reps[1] > novice.reps[1]


def test_nsca_spotting() -> None:
    assert len(care.SPOTTING.value) == 3


def test_aha_2007_blood_pressure_limits() -> None:
    limits = safety.BLOOD_PRESSURE_LIMITS.value
    assert limits["refer above"] < limits["do not train above"]
    rise = care.BLOOD_PRESSURE_RISE.value
    assert rise["hypertensive"].mean > rise["normotensive"].mean


def test_acog_804_pregnancy_is_referred() -> None:
    assert "clinician" in care.PREGNANCY.value


# -------------------------------------------------------------------------------------- time


@pytest.mark.parametrize(
    ("sets", "seconds", "published_min"), [(1, 930, 13), (3, 2610, 40), (5, 4290, 68)]
)
def test_schoenfeld_2019_session_length(sets: int, seconds: float, published_min: float) -> None:
    """Seven lifts, sets of 30 s, 90 s rest, 120 s between lifts: within four minutes of print."""
    found = session_s(7, sets, set_s=30, rest_s=90, change_over_s=120)
    assert found == seconds
    assert published_time.SESSION_MINUTES.value[sets] == published_min
    assert found / 60 == pytest.approx(published_min, abs=4)


def test_schoenfeld_2015_trial_tempo_lies_in_the_range() -> None:
    low, high = published_time.REPETITION.value
    tempo = sum(published_time.TRIAL_TEMPO.value.values())
    assert low <= tempo <= high
    assert (6 * tempo, 10 * tempo) == (36, 60)


def test_change_over_is_a_habit_without_a_standard() -> None:
    assert published_time.CHANGE_OVER.value == (30, 120)
    assert published_time.CHANGE_OVER.source.quoted == "from memory"
