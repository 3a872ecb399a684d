"""What the phone asks about at the tap, and the load that it says was probably meant."""

import json
from dataclasses import replace
from typing import Any

import pytest
from run_node import HERE, node
from test_advice_vectors import Told, told

from blockwright.verbs.phone_lifts import advice_law, advice_policy
from sheet_people import policy

__all__ = ["told"]
PRINTED = {"load_kg": 82.5, "reps_low": 8, "reps_high": 12, "rir": 2.0}


def doubt(told: Told, lift: str, **said: Any) -> dict[str, Any] | None:
    message = {
        "law": advice_law(policy()),
        "policy": advice_policy(policy()),
        "bodyweight_kg": 78.0,
        "lifts": told.lifts,
        "questions": [{"lift": lift, "rir": 2.0, "printed": None, **said}],
    }
    ran = node(str(HERE / "answer_doubts.mjs"), said=json.dumps(message))
    assert ran.returncode == 0, ran.stderr
    found: dict[str, Any] | None = json.loads(ran.stdout)[0]
    return found


@pytest.mark.parametrize(
    ("lift", "typed", "meant"),
    [
        ("bench press", 825.0, 82.5),
        ("bench press", 181.88, 82.5),
        ("pull-up", 80.0, 8.0),
        ("pull-up", 200.0, 20.0),
        ("assisted pull-up", 55.0, 24.95),
    ],
)
def test_the_load_that_was_meant_counts_the_body_that_is_moved(
    told: Told, lift: str, typed: float, meant: float
) -> None:
    found = doubt(told, lift, loadKg=typed, reps=8)
    assert found is not None
    assert found["why"] == "belief"
    assert found["meantKg"] == pytest.approx(meant, abs=0.05)


@pytest.mark.parametrize(("typed", "why"), [(50.0, None), (80.0, "tries"), (400.0, "bodyweight")])
def test_a_first_set_at_ten_times_what_its_tries_led_to_is_asked_about(
    told: Told, typed: float, why: str | None
) -> None:
    """What is a step from the tries is true beside any belief, and nothing is held against a try
    that was light."""
    new = {**told.lifts["bench press"], "belief": {"known": False}}
    beginner = replace(told, lifts={**told.lifts, "new": new})
    found = doubt(beginner, "new", loadKg=typed, reps=8, ledTo=8.0)
    assert (found and found["why"]) == why
    known = {"loadKg": 181.88, "reps": 8, "ledTo": 150.0, "climbed": True}
    assert doubt(told, "bench press", **known) is None


def test_a_digit_that_is_missing_is_asked_about(told: Told) -> None:
    found = doubt(told, "bench press", loadKg=82.5, reps=1, printed=PRINTED)
    assert found == {"why": "digit", "meantKg": None}


@pytest.mark.parametrize(
    "said",
    [
        {"reps": 1, "rir": 0.0},
        {"reps": 1, "hurts": True},
        {"reps": 1, "isTry": True},
        {"reps": 4},
        {"reps": 5, "rir": 0.0},
        {"reps": 2, "printed": {**PRINTED, "reps_low": 3, "reps_high": 5}},
    ],
)
def test_a_set_that_failed_is_not_asked_about(told: Told, said: dict[str, Any]) -> None:
    assert doubt(told, "bench press", **{"loadKg": 82.5, "printed": PRINTED, **said}) is None
