"""Clashes: the rules by the lifter's own words, and the cheapest to give up."""

from typing import Any

import pytest
from small_gym import FULL_KIT, lifter, small_catalogue

from blockwright.engine.errors import Clash
from blockwright.engine.planning import QUICK, compose
from blockwright.engine.training import MUSCLES, Limits, Pin
from blockwright.files.policy_files import default_policy

LITTLE = QUICK
MON = "mon 18:00 60"


def clash_of(*slots: str, **more: Any) -> Clash:
    with pytest.raises(Clash) as found:
        compose(lifter(*slots, **more), small_catalogue(), default_policy(), budget=LITTLE)
    return found.value


def rules(clash: Clash) -> set[str]:
    return {rule.rule for rule in clash.rules}


def test_a_pin_the_kit_cannot_serve() -> None:
    clash = clash_of(MON, kit=FULL_KIT - {"leg press"}, pins=(Pin(lift="leg press"),))
    assert rules(clash) == {"kit", "pin:0"}
    assert [rule.rule for rule in clash.give_up] == ["pin:0"]
    assert '"leg press" is pinned' in str(clash)


def test_a_pin_that_is_avoided() -> None:
    clash = clash_of(MON, pins=(Pin(lift="leg press"),), limits=Limits(avoid_lifts=("Leg Press",)))
    assert rules(clash) == {"avoid lift:Leg Press", "pin:0"}


def test_a_pin_of_an_avoided_pattern() -> None:
    clash = clash_of(MON, pins=(Pin(lift="leg press"),), limits=Limits(avoid_patterns=("squat",)))
    assert rules(clash) == {"avoid pattern:squat", "pin:0"}


def test_a_pin_on_a_day_without_a_slot() -> None:
    clash = clash_of(MON, pins=(Pin(lift="leg press", days=("sun",)),))
    assert rules(clash) == {"pin:0"}
    assert "sun" in clash.rules[0].says


def test_a_pin_of_a_skipped_muscle() -> None:
    clash = clash_of(MON, pins=(Pin(lift="lateral raise"),), emphasis={"side_delts": "skip"})
    assert rules(clash) == {"skip:side_delts", "pin:0"}


def test_more_pins_than_minutes() -> None:
    pins = tuple(
        Pin(lift=name, days=("mon",))
        for name in ("barbell back squat", "barbell bench press", "overhead press")
    )
    clash = clash_of("mon 18:00 20", "thu 18:00 60", pins=pins)
    assert "slot:0" in rules(clash)
    assert any(rule.startswith("pin:") for rule in rules(clash))
    assert "mon 18:00 has 20 minutes" in str(clash)


def test_more_pins_than_lifts() -> None:
    pins = tuple(Pin(lift=n, days=("mon",)) for n in ("leg press", "lateral raise", "cable crunch"))
    clash = clash_of("mon 18:00 90", pins=pins, limits=Limits(max_lifts_per_session=2))
    assert "lifts a session" in rules(clash)
    assert [rule.rule for rule in clash.give_up] == ["lifts a session"]


def test_a_lead_muscle_without_lifts() -> None:
    clash = clash_of("mon 18:00 60", "thu 18:00 60", kit=frozenset({"bar"}),
                     emphasis={"calves": "lead"})  # fmt: skip
    assert rules(clash) == {"kit", "lead:calves"}
    assert clash.give_up[0].says == "make calves normal"


def test_too_many_lead_muscles_for_the_minutes() -> None:
    leads = ("quads", "hamstrings", "calves", "biceps", "triceps", "side_delts", "abs")
    clash = clash_of("mon 18:00 25", "thu 18:00 25", emphasis=dict.fromkeys(leads, "lead"))
    assert any(rule.startswith("slot:") for rule in rules(clash))
    assert any(rule.startswith("lead:") for rule in rules(clash))


def test_slots_too_short_for_any_lift() -> None:
    clash = clash_of("mon 18:00 4")
    assert rules(clash) == {"slot:0"}


def test_giving_it_up_is_enough() -> None:
    """The advice works: without the named rule there is a block."""
    pins = (Pin(lift="leg press", days=("mon",)),)
    clash = clash_of(MON, kit=FULL_KIT - {"leg press"}, pins=pins)
    assert [rule.rule for rule in clash.give_up] == ["pin:0"]
    who = lifter(MON, kit=FULL_KIT - {"leg press"})
    assert compose(who, small_catalogue(), default_policy(), budget=LITTLE).weeks


def test_a_lead_that_is_given_up_binds_no_more() -> None:
    """Nine leads too many: the clash names those that cannot stand together, not the last one."""
    leads = dict.fromkeys(MUSCLES, "lead")
    clash = clash_of("mon 18:00 45", "thu 18:00 45", kit=frozenset({"dumbbells", "bench"}),
                     emphasis=leads)  # fmt: skip
    assert len(rules(clash)) > 1
