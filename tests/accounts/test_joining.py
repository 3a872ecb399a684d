"""Accounts come from one-time links; guessing is throttled; passwords are Argon2's."""

import re
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.hashers import identify_hasher, make_password
from django.core.cache import cache
from django.core.exceptions import PermissionDenied
from django.test import Client, override_settings
from django.utils import timezone

import people
from blockwright.accounts.models import Invitation, User
from blockwright.store.models import Share
from blockwright.verbs.invitations import invite, owner_link_token

pytestmark = pytest.mark.django_db
FORM = {
    "name": "Nia Invented", "sign_in_name": "Nia", "password": people.PASSWORD, "zone": people.ZONE,
}  # fmt: skip


def join(token: str, client: Client | None = None, **changes: str) -> Any:
    return (client or Client()).post(f"/join/{token}/", FORM | changes)


def test_the_first_start_makes_the_owner_once() -> None:
    now = timezone.now()
    first, second = owner_link_token(now), owner_link_token(now)
    assert first is not None
    assert second is not None
    assert join(first).status_code == 404, "a new start ends the link before it"
    assert join(second).status_code == 302
    assert User.objects.get().role == "owner"
    assert join(second, sign_in_name="other").status_code == 404
    assert owner_link_token(now) is None


def test_a_forgotten_password_is_mended_at_the_machine(world: people.World) -> None:
    assert owner_link_token(timezone.now()) is None
    token = owner_link_token(timezone.now(), another=True)
    assert token is not None
    assert join(token).status_code == 302
    assert User.objects.filter(role="owner").count() == 2


def test_a_new_password_signs_other_devices_out(world: people.World) -> None:
    here, elsewhere = Client(), Client()
    form = {"username": "cato", "password": people.PASSWORD}
    for client in (here, elsewhere):
        client.post("/sign-in/", form)
    new = "quite another long word"
    change = {"old_password": people.PASSWORD, "new_password1": new, "new_password2": new}
    assert here.post("/password/", change | {"old_password": "wrong"}).status_code == 200
    assert here.post("/password/", change).status_code == 302
    assert here.get("/").status_code == 200
    assert elsewhere.get("/").status_code == 302


def test_only_a_hash_of_the_link_is_kept() -> None:
    token = owner_link_token(timezone.now())
    assert token is not None
    assert token not in str(list(Invitation.objects.values()))


@pytest.mark.parametrize(("role", "kind"), [("lifter", "self"), ("partner", "partner")])
def test_an_invitation_gives_its_own_access_and_no_more(
    world: people.World, role: Any, kind: str
) -> None:
    client = Client()
    token = invite(world.cato, role, world.lifter, timezone.now())
    assert join(token, client).status_code == 302
    nia = User.objects.get(name="Nia Invented")
    assert nia.role == role
    assert nia.zone == people.ZONE
    assert [(s.lifter, s.kind) for s in Share.objects.filter(person=nia)] == [(world.lifter, kind)]
    assert client.get(f"/lifters/{world.lifter.key}/").status_code == 200
    assert client.get(f"/lifters/{world.other.key}/").status_code == 404


def test_who_has_an_account_adds_the_lifter_to_it(world: people.World) -> None:
    token = invite(world.cato, "partner", world.lifter, timezone.now())
    stig = Client()
    stig.force_login(world.stig)
    assert stig.post(f"/join/{token}/").status_code == 302
    assert stig.get(f"/lifters/{world.lifter.key}/").status_code == 200
    assert Share.objects.get(lifter=world.lifter, person=world.stig).kind == "partner"
    assert stig.post(f"/join/{token}/").status_code == 404


def test_a_link_ends_after_a_week(world: people.World) -> None:
    week, now = timedelta(days=7), timezone.now()
    token = invite(world.cato, "partner", world.lifter, now - week)
    assert join(token).status_code == 404
    kept = Invitation.objects.get()
    assert kept.is_open(now - timedelta(seconds=1))
    assert not kept.is_open(now)
    assert not kept.is_open(now - 2 * week), "the clock was set back"


def test_owner_and_coaches_add_lifters(world: people.World) -> None:
    whole = (world.orla, world.cato, world.pim, world.mara)
    assert [person.may_add_lifters for person in whole] == [True, True, False, False]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"password": "short"}, "too short"),
        ({"password": "password123"}, "too common"),
        ({"password": "nia invented 1"}, "similar"),
        ({"sign_in_name": "CATO"}, "somebody has this name"),
        ({"sign_in_name": "n" * 81}, "at most 80 characters"),
        ({"zone": "../etc/passwd"}, "no such time zone"),
        ({"name": ""}, "required"),
    ],
)
def test_a_form_that_will_not_do_keeps_the_link(
    world: people.World, changes: dict[str, str], says: str
) -> None:
    token = invite(world.cato, "partner", world.lifter, timezone.now())
    refused = join(token, **changes)
    assert refused.status_code == 200
    assert says in refused.content.decode()
    assert join(token).status_code == 302


def test_only_the_owner_invites_coaches_and_nobody_an_owner(world: people.World) -> None:
    assert invite(world.orla, "coach", None, timezone.now())
    for person, role in ((world.cato, "coach"), (world.orla, "owner")):
        with pytest.raises(PermissionDenied):
            invite(person, role, None, timezone.now())  # type: ignore[arg-type]


def test_the_invitation_is_shown_with_a_code_a_phone_reads(world: people.World) -> None:
    client = Client()
    client.force_login(world.cato)
    page = client.post(f"/lifters/{world.lifter.key}/invite/", {"role": "lifter"})
    text = page.content.decode()
    token = re.search(r"http://testserver/join/([\w-]+)/", text)
    assert token is not None
    assert "<svg" in text
    assert "style=" not in text
    assert join(token.group(1)).status_code == 302


def test_signing_in_ignores_case_and_outer_space(world: people.World) -> None:
    client = Client()
    form = {"username": " CATO ", "password": people.PASSWORD}
    assert client.post("/sign-in/", form).status_code == 302
    assert client.get("/").status_code == 200


def test_the_way_back_after_sign_in_stays_on_this_site(world: people.World) -> None:
    form = {"username": "cato", "password": people.PASSWORD}
    away = Client().post("/sign-in/", form | {"next": "https://elsewhere.example/"})
    assert away["Location"] == "/"
    assert Client().post("/sign-in/", form | {"next": "/phone/"})["Location"] == "/phone/"


@override_settings(AXES_ENABLED=True)
def test_guessing_is_throttled(world: people.World) -> None:
    cache.clear()
    client = Client()
    wrong = {"username": "cato", "password": "wrong"}
    answers = [client.post("/sign-in/", wrong).status_code for _ in range(7)]
    assert answers[:4] == [200] * 4
    assert set(answers[5:]) == {429}
    assert client.post("/sign-in/", wrong | {"username": " CATO"}).status_code == 429
    right = {"username": "cato", "password": people.PASSWORD}
    assert client.post("/sign-in/", right).status_code == 429
    other = {"username": "mara", "password": people.PASSWORD}
    assert client.post("/sign-in/", other).status_code == 302, "others are not locked out"


@override_settings(PASSWORD_HASHERS=["blockwright.accounts.hashing.BoundedArgon2Hasher"])
def test_passwords_are_kept_with_argon2() -> None:
    kept = make_password("something long")
    assert kept.startswith("argon2$argon2id$")
    assert identify_hasher(kept).verify("something long", kept)
    assert not identify_hasher(kept).verify("something else", kept)


def test_who_came_from_an_archive_gets_the_same_account_back_once(world: people.World) -> None:
    for person in (world.orla, world.pim):
        person.set_unusable_password()
        person.save()
    now = timezone.now()
    token = owner_link_token(now)
    assert token is not None
    page = Client().get(f"/join/{token}/").content.decode()
    assert 'value="orla"' in page
    form = {"name": "Orla", "sign_in_name": "orla", "password": people.PASSWORD, "zone": ""}
    owner = Client()
    owner.post(f"/join/{token}/", form)
    assert User.objects.get(role=User.OWNER).pk == world.orla.pk
    assert owner_link_token(now) is None

    assert "Make a link for Pim" in owner.get("/site/").content.decode()
    where = f"/site/people/{world.pim.pk}/link/"
    shown = [owner.post(where).content.decode() for _ in range(2)]
    lost, link = (page.split("/join/")[1].split("/")[0] for page in shown)
    assert Client().get(f"/join/{lost}/").status_code == 404, "another link takes its place"
    pim = Client()
    pim.post(f"/join/{link}/", form | {"name": "Pim", "sign_in_name": "pim"})
    assert b"Mara Invented" in pim.get("/").content
    assert User.objects.filter(role=User.PARTNER).count() == 1
    assert Client().get(f"/join/{link}/").status_code == 404
    assert "Make a link for Pim" not in owner.get("/site/").content.decode()
