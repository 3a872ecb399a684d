"""Text that no database can hold, in every form, address, call and upload: told, never a fault."""

import copy
import json
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlencode

import pytest
from api_access_rows import API_BODIES
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from test_access import BODIES, TABLE, address, undone

import people
from blockwright.files.limits import what_cannot_be_kept
from blockwright.store.facts import facts_of
from blockwright.store.models import Lifter
from blockwright.verbs import search_block

pytestmark = pytest.mark.django_db
ODD = {"nul": "a\x00b", "half": "\ud83d", "long": "x" * 3000}
"""What PostgreSQL alone refuses to keep."""
if not settings.DATABASES["default"]["ENGINE"].endswith("postgresql"):
    ODD["control"] = "a\x01\x0b\x7f"
FIELDS = (
    "accept_all", "born", "bodyweight", "changed", "edit", "files", "find", "hurts", "insist",
    "kit", "lift", "lifter", "load", "minutes", "muscle", "name", "note", "old_password", "other",
    "other_lifts", "page", "paper", "password", "pattern", "period", "previous", "revision", "role",
    "sees", "sign_in_name", "sore", "start", "step", "through", "unit", "units", "version", "week",
    "weeks", "who", "without", "word", "words", "words_for_all", "zone", "block", "slot.0.day",
    "lift.0.name", "limits.notes", "from_files", "username", "password1", "password2", "add",
)  # fmt: skip
UNSAFE = [(method, route) for method, route in TABLE if method != "GET"]
FORMS = [route for method, route in UNSAFE if method == "POST" and not route.startswith("api/")]


@pytest.fixture
def world(monkeypatch: pytest.MonkeyPatch) -> people.World:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    return people.make_world()


def client_of(person: Any) -> Client:
    client = Client(raise_request_exception=False)
    client.force_login(person)
    return client


@pytest.mark.parametrize("route", FORMS)
def test_every_form_bears_odd_text(world: people.World, route: str) -> None:
    client, where = client_of(world.orla), address(route, world)
    sound = BODIES.get(route, lambda _world: {})(world)
    for told, text in ODD.items():
        body = urlencode(dict.fromkeys(FIELDS, text) | sound, errors="surrogatepass")
        answer = client.generic("POST", where, body, "application/x-www-form-urlencoded")
        assert answer.status_code < 500, (told, answer.content[:300])
        if told == "nul":
            assert answer.status_code == 400
            assert b"cannot be kept" in answer.content
            continue  # before any field is looked at
        for some in (FIELDS[::3], FIELDS[1::3], FIELDS[2::3]):
            body = urlencode(dict.fromkeys(some, text) | sound, errors="surrogatepass")
            answer = client.generic("POST", where, body, "application/x-www-form-urlencoded")
            assert answer.status_code < 500, (told, some, answer.content[:300])
            if answer.status_code == 302:
                client = client_of(world.orla)


@pytest.mark.parametrize("told", ODD)
def test_every_address_bears_odd_text(world: people.World, told: str) -> None:
    client, text = client_of(world.orla), ODD[told]
    asked = urlencode(dict.fromkeys((text, *FIELDS), text), errors="surrogatepass")
    for route in [route for method, route in TABLE if method == "GET"]:
        with undone():
            answer = client.get(f"{address(route, world)}?{asked[:20_000]}")
            # a file is read to its end, which closes it
            said = b"".join(answer)
            assert answer.status_code < 500, (route, said[:300])


def bent(value: Any, odd: Any) -> Iterator[Any]:
    """The value with one text or key at a time made odd."""
    if isinstance(value, str):
        yield odd
    elif isinstance(value, dict):
        yield value | {odd: 1}
        for key, one in value.items():
            for other in bent(one, odd):
                yield value | {key: other}
    elif isinstance(value, list):
        yield [*value, odd]
        for at, one in enumerate(value):
            for other in bent(one, odd):
                yield [*value[:at], other, *value[at + 1 :]]


@pytest.mark.parametrize("key", list(API_BODIES), ids=lambda key: " ".join(key))
def test_every_call_bears_odd_text(world: people.World, key: tuple[str, str]) -> None:
    method, route = key
    client, where = client_of(world.orla), address(route, world)
    for told, odd in (ODD | {"deep": json.loads("[" * 500 + "]" * 500)}).items():
        sound = copy.deepcopy(API_BODIES[key](world))
        texts = bent(sound, odd) if isinstance(odd, str) else [odd, sound | {"events": odd}]
        for body in texts:
            answer = client.generic(method, where, json.dumps(body), "application/json")
            assert answer.status_code < 500, (told, body, answer.content[:300])
            if answer.status_code >= 400:
                assert set(answer.json()["error"]) == {"code", "says", "mend"}
    for lifter in Lifter.objects.all():
        assert what_cannot_be_kept(lifter.document) is None


SETS = "when,lift,set,load,unit,reps,note\n2026-01-05,bench press,1,50,kg,10,{}\n"
CHECKINS = "when,measure,about,value,unit\n2026-01-05,pain,{},3,\n"
TOML = 'name = "Mara Invented"\n[limits]\nnotes = "{}"\n'
JSON = '{{"format": "blockwright/block/1", "start": "2026-01-05", "note": "{}"}}'
UPLOADS = [
    *(("sets.csv", SETS.format(text).encode(errors="surrogatepass")) for text in ODD.values()),
    *(("c.csv", CHECKINS.format(text).encode(errors="surrogatepass")) for text in ODD.values()),
    ("utf16.csv", SETS.format("a\x00b").encode("utf-16")),
    *(
        (name, form.format(text).encode(errors="surrogatepass"))
        for name, form in (("mara.toml", TOML), ("b.json", JSON))
        for text in (*ODD.values(), r"\u0000", r"\ud83d")
    ),
    ("b.json", b"[" * 3000 + b"]" * 3000),
    ("a\x00b.csv", SETS.format("sound").encode()),
]


def test_every_upload_bears_odd_text(world: people.World) -> None:
    client = client_of(world.cato)
    for name, content in UPLOADS:
        for where in (f"/lifters/{world.lifter.key}/files/", "/lifters/new/"):
            files = SimpleUploadedFile(name, content)
            answer = client.post(where, {"files": files, "from_files": "yes"})
            assert answer.status_code < 500, (name, content[:100], answer.content[:300])
    for fact in facts_of(world.lifter):
        assert what_cannot_be_kept(fact.body) is None
    for page in ("", "sets/", "file/", "strength/", "export/"):
        assert client.get(f"/lifters/{world.lifter.key}/{page}").status_code == 200
