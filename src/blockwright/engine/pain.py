"""Which places a lift loads, as far as the catalogue knows; what a person's words for pain mean.

A place is a joint or a muscle. Joints come from the lift's pattern (`Lift.joints`), from its
muscles and from its load on the spine. All of it is judgement, meant to name too many places
rather than too few. Nothing here diagnoses.
"""

import re
from collections.abc import Mapping

from blockwright.engine import lifts
from blockwright.engine.training import MUSCLES, Lift

JOINT_MUSCLES: Mapping[str, tuple[str, ...]] = {
    "knee": ("quads", "hamstrings"),
    "hip": ("glutes", "adductors", "hamstrings"),
    "ankle": ("calves",),
    "shoulder": ("chest", "front_delts", "side_delts", "rear_delts", "lats"),
    "elbow": ("biceps", "triceps", "forearms"),
    "wrist": ("forearms", "chest", "front_delts"),
    "back": ("spinal_erectors",),
    "neck": ("upper_back", "side_delts"),
}
"""Joints, and the muscles whose own lifts load them: judgement."""

PLACES = (*JOINT_MUSCLES, *MUSCLES)

REGIONS = tuple(region.replace("_", " ") for region in lifts.REGIONS)
"""Regions the phone asks about, in a person's words; `place_in` gives the place of each."""

_PART_MUSCLES: Mapping[str, tuple[str, ...]] = {
    "knee": ("quads",),
    "back": ("spinal_erectors",),
    "wrist": ("forearms",),
}
"""Muscles that load a joint even where a lift counts half a set for them."""

_WORDS: Mapping[str, str] = {
    "knee": r"knees?|patell\w*|kneecaps?",
    "hip": r"hips?|groins?",
    "ankle": r"ankles?|achilles|heels?|foot|feet",
    "shoulder": r"shoulders?|rotator cuffs?|collar ?bones?",
    "elbow": r"elbows?",
    "wrist": r"wrists?|hands?|thumbs?",
    "back": r"(?<!upper )back|spine|lumbar",
    "neck": r"necks?",
    "calves": r"cal(?:f|ves)",
    "chest": r"chest|pecs?|pectorals?",
}
"""Place to the words it goes by; a muscle also goes by its own name, with or without its s."""


def place_in(words: str) -> str | None:
    """The joint, or else the muscle, that somebody's words name ("left knee"); None for others.

    Not for the name of a lift ("hip thrust"): look that up in the catalogue first.
    """
    said = words.strip().lower().replace("_", " ")
    named = {muscle: rf"{muscle.removesuffix('s').replace('_', ' ')}s?" for muscle in MUSCLES}
    for place, pattern in (*_WORDS.items(), *named.items()):
        if re.search(rf"\b(?:{pattern})\b", said):
            return place
    return None


def joints_loaded(lift: Lift) -> frozenset[str]:
    """The joints a lift loads most: its pattern's, and what muscles and spine add to them."""
    joints = set(lift.joints) or {j for j in JOINT_MUSCLES if _trains(lift, JOINT_MUSCLES[j], 1.0)}
    joints |= {j for j, muscles in _PART_MUSCLES.items() if _trains(lift, muscles, 0.5)}
    if lift.axial >= 1:
        joints.add("back")
    return frozenset(joints)


def loads_place(lift: Lift, place: str) -> bool:
    """Whether a lift loads a joint or works a muscle at all; False for any other word."""
    if place in JOINT_MUSCLES:
        return place in joints_loaded(lift) or _trains(lift, JOINT_MUSCLES[place], 1.0)
    return lift.muscles.get(place, 0.0) > 0


_REGIONS: Mapping[str, tuple[str, ...]] = {"back": ("lower_back", "upper_back")}
"""A joint's word that stands for several regions of `Lift.regions`; the others are their own."""


def grade_in(lift: Lift, place: str) -> int:
    """How much a lift loads a joint or works a muscle: 0 none, 1 some, 2 much. By the lift's own
    regions where it has some, else by pattern and muscles."""
    if place in JOINT_MUSCLES and lift.regions:
        return max(lift.regions.get(region, 0) for region in _REGIONS.get(place, (place,)))
    return 2 if loads_place(lift, place) else 0


def _trains(lift: Lift, muscles: tuple[str, ...], share: float) -> bool:
    return any(lift.muscles.get(muscle, 0.0) >= share for muscle in muscles)
