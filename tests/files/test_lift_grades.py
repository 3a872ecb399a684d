"""What a coach would check of role, best ranges, angle and regions in the shipped catalogue.

Every fact is common practice, no source, unless it names one.
"""

import pytest

from blockwright.engine.training import MUSCLES, Lift
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.vocabulary import vocabulary

LIFTS = tuple(builtin_catalogue().lifts.values())
RAISES = ("lateral raise", "front raise", "rear delt raise", "calf raise", "wrist")
PRESSES = ("horizontal press", "incline press", "overhead press", "dip")
EASY_PRESSES = {
    "barbell floor press", "dumbbell floor press", "kettlebell floor press",
    "neutral-grip dumbbell bench press", "landmine press", "hands-raised press-up",
}  # fmt: skip


def lift(name: str) -> Lift:
    return builtin_catalogue().lifts[name]


GRADE_FACTS = [
    # lift, role, best range, region it loads, how much (0: not)
    ("barbell back squat", "main", "5-8", "knee", 2),
    ("front squat", "main", "5-8", "lower_back", 2),
    ("hack squat", "main", "8-12", "lower_back", 1),
    ("leg press", "main", "8-12", "lower_back", 0),
    ("leg press", "main", "8-12", "knee", 2),
    ("box squat", "main", "5-8", "knee", 1),
    ("bodyweight squat", "second", "15-20", "knee", 2),
    ("bulgarian split squat", "second", "8-12", "knee", 2),
    ("dumbbell reverse lunge", "second", "8-12", "knee", 2),
    ("cossack squat", "second", "8-12", "hip", 2),
    ("deadlift", "main", "4-6", "lower_back", 2),
    ("romanian deadlift", "main", "8-12", "lower_back", 2),
    ("romanian deadlift", "main", "8-12", "knee", 0),
    ("cable pull-through", "second", "10-15", "lower_back", 1),
    ("barbell hip thrust", "main", "8-12", "hip", 2),
    ("machine hip thrust", "main", "8-12", "knee", 0),
    ("cable glute kickback", "small", "12-15", "hip", 1),
    ("reverse hyperextension", "small", "12-15", "hip", 2),
    ("back extension", "small", "10-15", "lower_back", 2),
    ("hip-driven back extension", "small", "10-15", "lower_back", 1),
    ("leg extension", "small", "10-15", "knee", 2),
    ("leg curl", "small", "10-15", "knee", 1),
    ("nordic curl", "small", "8-12", "knee", 2),
    ("hip adduction", "small", "12-20", "hip", 2),
    ("hip abduction", "small", "12-20", "knee", 0),
    ("standing calf raise", "small", "10-15", "ankle", 2),
    ("seated calf raise", "small", "12-20", "lower_back", 0),
    ("bench press", "main", "5-8", "shoulder", 2),
    ("dumbbell bench press", "main", "8-12", "shoulder", 2),
    ("neutral-grip dumbbell bench press", "main", "8-12", "shoulder", 1),
    ("close-grip bench press", "second", "5-8", "elbow", 2),
    ("press-up", "second", "8-12", "wrist", 2),
    ("incline dumbbell press", "main", "8-12", "shoulder", 2),
    ("landmine press", "second", "8-12", "shoulder", 1),
    ("overhead press", "main", "5-8", "lower_back", 1),
    ("machine shoulder press", "main", "8-12", "lower_back", 0),
    ("dip", "second", "8-12", "shoulder", 2),
    ("machine fly", "small", "10-15", "shoulder", 1),
    ("dumbbell fly", "small", "10-15", "shoulder", 2),
    ("barbell row", "main", "8-12", "lower_back", 2),
    ("chest-supported row", "main", "8-12", "lower_back", 0),
    ("seated cable row", "main", "8-12", "upper_back", 2),
    ("pull-up", "main", "5-8", "shoulder", 1),
    ("lat pulldown", "main", "8-12", "elbow", 1),
    ("close-grip chin-up", "main", "5-8", "elbow", 2),
    ("straight-arm pulldown", "small", "10-15", "shoulder", 1),
    ("dumbbell pullover", "small", "10-15", "shoulder", 2),
    ("cable upright row", "small", "10-15", "shoulder", 2),
    ("dumbbell shrug", "small", "10-15", "neck", 2),
    ("dumbbell lateral raise", "small", "12-20", "shoulder", 2),
    ("dumbbell front raise", "small", "12-15", "shoulder", 2),
    ("machine reverse fly", "small", "12-20", "elbow", 0),
    ("face pull", "small", "12-20", "upper_back", 1),
    ("ez bar curl", "small", "10-15", "elbow", 2),
    ("hammer curl", "small", "10-15", "elbow", 1),
    ("barbell curl", "small", "10-15", "wrist", 2),
    ("triceps pushdown", "small", "10-15", "elbow", 1),
    ("overhead cable extension", "small", "10-15", "shoulder", 1),
    ("lying triceps extension", "small", "10-15", "elbow", 2),
    ("dumbbell wrist curl", "small", "12-20", "wrist", 2),
    ("cable crunch", "small", "10-15", "neck", 0),
    ("hanging leg raise", "small", "10-15", "shoulder", 1),
    ("cable woodchop", "small", "10-15", "lower_back", 1),
    ("ab wheel rollout", "small", "8-15", "lower_back", 1),
    ("cable anti-rotation press", "small", "8-15", "shoulder", 0),
]


@pytest.mark.parametrize(("name", "role", "best", "region", "grade"), GRADE_FACTS)
def test_what_a_coach_says_of_a_lift(
    name: str, role: str, best: str, region: str, grade: int
) -> None:
    found = lift(name)
    assert (found.role, str(found.prefers[0])) == (role, best)
    assert found.regions.get(region, 0) == grade


def test_every_pattern_has_a_row_of_facts() -> None:
    assert {lift(name).pattern for name, *_ in GRADE_FACTS} == set(vocabulary().patterns)


def test_small_lifts_are_not_for_low_repetitions() -> None:
    """coach.md 1, rule 3."""
    assert not [each.name for each in LIFTS if each.role == "small" and "low" in each.reps]
    assert min(reps.low for each in LIFTS if each.role == "small"
               for reps in each.prefers) == 8  # fmt: skip


@pytest.mark.parametrize("pattern", RAISES)
def test_raises_begin_at_ten(pattern: str) -> None:
    """coach.md 1, rule 3."""
    for each in LIFTS:
        if each.pattern == pattern:
            assert min(reps.low for reps in (*each.reps.values(), *each.prefers)) >= 10, each.name


@pytest.mark.parametrize("pattern", PRESSES)
def test_presses_load_the_shoulder_much_but_for_the_easy_ones(pattern: str) -> None:
    """design.md part 4, the contract."""
    for each in LIFTS:
        if each.pattern == pattern:
            wanted = 1 if each.name in EASY_PRESSES else 2
            assert each.regions["shoulder"] == wanted, each.name


@pytest.mark.parametrize("pattern", ["squat", "lunge", "knee extension"])
def test_what_bends_the_knee_under_load_loads_it(pattern: str) -> None:
    assert {each.regions["knee"] for each in LIFTS if each.pattern == pattern} <= {1, 2}
    spared = [each.name for each in LIFTS if each.pattern == pattern and each.regions["knee"] == 1]
    assert spared == (["box squat", "goblet box squat"] if pattern == "squat" else [])


def test_a_load_on_the_spine_is_a_load_on_the_lower_back() -> None:
    for each in LIFTS:
        if each.axial >= 2 and each.pattern != "shrug":
            assert each.regions["lower_back"] == 2, each.name
        if each.axial == 1 and each.pattern != "shrug":
            assert each.regions["lower_back"] >= 1, each.name


PLAINER = [
    ("barbell back squat", "zercher squat"),
    ("leg press", "reverse hack squat"),
    ("deadlift", "deficit deadlift"),
    ("bench press", "ring press-up"),
    ("lat pulldown", "band pulldown"),
    ("seated cable row", "band row"),
    ("dumbbell lateral raise", "band lateral raise"),
    ("leg extension", "band leg extension"),
    ("triceps pushdown", "dumbbell kickback"),
    ("cable crunch", "band crunch"),
    ("standing calf raise", "barbell calf raise"),
]


@pytest.mark.parametrize(("plain", "odd"), PLAINER)
def test_a_coach_takes_the_plainer_lift(plain: str, odd: str) -> None:
    assert lift(plain).plainness > lift(odd).plainness


def test_bands_do_not_win_by_a_quick_set_up() -> None:
    """composer.md 5.7."""
    assert not [e.name for e in LIFTS if "bands" in e.kit and e.plainness > 1]


@pytest.mark.parametrize("muscle", MUSCLES)
def test_every_muscle_has_plain_lifts_of_two_angles(muscle: str) -> None:
    angles = {e.angle for e in LIFTS if muscle in e.direct and e.plainness >= 2}
    assert len(angles) >= 2, muscle


HARDER = [
    ("deadlift", "trap bar deadlift"),
    ("front squat", "hack squat"),
    ("hack squat", "leg press"),
    ("bench press", "chest press"),
    ("pull-up", "lat pulldown"),
    ("overhead press", "machine shoulder press"),
    ("ring dip", "machine dip"),
]


@pytest.mark.parametrize(("hard", "easy"), HARDER)
def test_technique_asked_for(hard: str, easy: str) -> None:
    assert lift(hard).skill > lift(easy).skill


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        ("barbell back squat", "hack squat", False),
        ("hack squat", "pendulum squat", True),
        ("leg press", "leg extension", False),
        ("leg curl", "seated leg curl", False),
        ("leg curl", "lying leg curl", True),
        ("romanian deadlift", "deadlift", False),
        ("barbell hip thrust", "romanian deadlift", False),
        ("bench press", "dumbbell bench press", True),
        ("bench press", "incline dumbbell press", False),
        ("machine fly", "cable fly", True),
        ("lat pulldown", "close-grip lat pulldown", False),
        ("seated cable row", "chest-supported row", False),
        ("dumbbell lateral raise", "cable lateral raise", False),
        ("incline dumbbell curl", "preacher curl", False),
        ("triceps pushdown", "rope pushdown", True),
        ("triceps pushdown", "overhead cable extension", False),
        ("standing calf raise", "seated calf raise", False),
        ("cable crunch", "hanging knee raise", False),
    ],
)
def test_near_twins_have_one_angle(one: str, other: str, alike: bool) -> None:
    assert (lift(one).angle == lift(other).angle) is alike


def test_every_angle_is_used() -> None:
    assert {each.angle for each in LIFTS} == set(vocabulary().angles)


def test_every_lift_says_where_it_may_hurt() -> None:
    """The gripping hand, the spine under a load and the joint beside the muscle are named too."""
    for each in LIFTS:
        assert each.regions, each.name
        if each.muscles.get("forearms", 0.0) >= 0.5:
            assert each.regions.get("wrist"), each.name
        if each.muscles.get("quads", 0.0) >= 0.5:
            assert each.regions.get("knee"), each.name
        if each.axial > 1 or each.muscles.get("spinal_erectors", 0.0) >= 0.5:
            assert each.regions.get("lower_back"), each.name
