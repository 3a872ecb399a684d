"""What may be offered when a lift hurts: a table a coach would check, lift by lift.

The rows are common practice, no source: which lifts load which joint.
"""

from collections.abc import Collection

import pytest
from small_block import small_lifter

from blockwright.engine.gym import Gym
from blockwright.engine.pain import joints_loaded, loads_place, place_in
from blockwright.engine.review import alternatives_for_pain, pain_swap_caution, trains_alike
from blockwright.engine.training import Lift, Lifter, Limits
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.files.vocabulary import vocabulary
from blockwright.files.words import caution_says

CATALOGUE = builtin_catalogue()
LIFTER = small_lifter(gym=Gym(kit=frozenset(vocabulary().kit), unit="kg"))


def offered(lift: str, *places: str) -> list[str]:
    return [other.name for other in in_place_of(lift, places=places)]


def in_place_of(name: str, lifter: Lifter = LIFTER, **said: Collection[str]) -> tuple[Lift, ...]:
    lift = CATALOGUE.lifts[name]
    alike = trains_alike(lift, CATALOGUE, lifter)
    return alternatives_for_pain(lift, alike, default_policy(), **said)


SQUATS = {"box squat", "paused back squat", "front squat", "smith machine squat", "zercher squat"}
PRESSES = {"paused bench press", "incline bench press", "dip", "press-up", "overhead press"}
TABLE = [
    # lift, where it hurts, must be offered, must never be offered
    ("barbell back squat", (), {"leg extension", "barbell hip thrust"},
     SQUATS | {"hack squat", "barbell reverse lunge", "bodyweight split squat"}),
    ("barbell back squat", ("left knee",), {"barbell hip thrust", "machine kickback"},
     SQUATS | {"leg press", "leg extension", "walking lunge", "bodyweight step-up", "sissy squat"}),
    ("barbell back squat", ("lower back",), {"leg extension", "bodyweight bulgarian split squat"},
     SQUATS | {"deadlift", "cable pull-through", "walking lunge", "barbell bulgarian split squat"}),
    ("barbell back squat", ("hip",), {"leg extension"},
     SQUATS | {"barbell hip thrust", "hip abduction", "walking lunge"}),
    ("deadlift", ("low back",), {"leg curl", "barbell hip thrust"},
     {"romanian deadlift", "rack pull", "barbell good morning", "back extension",
      "reverse hyperextension", "cable pull-through"}),
    ("romanian deadlift", (), {"leg curl"}, {"stiff-leg deadlift", "barbell good morning"}),
    ("leg press", (), set(), {"leg extension", "sissy squat", "bodyweight step-up"}),
    ("leg extension", ("knee",), set(), {"sissy squat", "leg press", "barbell back squat"}),
    ("leg extension", (), set(), {"sissy squat", "band leg extension", "leg press"}),
    ("leg curl", ("knee",), set(), {"nordic curl", "seated leg curl"}),
    ("bench press", (), {"machine fly"}, PRESSES),
    ("bench press", ("right shoulder",), set(), PRESSES | {"machine fly", "dumbbell fly"}),
    ("bench press", ("elbow",), {"machine fly"}, PRESSES | {"dumbbell floor press"}),
    ("bench press", ("wrist",), set(), PRESSES | {"dumbbell floor press"}),
    ("overhead press", ("shoulder",), set(), {"push press", "pike press-up", "landmine press"}),
    ("overhead press", ("lower back",), {"cable front raise", "landmine press"},
     {"push press", "seated barbell overhead press"}),
    ("barbell row", ("back",), {"lat pulldown"}, {"t-bar row", "trap bar row", "barbell shrug"}),
    ("pull-up", ("elbow",), {"machine pullover"}, {"chin-up", "lat pulldown", "inverted row"}),
    ("barbell curl", ("elbow",), set(), {"ez bar curl", "hammer curl", "close-grip chin-up"}),
    ("lying triceps extension", ("elbow",), set(), {"triceps pushdown", "close-grip bench press"}),
    ("standing calf raise", ("achilles",), set(), {"seated calf raise", "leg press calf raise"}),
    ("barbell hip thrust", ("groin",), set(), {"hip abduction", "walking lunge", "deadlift"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("lift", "places", "must", "never"), TABLE, ids=lambda v: v if isinstance(v, str) else None
)
def test_a_coachs_table(
    lift: str, places: tuple[str, ...], must: set[str], never: set[str]
) -> None:
    found = offered(lift, *places)
    named = must | never
    assert named <= set(CATALOGUE.lifts), named - set(CATALOGUE.lifts)
    assert must <= set(found), f"not offered: {must - set(found)}"
    assert not never & set(found), f"offered: {never & set(found)}"
    if not must:
        assert found == [], "nothing is better than a near twin"


def test_no_offer_is_a_near_twin_or_loads_what_hurts() -> None:
    for painful in CATALOGUE.lifts.values():
        for place in (None, *sorted(joints_loaded(painful))):
            for name in offered(painful.name, *([place] if place else [])):
                other, what = CATALOGUE.lifts[name], (painful.name, place, name)
                assert set(other.direct) & set(painful.direct), what
                assert other.family != painful.family, what
                assert other.pattern != painful.pattern, what
                if place:
                    assert not loads_place(other, place), what
                    assert not (place == "back" and other.axial), what
                else:
                    joints = joints_loaded(painful) - {"lower back"}  # the back counts once
                    assert len(joints & joints_loaded(other)) <= len(joints) / 2, what


def test_kit_and_limits_hold_and_the_caution_always_stands_beside_it() -> None:
    bare = small_lifter(gym=Gym(kit=frozenset({"bar"}), unit="kg"))
    assert all(set(other.kit) <= {"bar"} for other in in_place_of("barbell back squat", bare))
    shy = small_lifter(gym=LIFTER.gym, limits=Limits(avoid_patterns=("knee extension",)))
    found = in_place_of("barbell back squat", shy, avoid={"hip abduction"})
    assert not {other.name for other in found} & {"leg extension", "hip abduction"}
    assert in_place_of("leg extension", places=["knee"]) == ()
    caution = pain_swap_caution(CATALOGUE.lifts["leg extension"])
    assert "Stop any lift that hurts" in caution_says(caution)
    assert "licensed professional" in caution_says(caution)
    assert caution.facts["lasting"], "pain that lasts goes on to somebody else"


def test_a_muscle_that_hurts_is_spared_too() -> None:
    assert place_in("left hamstring") == "hamstrings"
    names = offered("barbell back squat", "sore hamstring")
    assert all("hamstrings" not in CATALOGUE.lifts[name].muscles for name in names)


@pytest.mark.parametrize(
    ("words", "place"),
    [("Left knee", "knee"), ("lower back", "lower back"), ("back", "back"),
     ("upper back", "upper_back"),
     ("calf", "calves"), ("groin", "hip"),
     ("achilles tendon", "ankle"), ("both shoulders", "shoulder"), ("biceps", "biceps"),
     ("ribs", None), ("", None)],
)  # fmt: skip
def test_where_it_hurts_is_read_from_words(words: str, place: str | None) -> None:
    assert place_in(words) == place


def test_a_lift_without_regions_is_judged_by_its_muscles() -> None:
    own = Lift(
        **{
            **{f: getattr(CATALOGUE.lifts["leg press"], f) for f in Lift.__slots__},
            "name": "sled", "regions": {}, "own": True,
        }
    )  # fmt: skip
    assert joints_loaded(own) == {"knee"}
