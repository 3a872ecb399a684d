"""A site's archive makes the same site again; a bad one is named, refused and stores nothing."""

import hashlib
import json
import os
import shutil
import tomllib
import zipfile
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest

import warm
from blockwright.store.folder import DATABASE_URL as ENVIRONMENT
from throwaway_postgres import binaries, postgres

pytestmark = pytest.mark.slow
WORLD = Path(__file__).resolve().parents[1] / "archive_world.py"
_FILES = ("export", "archive")
Entries = dict[str, bytes]


def run(*words: object, expect: int = 0, database: str | None = None) -> str:
    """Runs a command, or a script, in a process of its own; what it printed, errors for another
    code."""
    environment = {n: v for n, v in os.environ.items() if not n.startswith(("BLOCKW", "DJANGO"))}
    with TemporaryDirectory() as folder:
        log = Path(folder) / "log"
        ran = warm.started(
            *words, environment=environment | ({ENVIRONMENT: database} if database else {}), log=log
        )
        assert ran.code() == expect, log.read_text(encoding="utf-8")[-3000:]
        return (ran.stdout if expect == 0 else log).read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def data_of_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("archived") / "data"


@pytest.fixture(scope="module")
def read_before(data_of_site: Path) -> dict[str, str]:
    """The pages of the site that is made here, as it is archived."""
    return dict(json.loads(run(WORLD, "make", data_of_site)))


@pytest.fixture(scope="module")
def archive(data_of_site: Path, read_before: dict[str, str]) -> Path:
    file = data_of_site.parent / "site.zip"
    run("archive", file, "--data", data_of_site)
    return file


def test_every_address_answers_everyone_alike_on_both_sites(
    read_before: dict[str, str], archive: Path, tmp_path: Path
) -> None:
    """On another kind of database, where there is one: rows, order and documents have to survive
    that too. On the same kind the archive comes back byte for byte, below."""
    with postgres() if binaries() is not None else nullcontext() as url:
        _compare(read_before, archive, tmp_path, url)


def _compare(before: dict[str, str], archive: Path, tmp_path: Path, url: str | None) -> None:
    """The pages of the site and of a fresh one, on a database of its own where `url` names it."""
    again = tmp_path / "again.zip"
    words = "again", archive, tmp_path / "fresh", again
    after = json.loads(run(WORLD, *words, database=url))
    # The owner's page of the site names who has no password: everyone, on the fresh one.
    compared = [where for where in before if not where.endswith(" /site/")]
    assert sum(before[where].startswith("200") for where in compared) > 110
    if url is not None:
        # PostgreSQL keeps a document's keys in an order of its own, in files of pages too.
        compared = [one for one in compared if one.rstrip("/").split("/")[-1] not in _FILES]
        before, after = ({w: _sorted(page) for w, page in all.items()} for all in (before, after))
    assert [where for where in compared if before[where] != after.get(where)] == []
    assert set(before) == set(after)

    if url is None:
        assert again.read_bytes() == archive.read_bytes()
    with zipfile.ZipFile(again) as one, zipfile.ZipFile(archive) as other:
        assert one.namelist() == other.namelist()
        for name in one.namelist():
            if name != "archive.json":  # it holds the sums of the others' bytes
                texts = [_sorted(f"0 {opened.read(name).decode()}") for opened in (one, other)]
                if name.endswith(".toml"):
                    texts = [tomllib.loads(text[2:]) for text in texts]
                assert texts[0] == texts[1], name


def _sorted(page: str) -> str:
    """A page's status and JSON with its keys in order; any other page as it is."""
    status, _, body = page.partition(" ")
    try:
        return f"{status} {json.dumps(json.loads(body), sort_keys=True)}"
    except ValueError:
        return page


@pytest.fixture(scope="module")
def once_restored(archive: Path) -> Path:
    folder = archive.parent / "restored"
    run("restore", archive, "--data", folder)
    return folder


@pytest.fixture
def data(once_restored: Path, tmp_path: Path) -> Path:
    """A site that came from the archive."""
    return shutil.copytree(once_restored, tmp_path / "data")


def test_no_password_or_link_is_in_it(archive: Path) -> None:
    with zipfile.ZipFile(archive) as opened:
        text = b"".join(opened.read(name) for name in opened.namelist())
    for secret in (b"password", b"$", b"token", b"last_login"):
        assert secret not in text.replace(b"no passwords", b""), secret
    assert b"Cato" in text


def test_a_site_that_is_there_is_not_written_over_unasked(archive: Path, data: Path) -> None:
    said = run("restore", archive, "--data", data, expect=2)
    assert "has people or lifters already" in said
    told = json.loads(run("restore", archive, "--data", data, "--replace", "--json"))
    assert told["rows"]["store_lifter"] == 3
    assert Path(told["kept"]).is_file()


def test_who_was_erased_since_stays_erased(archive: Path, data: Path) -> None:
    run(WORLD, "erase", data)
    told = json.loads(run("restore", archive, "--data", data, "--replace", "--json"))
    assert (told["erased"], told["rows"]["store_lifter"]) == (1, 2)
    # Mara's own account went with her.
    assert told["rows"]["accounts_user"] == 4


def test_what_fails_late_leaves_the_old_site(archive: Path, data: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.zip"
    write(
        bad,
        _rows(unpacked(archive), lambda rows: rows["shares"][0].update(person_id=99)),
    )
    said = run("restore", bad, "--data", data, "--replace", expect=2)
    assert "does not fit the lifters beside it" in said
    after = tmp_path / "after.zip"
    run("archive", after, "--data", data)
    assert after.read_bytes() == archive.read_bytes()


# ------------------------------------------------------------------------------- bad archives


def unpacked(archive: Path) -> Entries:
    with zipfile.ZipFile(archive) as opened:
        return {name: opened.read(name) for name in opened.namelist()}


def write(file: Path, entries: Entries) -> None:
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as opened:
        for name, data in entries.items():
            opened.writestr(name, data)


def listed(entries: Entries, **changes: Any) -> Entries:
    """With a list that fits."""
    sums = {n: hashlib.sha256(d).hexdigest() for n, d in entries.items() if n != "archive.json"}
    document = {"format": "blockwright/archive/1", "sha256": sums} | changes
    return entries | {"archive.json": json.dumps(document).encode()}


def _rows(entries: Entries, change: Callable[[dict[str, Any]], Any]) -> Entries:
    """Of the lifter with most of everything: the files stand in the order of their random keys."""
    all_rows = {n: json.loads(d) for n, d in entries.items() if n.endswith("rows.json")}
    name, document = next((n, d) for n, d in all_rows.items() if d["searches"])
    change(document)
    return listed(entries | {name: json.dumps(document).encode()})


def _sent(rows: dict[str, Any]) -> dict[str, Any]:
    return next(one for one in rows["facts"] if one["event"] and one["kind"] == "set")


def _site(entries: Entries, change: Callable[[dict[str, Any]], Any]) -> Entries:
    document = json.loads(entries["site.json"])
    change(document)
    return listed(entries | {"site.json": json.dumps(document).encode()})


BAD: dict[str, tuple[Callable[[Entries], Entries], str]] = {
    "another version": (
        lambda entries: listed(entries, format="blockwright/archive/2"),
        "blockwright/archive/2",
    ),
    "a sum that does not fit": (
        lambda entries: entries | {"site.json": entries["site.json"] + b" "},
        "its sum is another",
    ),
    "a file that is missing": (
        lambda entries: {n: d for n, d in entries.items() if n != "site.json"},
        "does not name the files",
    ),
    "a path out of the folder": (
        lambda entries: listed(entries | {"../evil.json": b"{}"}),
        "../evil.json",
    ),
    "a path from the root": (
        lambda entries: listed(entries | {"/etc/passwd": b"{}"}),
        "/etc/passwd",
    ),
    "a bomb": (
        lambda entries: listed(entries | {"site.json": b" " * 50_000_000}),
        "unpacks to far more",
    ),
    "no list": (
        lambda entries: {n: d for n, d in entries.items() if n != "archive.json"},
        "has no archive.json",
    ),
    "deep JSON": (
        lambda entries: listed(entries | {"site.json": b"[" * 200_000}),
        "is not JSON",
    ),
    "another lifter's rows": (
        lambda entries: _rows(entries, lambda rows: rows["lifter"].update(pk=1)),
        "other columns",
    ),
    "a day that is none": (
        lambda entries: _rows(entries, lambda rows: rows["lifter"].update(made_at="Tuesday")),
        "nothing a row can hold",
    ),
    "a block no page can read": (
        lambda entries: _rows(entries, lambda rows: rows["blocks"][0]["document"].clear()),
        "holds what no page can read",
    ),
    "a set whose number is none": (
        lambda entries: _rows(entries, lambda rows: _sent(rows)["body"].update(set_number="")),
        "holds what no page can read",
    ),
    "a phone's event no page can read": (
        lambda entries: _rows(entries, lambda rows: _sent(rows)["event"].clear()),
        "holds what no page can read",
    ),
    "answers that are no table": (
        lambda entries: _rows(entries, lambda rows: rows["imports"][0].update(answers="x")),
        "nothing a row can hold",
    ),
    "a template no page can read": (
        lambda entries: _site(entries, lambda site: site["templates"][0].update(visits=[1])),
        "holds what no page can read",
    ),
    "a letter no page can read": (
        lambda entries: _rows(entries, lambda rows: rows["letters"][0].update(document={})),
        "format",
    ),
    "a search no page can read": (
        lambda entries: _rows(
            entries, lambda rows: rows["searches"][0].update(says={"problems": 5})
        ),
        "holds what no page can read",
    ),
    "a search that made no block": (
        lambda entries: _rows(entries, lambda rows: rows["searches"][0].update(document={"x": 1})),
        "holds what no page can read",
    ),
    "a lifter no page can read": (
        lambda entries: _rows(entries, lambda rows: rows["lifter"].update(document={"nam": 1})),
        "holds what no page can read",
    ),
}


def test_every_bad_archive_is_named_and_refused(archive: Path, tmp_path: Path) -> None:
    data, says = tmp_path / "data", {}
    for number, (change, words) in enumerate(BAD.values()):
        write(tmp_path / f"bad-{number}.zip", change(unpacked(archive)))
        says[f"bad-{number}.zip"] = words
    (tmp_path / "cut.zip").write_bytes(archive.read_bytes()[:-100])
    says["cut.zip"] = "is damaged"
    found = json.loads(run(WORLD, "refuse", data, *(tmp_path / name for name in says)))
    assert list(found) == [str(tmp_path / name) for name in says]
    for (file, (code, said, accounts)), words in zip(found.items(), says.values(), strict=True):
        assert (code, accounts) == (2, 0), said
        assert words in said
        assert Path(file).name in said
