"""Rack and Lifts: plain forms that answer for the usual gym, or for that of a lifter one sees."""

from typing import Any

import pytest
from django.test import Client

import people
from blockwright.accounts.models import User

pytestmark = pytest.mark.django_db


def ask(person: User, page: str, expected: int = 200, **asked: Any) -> str:
    client = Client()
    client.force_login(person)
    answer = client.get(page, asked)
    assert answer.status_code == expected, answer.status_code
    return answer.content.decode()


def test_the_rack_answers_for_the_usual_bar_in_both_units(world: people.World) -> None:
    assert "Work it out" in ask(world.stig, "/rack/")
    kg = ask(world.stig, "/rack/", load="82.5", partner="60")
    assert "82.5 kg: 20 kg bar, 20 + 10 + 1.25 each side" in kg
    assert "Warm-up, in this order" in kg
    assert "put on first and leave on: 20" in kg
    assert "<td>20 + 10 + 1.25</td>" in kg
    assert "45 lb bar" in ask(world.stig, "/rack/", load="135", unit="lb")


def test_a_load_between_plates_names_its_neighbours(world: people.World) -> None:
    text = ask(world.cato, "/rack/", load="81,3")
    assert "81.3 kg cannot be made here." in text
    assert "The nearest below: 80 kg  (20 kg bar, 20 + 10 each side)." in text
    assert "The nearest above: 82.5 kg" in text


def test_the_rack_knows_a_lifters_gym_and_no_strangers(world: people.World) -> None:
    asked = {"load": "22.5", "lift": "leg curl", "lifter": world.lifter.key}
    for who in (world.orla, world.cato, world.mara, world.pim):
        text = ask(who, "/rack/", **asked)
        assert "22.5 kg:" in text
        assert "Mara Invented" in text
    assert "Mara Invented" not in ask(world.stig, "/rack/", 404, **asked)
    assert "Mara Invented" not in ask(world.stig, "/rack/")
    assert ask(world.stig, "/rack/", 404, load="60", lifter="not-a-key")


@pytest.mark.parametrize(
    ("asked", "field", "says"),
    [
        ({"load": "x"}, "load", "is not a number"),
        ({"load": "-5"}, "load", "is not a load"),
        ({"load": "99999"}, "load", "is above the limit"),
        ({"load": "", "partner": "60"}, "load", "is not a number"),
        ({"load": "60", "partner": "y"}, "partner", "is not a number"),
        ({"load": "60", "lift": "leg pres"}, "lift", "did you mean"),
        ({"load": "60", "bar": "yoke"}, "bar", "trap bar"),
        ({"load": "60", "bar": "bar", "lift": "leg press"}, "bar", "not done with a bar"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(
    world: people.World, asked: dict[str, str], field: str, says: str
) -> None:
    text = ask(world.cato, "/rack/", 422, **asked)
    beside = text.split(f'id="{field}-wrong"')[1].split("</span>")[0]
    assert says in beside
    assert f'aria-describedby="{field}-wrong"' in text
    assert "--" not in beside


def test_lifts_are_found_by_word_muscle_pattern_and_kit(world: people.World) -> None:
    assert "romanian deadlift" in ask(world.stig, "/lifts/", find="rdl")
    by_kit = ask(world.stig, "/lifts/", muscle="chest", kit=["dumbbells", "bench"])
    assert "<h3>dumbbell bench press</h3>" in by_kit
    assert "<h3>bench press</h3>" not in by_kit
    rows = ask(world.stig, "/lifts/", pattern="row")
    assert "seated row" in rows
    assert "barbell back squat" not in rows
    one = ask(world.stig, "/lifts/", find="barbell back squat")
    assert "spotters" in one  # its caution
    assert "<details open>" in one
    assert "No lift matches" in ask(world.stig, "/lifts/", find="zzz")
    assert "is unknown" in ask(world.stig, "/lifts/", 422, muscle="wings")


def test_a_lift_is_never_shown_without_its_caution(world: people.World) -> None:
    """Patterns are folded, but of a lift that is seen the caution is seen."""
    text = ask(world.stig, "/lifts/")
    items = text.split("<h3>")[1:]
    assert len(items) > 250
    assert sum('class="caution"' in item for item in items) > 50
    for item in items:
        assert 'class="caution"' not in item.partition("<details>")[2].partition("</details>")[0]


def test_a_few_lifts_are_not_folded(world: people.World) -> None:
    assert "open a pattern" in ask(world.stig, "/lifts/")
    few = ask(world.stig, "/lifts/", find="barbell back squat")
    assert "open a pattern" not in few
    assert "<summary><h2" not in few


def test_own_lifts_are_seen_by_those_who_see_the_lifter(world: people.World) -> None:
    asked = {"lifter": world.lifter.key, "find": "tyre"}
    assert "tyre drag, own lift" in ask(world.pim, "/lifts/", **asked)
    assert "tyre drag" not in ask(world.pim, "/lifts/", find="tyre")
    ask(world.stig, "/lifts/", 404, **asked)
