"""Which kit makes a lift's load, and what is assumed where the gym names it only."""

from collections.abc import Sequence

import pytest

from blockwright.engine.errors import BadInput
from blockwright.engine.gym import Bar, Gym, Ladder, Mass, PlatePairs
from blockwright.engine.lifts import LoadKind
from blockwright.engine.rack import Rack, bar_rack, rack_for
from blockwright.engine.training import Lift, RepRange
from blockwright.engine.units import KG_PER_LB
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy

POLICY = default_policy()


def lift(
    *kit: str, kind: LoadKind = "external", name: str = "the lift", compound: bool = True
) -> Lift:
    return Lift(
        name=name,
        muscles={"quads": 1.0},
        pattern="squat",
        kit=kit,
        axial=0,
        load_kind=kind,
        bodyweight_share=1.0 if kind in ("bodyweight_plus", "assisted") else 0.0,
        role="main" if compound else "small",
        family="the family",
        stability="free",
        fatigue_group="squat",
        setup_s=60,
        seconds_per_rep=3.0,
        reps={"mid": RepRange(low=8, high=15)},
        standard="all the way",
    )


def kg(value: float) -> Mass:
    return Mass(value=value, unit="kg", label=f"{value:g}")


def bar(name: str, value: float) -> Bar:
    return Bar(name=name, mass=kg(value))


HOME = Gym(
    kit=frozenset({"bar", "ez bar", "dumbbells", "cable", "leg curl"}),
    unit="kg",
    bars=(bar("long bar", 20), bar("EZ curl bar", 8), bar("short bar", 10), bar("hex bar", 24)),
    plates=tuple(PlatePairs(mass=kg(value), pairs=n) for value, n in ((20, 2), (5, 1), (2.5, 1))),
    dumbbells=(
        Ladder(low=2, high=10, step=1, unit="kg"),
        Ladder(low=12.5, high=30, step=2.5, unit="kg"),
    ),
    stacks={
        "leg curl": Ladder(low=10, high=50, step=10, unit="kg", add_on=(2.5, 5)),
        "assisted pull-up": Ladder(low=5, high=60, step=5, unit="kg"),
    },
)


def first_loads(rack: Rack, count: int) -> list[float]:
    loads, found = [], rack.least
    while found is not None and len(loads) < count:
        loads.append(found.load_kg)
        found = rack.next_above(found.load_kg)
    return loads


@pytest.mark.parametrize(
    ("of", "expected"),
    [
        (lift("bar", "bench"), [10, 15, 20, 25, 30, 35]),  # the short bar below the long one
        (lift("ez bar"), [8, 13, 18, 23, 48, 53]),
        (lift("trap bar"), [24, 29, 34, 39, 64, 69]),
        (lift("landmine", "bar"), [20, 22.5, 25, 27.5, 30, 32.5]),  # single plates on one end
        (lift("dumbbells", kind="per_hand"), [2, 3, 4, 5, 6, 7]),
        (lift("leg curl"), [10, 12.5, 15, 17.5, 20, 22.5]),
        (lift("cable"), [5, 10, 15, 20, 25, 30]),
        (lift("kettlebells"), [4, 8, 12, 16, 20, 24]),
        (lift("pull-up bar", kind="bodyweight_plus"), [0, 2.5, 5, 7.5, 10, 12.5]),
        (lift("dumbbells", kind="bodyweight_plus"), [0, 2, 3, 4, 5, 6]),
        (lift("assisted pull-up", kind="assisted"), [5, 10, 15, 20, 25, 30]),
        (lift("bands"), [0]),
        (lift("plates"), [2.5, 5, 7.5, 10, 12.5, 15]),  # single plates; empty hands are no load
        (lift("plates", kind="per_hand"), [2.5, 5, 7.5, 20, 22.5, 25]),
    ],
    ids=lambda value: " ".join(value.kit) if isinstance(value, Lift) else "",
)
def test_kit_makes_the_loads(of: Lift, expected: Sequence[float]) -> None:
    assert first_loads(rack_for(of, HOME, POLICY), len(expected)) == list(expected)


@pytest.mark.parametrize(
    ("name", "logged", "is_loaded"),
    [("press-up", {}, False), ("press-up", {"press-up": (8.0,)}, True), ("pull-up", {}, True)],
)
def test_nobody_lies_a_dumbbell_on_their_own_back(
    name: str, logged: dict[str, tuple[float, ...]], is_loaded: bool
) -> None:
    """Between the feet one hangs; who logs press-ups with one has found a way."""
    gym = Gym(kit=frozenset({"dumbbells", "pull-up bar"}), unit="kg", logged=logged)
    rack = rack_for(builtin_catalogue().lifts[name], gym, POLICY)
    assert (rack.next_harder(0.0) is not None) is is_loaded


@pytest.mark.parametrize(
    ("name", "both"),
    [("dumbbell row", False), ("bent-over dumbbell row", True), ("dumbbell split squat", True)],
)
def test_one_arm_at_a_time_holds_one_dumbbell(name: str, both: bool) -> None:
    made = rack_for(builtin_catalogue().lifts[name], HOME, POLICY).least
    assert made.says.endswith("dumbbell in each hand") is both


def test_the_gap_between_two_dumbbell_runs_is_a_gap() -> None:
    rack = rack_for(lift("dumbbells", kind="per_hand"), HOME, POLICY)
    below, above = rack.at_most(12), rack.at_least(12)
    assert below is not None
    assert above is not None
    assert (below.load_kg, above.load_kg) == (10, 12.5)
    assert below.says == "10 kg dumbbell in each hand"
    assert rack.next_above(30) is None


def test_add_ons_are_said() -> None:
    rack = rack_for(lift("leg curl"), HOME, POLICY)
    found = rack.at_most(27.5)
    assert found is not None
    assert found.says == "pin at 20 kg + 2.5 kg + 5 kg"
    assert found.plates_per_side is None
    top = rack.at_most(1000)
    assert top is not None
    assert top.load_kg == 57.5


def test_a_stack_is_found_by_the_lifts_own_name_first() -> None:
    own = lift("leg curl", name="nordic machine curl")
    stacks = {**HOME.stacks, "nordic machine curl": Ladder(low=7, high=70, step=7, unit="kg")}
    gym = Gym(kit=HOME.kit, unit="kg", stacks=stacks)
    assert first_loads(rack_for(own, gym, POLICY), 2) == [7, 14]


def test_assistance_is_easier_when_it_is_more() -> None:
    rack = rack_for(lift("assisted pull-up", kind="assisted"), HOME, POLICY)
    safe, harder, easier = rack.not_harder_than(12), rack.next_harder(15), rack.next_easier(15)
    assert safe is not None
    assert harder is not None
    assert easier is not None
    assert (safe.load_kg, harder.load_kg, easier.load_kg) == (15, 10, 20)
    assert rack.easiest.load_kg == 60


def test_a_gym_in_pounds_gets_pound_defaults() -> None:
    gym = Gym(kit=frozenset({"bar", "dumbbells", "cable"}), unit="lb")
    loads = [
        rack_for(each, gym, POLICY).least.load_kg / KG_PER_LB
        for each in (lift("bar"), lift("dumbbells"), lift("cable"))
    ]
    assert [round(load, 9) for load in loads] == [45, 5, 10]


def test_the_first_plain_bar_is_the_usual_one_and_another_may_be_named() -> None:
    usual = bar_rack(HOME, POLICY).at_most(40)
    named = bar_rack(HOME, POLICY, "Short Bar").at_most(40)
    by_kit_word = bar_rack(HOME, POLICY, "ez bar").least
    assert usual is not None
    assert named is not None
    assert (usual.bar, named.bar, by_kit_word.bar) == ("long bar", "short bar", "EZ curl bar")


def test_an_unknown_bar_names_those_there_are() -> None:
    with pytest.raises(BadInput, match='use one of: "long bar", "EZ curl bar"'):
        bar_rack(HOME, POLICY, "yoke")


def test_too_many_add_ons_are_refused() -> None:
    stack = Ladder(low=5, high=50, step=5, unit="kg", add_on=tuple(0.1 * n for n in range(1, 13)))
    gym = Gym(kit=frozenset({"leg curl"}), unit="kg", stacks={"leg curl": stack})
    with pytest.raises(BadInput, match="add-on weights"):
        rack_for(lift("leg curl"), gym, POLICY)
