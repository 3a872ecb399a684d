"""Saving a lifter file: judged by its reader, guarded by its version."""

import pytest

import people
from blockwright.engine.errors import BadInput, ChangedMeanwhile
from blockwright.store.access import rights_for
from blockwright.store.models import Lifter
from blockwright.verbs.save_lifter import add_lifter, change_lifter

pytestmark = pytest.mark.django_db


def test_the_one_who_adds_a_lifter_coaches_them(world: people.World) -> None:
    saved = add_lifter(world.stig, {"name": "Nia Invented"})
    assert saved.value.name == "Nia Invented"
    assert "change" in rights_for(world.stig, saved.value)
    assert rights_for(world.cato, saved.value) == frozenset()
    assert any("gym" in str(one) for one in saved.warnings)


def test_what_the_reader_refuses_makes_nobody(world: people.World) -> None:
    before = Lifter.objects.count()
    with pytest.raises(BadInput) as caught:
        add_lifter(world.cato, {"name": "Nia", "weeks": 2, "slot": [{"day": "mon"}]})
    assert {problem.key for problem in caught.value.problems} == {
        "weeks", "slot.1.start", "slot.1.minutes",
    }  # fmt: skip
    assert Lifter.objects.count() == before


def test_a_change_raises_the_version_and_an_equal_file_does_not(world: people.World) -> None:
    row = world.lifter
    same = change_lifter(world.cato, row, 1, dict(row.document), people.MONDAY)
    assert same.value.version == 1
    saved = change_lifter(
        world.cato, row, 1, people.MARA_TABLE | {"name": "Mara Renamed", "weeks": 5}, people.MONDAY
    )
    assert (saved.value.version, saved.value.name, saved.value.document["weeks"]) == (
        2, "Mara Renamed", 5,
    )  # fmt: skip


def test_the_second_desk_is_told_and_nothing_is_overwritten(world: people.World) -> None:
    one, other = (Lifter.objects.get(key=world.lifter.key) for _ in range(2))
    change_lifter(world.cato, one, 1, people.MARA_TABLE | {"weeks": 5}, people.MONDAY)
    with pytest.raises(ChangedMeanwhile):
        change_lifter(world.cato, other, 1, people.MARA_TABLE | {"weeks": 8}, people.MONDAY)
    with pytest.raises(ChangedMeanwhile):
        change_lifter(
            world.cato, Lifter.objects.get(key=one.key), 1, dict(other.document), people.MONDAY
        )
    assert Lifter.objects.get(key=one.key).document["weeks"] == 5
