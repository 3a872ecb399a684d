"""The six basic patterns a week is built from, and the muscles small lifts are for."""

from blockwright.engine.training import Lift

BASICS = ("knee", "hip", "press", "row", "pull", "overhead")
"""Every week has, where it can, a lift of several joints for each."""

_BASIC_OF = {
    "squat": "knee",
    "lunge": "knee",
    "hinge": "hip",
    "hip extension": "hip",
    "back extension": "hip",
    "horizontal press": "press",
    "incline press": "press",
    "dip": "press",
    "row": "row",
    "vertical pull": "pull",
    "overhead press": "overhead",
}
_NO_LOAD = {"bench", "box", "decline bench press"}
RELATED = {
    "row": "pull", "pull": "row", "press": "overhead", "overhead": "press", "knee": "hip",
    "hip": "knee",
}  # fmt: skip
"""The pattern that tires much the same muscles."""
SECOND_HIP = ("knee flexion", "back extension")
"""Small lifts that may be the second exposure of the hip."""
PUSH, PULL = ("press", "overhead"), ("row", "pull")
LARGE = ("quads", "hamstrings", "glutes", "chest", "lats", "upper_back")
"""Muscles that reach the floor before anything else is filled."""
OWN_LIFT = ("biceps", "triceps", "side_delts", "calves", "abs")
"""Muscles that get a direct lift of their own."""
RAISES = ("lateral raise", "rear delt raise", "front raise")
ALONG = ("adductors", "forearms", "spinal_erectors", "front_delts")
"""Muscles that are trained along: at normal they get a floor, and no lift of their own."""
LEAD_BASIC = {
    "quads": "knee", "hamstrings": "hip", "glutes": "hip", "chest": "press",
    "upper_back": "row", "lats": "pull", "front_delts": "overhead",
}  # fmt: skip
"""The pattern whose main lifts serve a lead muscle."""


def basic_of(lift: Lift) -> str | None:
    """The basic pattern a lift of several joints serves; None for all others."""
    return _BASIC_OF.get(lift.pattern) if lift.compound else None


def main_muscle(lift: Lift) -> str:
    """The muscle a lift is mostly for: the first with the largest share."""
    most = max(lift.muscles.values())
    return next(muscle for muscle, share in lift.muscles.items() if share == most)


def is_on_the_arms(lift: Lift) -> bool:
    """Whether the arms move nearly the whole body and nothing makes it lighter: pull-ups, dips."""
    return (
        lift.load_kind == "bodyweight_plus"
        and lift.bodyweight_share >= 0.9
        and basic_of(lift) in ("press", "pull", "overhead")
    )


def is_unloadable(lift: Lift) -> bool:
    """Whether nothing at hand makes it heavier."""
    return 0 < lift.bodyweight_share < 1 and not set(lift.kit) - _NO_LOAD


def is_loadable(lift: Lift) -> bool:
    """Whether it loads in steps one can use: not bands, not a share of the body alone."""
    if not lift.moves_body:
        return bool(lift.kit) and "bands" not in lift.kit
    return lift.bodyweight_share >= 1
