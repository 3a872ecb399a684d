"""Every page and call, for everyone: one table. A new address that is not in it fails."""

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from typing import Any
from uuid import UUID

import pytest
from api_access_rows import API_BODIES, API_QUERIES, API_TABLE, api_places
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver

import people
from blockwright.accounts.models import Invitation
from blockwright.api.site_api import api
from blockwright.store.blocks import add_search, end_search
from blockwright.store.models import Lifter, Share
from blockwright.verbs import search_block
from blockwright.verbs.import_batches import hold_sheets
from blockwright.verbs.import_files import Given
from blockwright.verbs.invitations import invite
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db

WHO = ("orla", "cato", "mara", "pim", "stig", "nobody")
"""Owner, coach, the lifter, partner, stranger (a coach of somebody else), signed out."""

OPEN = (200,) * 6
IN = "sign-in"
"""Sent to the sign-in page."""

BLOCK = "lifters/<uuid:key>/block/<day:start>"

# (method, route): what each of WHO gets.
TABLE: dict[tuple[str, str], tuple[int | str, ...]] = {
    **API_TABLE,
    ("GET", ""): (200, 200, 200, 200, 200, IN),
    ("GET", "sign-in/"): (302, 302, 302, 302, 302, 200),
    ("POST", "sign-in/"): (302, 302, 302, 302, 302, 200),
    # Only a site of the demo has it (tests/demo/test_demo_site.py).
    ("GET", "demo/<str:token>/"): (404,) * 6,
    ("POST", "sign-out/"): (302, 302, 302, 302, 302, IN),
    ("GET", "evening/"): (200, 200, 403, 403, 200, IN),
    ("POST", "evening/"): (302, 302, 403, 403, 302, IN),
    ("GET", "account/"): (200, 200, 200, 200, 200, IN),
    ("POST", "account/"): (422, 422, 422, 422, 422, IN),
    ("GET", "password/"): (200, 200, 200, 200, 200, IN),
    ("POST", "password/"): (200, 200, 200, 200, 200, IN),
    ("GET", "join/<str:token>/"): OPEN,
    ("POST", "join/<str:token>/"): (302, 302, 302, 302, 302, 200),
    ("GET", "phones/"): (200, 200, 200, 200, 200, IN),
    ("GET", "phones/qr.svg"): (200, 200, 200, 200, 200, IN),
    ("GET", "phone/"): (200, 200, 200, 200, 200, IN),
    ("GET", "rack/"): (200, 200, 200, 200, 200, IN),
    ("GET", "lifts/"): (200, 200, 200, 200, 200, IN),
    ("GET", "sw.js"): OPEN,
    ("GET", "own-certificate.crt"): (404,) * 6,
    ("POST", "coaches/invite/"): (200, 403, 403, 403, 403, IN),
    ("POST", "invitations/<number:invitation>/withdraw/"): (302, 302, 404, 404, 404, IN),
    ("GET", "site/"): (200, 403, 403, 403, 403, IN),
    ("GET", "site/archive/"): (200, 403, 403, 403, 403, IN),
    ("POST", "site/people/<number:person>/link/"): (404, 403, 403, 403, 403, IN),
    ("GET", "lifters/new/"): (200, 200, 403, 403, 200, IN),
    ("POST", "lifters/new/"): (422, 422, 403, 403, 422, IN),
    ("GET", "lifters/<uuid:key>/"): (200, 200, 200, 200, 404, IN),
    ("GET", "lifters/<uuid:key>/file/"): (200, 200, 200, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/file/"): (422, 422, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/files/"): (422, 422, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/settle/"): (422, 422, 422, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/export/"): (200, 200, 200, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/imports/"): (200, 200, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/imports/"): (404, 404, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/imports/<uuid:batch>/"): (200, 200, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/imports/<uuid:batch>/"): (302, 302, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/log/"): (200, 200, 200, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/log/"): (422, 422, 422, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/erase/"): (200, 200, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/erase/"): (302, 302, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/invite/"): (200, 200, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/shares/<number:share>/"): (302, 302, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/shares/<number:share>/end/"): (302, 302, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/compose/"): (200, 200, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/compose/"): (422, 422, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/compose/<number:search>/"): (200, 200, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/compose/<number:search>/stop/"): (302, 302, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/block/"): (302, 302, 302, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/block/<day:start>/"): (200, 200, 200, 403, 404, IN),
    # Without the revision that was seen a change is a stale one.
    ("GET", f"{BLOCK}/change/<number:week>/<number:session>/<number:entry>/"): (
        200, 200, 403, 403, 404, IN,
    ),
    ("POST", f"{BLOCK}/change/<number:week>/<number:session>/<number:entry>/"): (
        409, 409, 403, 403, 404, IN,
    ),
    ("GET", f"{BLOCK}/session/<number:week>/<number:session>/"): (200, 200, 403, 403, 404, IN),
    ("POST", f"{BLOCK}/session/<number:week>/<number:session>/"): (422, 422, 403, 403, 404, IN),
    ("POST", f"{BLOCK}/template/"): (422, 422, 403, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/compose/template/<number:template>/drop/"): (
        302, 302, 403, 403, 404, IN,
    ),
    ("POST", f"{BLOCK}/typed/"): (409, 409, 403, 403, 404, IN),
    ("POST", f"{BLOCK}/typed/lifts/"): (409, 409, 403, 403, 404, IN),
    ("GET", f"{BLOCK}/rest/"): (200, 200, 403, 403, 404, IN),
    ("POST", f"{BLOCK}/rest/"): (422, 422, 403, 403, 404, IN),
    ("GET", f"{BLOCK}/revisions/"): (200, 200, 200, 403, 404, IN),
    ("GET", f"{BLOCK}/revisions/<number:revision>/"): (200, 200, 200, 403, 404, IN),
    ("POST", f"{BLOCK}/revisions/<number:revision>/"): (409, 409, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/strength/"): (200, 200, 200, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/sets/"): (200, 200, 200, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/report/<day:start>/"): (200, 200, 200, 403, 404, IN),
    # Nothing of Mara's block is done, so there is no report to print.
    ("GET", "lifters/<uuid:key>/report/<day:start>/pdf/"): (404, 404, 404, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/review/"): (200, 200, 200, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/review/"): (302, 302, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/review/<number:letter>/"): (200, 200, 200, 403, 404, IN),
    ("POST", "lifters/<uuid:key>/review/<number:letter>/"): (302, 302, 403, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/ledger/"): (200, 200, 200, 403, 404, IN),
    ("GET", "lifters/<uuid:key>/sheet/<day:block>/<number:week>/<number:session>/"): (
        200, 200, 200, 200, 404, IN,
    ),
}  # fmt: skip

BODIES: dict[str, Callable[[people.World], dict[str, Any]]] = {
    "lifters/<uuid:key>/erase/": lambda world: {"name": world.lifter.name},
    "lifters/<uuid:key>/invite/": lambda world: {"role": "partner"},
    "lifters/<uuid:key>/review/<number:letter>/": lambda world: {
        "revision": 1,
        "accept_all": "yes",
    },
    "lifters/<uuid:key>/shares/<number:share>/": lambda world: {"sees": "history"},
}


@pytest.fixture
def world(monkeypatch: pytest.MonkeyPatch) -> people.World:
    # No process of its own may look for this database.
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    return people.make_world()


def routes(resolver: URLResolver | None = None, before: str = "") -> list[str]:
    found: list[str] = []
    for pattern in (resolver or get_resolver()).url_patterns:
        here = before + str(pattern.pattern)
        if isinstance(pattern, URLPattern):
            found.append(here)
        else:
            found += routes(pattern, here)
    return found


def address(route: str, world: people.World) -> str:
    share = Share.objects.get(person=world.pim).pk
    token = invite(world.cato, "partner", world.lifter, people_now())
    for name, value in (
        *api_places(route, world),
        ("<uuid:key>", world.lifter.key),
        ("<str:token>", token),
        ("<number:invitation>", Invitation.objects.get(made_by__isnull=False).pk),
        ("<number:share>", share),
        ("<number:person>", world.cato.pk),
        ("<number:letter>", letter_of(world) if "<number:letter>" in route else 0),
        ("<day:block>", "2026-01-05"),
        ("<day:start>", "2026-01-05"),
        ("<number:week>", 1),
        ("<number:session>", 1),
        ("<number:entry>", 1),
        ("<number:revision>", 1),
        ("<number:template>", 1),
        ("<uuid:batch>", held_sheet(world) if "<uuid:batch>" in route else 0),
        ("<number:search>", ended_search(world) if "<number:search>" in route else 0),
    ):
        route = route.replace(name, str(value))
    assert "<" not in route, route
    return f"/{route}"


def letter_of(world: people.World) -> int:
    return write_letter(world.lifter, people.MONDAY + timedelta(days=7)).letter.pk


def held_sheet(world: people.World) -> UUID:
    sheet = Given("mine.csv", b"Date,Exercise,Weight (kg),Reps\n2026-01-05,Bench press,80,8\n")
    return hold_sheets(world.cato, world.lifter, [sheet]).key


def ended_search(world: people.World) -> int:
    search = add_search(world.lifter, "block", people.MONDAY, {}, None, people_now())
    end_search(search.pk, "failed", {"problems": ["The search was stopped."]})
    return int(search.pk)


def people_now() -> Any:
    from django.utils import timezone

    return timezone.now()


def test_every_address_is_in_the_table() -> None:
    assert set(routes()) == {route for _, route in TABLE}


def test_every_call_is_in_the_table_with_its_method() -> None:
    document = api.get_openapi_schema()
    calls = {
        (method.upper(), path.lstrip("/").replace("{", "<").replace("}", ">"))
        for path, methods in document["paths"].items()
        for method in methods
    }
    besides = {"api/", "api/<path:rest>", "api/openapi.json"}
    assert calls == {key for key in API_TABLE if key[1] not in besides}


@contextmanager
def undone() -> Iterator[None]:
    """What happens inside is taken back: the next one asks the same world."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.mark.parametrize(("method", "route"), list(TABLE))
def test_access(world: people.World, method: str, route: str) -> None:
    where = address(route, world)
    for who, expected in zip(WHO, TABLE[method, route], strict=True):
        with undone():
            answers_as_expected(world, who, method, route, where, expected)
    if method == "GET":
        return
    with undone():
        client = signed_in(world, "orla", enforce_csrf_checks=True)
        answer = client.generic(method, where, "{}", "application/json")
        assert answer.status_code == 403, "an unsafe page wants its token"
    before = Lifter.objects.count(), Share.objects.count()
    assert signed_in(world, "orla").get(where).status_code in (200, 302, 405)
    assert (Lifter.objects.count(), Share.objects.count()) == before, "no GET changes anything"


def signed_in(world: people.World, who: str, **more: Any) -> Client:
    client = Client(**more)
    if who != "nobody":
        client.force_login(world.everyone()[who])
    return client


def answers_as_expected(
    world: people.World, who: str, method: str, route: str, where: str, expected: int | str
) -> None:
    client = signed_in(world, who)
    where += API_QUERIES.get((method, route), "")
    if method == "GET":
        answer = client.get(where)
    elif route.startswith("api/"):
        body = API_BODIES.get((method, route), lambda _world: None)(world)
        text = "" if body is None else json.dumps(body)
        answer = client.generic(method, where, text, "application/json")
    else:
        answer = client.post(where, BODIES.get(route, lambda _world: {})(world))
    answer.close()
    if expected == IN:
        assert answer.status_code == 302, who
        assert answer["Location"].startswith("/sign-in/"), who
    else:
        assert answer.status_code == expected, (who, answer.content[:400])
    if expected in (IN, 401, 403, 404):
        assert b"Mara Invented" not in answer.content, who
        assert Lifter.objects.filter(key=world.lifter.key).exists(), who
        assert Invitation.objects.filter(made_by__isnull=False).count() == 1, who


def test_somebody_signed_in_sees_only_their_own(world: people.World) -> None:
    for name, sees in (("stig", b"Somebody Else"), ("pim", b"Mara Invented")):
        client = Client()
        client.force_login(world.everyone()[name])
        page = client.get("/").content
        assert sees in page
        assert (b"Mara Invented" in page) == (name == "pim")
        listed = client.get("/api/phone").json()["lifters"]
        assert [one["name"].encode() for one in listed] == [sees]


def test_rows_of_another_lifter_are_nowhere_under_ones_own(world: people.World) -> None:
    """Their number alone opens nothing: Stig coaches the other, and these are Mara's."""
    letter, search, batch = letter_of(world), ended_search(world), held_sheet(world)
    share = Share.objects.get(person=world.pim).pk
    page, call = f"/lifters/{world.other.key}", f"/api/lifters/{world.other.key}"
    stig = signed_in(world, "stig")
    for where in (
        f"{page}/review/{letter}/", f"{page}/compose/{search}/", f"{page}/imports/{batch}/",
        f"{call}/letters/{letter}", f"{call}/letters/{letter}/decisions",
        f"{call}/composings/{search}",
    ):  # fmt: skip
        assert stig.get(where).status_code == 404, where
    for where in (f"{page}/shares/{share}/end/", f"{page}/compose/{search}/stop/"):
        assert stig.post(where).status_code == 404, where
    assert Share.objects.filter(pk=share).exists()


def test_an_account_that_was_switched_off_sees_nothing(world: people.World) -> None:
    client = Client()
    client.force_login(world.cato)
    world.cato.is_active = False
    world.cato.save()
    assert client.get(f"/lifters/{world.lifter.key}/").status_code == 302
