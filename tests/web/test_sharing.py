"""What a training partner sees is the coach's choice, and can be changed."""

import json
import zipfile
from io import BytesIO
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

import people
from blockwright.engine.errors import BadInput
from blockwright.store.access import rights_for
from blockwright.store.models import Share
from blockwright.verbs.invitations import NewAccount, accept, invite

pytestmark = pytest.mark.django_db

ACCOUNT = NewAccount(sign_in_name="nia", name="Nia", password=people.PASSWORD, zone="")


@pytest.fixture
def world() -> people.World:
    return people.make_world()


def client_of(person: Any) -> Client:
    client = Client()
    client.force_login(person)
    return client


def test_sheets_alone_unless_the_coach_says_more(world: people.World) -> None:
    token = invite(world.cato, "partner", world.lifter, timezone.now())
    nia = accept(token, ACCOUNT, timezone.now())
    assert rights_for(nia, world.lifter) == {"see", "log"}


def test_an_invitation_carries_what_will_be_seen(world: people.World) -> None:
    token = invite(world.cato, "partner", world.lifter, timezone.now(), "history")
    nia = accept(token, ACCOUNT, timezone.now())
    assert rights_for(nia, world.lifter) == {"see", "log", "read"}


def test_an_invitation_of_something_else_is_refused(world: people.World) -> None:
    with pytest.raises(BadInput, match="choose sheets or history"):
        invite(world.cato, "partner", world.lifter, timezone.now(), "everything")
    answer = client_of(world.cato).post(
        f"/lifters/{world.lifter.key}/invite/", {"role": "partner", "sees": "everything"}
    )
    assert answer.status_code == 400


def test_the_coach_changes_it_both_ways(world: people.World) -> None:
    share = Share.objects.get(person=world.pim)
    where = f"/lifters/{world.lifter.key}/shares/{share.pk}/"
    client = client_of(world.cato)
    assert client.post(where, {"sees": "history"}).status_code == 302
    assert "read" in rights_for(world.pim, world.lifter)
    assert client.post(where, {"sees": "sheets"}).status_code == 302
    assert "read" not in rights_for(world.pim, world.lifter)
    assert client.post(where, {"sees": "everything"}).status_code == 400


def test_only_a_partners_share_has_a_choice(world: people.World) -> None:
    client = client_of(world.cato)
    mine = Share.objects.get(person=world.mara)
    answer = client.post(f"/lifters/{world.lifter.key}/shares/{mine.pk}/", {"sees": "sheets"})
    assert answer.status_code == 404
    assert "read" in rights_for(world.mara, world.lifter)
    other = Share.objects.get(person=world.stig)
    answer = client.post(f"/lifters/{world.lifter.key}/shares/{other.pk}/", {"sees": "history"})
    assert answer.status_code == 404


def test_history_gives_neither_export_nor_check_ins(world: people.World) -> None:
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    client = client_of(world.pim)
    assert client.get(f"/lifters/{world.lifter.key}/export/").status_code == 403
    client_of(world.cato).post(
        "/api/sync",
        people.message(people.checkin_event(world.lifter)),
        content_type="application/json",
    )
    answer = client.post(
        "/api/sync",
        people.message(seen={str(world.lifter.key): 0}),
        content_type="application/json",
    ).json()
    assert answer["facts"][str(world.lifter.key)]["facts"] == []


def test_the_archive_says_what_each_sees(world: people.World) -> None:
    answer = client_of(world.mara).get(f"/lifters/{world.lifter.key}/export/")
    with zipfile.ZipFile(BytesIO(answer.content)) as archive:
        access = json.loads(archive.read("everything.json"))["access"]
    assert {"name": "Pim", "kind": "partner", "sees": "sheets"} in access
