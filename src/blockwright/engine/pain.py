"""Which places a lift loads, as far as the catalogue knows; what a person's words for pain mean.

A place is a joint or a muscle. How much a lift loads a joint is said once, by the grades of
`Lift.regions`. All of it is judgement, meant to name too many places rather than too few. Nothing
here diagnoses."""

import re
from collections.abc import Mapping
from datetime import date

from . import lifts
from .training import MUSCLES, Lift

JOINT_MUSCLES: Mapping[str, tuple[str, ...]] = {
    "knee": ("quads", "hamstrings"),
    "hip": ("glutes", "adductors", "hamstrings"),
    "ankle": ("calves",),
    "shoulder": ("chest", "front_delts", "side_delts", "rear_delts", "lats"),
    "elbow": ("biceps", "triceps", "forearms"),
    "wrist": ("forearms", "chest", "front_delts"),
    "lower back": ("spinal_erectors", "abs"),
    "back": ("spinal_erectors", "abs"),
    "neck": ("upper_back", "side_delts"),
}
"""Joints, and the muscles whose own lifts load them: judgement."""

MUCH = 2  # The grade of a region that a lift loads much: from it on, pain there concerns the lift

PLACES = (*JOINT_MUSCLES, *MUSCLES)

REGIONS = tuple(region.replace("_", " ") for region in lifts.REGIONS)
"""Regions the phone asks about, in a person's words; `place_in` gives the place of each."""

_REGIONS: Mapping[str, tuple[str, ...]] = {
    "lower back": ("lower_back",), "back": ("lower_back", "upper_back"),
}  # fmt: skip
"""The back by the regions of `Lift.regions`, both where nobody said which; other joints are their
own."""

_WORDS: Mapping[str, str] = {
    "knee": r"knees?|patell\w*|kneecaps?",
    "hip": r"hips?|groins?",
    "ankle": r"ankles?|achilles|heels?|foot|feet",
    "shoulder": r"shoulders?|rotator cuffs?|collar ?bones?",
    "elbow": r"elbows?",
    "wrist": r"wrists?|hands?|thumbs?",
    "lower back": r"low(?:er)? back|lumbar",
    "back": r"(?<!upper )back|spine",
    "neck": r"necks?",
    "calves": r"cal(?:f|ves)",
    "chest": r"chest|pecs?|pectorals?",
}
"""Place to the words it goes by; a muscle also goes by its own name, with or without its s."""


def place_in(words: str) -> str | None:
    """The joint, or else the muscle, that somebody's words name ("left knee"); None for others.

    Not for the name of a lift ("hip thrust"): look that up in the catalogue first."""
    said = words.strip().lower().replace("_", " ")
    named = {muscle: rf"{muscle.removesuffix('s').replace('_', ' ')}s?" for muscle in MUSCLES}
    for place, pattern in (*_WORDS.items(), *named.items()):
        if re.search(rf"\b(?:{pattern})\b", said):
            return place
    return None


def grade_in(lift: Lift, place: str) -> int:
    """How much a lift loads a joint or works a muscle: 0 none, 1 some, 2 much. Joints by the lift's
    own regions, or by its muscles where it has none."""
    if place not in JOINT_MUSCLES:
        return 2 if lift.muscles.get(place, 0.0) > 0 else 0
    if not lift.regions:
        return 2 if _trains(lift, place) else 0
    return max(lift.regions.get(region, 0) for region in _REGIONS.get(place, (place,)))


def clearance_of(lift: Lift, cleared: Mapping[str, date]) -> date:
    """The last day on which a professional cleared a lift, or a place it loads much; `date.min`
    where nobody did. `cleared`: by lift or place, the day."""
    names = (lift.name, *(place for place in PLACES if grade_in(lift, place) >= MUCH))
    return max((cleared[name] for name in names if name in cleared), default=date.min)


def joints_loaded(lift: Lift) -> frozenset[str]:
    """The joints a lift loads. The back braces a little in most lifts, so it counts where it is
    loaded much, or under a load on the spine, or trained at all."""
    spine = lift.axial > 0 or _trains(lift, "back") or "spinal_erectors" in lift.muscles
    return frozenset(
        joint
        for joint in JOINT_MUSCLES
        if (spine or grade_in(lift, joint) >= MUCH if joint in _REGIONS else grade_in(lift, joint))
    )


def joints_much(lift: Lift) -> list[str]:
    """The joints a lift loads much, the back by its part."""
    much = [joint for joint in JOINT_MUSCLES if grade_in(lift, joint) >= MUCH]
    return [joint for joint in much if joint != "back" or "lower back" not in much]


def works_joint(lift: Lift, joint: str) -> bool:
    """Whether a lift loads a joint at all and trains a muscle around it."""
    return grade_in(lift, joint) > 0 and _trains(lift, joint)


def loads_place(lift: Lift, place: str) -> bool:
    """Whether a lift loads a joint, or trains the muscles around it, or works a muscle at all;
    False for any other word."""
    if place in JOINT_MUSCLES:
        return place in joints_loaded(lift) or _trains(lift, place)
    return lift.muscles.get(place, 0.0) > 0


def _trains(lift: Lift, joint: str) -> bool:
    return any(lift.muscles.get(muscle, 0.0) >= 1.0 for muscle in JOINT_MUSCLES.get(joint, ()))
