"""Which joints a lift loads, loads much and works; with the catalogue's regions and without."""

from dataclasses import replace
from datetime import date

import pytest

from blockwright.engine.pain import (
    JOINT_MUSCLES,
    clearance_of,
    grade_in,
    joints_loaded,
    joints_much,
    loads_place,
    works_joint,
)
from blockwright.files.catalogue import builtin_catalogue

LIFTS = builtin_catalogue().lifts


@pytest.mark.parametrize(
    ("name", "loaded", "much", "worked"),
    [
        (
            "deadlift",
            "back hip knee lower_back wrist",
            "hip lower_back",
            "back hip knee lower_back",
        ),
        ("leg extension", "knee", "knee", "knee"),
        ("chest-supported row", "back elbow shoulder wrist", "back", "shoulder"),
        ("dumbbell curl", "elbow wrist", "elbow", "elbow"),
        ("standing calf raise", "ankle back lower_back", "ankle", "ankle"),
        ("back extension", "back hip lower_back", "lower_back", "back lower_back"),
    ],
)
def test_a_graded_lift_loads_its_own_joints(name: str, loaded: str, much: str, worked: str) -> None:
    lift = LIFTS[name]
    assert sorted(joints_loaded(lift)) == _places(loaded)
    assert sorted(joints_much(lift)) == _places(much)
    assert sorted(j for j in JOINT_MUSCLES if works_joint(lift, j)) == _places(worked)
    assert all(loads_place(lift, joint) for joint in _places(loaded))


@pytest.mark.parametrize(
    ("name", "loaded", "much"),
    [
        ("deadlift", "back hip knee lower_back", "hip knee lower_back"),
        ("chest-supported row", "neck shoulder", "neck shoulder"),
        ("dumbbell curl", "elbow", "elbow"),
        ("standing calf raise", "ankle back lower_back", "ankle"),
    ],
)
def test_an_ungraded_lift_loads_the_joints_of_its_muscles(
    name: str, loaded: str, much: str
) -> None:
    lift = replace(LIFTS[name], regions={})
    assert sorted(joints_loaded(lift)) == _places(loaded)
    assert sorted(joints_much(lift)) == _places(much)
    assert {grade_in(lift, joint) for joint in JOINT_MUSCLES} == {0, 2}


def test_a_muscle_is_worked_or_not_and_other_words_are_nothing() -> None:
    curl = LIFTS["dumbbell curl"]
    assert [grade_in(curl, place) for place in ("biceps", "forearms", "quads")] == [2, 2, 0]
    assert [loads_place(curl, place) for place in ("biceps", "quads", "ribs")] == [
        True,
        False,
        False,
    ]
    day, later = date(2027, 1, 4), date(2027, 1, 5)
    assert clearance_of(curl, {"elbow": day, "wrist": later}) == day, "the wrist a little only"
    assert clearance_of(curl, {"elbow": day, curl.name: later}) == later
    assert clearance_of(curl, {"knee": day}) == date.min


def _places(words: str) -> list[str]:
    return sorted(word.replace("_", " ") for word in words.split())
