"""One `[[lift]]` table: what a lifter must say, what is filled in, what is refused."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import MUSCLES, REGIONS, Lift
from blockwright.files.catalogue import builtin_catalogue, lift_from_table
from blockwright.files.lift_table import lift_to_table
from blockwright.files.vocabulary import LOAD_KINDS, vocabulary

CONTRACT_EXAMPLE: dict[str, Any] = {
    "name": "sled push press",
    "muscles": {"quads": 1.0, "glutes": 0.5},
    "pattern": "squat",
    "kit": ["leg press"],
    "axial": 0,
    "bodyweight_share": 0.0,
    "load_kind": "external",
}


def test_the_keys_of_the_contract_are_enough() -> None:
    lift = lift_from_table(CONTRACT_EXAMPLE, "lift.1")
    assert lift.own
    assert lift.compound
    assert (lift.family, lift.stability, lift.fatigue_group) == ("squat", "machine", "squat")
    assert lift.safe_to_fail
    assert {zone: str(reps) for zone, reps in lift.reps.items()} == {
        "low": "4-8", "mid": "8-15", "high": "15-20",
    }  # fmt: skip
    assert lift.standard
    assert (lift.role, lift.plainness, lift.skill, lift.angle) == ("main", 2, 1, "squat")
    assert [str(reps) for reps in lift.prefers] == ["5-8", "8-12"]
    assert lift.regions == {"hip": 1, "knee": 2, "ankle": 1}


def test_a_coach_grades_an_own_lift() -> None:
    """The keys of design.md part 4."""
    said = {
        "role": "second", "plainness": 0, "skill": 3, "angle": "Upright squat",
        "prefers": ["8-12", "5-8"], "regions": {"knee": 2, "lower back": 1, "hip": 0},
    }  # fmt: skip
    lift = lift_from_table({**CONTRACT_EXAMPLE, **said}, "lift.1")
    assert (lift.role, lift.compound) == ("second", True)
    assert (lift.plainness, lift.skill, lift.angle) == (0, 3, "upright squat")
    assert [str(reps) for reps in lift.prefers] == ["8-12", "5-8"]
    assert lift.regions == {"lower_back": 1, "knee": 2}


@pytest.mark.parametrize(
    ("pattern", "said", "role"),
    [
        ("squat", {"compound": False}, "small"),
        ("lunge", {"compound": True}, "second"),
        ("elbow flexion", {"compound": True}, "second"),
        ("squat", {"role": "small"}, "small"),
        ("elbow flexion", {"role": "main"}, "main"),
        ("elbow flexion", {}, "small"),
    ],
)
def test_role_and_more_than_one_joint_say_one_thing(
    pattern: str, said: dict[str, Any], role: str
) -> None:
    lift = lift_from_table(
        {"name": "x", "muscles": {"lats": 1}, "pattern": pattern, **said}, "lift"
    )
    assert (lift.role, lift.compound) == (role, role != "small")


@pytest.mark.parametrize(
    ("axial", "regions"),
    [
        (0, {"hip": 1, "knee": 2, "ankle": 1}),
        (1, {"lower_back": 1, "hip": 1, "knee": 2, "ankle": 1}),
        (3, {"lower_back": 2, "hip": 1, "knee": 2, "ankle": 1}),
    ],
)
def test_a_load_on_the_spine_loads_the_lower_back(axial: int, regions: dict[str, int]) -> None:
    assert lift_from_table({**CONTRACT_EXAMPLE, "axial": axial}, "lift").regions == regions


def test_usual_ranges_are_those_that_the_lift_can_use() -> None:
    high = lift_from_table({**CONTRACT_EXAMPLE, "reps": {"high": "15-25"}}, "lift")
    assert [str(reps) for reps in high.prefers] == ["15-25"]
    mid = lift_from_table({**CONTRACT_EXAMPLE, "reps": {"mid": "8-15"}}, "lift")
    assert [str(reps) for reps in mid.prefers] == ["8-12"]


def test_name_muscles_and_pattern_are_enough() -> None:
    lift = lift_from_table(
        {"name": " My  Curl ", "muscles": {"biceps": 1}, "pattern": "Elbow Flexion"}, "lift.1"
    )
    assert (lift.name, lift.kit, lift.load_kind) == ("My Curl", (), "external")
    assert (lift.axial, lift.compound, lift.setup_s) == (0, False, 20)
    assert not lift.safe_to_fail


@pytest.mark.parametrize(
    ("pattern", "kit", "axial", "stability"),
    [
        ("squat", ["bar", "squat rack"], 3, "free"),
        ("squat", ["dumbbells"], 2, "free"),
        ("squat", ["hack squat"], 0, "machine"),
        ("squat", [], 0, "free"),
        ("row", ["bar"], 2, "free"),
        ("row", ["cable"], 0, "supported"),
        ("row", ["my rower"], 0, "machine"),
        ("elbow flexion", ["bar"], 0, "free"),
    ],
)
def test_what_is_inferred_from_pattern_and_kit(
    pattern: str, kit: list[str], axial: int, stability: str
) -> None:
    lift = lift_from_table(
        {"name": "My Rower", "muscles": {"lats": 1.0}, "pattern": pattern, "kit": kit}, "lift.1"
    )
    assert (lift.axial, lift.stability) == (axial, stability)


def test_a_free_weight_press_always_carries_a_caution() -> None:
    table = {"name": "barn press", "muscles": {"chest": 1.0}, "pattern": "horizontal press"}
    lift = lift_from_table({**table, "kit": ["bar", "bench"]}, "lift.1")
    assert lift.caution is not None
    assert "spotter" in lift.caution
    with pytest.raises(BadInput, match="not safe to fail alone"):
        lift_from_table({**table, "kit": ["bar", "bench"], "safe_to_fail": True}, "lift.1")
    assert lift_from_table({**table, "kit": ["chest press"]}, "lift.1").caution is None


def test_a_share_of_bodyweight_alone_means_bodyweight_plus() -> None:
    lift = lift_from_table(
        {"name": "x", "muscles": {"lats": 1}, "pattern": "row", "bodyweight_share": 0.5}, "lift.1"
    )
    assert lift.load_kind == "bodyweight_plus"


def test_own_shares_may_be_any_part() -> None:
    table = {**CONTRACT_EXAMPLE, "muscles": {"quads": 0.7, "spinal erectors": 0.1}}
    lift = lift_from_table(table, "lift.1")
    assert dict(lift.muscles) == {"quads": 0.7, "spinal_erectors": 0.1}


BAD: list[tuple[dict[str, Any], str, str]] = [
    ({"name": None}, "lift.3.name", "name the lift"),
    ({"name": ""}, "lift.3.name", "between the quotes"),
    ({"name": 7}, "lift.3.name", "quotes"),
    ({"muscles": None}, "lift.3.muscles", "say what it trains"),
    ({"muscles": {}}, "lift.3.muscles", "say what it trains"),
    ({"muscles": ["quads"]}, "lift.3.muscles", "table"),
    ({"muscles": {"quad": 1.0}}, "lift.3.muscles.quad", '"quads"'),
    ({"muscles": {"quads": 1.5}}, "lift.3.muscles.quads", "check the number"),
    ({"muscles": {"quads": 0.0}}, "lift.3.muscles.quads", "leave the muscle out"),
    ({"muscles": {"quads": "all"}}, "lift.3.muscles.quads", "plain number"),
    ({"muscles": {"quads": True}}, "lift.3.muscles.quads", "plain number"),
    ({"pattern": None}, "lift.3.pattern", "say how it moves"),
    ({"pattern": "horizontal pres"}, "lift.3.pattern", '"horizontal press"'),
    ({"pattern": "zzz"}, "lift.3.pattern", "knee flexion"),
    ({"kit": ["leg pres"]}, "lift.3.kit.1", '"leg press"'),
    ({"kit": ["qqq"]}, "lift.3.kit.1", "bears the name of its lift"),
    ({"kit": 3}, "lift.3.kit", "list of texts"),
    ({"axial": 5}, "lift.3.axial", "check the number"),
    ({"axial": 1.5}, "lift.3.axial", "write 1"),
    ({"load_kind": "each hand"}, "lift.3.load_kind", "per_hand"),
    ({"load_kind": "assisted"}, "lift.3.bodyweight_share", "1.0 for a pull-up"),
    ({"bodyweight_share": -0.1}, "lift.3.bodyweight_share", "check the number"),
    ({"reps": {"low": 5}}, "lift.3.reps.low", "quotes"),
    ({"reps": {"low": "five"}}, "lift.3.reps.low", '"8-15"'),
    ({"reps": {"low": "0-5"}}, "lift.3.reps.low", "from 1 to 60"),
    ({"seconds_per_rep": 0}, "lift.3.seconds_per_rep", "check the number"),
    ({"setup_s": 5000}, "lift.3.setup_s", "check the number"),
    ({"stability": "wobbly"}, "lift.3.stability", "supported"),
    ({"fatigue_group": "legs"}, "lift.3.fatigue_group", "press"),
    ({"compound": "yes"}, "lift.3.compound", "true"),
    ({"aliases": ["a", "a"]}, "lift.3.aliases.2", "keep one"),
    ({"weight": 5}, "lift.3.weight", "known here"),
    ({"role": "mian"}, "lift.3.role", '"main"'),
    ({"role": "small", "compound": True}, "lift.3.role", "leave one key out"),
    ({"plainness": 4}, "lift.3.plainness", "check the number"),
    ({"skill": -1}, "lift.3.skill", "check the number"),
    ({"angle": "leg pres"}, "lift.3.angle", '"leg press"'),
    ({"prefers": ["eight"]}, "lift.3.prefers.1", '"8-12"'),
    ({"prefers": ["8-12", "25-40"]}, "lift.3.prefers.2", "inside it"),
    ({"prefers": 8}, "lift.3.prefers", "list of texts"),
    ({"regions": {"knees": 2}}, "lift.3.regions.knees", '"knee"'),
    ({"regions": {"back": 1}}, "lift.3.regions.back", "back"),
    ({"regions": {"knee": 3}}, "lift.3.regions.knee", "check the number"),
    ({"regions": ["knee"]}, "lift.3.regions", "table"),
]


@pytest.mark.parametrize(("change", "key", "mend"), BAD)
def test_a_bad_value_names_its_key_and_the_mend(
    change: dict[str, Any], key: str, mend: str
) -> None:
    changed = {**CONTRACT_EXAMPLE, **change}
    table = {name: value for name, value in changed.items() if value is not None}
    with pytest.raises(BadInput) as caught:
        lift_from_table(table, "lift.3")
    (problem,) = caught.value.problems
    assert problem.key == key
    assert mend in problem.mend


def test_every_problem_is_told_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        lift_from_table({"muscles": {"quad": 2}, "pattern": "squad", "kit": ["barr"]}, "lift.1")
    assert len(caught.value.problems) >= 4


def test_a_table_of_a_lift_reads_back_equal() -> None:
    """Round trip of every shipped lift, under another name, since own aliases may not clash."""
    for name, lift in builtin_catalogue().lifts.items():
        table = {**lift_to_table(lift), "name": f"my {name}", "aliases": []}
        back = lift_from_table(table, "lift.1")
        assert lift_to_table(back) == table
        assert dict(back.muscles) == dict(lift.muscles), name
        assert dict(back.reps) == dict(lift.reps), name


SCALARS = (
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12)
)  # fmt: skip
ANYTHING = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner,
                                                                max_size=3),
    max_leaves=6,
)  # fmt: skip
KEYS = list(lift_to_table(builtin_catalogue().lifts["bench press"]))
NEARLY_RIGHT: dict[str, st.SearchStrategy[Any]] = {
    "name": st.text(max_size=12) | st.just("x"),
    "muscles": st.dictionaries(st.sampled_from([*MUSCLES, "quad"]), st.floats(0, 1), max_size=4),
    "pattern": st.sampled_from([*vocabulary().patterns, "squad"]),
    "kit": st.lists(st.sampled_from([*vocabulary().kit, "x", "barr"]), max_size=3),
    "load_kind": st.sampled_from([*LOAD_KINDS, "hand"]),
    "bodyweight_share": st.floats(-0.1, 1.1),
    "role": st.sampled_from(["main", "second", "small", "mian"]),
    "compound": st.booleans(),
    "angle": st.sampled_from([*vocabulary().angles, "anlge"]),
    "prefers": st.lists(st.sampled_from(["5-8", "8-12", "12-20", "9", "a-b"]), max_size=3),
    "regions": st.dictionaries(st.sampled_from([*REGIONS, "knees"]), st.integers(0, 3)),
    "reps": st.dictionaries(
        st.sampled_from(["low", "mid", "high", "middle"]),
        st.sampled_from(["4-8", "8-15", "9", "99999-1", "1-60", "a-b"]),
        max_size=3,
    ),
}
TABLES = st.dictionaries(st.sampled_from(KEYS) | st.text(max_size=8), ANYTHING, max_size=8) | (
    st.fixed_dictionaries({}, optional=NEARLY_RIGHT)
)


@settings(max_examples=400, deadline=None, derandomize=True)
@given(TABLES)
def test_any_table_is_a_lift_or_bad_input(table: dict[str, Any]) -> None:
    lift, problems = read(table)
    assert (lift is None) == bool(problems)
    for problem in problems:
        assert (problem.key or "").startswith("lift.1")
        assert problem.says
        assert problem.mend
    if lift is not None:
        check_lift(lift)


def read(table: dict[str, Any]) -> tuple[Lift | None, tuple[Problem, ...]]:
    try:
        return lift_from_table(table, "lift.1"), ()
    except BadInput as error:
        return None, error.problems


def check_lift(lift: Lift) -> None:
    assert lift.name
    assert lift.muscles
    assert all(muscle in MUSCLES and 0 < share <= 1 for muscle, share in lift.muscles.items())
    assert lift.pattern in vocabulary().patterns
    assert 0 <= lift.axial <= 3
    assert all(1 <= reps.low <= reps.high <= 60 for reps in lift.reps.values())
    assert lift.prefers
    assert set(lift.regions) <= set(REGIONS)
    assert set(lift.regions.values()) <= {1, 2}
    assert lift.bodyweight_share > 0 or lift.load_kind in ("external", "per_hand")
    stored = lift_from_table(lift_to_table(lift), "lift.1")
    assert lift_to_table(stored) == lift_to_table(lift)
    assert replace(stored, muscles=lift.muscles, bodyweight_share=lift.bodyweight_share) == lift
