"""My account: what I say of myself, and how dates and devices follow from it."""

from datetime import UTC, datetime

import pytest
from django.test import Client

import people
from blockwright.accounts.models import User
from blockwright.verbs.phone_home import today_of

pytestmark = pytest.mark.django_db


def test_name_units_and_zone_are_kept(world: people.World) -> None:
    client = people.client_of(world.cato)
    said = {"name": " Cato C. ", "units": "lb", "zone": "Pacific/Auckland"}
    answer = client.post("/account/", said)
    assert answer["Location"] == "/account/?saved"
    world.cato.refresh_from_db()
    assert (world.cato.name, world.cato.units, world.cato.zone) == (
        "Cato C.", "lb", "Pacific/Auckland",
    )  # fmt: skip
    page = client.get("/account/?saved").content.decode()
    assert "Saved." in page
    assert 'value="Pacific/Auckland"' in page
    assert client.get("/api/phone").json()["me"]["units"] == "lb"


def test_the_date_is_the_persons_own(world: people.World) -> None:
    late = datetime(2026, 1, 5, 23, 30, tzinfo=UTC)
    world.cato.zone = "Pacific/Auckland"
    assert today_of(world.cato, late).isoformat() == "2026-01-06"
    world.cato.zone = "America/Los_Angeles"
    assert today_of(world.cato, late).isoformat() == "2026-01-05"


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("name", " ", "a name is missing"),
        ("units", "stone", "choose kg or lb"),
        ("zone", "Europe/Berln", "Europe/Berlin"),
        ("zone", "../etc", "there is no such time zone"),
    ],
)
def test_what_cannot_be_is_said_beside_the_field(
    world: people.World, field: str, typed: str, says: str
) -> None:
    said = {"name": "Cato", "units": "kg", "zone": "", field: typed}
    answer = people.client_of(world.cato).post("/account/", said)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert f'id="id_{field}_wrong"' in page
    assert says in page
    assert page.count('role="alert"') == 1
    world.cato.refresh_from_db()
    assert (world.cato.name, world.cato.units, world.cato.zone) == ("Cato", "kg", "")


def test_a_new_password_ends_the_other_sessions_and_leads_back(world: people.World) -> None:
    here, elsewhere = Client(), Client()
    for client in (here, elsewhere):
        assert client.login(username="cato", password=people.PASSWORD)
    form = here.get("/password/").content.decode()
    assert "The password until now" in form
    assert "The new password, once more" in form
    new = "another long word for tests"
    answer = here.post(
        "/password/",
        {"old_password": people.PASSWORD, "new_password1": new, "new_password2": new},
    )
    assert answer["Location"] == "/account/"
    assert here.get("/account/").status_code == 200
    assert elsewhere.get("/account/").status_code == 302


def test_an_empty_site_says_where_the_owners_link_is() -> None:
    assert "has no owner yet" in Client().get("/sign-in/").content.decode()
    User.objects.create_user("o", "a long word for tests", name="O", role=User.OWNER)
    assert "has no owner yet" not in Client().get("/sign-in/").content.decode()
