"""The catalogue as a whole: anatomy, kit, cautions, options for each gym, checks on load."""

from pathlib import Path
from types import MappingProxyType

import pytest

from blockwright.engine.errors import BadInput
from blockwright.engine.gym import Gym
from blockwright.engine.lifts import ZONES
from blockwright.engine.training import MUSCLES, Lift, Lifter
from blockwright.files import catalogue as catalogue_module
from blockwright.files.catalogue import (
    builtin_catalogue,
    catalogue_for,
    catalogue_with,
    lift_from_table,
    lifts_of_file,
)
from blockwright.files.vocabulary import FREE_WEIGHTS, vocabulary

LIFTS = tuple(builtin_catalogue().lifts.values())
PRESSES_AND_SQUATS = {"squat", "lunge", "horizontal press", "incline press", "overhead press"}


def names(lifts: list[Lift]) -> list[str]:
    return [lift.name for lift in lifts]


def test_there_are_enough_lifts_and_they_load_once() -> None:
    assert len(LIFTS) >= 150
    assert builtin_catalogue() is builtin_catalogue()


# ------------------------------------------------------------------------------------- anatomy

# Pattern: one of these is direct; all of these take part; none of these takes part.
# Joint actions as in any anatomy book; common practice, no source.
ANATOMY: dict[str, tuple[set[str], set[str], set[str]]] = {
    "squat": ({"quads"}, {"quads", "glutes"}, {"hamstrings", "chest", "biceps", "triceps"}),
    "lunge": ({"quads"}, {"quads", "glutes", "adductors"}, {"hamstrings", "chest", "biceps"}),
    "hinge": ({"hamstrings", "glutes"}, {"hamstrings", "glutes"}, {"chest", "triceps", "calves"}),
    "hip extension": ({"glutes", "hamstrings"}, {"glutes"}, {"chest", "biceps", "triceps"}),
    "back extension": ({"spinal_erectors", "glutes"}, {"spinal_erectors"}, {"quads", "abs"}),
    "knee extension": ({"quads"}, {"quads"}, {"hamstrings", "glutes"}),
    "knee flexion": ({"hamstrings"}, {"hamstrings"}, {"quads"}),
    "hip adduction": ({"adductors"}, {"adductors"}, {"glutes"}),
    "hip abduction": ({"glutes"}, {"glutes"}, {"adductors"}),
    "calf raise": ({"calves"}, {"calves"}, {"quads", "hamstrings", "glutes"}),
    "horizontal press": ({"chest", "triceps"}, {"chest", "triceps", "front_delts"},
                         {"biceps", "lats", "rear_delts"}),
    "incline press": ({"chest", "front_delts"}, {"chest", "triceps", "front_delts"},
                      {"biceps", "lats", "rear_delts"}),
    "overhead press": ({"front_delts"}, {"triceps", "side_delts"}, {"biceps", "chest", "lats"}),
    "dip": ({"chest", "triceps"}, {"chest", "triceps", "front_delts"}, {"biceps", "rear_delts"}),
    "fly": ({"chest"}, {"front_delts"}, {"triceps", "biceps", "lats"}),
    "row": ({"upper_back", "lats"}, {"biceps", "upper_back", "lats"},
            {"chest", "triceps", "front_delts"}),
    "vertical pull": ({"lats"}, {"biceps", "upper_back"}, {"chest", "triceps", "front_delts"}),
    "pullover": ({"lats"}, {"lats"}, {"biceps", "quads"}),
    "upright row": ({"side_delts"}, {"upper_back", "biceps"}, {"chest", "triceps", "lats"}),
    "shrug": ({"upper_back"}, {"forearms"}, {"chest", "triceps", "biceps"}),
    "lateral raise": ({"side_delts"}, set(), {"chest", "lats", "biceps", "triceps"}),
    "front raise": ({"front_delts"}, set(), {"lats", "rear_delts", "triceps"}),
    "rear delt raise": ({"rear_delts", "upper_back"}, {"rear_delts", "upper_back"},
                        {"chest", "triceps", "front_delts"}),
    "elbow flexion": ({"biceps", "forearms"}, {"biceps", "forearms"}, {"triceps", "chest"}),
    "elbow extension": ({"triceps"}, set(), {"biceps", "chest", "lats"}),
    "wrist": ({"forearms"}, set(), {"biceps", "triceps"}),
    "trunk flexion": ({"abs"}, set(), {"spinal_erectors"}),
    "trunk rotation": ({"abs"}, set(), {"quads"}),
    "trunk stability": ({"abs"}, set(), {"spinal_erectors"}),
}  # fmt: skip


def test_every_pattern_has_an_anatomical_rule() -> None:
    assert set(ANATOMY) == set(vocabulary().patterns)


@pytest.mark.parametrize("pattern", ANATOMY)
def test_anatomy(pattern: str) -> None:
    direct_any, take_part, never = ANATOMY[pattern]
    lifts = [lift for lift in LIFTS if lift.pattern == pattern]
    assert len(lifts) >= 3, "a pattern with hardly a lift is not worth a word"
    for lift in lifts:
        trained = set(lift.muscles)
        assert direct_any & set(lift.direct), f"{lift.name} lacks a direct {direct_any}"
        assert take_part <= trained, f"{lift.name} lacks {take_part - trained}"
        assert not never & trained, f"{lift.name} trains {never & trained}"


@pytest.mark.parametrize("pattern", ["row", "vertical pull"])
def test_pulls_count_in_part_for_the_elbow_flexors(pattern: str) -> None:
    """Half a set, Pelland et al. 2025 counting rule; one close-grip chin-up is the exception."""
    for lift in LIFTS:
        if lift.pattern == pattern and lift.name != "close-grip chin-up":
            assert lift.muscles["biceps"] in (0.25, 0.5), lift.name


# ---------------------------------------------------------------------------- loads and repetitions


def test_machine_lifts_hardly_load_the_spine() -> None:
    assert not [lift.name for lift in LIFTS if lift.stability == "machine" and lift.axial > 1]


def test_heavy_spinal_loading_needs_a_bar_on_the_back_or_in_the_hands() -> None:
    heavy = [lift for lift in LIFTS if lift.axial == 3]
    assert {lift.pattern for lift in heavy} == {"squat", "hinge"}
    assert all({"bar", "trap bar"} & set(lift.kit) for lift in heavy)


def test_repetitions_stay_in_their_zones() -> None:
    """Zones of design.md part 2: 4-8, 8-15, 15-30."""
    bounds = {"low": (4, 8), "mid": (8, 15), "high": (15, 30)}
    for lift in LIFTS:
        assert lift.reps, lift.name
        assert list(lift.reps) == [zone for zone in ZONES if zone in lift.reps]
        for zone, reps in lift.reps.items():
            low, high = bounds[zone]
            assert low <= reps.low < reps.high <= high, f"{lift.name} {zone} {reps}"


def test_what_is_not_for_high_or_low_repetitions() -> None:
    """Common practice, no source."""
    assert not [lift.name for lift in LIFTS if lift.axial == 3 and lift.pattern == "hinge"
                and "high" in lift.reps]  # fmt: skip
    raises = {"lateral raise", "front raise", "rear delt raise", "fly", "wrist", "elbow extension"}
    assert not [lift.name for lift in LIFTS if lift.pattern in raises and "low" in lift.reps]


def test_times_are_believable() -> None:
    """0.5-8 s a repetition, Schoenfeld, Ogborn & Krieger 2015; a repetition of both sides
    counts twice. 20-120 s to get ready: habit of the trade, no standard found."""
    for lift in LIFTS:
        assert 1.0 <= lift.seconds_per_rep <= 8.0, lift.name
        assert 20 <= lift.setup_s <= 120, lift.name
        one_side_at_a_time = "both sides" in lift.standard
        assert not one_side_at_a_time or lift.seconds_per_rep >= 5.0, lift.name


def test_bodyweight_lifts_say_which_share_moves() -> None:
    for lift in LIFTS:
        assert (lift.bodyweight_share > 0) == (lift.load_kind in ("bodyweight_plus", "assisted"))


# ------------------------------------------------------------------------------------------ words


def test_every_lift_says_where_a_repetition_starts_and_ends() -> None:
    for lift in LIFTS:
        assert 40 <= len(lift.standard) <= 200, f"{lift.name}: {len(lift.standard)}"
        assert "from " in lift.standard.lower(), f"{lift.name}: {lift.standard}"
    assert len({lift.standard for lift in LIFTS}) > 0.8 * len(LIFTS)


def test_free_weight_presses_and_squats_carry_a_caution_about_failing() -> None:
    """NSCA practice of spotting a bar on the back, over the face and overhead (published.md,
    `spotting`, from memory): a spotter, safeties, or how to get out of the repetition."""
    words = ("spotter", "spot", "safety arms", "drop the dumbbells", "failure", "stops", "let")
    cautioned = [
        lift
        for lift in LIFTS
        if lift.pattern in PRESSES_AND_SQUATS - {"lunge"}
        and lift.stability != "machine"
        and FREE_WEIGHTS & set(lift.kit)
    ]
    assert len(cautioned) > 25
    for lift in cautioned:
        assert lift.caution is not None, lift.name
        assert any(word in lift.caution.lower() for word in words), f"{lift.name}: {lift.caution}"
        assert not lift.safe_to_fail, lift.name


@pytest.mark.parametrize("pattern", ["squat", "horizontal press", "incline press"])
def test_a_bar_asks_for_a_spotter_or_safeties(pattern: str) -> None:
    bars = [lift for lift in LIFTS if lift.pattern == pattern and "bar" in lift.kit]
    for lift in bars:
        if "landmine" not in lift.kit:
            said = (lift.caution or "").lower()
            assert "spotter" in said or "safety arms" in said, lift.name


def test_what_is_held_over_the_face_is_not_for_failure_alone() -> None:
    for name in ("lying triceps extension", "dumbbell pullover", "dumbbell overhead extension"):
        lift = builtin_catalogue().lifts[name]
        assert not lift.safe_to_fail
        assert lift.caution is not None


# -------------------------------------------------------------------------------------------- kit


def test_every_kit_word_is_in_the_vocabulary_and_used() -> None:
    used = {word for lift in LIFTS for word in lift.kit}
    assert used == set(vocabulary().kit)


def test_free_kit_is_the_contract() -> None:
    """design.md part 4, word for word."""
    assert vocabulary().free_kit == (
        "bar", "ez bar", "trap bar", "squat rack", "bench", "incline bench", "preacher bench",
        "dip bars", "pull-up bar", "dumbbells", "kettlebells", "cable", "bands", "landmine",
        "plates", "box", "back extension bench", "ab wheel", "rings",
    )  # fmt: skip


def test_machines_are_named_after_the_lift_they_serve() -> None:
    for machine in vocabulary().machines:
        assert machine in builtin_catalogue().lifts[machine].kit


def test_a_full_gym_has_several_direct_lifts_for_every_muscle() -> None:
    for muscle in MUSCLES:
        assert sum(muscle in lift.direct for lift in LIFTS) >= 8, muscle


GYMS = {
    "dumbbells and a bench": ({"dumbbells", "bench"}, set()),
    # No honest lift trains the side delts directly with bodyweight alone: raises need a load.
    "bodyweight and a bar to hang from": ({"pull-up bar"}, {"side_delts"}),
    "bodyweight, bar and bands": ({"pull-up bar", "bands"}, set()),
    "machines and cables": ({*vocabulary().machines, "cable", "bench"}, set()),
    # Forearms by machine alone: rare kit, left out; a cable does it.
    "machines alone": (set(vocabulary().machines), {"forearms"}),
}


@pytest.mark.parametrize("gym", GYMS)
def test_options_for_every_muscle(gym: str) -> None:
    kit, without = GYMS[gym]
    covered = {muscle for lift in LIFTS if kit.issuperset(lift.kit) for muscle in lift.direct}
    assert set(MUSCLES) - covered == without


# ---------------------------------------------------------------------------------- checks on load

GOOD = """
[[lift]]
name = "test squat"
muscles = { quads = 1.0, glutes = 0.5 }
pattern = "squat"
kit = ["bar"]
axial = 2
standard = "From standing down and up."
"""


def test_a_good_file_reads() -> None:
    (lift,) = lifts_of_file("good.toml", GOOD)
    assert (lift.name, lift.own, lift.fatigue_group) == ("test squat", False, "squat")


BROKEN = [
    ("quads = 1.0", "quadz = 1.0", '"quadz" is not a muscle', "quads"),
    ("glutes = 0.5", "glutes = 0.3", "a share of 0.3 cannot be", "0.25"),
    ("quads = 1.0", "quads = 0.5", "has no direct muscle", "1.0"),
    ('"squat"', '"squad"', '"squad" is not a word that pattern takes', "squat"),
    ('["bar"]', '["barr"]', '"barr" is not a kit word', "bar"),
    ("axial = 2", "axial = 4", "outside 0 to 3", ""),
    ("axial = 2", "", "axial: test squat: is missing", "0 to 3"),
    ("axial = 2", "axial = 2\nfamly = 'x'", "famly", "family"),
    ("axial = 2", 'axial = 2\nreps = { mid = "8-99" }', '"8-99" is not a range', "8-15"),
    ("axial = 2", 'axial = 2\nreps = { mid = "15-8" }', '"15-8" is not a range', "8-15"),
    ("axial = 2", 'axial = 2\nreps = { middle = "8-15" }', "middle", "mid"),
    ("axial = 2", "axial = 2\nbodyweight_share = 0.5\nload_kind = 'external'", "no effect", ""),
    ("axial = 2", "axial = 2\nload_kind = 'assisted'", "moves the body", "share"),
    ("axial = 2", "axial = 2\nsafe_to_fail = true", "not safe to fail alone", "false"),
    ("axial = 2", "axial = 2\naliases = ['test squat']", "stands twice", "keep one"),
]


@pytest.mark.parametrize(("good", "bad", "says", "mend"), BROKEN)
def test_a_broken_file_names_place_and_mend(good: str, bad: str, says: str, mend: str) -> None:
    with pytest.raises(BadInput) as caught:
        lifts_of_file("bad.toml", GOOD.replace(good, bad, 1))
    text = str(caught.value)
    assert says in text
    assert mend in text
    assert all(problem.file == "bad.toml" for problem in caught.value.problems)


def test_a_name_or_alias_leads_to_one_lift() -> None:
    words = [word for lift in LIFTS for word in (lift.name, *lift.aliases)]
    assert len(set(words)) == len(words)
    assert [word.lower() for word in words] == words


# ------------------------------------------------------------------------------------- own lifts


def own(name: str, **fields: object) -> Lift:
    table = {"name": name, "muscles": {"quads": 1.0}, "pattern": "squat", **fields}
    return lift_from_table(table, "lift.1")


def test_own_lifts_stand_beside_the_shipped_ones() -> None:
    lifter = Lifter(
        name="Ada", gym=Gym(kit=frozenset(), unit="kg"), lifts=(own("Barn Squat", kit=["bar"]),)
    )
    together = catalogue_for(lifter)
    assert len(together.lifts) == len(LIFTS) + 1
    found = together.find("barn squat")
    assert found is not None
    assert found.own
    assert builtin_catalogue().find("barn squat") is None
    assert catalogue_with(()) is builtin_catalogue()


def test_an_own_lift_stands_in_for_a_shipped_one_but_keeps_its_caution() -> None:
    mine = own("Hack Squat", kit=["hack squat"], safe_to_fail=True)
    assert mine.caution is None
    together = catalogue_with([mine])
    assert len(together.lifts) == len(LIFTS)
    found = together.find("hack squat")
    assert found is not None
    assert found.own
    assert found.caution == builtin_catalogue().lifts["hack squat"].caution


def test_names_are_read_as_people_write_them_and_unknown_ones_kept() -> None:
    catalogue = builtin_catalogue()
    assert catalogue.canonical(" Leg Press ") == "leg press"
    assert catalogue.canonical("machine chest fly") == "machine fly"
    assert catalogue.canonical("barn squat") == "barn squat"
    known = catalogue.known(["Leg press", "barn squat", "deadlift"])
    assert [lift.name for lift in known] == ["leg press", "deadlift"]


def test_an_own_alias_comes_before_a_shipped_alias_but_never_takes_a_name() -> None:
    found = catalogue_with([own("box jump squat", aliases=["squat"])]).find("squat")
    assert found is not None
    assert found.name == "box jump squat"
    with pytest.raises(BadInput, match="a lift of its own"):
        own("barn press", aliases=["leg press"])


def test_a_catalogue_is_not_changed_by_its_readers() -> None:
    assert isinstance(builtin_catalogue().lifts, MappingProxyType)


def test_catalogue_files_are_short_enough_to_read() -> None:
    folder = Path(str(catalogue_module.__file__)).parent / "data" / "lifts"
    for file in folder.glob("*.toml"):
        lines = file.read_text(encoding="utf-8").splitlines()
        assert len(lines) <= 400, file.name
        assert lines[0].startswith("# "), f"{file.name} does not say what it holds"
