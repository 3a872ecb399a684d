"""What a training partner sees is the coach's choice, and can be changed."""

import json
import re
import zipfile
from datetime import timedelta
from io import BytesIO
from typing import Any

import pytest
from django.utils import timezone

import people
from blockwright.accounts.models import Invitation
from blockwright.engine.errors import BadInput
from blockwright.store.access import lifter_for, rights_for
from blockwright.store.models import Share
from blockwright.verbs.invitations import NewAccount, accept, invite, join_with
from blockwright.verbs.report_lifter import estimate_lifter
from blockwright.verbs.stored_case import stored_case

pytestmark = pytest.mark.django_db

ACCOUNT = NewAccount(sign_in_name="nia", name="Nia", password=people.PASSWORD, zone="")


def test_sheets_alone_unless_the_coach_says_more(world: people.World) -> None:
    token = invite(world.cato, "partner", world.lifter, timezone.now())
    nia = accept(token, ACCOUNT, timezone.now())
    assert rights_for(nia, world.lifter) == {"see", "log"}


def test_an_invitation_carries_what_will_be_seen(world: people.World) -> None:
    token = invite(world.cato, "partner", world.lifter, timezone.now(), "history")
    nia = accept(token, ACCOUNT, timezone.now())
    assert rights_for(nia, world.lifter) == {"see", "log", "read"}


def test_a_link_that_is_too_old_makes_no_account_and_adds_no_lifter(world: people.World) -> None:
    now = timezone.now()
    token = invite(world.cato, "partner", world.lifter, now - Invitation.LASTS)
    with pytest.raises(BadInput, match="too old"):
        accept(token, ACCOUNT, now)
    with pytest.raises(BadInput, match="too old"):
        join_with(token, world.stig, now)
    assert not Share.objects.filter(lifter=world.lifter, person=world.stig).exists()


def test_an_invitation_of_something_else_is_refused(world: people.World) -> None:
    with pytest.raises(BadInput, match="choose sheets or history"):
        invite(world.cato, "partner", world.lifter, timezone.now(), "everything")
    answer = people.client_of(world.cato).post(
        f"/lifters/{world.lifter.key}/invite/", {"role": "partner", "sees": "everything"}
    )
    assert answer.status_code == 400


def test_the_coach_changes_it_both_ways(world: people.World) -> None:
    share = Share.objects.get(person=world.pim)
    where = f"/lifters/{world.lifter.key}/shares/{share.pk}/"
    client = people.client_of(world.cato)
    assert client.post(where, {"sees": "history"}).status_code == 302
    assert "read" in rights_for(world.pim, world.lifter)
    assert client.post(where, {"sees": "sheets"}).status_code == 302
    assert "read" not in rights_for(world.pim, world.lifter)
    assert client.post(where, {"sees": "everything"}).status_code == 400


def test_only_a_partners_share_has_a_choice(world: people.World) -> None:
    client = people.client_of(world.cato)
    mine = Share.objects.get(person=world.mara)
    answer = client.post(f"/lifters/{world.lifter.key}/shares/{mine.pk}/", {"sees": "sheets"})
    assert answer.status_code == 404
    assert "read" in rights_for(world.mara, world.lifter)
    other = Share.objects.get(person=world.stig)
    answer = client.post(f"/lifters/{world.lifter.key}/shares/{other.pk}/", {"sees": "history"})
    assert answer.status_code == 404


def test_history_gives_neither_export_nor_check_ins(world: people.World) -> None:
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    client = people.client_of(world.pim)
    assert client.get(f"/lifters/{world.lifter.key}/export/").status_code == 403
    people.client_of(world.cato).post(
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


def test_nothing_is_reckoned_for_a_partner_from_a_bodyweight(world: people.World) -> None:
    """Whoever looked first: what is remembered for the coach is not given to a partner."""
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    weighed = people.checkin_event(
        world.lifter, 1, measure="bodyweight", about="", value="70", unit="kg"
    )
    hung = people.set_event(world.lifter, 2, lift="pull-up", load="10", reps="5")
    people.client_of(world.cato).post(
        "/api/sync", people.message(weighed, hung), content_type="application/json"
    )
    whole, cut = (
        lifter_for(person, world.lifter.key, "read") for person in (world.cato, world.pim)
    )
    assert [one.value for one in stored_case(whole).checkins] == [70.0]
    assert stored_case(cut).checkins == ()
    known, unknown = (estimate_lifter(row).document["lifts"][0] for row in (whole, cut))
    assert known["lift"] == unknown["lift"] == "pull-up"
    assert known["one_rm_kg"] is not None
    assert unknown["one_rm_kg"] is None


def test_the_archive_says_what_each_sees(world: people.World) -> None:
    answer = people.client_of(world.mara).get(f"/lifters/{world.lifter.key}/export/")
    with zipfile.ZipFile(BytesIO(answer.content)) as archive:
        everything = json.loads(archive.read("everything.json"))
    access = {
        (everything["people"][str(one["person_id"])], one["kind"], one["sees"])
        for one in everything["shares"]
    }
    assert ("Pim", "partner", "sheets") in access


# ------------------------------------------------------------------------------ open invitations


def end_access(world: people.World, person: Any) -> None:
    share = Share.objects.get(person=person, lifter=world.lifter)
    answer = people.client_of(world.orla).delete(
        f"/api/lifters/{world.lifter.key}/shares/{share.pk}"
    )
    assert answer.status_code == 204


@pytest.mark.parametrize("role", ["lifter", "partner"])
def test_a_removed_coach_does_not_let_himself_in_by_a_link_he_made(
    world: people.World, role: Any
) -> None:
    token = invite(world.cato, role, world.lifter, timezone.now(), "history")
    end_access(world, world.cato)
    cato = people.client_of(world.cato)
    assert cato.get(f"/join/{token}/").status_code == 404
    assert cato.post(f"/join/{token}/").status_code == 404
    with pytest.raises(BadInput, match="withdrawn"):
        join_with(token, world.cato, timezone.now())
    with pytest.raises(BadInput, match="withdrawn"):
        accept(token, ACCOUNT, timezone.now())
    assert rights_for(world.cato, world.lifter) == frozenset()
    # Coming back does not bring the old link back.
    Share.objects.create(person=world.cato, lifter=world.lifter, kind=Share.COACH)
    assert people.client_of(world.stig).get(f"/join/{token}/").status_code == 404


def test_a_link_dies_with_its_makers_account(world: people.World) -> None:
    token = invite(world.cato, "partner", world.lifter, timezone.now())
    coach = invite(world.orla, "coach", None, timezone.now())
    for maker in (world.cato, world.orla):
        maker.is_active = False
        maker.save()
    for link in (token, coach):
        assert people.client_of(world.stig).get(f"/join/{link}/").status_code == 404
        with pytest.raises(BadInput, match="withdrawn"):
            accept(link, ACCOUNT, timezone.now())
    assert not Invitation.objects.filter(used_at__isnull=False).exists()


def test_open_invitations_are_listed_and_withdrawn(world: people.World) -> None:
    now = timezone.now()
    mine = invite(world.cato, "partner", world.lifter, now, "history")
    invite(world.stig, "lifter", world.other, now)
    invite(world.orla, "coach", None, now)
    invite(world.cato, "partner", world.lifter, now - timedelta(days=8))
    cato = people.client_of(world.cato)
    (one,) = cato.get("/api/invitations").json()
    assert (one["role"], one["sees"], one["made_by"]) == ("partner", "history", "Cato")
    assert one["lifter"] == str(world.lifter.key)
    assert mine not in json.dumps(one)
    everybodys = people.client_of(world.orla).get("/api/invitations").json()
    assert sorted(each["role"] for each in everybodys) == ["coach", "lifter", "partner"]
    for who in (world.mara, world.pim):
        assert people.client_of(who).get("/api/invitations").json() == []
    for who in (world.mara, world.pim, world.stig):
        assert people.client_of(who).delete(f"/api/invitations/{one['id']}").status_code == 404
    assert people.client_of(world.stig).get(f"/join/{mine}/").status_code == 200
    assert cato.delete(f"/api/invitations/{one['id']}").status_code == 204
    assert people.client_of(world.stig).get(f"/join/{mine}/").status_code == 404
    assert cato.get("/api/invitations").json() == []
    assert cato.delete(f"/api/invitations/{one['id']}").status_code == 404


def test_the_pages_list_open_links_and_withdraw_them(world: people.World) -> None:
    now = timezone.now()
    to_lifter = invite(world.cato, "partner", world.lifter, now)
    to_site = invite(world.orla, "coach", None, now)
    for person, where, token in (
        (world.cato, f"/lifters/{world.lifter.key}/", to_lifter),
        (world.orla, "/", to_site),
    ):
        client = people.client_of(person)
        page = client.get(where).content.decode()
        found = re.findall(r'action="(/invitations/\d+/withdraw/)"', page)
        assert len(found) == 1
        answer = client.post(found[0])
        assert (answer.status_code, answer["Location"]) == (302, where)
        assert "/withdraw/" not in client.get(where).content.decode()
        assert people.client_of(world.stig).get(f"/join/{token}/").status_code == 404
