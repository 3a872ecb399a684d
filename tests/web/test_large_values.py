"""Values far larger than any honest one are answered: a page, or words that say the mend."""

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

import people
from blockwright.files.lifter_file import toml_text
from blockwright.store.models import Lifter

pytestmark = pytest.mark.django_db
LONG = "n" * 100_000
HEAD = "when,lift,load,unit,reps,rir\n"
START = people.MONDAY.isoformat()
QUICK = ("", f"block/{START}/", "ledger/", "review/", "file/", f"sheet/{START}/1/1/")
PAGES = (*QUICK, "strength/", "sets/", f"sets/?block={START}", f"report/{START}/")


def signed_in(world: people.World) -> Client:
    client = Client()
    client.force_login(world.cato)
    return client


def uploaded(client: Client, world: people.World, name: str, text: str) -> Any:
    file = SimpleUploadedFile(name, text.encode())
    return client.post(f"/lifters/{world.lifter.key}/files/", {"files": file})


def assert_all_answer(client: Client, world: people.World, pages: Sequence[str] = PAGES) -> None:
    for page in pages:
        answer = client.get(f"/lifters/{world.lifter.key}/{page}")
        assert answer.status_code in (200, 302), page
    for call in ("", "/facts", f"/sheets/{START}/1/1", f"/blocks/{START}"):
        assert client.get(f"/api/lifters/{world.lifter.key}{call}").status_code == 200, call


def test_four_hundred_sets_of_a_lift_in_one_week(world: people.World) -> None:
    client = signed_in(world)
    rows = "".join(
        f"{people.MONDAY + timedelta(days=n % 6)},bench press,50,kg,8,1\n" for n in range(400)
    )
    assert uploaded(client, world, "sets.csv", HEAD + rows).status_code == 200
    assert_all_answer(client, world)


@pytest.mark.slow
def test_four_thousand_sets_on_one_day_are_a_page(world: people.World) -> None:
    client = signed_in(world)
    rows = "".join(f"{people.MONDAY},bench press,50,kg,8,2\n" for n in range(4_000))
    assert uploaded(client, world, "sets.csv", HEAD + rows).status_code == 200
    assert_all_answer(client, world, QUICK)


@pytest.mark.parametrize("place", ["name", "lift", "gym", "alias"])
def test_a_name_of_a_hundred_thousand_letters(world: people.World, place: str) -> None:
    client = signed_in(world)
    table = dict(people.MARA_TABLE)
    if place == "name":
        table["name"] = LONG
    elif place == "gym":
        table["gym"] = {**table["gym"], "bar": [{"name": LONG, "mass": 20}]}
    elif place == "alias":
        table["lift"] = [{**table["lift"][0], "aliases": [LONG]}]
    else:
        table["lift"] = [{**table["lift"][0], "name": LONG}]
    for answer in (
        client.post(
            "/lifters/new/", {"files": SimpleUploadedFile("l.toml", toml_text(table).encode())}
        ),
        uploaded(client, world, "l.toml", toml_text(table)),
    ):
        assert answer.status_code in (200, 302, 422)
    assert_all_answer(client, world)
    assert client.get("/").status_code == 200
    assert not Lifter.objects.filter(name=LONG).exists()


def test_a_lift_of_a_hundred_thousand_letters_in_a_log(world: people.World) -> None:
    client = signed_in(world)
    answer = uploaded(client, world, "sets.csv", f"{HEAD}{people.MONDAY},{LONG},50,kg,8,2\n")
    assert answer.status_code in (200, 422)
    assert_all_answer(client, world)


def test_a_note_of_a_hundred_thousand_letters_in_a_log(world: people.World) -> None:
    client = signed_in(world)
    text = f"when,lift,set,load,unit,reps,note\n{people.MONDAY},bench press,1,50,kg,8,{LONG}\n"
    assert uploaded(client, world, "sets.csv", text).status_code in (200, 422)
    assert_all_answer(client, world)


def test_long_names_typed_into_forms(world: people.World) -> None:
    client = signed_in(world)
    for path, form in (
        ("/account/", {"name": LONG, "units": "kg", "zone": "UTC"}),
        ("/sign-in/", {"username": LONG, "password": LONG}),
        (f"/lifters/{world.lifter.key}/erase/", {"name": LONG}),
    ):
        assert client.post(path, form).status_code in (200, 302, 422), path
    assert Client().post("/sign-in/", {"username": LONG, "password": LONG}).status_code == 200
    assert client.get("/").status_code == 200
