"""What the policy file cites: each value equals its published figure, or lies inside its range.

A value changed away from the figure it names, or a figure mistyped here, fails by its key.
"""

import math
from collections.abc import Mapping

import pytest

from blockwright.engine.published.safety import BLOOD_PRESSURE_LIMITS
from blockwright.engine.published.volume import PELLAND_THRESHOLDS
from blockwright.engine.training import HOOPER_ITEMS
from blockwright.files.policy_files import default_policy
from published import care, doses, effort, methods, progression, recovery, reps_at_load

POLICY = default_policy()
WEEK_ROOT = math.sqrt(7)
REFER, STOP = BLOOD_PRESSURE_LIMITS.value.values()
WARMUP = [(low, high) for low, high, _ in reps_at_load.ONE_RM_PROTOCOL.value.warmup]

EQUAL: Mapping[str, float] = {
    "safety.pain_carry_on": care.PAIN_BANDS.value["safe"][1],
    "safety.pain_stop_above": care.PAIN_BANDS.value["acceptable"][1],
    "strength.evidence_max_pain": care.PAIN_BANDS.value["safe"][1],
    "screening.systolic_refer": REFER[0],
    "screening.diastolic_refer": REFER[1],
    "screening.systolic_stop": STOP[0],
    "screening.diastolic_stop": STOP[1],
    "planning.no_low_reps": care.NOVICE_START.value.reps[0],
    "first_week.sets_per_lift": care.NOVICE_START.value.sets[1],
    "load.most_up": progression.ACSM_2009.value.load_step_pct[1] / 100,
    "review.load.two_for_two_reps": progression.TWO_FOR_TWO.value["extra repetitions"],
    "strength.learning.exposures": min(progression.NASCIMENTO_2017.value.values()),
    "finding.step": reps_at_load.ONE_RM_PROTOCOL.value.add_lower_pct[1] / 100,
    "review.sets.session_limit": doses.REMMERT_2025.value["growth, fractional"],
    "review.monotony_flag": recovery.MONOTONY_FLAG.value,
    "volume.floor_sets": PELLAND_THRESHOLDS.value["growth"],
}

INSIDE: Mapping[str, tuple[float, float]] = {
    "warmup.reps.empty": WARMUP[0],
    "warmup.reps.2": WARMUP[1],
    "warmup.reps.3": WARMUP[2],
    "method.parts": (
        1 + methods.DROP_PROTOCOLS.value["drops, fewest"],
        1 + methods.DROP_PROTOCOLS.value["drops, most"],
    ),
    "planning.session_sets": (0, doses.DETECTABLE_LIMITS.value["sets a session"]),
    "review.extend.most_weeks": (
        recovery.BELL_2022.value["every weeks"][0],
        recovery.ROGERSON_2024.value["every weeks"].mean
        + 1.1 * recovery.ROGERSON_2024.value["every weeks"].sd,
    ),
    "strength.rir_bias_mean": (
        -effort.REFALO_2024.value["called minus true"].mean,
        effort.HALPERIN_2022.value["repetitions called too few"].estimate,
    ),
    "strength.day_sd": (0, recovery.GRGIC_2020.value["CV, median %"] / 100),
    "watch.day_sd": (0, recovery.GRGIC_2020.value["CV, median %"] / 100),
}


@pytest.mark.parametrize(("key", "figure"), EQUAL.items(), ids=EQUAL)
def test_a_cited_figure_is_the_policys_value(key: str, figure: float) -> None:
    assert POLICY.number(key) == pytest.approx(figure)


@pytest.mark.parametrize(("key", "bounds"), INSIDE.items(), ids=INSIDE)
def test_a_value_lies_in_the_range_it_cites(key: str, bounds: tuple[float, float]) -> None:
    low, high = bounds
    assert low <= POLICY.number(key) <= high


def test_the_floor_is_the_same_in_both_sources() -> None:
    assert methods.IVERSEN_2021.value["weekly sets at least"] == POLICY.number("volume.floor_sets")


@pytest.mark.parametrize("unit", ["kg", "lb"])
@pytest.mark.parametrize("area", ["upper", "lower"])
@pytest.mark.parametrize(
    ("who", "trained"), [("novice", "less trained"), ("trained", "more trained")]
)
def test_steps_of_load_are_the_handbooks(who: str, trained: str, area: str, unit: str) -> None:
    step = progression.LOAD_STEPS.value[trained, area]
    low, high = step.kg if unit == "kg" else step.lb
    value = POLICY.number(f"review.load.step.{who}_{area}_{unit}")
    assert low <= value
    assert step.or_more or value <= high


@pytest.mark.parametrize(
    ("group", "lift"), [("press", "chest press"), ("pull", "pulldown"), ("leg_press", "leg press")]
)
def test_strength_wanders_as_in_a_public_log(group: str, lift: str) -> None:
    """The log's sessions are a week apart, the policy's figure is of a day."""
    weekly = POLICY.number(f"strength.process_sd_per_sqrt_day.{group}") * WEEK_ROOT
    assert weekly == pytest.approx(recovery.STRENGTH_NOISE.value[lift].process_sd, abs=0.0015)


def test_expected_gains_are_those_of_trials_and_competitors() -> None:
    weekly = 7 * POLICY.number("strength.drift_per_day.intermediate")
    drifts = [noise.drift for noise in recovery.STRENGTH_NOISE.value.values()]
    assert min(drifts) <= weekly <= max(drifts)
    twelve_weeks = 84 * POLICY.number("strength.drift_per_day.novice")
    assert 0 < twelve_weeks < math.log(1 + doses.ARM_CHANGES.value["strength"].median / 100)
    of_500_kg = doses.LATELLA_2020.value["men"].mean / 500
    assert POLICY.number("strength.drift_per_day.advanced") == pytest.approx(of_500_kg, abs=1.5e-4)


@pytest.mark.parametrize(("share", "reps"), [(90, 5), (70, 16)])
def test_a_count_is_as_noisy_as_a_retest(share: int, reps: int) -> None:
    noise = POLICY.number("strength.noise.reps") + POLICY.number("strength.noise.reps_slope") * reps
    assert noise == pytest.approx(reps_at_load.MITTER_RETEST.value[share].error_reps, abs=0.25)


def test_endurance_keeps_the_order_of_lifts() -> None:
    """Trained men at 60 % of 1RM: leg press, then the press, then knee extension, then leg curl."""
    rows = reps_at_load.HOEGER_1990.value["trained men"]
    lifts = {
        "leg_press": "leg press",
        "press": "bench press",
        "leg_extension": "knee extension",
        "leg_curl": "leg curl",
    }
    offsets = [POLICY.number(f"strength.endurance.{group}") for group in lifts]
    assert offsets == sorted(offsets)
    counts = [rows[lift][1] for lift in lifts.values()]
    assert counts == sorted(counts, reverse=True)
    squat = POLICY.number("strength.endurance.squat")
    assert offsets[0] < squat < offsets[1]
    assert reps_at_load.COOKE_2019.value.mean < reps_at_load.SHIMANO_2006_SQUAT_60.value.mean


def test_a_bad_day_is_answered_upward_on_four_questions() -> None:
    asked = recovery.HOOPER.value
    assert set(HOOPER_ITEMS) == set(asked.items)
    assert (asked.low, asked.high, asked.higher_is) == (1, 7, "worse")
