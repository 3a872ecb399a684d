"""A lift that hurts: whatever the days said, the load it keeps was lifted, or it is left out."""

from datetime import date, timedelta
from itertools import product

import pytest

from blockwright.engine.gym import Gym
from blockwright.engine.planning.loads import kept_load_kg
from blockwright.engine.rack import rack_for
from blockwright.engine.tolerated_load import ToleratedLoad, easier, tolerated_load
from blockwright.engine.training import Moment, SetDone
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy

POLICY = default_policy()
CATALOGUE = builtin_catalogue()
MONDAY = date(2027, 1, 4)
OF_A_DAY = list(product((None, 1.0, 4.0, 7.0), (20.0, 40.0, 60.0)))


def of_day(lift: str, at: int, pain: float | None, load_kg: float) -> SetDone:
    return SetDone(
        moment=Moment(day=MONDAY + timedelta(days=at)), lift=lift, set_number=1, reps=(9,),
        loads_kg=(load_kg,), entered_load=f"{load_kg:g}", entered_unit="kg", pain=pain,
    )  # fmt: skip


@pytest.mark.parametrize("name", ["bench press", "assisted dip"])
@pytest.mark.parametrize("cleared", [False, True])
def test_any_days_of_pain_and_silence_have_an_answer(name: str, cleared: bool) -> None:
    lift = CATALOGUE.lifts[name]
    seen = {name: MONDAY + timedelta(days=2)} if cleared else {}
    for days in product(OF_A_DAY, repeat=3):
        sets = [of_day(name, at, *said) for at, said in enumerate(days)]
        found = tolerated_load(lift, sets, POLICY, seen)
        last = next((pain for pain, _ in reversed(days) if pain is not None), 0.0)
        assert (found is None) == (last <= 2)
        if found is None:
            continue
        assert (found.load_kg is None) == (last == 7 and not cleared)
        if found.load_kg is None:
            continue
        assert found.load_kg in [load for _, load in days]
        quiet = [load for pain, load in days if pain in (None, 1.0)]
        if days[-1][0] is None:  # trained since, and nothing said of pain
            assert (found.load_kg, found.tolerated) == (days[-1][1], True)
        else:
            assert found.load_kg == easier(lift, (found.load_kg, days[-1][1]))
            assert not found.tolerated or found.load_kg == quiet[-1]


def test_a_painful_lift_keeps_a_load_worth_lifting_or_is_out() -> None:
    """Tries at 2 to 4 kg went well and sets at 6 hurt: 4, and not one; where it hurts week after
    week, half of its load is the least."""
    squat = CATALOGUE.lifts["goblet box squat"]
    rack = rack_for(squat, Gym(kit=frozenset({"dumbbells"}), unit="kg"), POLICY)
    tries = [of_day(squat.name, 0, None, load) for load in (2.0, 3.0, 4.0)]
    first = tolerated_load(squat, [*tries, of_day(squat.name, 0, 4.0, 6.0)], POLICY)
    assert first is not None
    assert first.tolerated
    assert kept_load_kg(rack, first) == 4.0
    falling = [of_day(squat.name, 7 * at, 4.0, load) for at, load in enumerate((12.0, 8.0, 6.0))]
    last = tolerated_load(squat, falling, POLICY)
    assert last is not None
    assert not last.tolerated
    assert kept_load_kg(rack, last) is None


@pytest.mark.parametrize(("printed_kg", "kept_kg"), [(60.0, 57.5), (57.5, 57.5), (50.0, 50.0)])
def test_a_print_that_is_eased_already_is_not_eased_again(
    printed_kg: float, kept_kg: float
) -> None:
    """Every set at 60 kg hurt: a step less, which is what the block prints, and its sheet too."""
    lift = CATALOGUE.lifts["bench press"]
    own = tolerated_load(lift, [of_day(lift.name, 0, 3.0, 60.0)], POLICY, {})
    assert own is not None
    held = own.and_also(ToleratedLoad(load_kg=printed_kg, day=MONDAY, pain=3.0), lift)
    gym = Gym(kit=frozenset({"bar", "bench", "plates"}), unit="kg")
    assert kept_load_kg(rack_for(lift, gym, POLICY), held) == kept_kg
