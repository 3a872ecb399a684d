"""Two who share a bar: both sheets say what stays on it and what each of them changes."""

from datetime import timedelta

import pytest

import people
from blockwright.store.models import BlockRevision

pytestmark = pytest.mark.django_db


@pytest.fixture
def shared(world: people.World) -> people.World:
    BlockRevision(
        lifter=world.other, start=people.MONDAY, revision=1,
        ends=people.MONDAY + timedelta(days=13), status="ready",
        document=people.block_document(load_kg=100.0), made_by=world.stig,
    ).save()  # fmt: skip
    return world


def page(person: object, lifter: object, partner: object) -> str:
    key, other = lifter.key, getattr(partner, "key", "")  # type: ignore[attr-defined]
    address = f"/lifters/{key}/sheet/{people.MONDAY}/1/1/?with={other}"
    return str(people.client_of(person).get(address).content.decode())  # type: ignore[arg-type]


def test_each_sheet_says_both_loads(shared: people.World) -> None:
    one, other = shared.lifter, shared.other
    assert f'href="?with={other.key}"' in page(shared.orla, one, None)
    said = page(shared.orla, one, other)
    assert "With Somebody Else on one bar: leave 20 on each side; " in said
    assert "add 10 for 80 kg, 20 for their 100 kg." in said
    back = f"/lifters/{other.key}/sheet/{people.MONDAY}/1/1/?with={one.key}"
    assert f'href="{back}"' in said
    theirs = page(shared.orla, other, one)
    assert "With Mara Invented on one bar: leave 20 on each side; add 20 for 100 kg" in theirs


def test_nobody_learns_of_a_lifter_who_is_not_shared(shared: people.World) -> None:
    for asked in (None, shared.other):
        said = page(shared.pim, shared.lifter, asked)
        assert "No other lifter of yours trains that day." in said
        assert "Somebody Else" not in said


def test_the_sheet_is_printed_as_the_one_page_to_write_on(shared: people.World) -> None:
    address = f"/lifters/{shared.lifter.key}/sheet/{people.MONDAY}/1/1/"
    client = people.client_of(shared.orla)
    shown = client.get(address).content.decode()
    assert 'href="?paper=a4"' in shown
    paper = client.get(address + "?paper=a4")
    assert paper["Content-Type"] == "application/pdf"
    assert paper["Content-Disposition"].startswith("inline")
    assert paper.content.startswith(b"%PDF")
    assert paper.content != client.get(address + "?paper=letter").content
    both = client.get(f"{address}?paper=a4&with={shared.other.key}")
    assert both.content != paper.content
