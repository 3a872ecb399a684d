"""Rows come back from an archive's tables column for column, all of one lifter and no other's; what
is no row is named."""

import json
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.db.models import Model
from django.utils import timezone

import people
from blockwright.store import facts, letters
from blockwright.store.archive_rows import (
    OF_LIFTER,
    NotARowError,
    lifter_rows,
    lifter_tables,
    site_rows,
    site_tables,
)
from blockwright.store.blocks import add_search
from blockwright.store.models import Composing, Decision, Fact, HouseFrame, Lifter

pytestmark = pytest.mark.django_db
SUNDAY = people.MONDAY + timedelta(days=6)
Tables = dict[str, Any]


def columns(row: Model, *, without: tuple[str, ...] = ()) -> dict[str, Any]:
    names = [field.attname for field in row._meta.concrete_fields if field.attname not in without]
    return {name: getattr(row, name) for name in names}


def as_stored(rows: list[Any], **more: Any) -> bool:
    """Whether each row is, in every column, the one of its number that the database has."""
    stored = [type(row)._base_manager.get(pk=row.pk) for row in rows]
    return [columns(row, **more) for row in rows] == [columns(row, **more) for row in stored]


def busy(world: people.World, row: Lifter) -> None:
    """A set, a letter that was decided on, a search that ended and one that is on its way."""
    at = timezone.now()
    said = {"pain": 2, "note": "the left elbow"}
    new = Fact(id=uuid4(), kind="set", day=people.MONDAY, at=at, zone="Europe/Berlin", digest="d",
               device=people.PHONE, n=7, body=said, event={"knew": 3})  # fmt: skip
    facts.append(new, row, world.cato, at)
    block = world.block
    if row != world.lifter:
        block.pk, block.lifter = None, row
        block.save(force_insert=True)
    letter, _ = letters.add_letter(row, block, SUNDAY, {"proposals": [{"id": "p1"}]})
    letters.add_decisions(letter, [Decision(proposal="p1", verdict="accepted")], block, world.cato)
    for state in (Composing.MADE, Composing.WAITING):
        search = add_search(row, Composing.BLOCK, people.MONDAY, {"seed": 1}, world.cato, at)
        Composing.objects.filter(pk=search.pk).update(state=state)


@pytest.fixture
def tables(world: people.World) -> Tables:
    """Of Mara, beside somebody who has as much; through the text an archive is."""
    busy(world, world.lifter)
    mine: Tables = json.loads(json.dumps(lifter_tables(world.lifter)))
    busy(world, world.other)
    assert lifter_tables(world.lifter) == mine
    return mine


def test_a_lifters_rows_come_back_whole_but_for_what_is_on_its_way(tables: Tables) -> None:
    rows = lifter_rows(tables)
    assert as_stored(rows)
    assert {name: len(tables[name]) for name in OF_LIFTER} == {
        "shares": 3, "blocks": 1, "facts": 1, "letters": 1, "decisions": 1, "searches": 1,
        "imports": 0,
    }  # fmt: skip
    assert len(rows) == 1 + sum(len(tables[name]) for name in OF_LIFTER)
    assert [row.state for row in rows if isinstance(row, Composing)] == [Composing.MADE]


def test_the_sites_people_come_back_whole_without_a_password(world: people.World) -> None:
    HouseFrame.objects.create(name="Three days", visits=[["squat"]])
    written = json.dumps(site_tables())
    assert not {"password", "last_login"} & {*json.loads(written)["people"][0]}
    rows: list[Any] = site_rows(json.loads(written))
    assert as_stored(rows, without=("password", "last_login"))
    assert Counter(type(row).__name__ for row in rows) == {"User": 5, "HouseFrame": 1}
    assert not any(row.has_usable_password() for row in rows if hasattr(row, "is_owner"))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda t: t.update(facts={}), "facts is not a list"),
        (lambda t: t.update(lifter=None), "lifter 1 has other columns"),
        (lambda t: t["facts"].append(3), "facts 2 has other columns"),
        (lambda t: t["facts"][0].pop("zone"), "facts 1 has other columns"),
        (lambda t: t["facts"][0].update(lifter_id=1), "facts 1 has other columns"),
        (lambda t: t["facts"][0].update(day=None), "facts 1, day is nothing"),
        (lambda t: t["facts"][0].update(day="Tuesday"), "facts 1, day is nothing"),
        (lambda t: t["facts"][0].update(kind="dance"), "facts 1, kind is nothing"),
        (lambda t: t["searches"][0].update(says=[]), "searches 1, says is nothing"),
        (lambda t: t["letters"][0].update(block_id=99), "hangs on something of another"),
        (lambda t: t["decisions"][0].update(proposals_id=99), "hangs on something of another"),
        (lambda t: t["decisions"][0].update(led_to_id=99), "hangs on something of another"),
    ],
)
def test_what_is_no_row_of_the_lifter_is_named(
    tables: Tables, change: Callable[[Tables], object], says: str
) -> None:
    change(tables)
    with pytest.raises(NotARowError, match=says):
        lifter_rows(tables)
