"""The command line's files into the site and back, nothing lost, nothing doubled."""

import io
import json
import zipfile
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

import people
from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.checkins_file import read_checkins
from blockwright.files.json_text import dumps
from blockwright.files.lifter_file import read_lifter
from blockwright.files.sets_file import read_sets
from blockwright.store.models import BlockRevision, Erasure, Fact, Lifter
from blockwright.verbs.erase_lifter import export_lifter
from blockwright.verbs.import_files import Given, import_files, new_lifter
from when import noon_of

pytestmark = pytest.mark.django_db
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"

SETS = '''\
when,lift,set,load,unit,reps,rir,rest_s,method,full_range,pain,note,confirmed,shoes
2026-01-05 18:31:07,bench press,1,185,lb,8,1-2,,straight,yes,,,no,flat
2026-01-05 18:34,bench press,2,82.5,kg,8+3+2,0,150,rest-pause,yes,2,"elbow, ""a bit""",yes,
2026-01-05 18:39,pull-up,1,0,kg,9,,95.5,,no,,,,
2026-01-07,bench press,1,60+45+30,kg,12+6+5,1.5,,drop,yes,,,,
2026-01-07,bench press,2,60,kg,12,1.5,,,yes,,,,
2026-01-07,tyre drag,1,40,kg,10,2,,,yes,,ünïcode 木,,
'''
CHECKINS = """\
when,measure,about,value,unit
2026-01-05,bodyweight,,151.3,lb
2026-01-06 07:10,sore,quads,4,
2026-01-06,pain,left knee,2.5,
2026-01-06,session_rpe,,8,
"""


@pytest.fixture
def coach() -> User:
    return User.objects.create_user("cato", people.PASSWORD, name="Cato", role="coach")


def example(name: str) -> Given:
    return Given(name=name, content=(EXAMPLES / name).read_bytes())


def unpacked(row: Lifter, folder: Path) -> Path:
    with zipfile.ZipFile(io.BytesIO(export_lifter(row))) as archive:
        archive.extractall(folder)
    return folder


def mara_row(by: User, *more: Given) -> Lifter:
    block = Given("block.json", dumps(people.block_document()).encode())
    return new_lifter(by, [block, *more], timezone.now())


def test_the_examples_come_back_equal(coach: User, tmp_path: Path) -> None:
    names = ("lifter.toml", "log.csv", "checkins.csv")
    row = new_lifter(coach, [example(name) for name in names], timezone.now())
    out = unpacked(row, tmp_path)
    lifter = read_lifter(EXAMPLES / "lifter.toml").value
    assert read_lifter(out / "lifter.toml").value == lifter
    catalogue = catalogue_for(lifter)
    before = read_sets(EXAMPLES / "log.csv", catalogue, lifter).value
    after = read_sets(out / "sets.csv", catalogue, lifter).value
    assert without_rows(after) == without_rows(before)
    before_checks = read_checkins(EXAMPLES / "checkins.csv").value
    assert without_rows(read_checkins(out / "checkins.csv").value) == without_rows(before_checks)


def test_awkward_rows_come_back_equal(coach: User, tmp_path: Path) -> None:
    given = [Given("sets.csv", SETS.encode()), Given("checks.csv", CHECKINS.encode())]
    row = mara_row(coach, *given)
    (tmp_path / "sets.csv").write_text(SETS, encoding="utf-8")
    (tmp_path / "checks.csv").write_text(CHECKINS, encoding="utf-8")
    out = unpacked(row, tmp_path / "out")
    lifter = people.mara()
    before = read_sets(tmp_path / "sets.csv", catalogue_for(lifter), lifter).value
    after = read_sets(out / "sets.csv", catalogue_for(lifter), lifter).value
    assert len(before) == 6
    assert without_rows(after) == without_rows(before)
    checks = without_rows(read_checkins(tmp_path / "checks.csv").value)
    assert without_rows(read_checkins(out / "checkins.csv").value) == checks
    assert read_lifter(out / "lifter.toml").value == lifter
    assert read_block(out / "blocks" / "block-2026-01-05-r1.json") == people.block(lifter)


def without_rows(facts: Any) -> list[Any]:
    from dataclasses import replace

    return [replace(fact, row=0) for fact in facts]


def test_the_same_files_again_add_nothing(coach: User) -> None:
    row = mara_row(coach, Given("sets.csv", SETS.encode()), Given("c.csv", CHECKINS.encode()))
    count = Fact.objects.count()
    taken = import_files(
        coach,
        row,
        [
            Given("sets.csv", SETS.encode()),
            Given("c.csv", CHECKINS.encode()),
            Given("block.json", dumps(people.block_document()).encode()),
        ],
        timezone.now(),
    )
    assert (taken.sets, taken.checkins, taken.lifter_changed) == (0, 0, False)
    assert Fact.objects.count() == count
    assert BlockRevision.objects.count() == 1


def test_an_export_taken_in_again_adds_nothing(coach: User, tmp_path: Path) -> None:
    row = mara_row(coach, Given("sets.csv", SETS.encode()))
    phone = Client()
    phone.force_login(coach)
    late = people.set_event(
        row, 2, set=2, at="2026-01-06T00:20:00+01:00", began="2026-01-05T22:50:00+01:00"
    )
    sent = people.message(people.set_event(row, 1, at="2026-01-05T23:10:00.250+01:00"), late)
    phone.post("/api/sync", sent, content_type="application/json")
    count = Fact.objects.count()
    out = unpacked(row, tmp_path)
    again = [Given(name, (out / name).read_bytes()) for name in ("sets.csv", "lifter.toml")]
    taken = import_files(coach, row, again, timezone.now())
    assert (taken.sets, taken.lifter_changed) == (0, False)
    assert Fact.objects.count() == count
    version, heavier = (
        row.version,
        again[1].content.replace(b"bodyweight = 68.5", b"bodyweight = 70"),
    )
    assert import_files(coach, row, [Given("m.toml", heavier)], timezone.now()).lifter_changed
    row.refresh_from_db()
    assert (row.document["bodyweight"], row.version) == (70, version + 1)


def test_a_log_that_grew_adds_what_is_new(coach: User) -> None:
    row = mara_row(coach, Given("sets.csv", SETS.encode()))
    grown = SETS + "2026-01-08,bench press,1,60,kg,12,1.5,,,yes,,,,\n"
    grown += "2026-01-08,bench press,,60,kg,12,1.5,,,yes,,,,\n" * 2
    taken = import_files(coach, row, [Given("sets.csv", grown.encode())], timezone.now())
    assert taken.sets == 3


def test_equal_bytes_for_equal_rows(coach: User) -> None:
    row = mara_row(coach, Given("sets.csv", SETS.encode()))
    assert export_lifter(row) == export_lifter(row)


def test_nothing_is_taken_when_one_file_is_bad(coach: User) -> None:
    bad = SETS.replace("82.5,kg,8+3+2", "much,kg,8+3+2")
    with pytest.raises(BadInput) as refused:
        mara_row(coach, Given("c.csv", CHECKINS.encode()), Given("sets.csv", bad.encode()))
    assert refused.value.problems[0].row == 3
    assert Lifter.objects.count() == Fact.objects.count() == 0


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (Given("lifter.toml", b'name = "Somebody Else"'), "Somebody Else's"),
        (Given("p.json", b'{"format": "blockwright/estimate/1"}'), "another kind"),
        (Given("p.json", b'{"format": "blockwright/proposals/1"}'), "lifter"),
        (Given("x.json", b"{"), "JSON"),
        (Given("x.toml", b"\xff\xfe"), ""),
        (Given("x.toml", b"a" * 300_000), "larger"),
        (Given("../../etc/cron.csv", b"a,b\n1,2\n"), ""),
        (Given("virus.exe", b"MZ"), "not read"),
        (Given("book.xlsx", b"PK\x03\x04"), "not read"),
        (Given("", b""), ""),
    ],
)
def test_what_cannot_be_taken_is_said(coach: User, given: Given, says: str) -> None:
    row = mara_row(coach)
    with pytest.raises(BadInput) as refused:
        import_files(coach, row, [given], timezone.now())
    assert says in str(refused.value)
    assert "/" not in (refused.value.problems[0].file or "")


def test_another_block_in_the_same_place_is_refused(coach: User) -> None:
    row = mara_row(coach)
    other = dumps(people.block_document(load_kg=90.0)).encode()
    with pytest.raises(BadInput, match="new revision number"):
        import_files(coach, row, [Given("block.json", other)], timezone.now())


def test_rows_of_others_are_left_out_and_said(coach: User) -> None:
    row = mara_row(coach)
    both = (
        "when,lift,load,unit,reps,lifter\n"
        "2026-01-05,bench press,50,kg,8,mara invented\n2026-01-05,bench press,90,kg,8,Bo\n"
    )
    taken = import_files(coach, row, [Given("sets.csv", both.encode())], timezone.now())
    assert taken.sets == 1
    assert "Bo" in str(taken.warnings[-1])


def test_the_export_holds_everything(coach: User) -> None:
    row = mara_row(coach)
    phone = Client()
    phone.force_login(coach)
    event = people.set_event(row, 1)
    undo = people.set_event(row, 2, amends=event["id"], withdrawn=True)
    sent = people.message(event, undo)
    phone.post("/api/sync", sent, content_type="application/json")
    with zipfile.ZipFile(io.BytesIO(export_lifter(row))) as archive:
        everything = json.loads(archive.read("everything.json"))
        assert archive.read("sets.csv").decode().count("\n") == 1, "what was undone does not stand"
    assert [fact["id"] for fact in everything["facts"]] == [event["id"], undo["id"]]
    assert len(everything["blocks"]) == 1
    (access,) = everything["shares"]
    assert access["kind"] == "coach"
    assert everything["people"] == {str(access["person_id"]): "Cato"}


# ------------------------------------------------------------------------------------------ erase


def test_erasing_a_lifter_leaves_no_trace_but_that_it_was_done() -> None:
    world = people.make_world()
    client = Client()
    client.force_login(world.cato)
    event = people.set_event(world.lifter)
    client.post("/api/sync", people.message(event), content_type="application/json")
    page = f"/lifters/{world.lifter.key}/erase/"
    assert client.post(page, {"name": "Somebody"}).status_code == 422
    assert Fact.objects.count() == 1
    assert client.post(page, {"name": "Mara Invented"}).status_code == 302
    assert Fact.objects.count() == BlockRevision.objects.count() == 0
    assert list(Lifter.objects.values_list("name", flat=True)) == ["Somebody Else"]
    assert not User.objects.filter(name="Mara").exists(), "her own account goes with her"
    assert User.objects.filter(name="Pim").exists()
    assert Erasure.objects.get().lifter_key == world.lifter.key
    sent = client.post("/api/sync", people.message(event), content_type="application/json")
    (answer,) = sent.json()["answers"]
    assert answer["state"] == "parked"
    assert "erased" in answer["says"]


def test_an_erased_account_that_logged_for_others_loses_its_name() -> None:
    world = people.make_world()
    from blockwright.store.models import Share

    Share.objects.create(lifter=world.other, person=world.mara, kind=Share.PARTNER)
    with noon_of(people.MONDAY + timedelta(days=1)):
        sent = people.message(people.set_event(world.other))
        mara = people.client_of(world.mara)
        mara.post("/api/sync", sent, content_type="application/json")
    Share.objects.filter(lifter=world.other, person=world.mara).delete()
    owner = Client()
    owner.force_login(world.orla)
    owner.post(f"/lifters/{world.lifter.key}/erase/", {"name": "Mara Invented"})
    world.mara.refresh_from_db()
    assert world.mara.name == "erased"
    assert not world.mara.is_active
    assert Fact.objects.get().lifter == world.other


# ------------------------------------------------------------------------------------------ pages


def test_a_lifter_is_made_and_fed_by_the_pages(coach: User) -> None:
    client = Client()
    client.force_login(coach)

    def upload(name: str, content: bytes) -> SimpleUploadedFile:
        return SimpleUploadedFile(name, content)

    made = client.post(
        "/lifters/new/", {"files": upload("lifter.toml", example("lifter.toml").content)}
    )
    row = Lifter.objects.get()
    assert made["Location"] == f"/lifters/{row.key}/"
    page = client.post(
        f"/lifters/{row.key}/files/", {"files": upload("log.csv", example("log.csv").content)}
    )
    assert page.status_code == 200
    assert b"new sets" in page.content
    refused = client.post(f"/lifters/{row.key}/files/", {"files": upload("l.csv", b"when,lift\n")})
    assert refused.status_code == 422
    assert b"Nothing was stored" in refused.content
    archive = client.get(f"/lifters/{row.key}/export/")
    assert archive["Content-Type"] == "application/zip"
    assert archive.content == export_lifter(row)
