"""Facts of the trade that a coach would check in the shipped catalogue.

Every fact names where it comes from. PRACTICE is common practice without a source; PELLAND is
the counting rule of Pelland et al. 2025 (Sports Med 56:481-505: direct 1, indirect 0.5; "3 rows
add 1.5 to biceps"), which says how an indirect set counts, not which lift trains what.
"""

import re

import pytest

from blockwright.engine.sources import COMMON_PRACTICE as PRACTICE
from blockwright.engine.training import Lift
from blockwright.files.catalogue import builtin_catalogue

PELLAND = "Pelland et al. 2025, counting rule; which muscle is indirect: common practice"
CONTRACT = "design.md part 4, the contract"


def lift(name: str) -> Lift:
    found = builtin_catalogue().find(name)
    assert found is not None, f"the catalogue lacks {name}"
    return found


MUSCLE_FACTS = [
    # lift, muscle, share (None: not trained), source
    ("barbell back squat", "quads", 1.0, PRACTICE),
    ("barbell back squat", "glutes", 1.0, PRACTICE),
    ("barbell back squat", "hamstrings", None, PRACTICE),
    ("barbell back squat", "spinal_erectors", 0.5, PRACTICE),
    ("front squat", "quads", 1.0, PRACTICE),
    ("leg press", "quads", 1.0, PRACTICE),
    ("leg press", "glutes", 0.5, CONTRACT),
    ("leg press", "spinal_erectors", None, PRACTICE),
    ("hack squat", "quads", 1.0, PRACTICE),
    ("walking lunge", "glutes", 1.0, PRACTICE),
    ("deadlift", "glutes", 1.0, PRACTICE),
    ("deadlift", "spinal_erectors", 1.0, PRACTICE),
    ("deadlift", "forearms", 0.5, PRACTICE),
    ("trap bar deadlift", "quads", 1.0, PRACTICE),
    ("sumo deadlift", "adductors", 1.0, PRACTICE),
    ("romanian deadlift", "hamstrings", 1.0, PRACTICE),
    ("romanian deadlift", "quads", None, PRACTICE),
    ("barbell hip thrust", "glutes", 1.0, PRACTICE),
    ("leg extension", "quads", 1.0, PRACTICE),
    ("leg extension", "glutes", None, PRACTICE),
    ("leg curl", "hamstrings", 1.0, PRACTICE),
    ("leg curl", "glutes", None, PRACTICE),
    ("nordic curl", "hamstrings", 1.0, PRACTICE),
    ("hip adduction", "adductors", 1.0, PRACTICE),
    ("hip abduction", "glutes", 1.0, PRACTICE),
    ("standing calf raise", "calves", 1.0, PRACTICE),
    ("back extension", "spinal_erectors", 1.0, PRACTICE),
    ("bench press", "chest", 1.0, PRACTICE),
    ("bench press", "triceps", 0.5, PELLAND),
    ("bench press", "front_delts", 0.5, PELLAND),
    ("bench press", "biceps", None, PRACTICE),
    ("incline dumbbell press", "chest", 1.0, PRACTICE),
    ("incline dumbbell press", "front_delts", 0.5, PRACTICE),
    ("close-grip bench press", "triceps", 1.0, PRACTICE),
    ("dip", "triceps", 1.0, PRACTICE),
    ("press-up", "chest", 1.0, PRACTICE),
    ("overhead press", "front_delts", 1.0, PRACTICE),
    ("overhead press", "triceps", 0.5, PELLAND),
    ("overhead press", "chest", None, PRACTICE),
    ("cable fly", "triceps", None, PRACTICE),
    ("machine fly", "chest", 1.0, PRACTICE),
    ("barbell row", "upper_back", 1.0, PRACTICE),
    ("barbell row", "biceps", 0.5, PELLAND),
    ("barbell row", "triceps", None, PRACTICE),
    ("seated row", "biceps", 0.5, PELLAND),
    ("seated row", "spinal_erectors", None, PRACTICE),
    ("dumbbell row", "lats", 1.0, PRACTICE),
    ("lat pulldown", "lats", 1.0, PRACTICE),
    ("lat pulldown", "biceps", 0.5, PELLAND),
    ("pull-up", "lats", 1.0, PRACTICE),
    ("chin-up", "biceps", 0.5, PELLAND),
    ("straight-arm pulldown", "biceps", None, PRACTICE),
    ("dumbbell lateral raise", "side_delts", 1.0, PRACTICE),
    ("cable lateral raise", "side_delts", 1.0, PRACTICE),
    ("dumbbell front raise", "front_delts", 1.0, PRACTICE),
    ("face pull", "rear_delts", 1.0, PRACTICE),
    ("machine reverse fly", "rear_delts", 1.0, PRACTICE),
    ("barbell shrug", "upper_back", 1.0, PRACTICE),
    ("barbell curl", "biceps", 1.0, PRACTICE),
    ("hammer curl", "forearms", 0.5, PRACTICE),
    ("reverse curl", "forearms", 1.0, PRACTICE),
    ("triceps pushdown", "triceps", 1.0, PRACTICE),
    ("triceps pushdown", "chest", None, PRACTICE),
    ("lying triceps extension", "triceps", 1.0, PRACTICE),
    ("dumbbell wrist curl", "forearms", 1.0, PRACTICE),
    ("cable crunch", "abs", 1.0, PRACTICE),
    ("hanging leg raise", "abs", 1.0, PRACTICE),
]


@pytest.mark.parametrize(("name", "muscle", "share", "source"), MUSCLE_FACTS)
def test_muscle_share(name: str, muscle: str, share: float | None, source: str) -> None:
    assert lift(name).muscles.get(muscle) == share, source


AXIAL_FACTS = [
    ("deadlift", 3, PRACTICE),
    ("barbell back squat", 3, PRACTICE),
    ("front squat", 2, PRACTICE),
    ("romanian deadlift", 2, PRACTICE),
    ("barbell row", 2, PRACTICE),
    ("chest-supported dumbbell row", 0, PRACTICE),
    ("overhead press", 1, PRACTICE),
    ("goblet squat", 1, PRACTICE),
    ("hack squat", 1, PRACTICE),
    ("leg press", 0, CONTRACT),
    ("belt squat", 0, PRACTICE),
    ("barbell hip thrust", 0, PRACTICE),
    ("bench press", 0, PRACTICE),
    ("lat pulldown", 0, PRACTICE),
    ("leg curl", 0, PRACTICE),
    ("pull-up", 0, PRACTICE),
]


@pytest.mark.parametrize(("name", "axial", "source"), AXIAL_FACTS)
def test_spinal_loading(name: str, axial: int, source: str) -> None:
    assert lift(name).axial == axial, source


KIT_FACTS = [
    ("barbell back squat", {"bar", "squat rack"}, PRACTICE),
    ("deadlift", {"bar"}, PRACTICE),
    ("bench press", {"bar", "bench"}, PRACTICE),
    ("incline dumbbell press", {"dumbbells", "bench"}, "the lifter file of design.md pins it"),
    ("decline bench press", {"bar", "decline bench press"}, PRACTICE),
    ("decline sit-up", {"decline bench press"}, PRACTICE),
    ("leg press", {"leg press"}, CONTRACT),
    ("hack squat", {"hack squat"}, CONTRACT),
    ("leg extension", {"leg extension"}, CONTRACT),
    ("leg curl", {"leg curl"}, CONTRACT),
    ("seated row", {"seated row"}, CONTRACT),
    ("lat pulldown", {"cable"}, PRACTICE),
    ("cable lateral raise", {"cable"}, PRACTICE),
    ("press-up", set(), PRACTICE),
    ("pull-up", {"pull-up bar"}, PRACTICE),
    ("assisted pull-up", {"assisted pull-up"}, CONTRACT),
    ("dip", {"dip bars"}, PRACTICE),
    ("t-bar row", {"bar", "landmine"}, PRACTICE),
    ("preacher curl", {"ez bar", "preacher bench"}, PRACTICE),
    ("trap bar deadlift", {"trap bar"}, PRACTICE),
    ("ab wheel rollout", {"ab wheel"}, PRACTICE),
    ("back extension", {"back extension bench"}, PRACTICE),
]


@pytest.mark.parametrize(("name", "kit", "source"), KIT_FACTS)
def test_kit(name: str, kit: set[str], source: str) -> None:
    assert set(lift(name).kit) == kit, source


LOAD_FACTS = [
    ("bench press", "external", 0.0, PRACTICE),
    ("dumbbell bench press", "per_hand", 0.0, CONTRACT),
    ("goblet squat", "external", 0.0, PRACTICE),
    ("press-up", "bodyweight_plus", 0.64, CONTRACT),
    ("pull-up", "bodyweight_plus", 1.0, CONTRACT),
    ("dip", "bodyweight_plus", 1.0, PRACTICE),
    ("assisted pull-up", "assisted", 1.0, CONTRACT),
    ("assisted dip", "assisted", 1.0, PRACTICE),
]


@pytest.mark.parametrize(("name", "kind", "share", "source"), LOAD_FACTS)
def test_load_kind(name: str, kind: str, share: float, source: str) -> None:
    assert (lift(name).load_kind, lift(name).bodyweight_share) == (kind, share), source


PATTERN_FACTS = [
    ("barbell back squat", "squat", True),
    ("leg press", "squat", True),
    ("bulgarian split squat", "lunge", True),
    ("deadlift", "hinge", True),
    ("romanian deadlift", "hinge", True),
    ("barbell hip thrust", "hip extension", True),
    ("back extension", "back extension", False),
    ("leg extension", "knee extension", False),
    ("leg curl", "knee flexion", False),
    ("bench press", "horizontal press", True),
    ("incline bench press", "incline press", True),
    ("overhead press", "overhead press", True),
    ("machine shoulder press", "overhead press", True),
    ("dip", "dip", True),
    ("barbell row", "row", True),
    ("lat pulldown", "vertical pull", True),
    ("cable fly", "fly", False),
    ("dumbbell lateral raise", "lateral raise", False),
    ("barbell curl", "elbow flexion", False),
    ("triceps pushdown", "elbow extension", False),
    ("standing calf raise", "calf raise", False),
    ("barbell shrug", "shrug", False),
    ("cable crunch", "trunk flexion", False),
    ("ab wheel rollout", "trunk stability", False),
]


@pytest.mark.parametrize(("name", "pattern", "compound"), PATTERN_FACTS)
def test_pattern(name: str, pattern: str, compound: bool) -> None:
    """Common practice, no source."""
    assert (lift(name).pattern, lift(name).compound) == (pattern, compound)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Squat", "barbell back squat"),
        ("push-up", "press-up"),
        ("RDL", "romanian deadlift"),
        ("skull crusher", "lying triceps extension"),
        ("pec deck", "machine fly"),
        (" military press ", "overhead press"),
        ("hamstring curl", "leg curl"),
        ("hex bar deadlift", "trap bar deadlift"),
        ("cable crossover", "cable fly"),
        ("reverse pec deck", "machine reverse fly"),
    ],
)
def test_other_names_lead_home(typed: str, name: str) -> None:
    assert lift(typed).name == name


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("bench press", "dumbbell bench press"),
        ("bench press", "chest press"),
        ("lat pulldown", "close-grip lat pulldown"),
        ("leg curl", "seated leg curl"),
        ("barbell back squat", "front squat"),
        ("pull-up", "chin-up"),
        ("romanian deadlift", "dumbbell romanian deadlift"),
    ],
)
def test_near_twins_share_a_family(one: str, other: str) -> None:
    """Common practice, no source: a session with both says one thing twice."""
    assert lift(one).family == lift(other).family


@pytest.mark.parametrize(
    ("name", "is_safe"),
    [
        ("bench press", False),
        ("barbell back squat", False),
        ("deadlift", False),
        ("dumbbell bench press", False),
        ("lying triceps extension", False),
        ("leg press", True),
        ("leg curl", True),
        ("lat pulldown", True),
        ("dumbbell lateral raise", True),
        ("press-up", True),
    ],
)
def test_failure_alone(name: str, is_safe: bool) -> None:
    """Common practice, no source: a bar over the body is not for failure without a spotter."""
    assert lift(name).safe_to_fail is is_safe


def test_a_lift_keeps_in_reserve_what_its_caution_asks() -> None:
    counted = {"two": 2, "three": 3}
    for each in builtin_catalogue().lifts.values():
        found = re.search(r"stay (\w+) repetitions from failure", each.caution or "", re.I)
        assert each.rir_least == (counted[found[1]] if found else 0), each.name
