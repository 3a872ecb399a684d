"""Backups are opened and counted; restoring keeps what was there; neither meets a running server
unprepared."""

import gc
import io
import os
import random
import shutil
import sqlite3
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import closing, nullcontext
from errno import ENOSPC
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

import warm
from blockwright.cli.main import exit_code
from blockwright.engine.errors import BadInput
from blockwright.store.folder import database_file, secret_key, serving_alone
from blockwright.verbs import restore_site
from blockwright.verbs.archive_site import write_archive
from blockwright.verbs.back_up import COUNTED, back_up
from blockwright.verbs.restore_site import Restored, restore


def of_no_site() -> dict[str, str]:
    """The environment, without what names a site."""
    return {n: v for n, v in os.environ.items() if not n.startswith(("BLOCKW", "DJANGO"))}


def restored_apart(copy: Path, data: Path) -> str:
    """Of a backup that the site's code has to open: restored in a process of its own; what it said
    against it."""
    log = copy.with_name("log")
    ran = warm.started("restore", copy, "--data", data, environment=of_no_site(), log=log)
    code, said = ran.code(), log.read_text(encoding="utf-8")
    assert (code == 0) == (not said), said
    return said


@pytest.fixture(scope="module")
def empty_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated database, made once by the real migrations in a process of its own."""
    folder = tmp_path_factory.mktemp("site")
    environment = of_no_site() | {
        "BLOCKWRIGHT_DATA": str(folder),
        "DJANGO_SETTINGS_MODULE": "blockwright.server.settings",
    }
    command = [sys.executable, "-m", "django", "migrate", "--verbosity", "0"]
    subprocess.run(command, check=True, env=environment, timeout=300)
    return database_file(folder)


@pytest.fixture
def data(empty_site: Path, tmp_path: Path) -> Path:
    folder = tmp_path / "data"
    folder.mkdir()
    with closing(sqlite3.connect(empty_site)) as old, closing(_open(folder)) as new:
        old.backup(new)
    return folder


def _open(folder: Path) -> sqlite3.Connection:
    return sqlite3.connect(database_file(folder), timeout=20)


def add_lifter(folder: Path, key: str) -> None:
    with closing(_open(folder)) as opened, opened:
        opened.execute(
            "INSERT INTO store_lifter (key, name, document, version, made_at) "
            "VALUES (?, ?, '{}', 1, '2026-01-05')",
            (key, f"Lifter {key}"),
        )


def lifters(file: Path) -> int:
    with closing(sqlite3.connect(file)) as opened:
        return int(opened.execute("SELECT count(*) FROM store_lifter").fetchone()[0])


def test_a_backup_is_one_private_file_that_was_opened_and_counted(
    data: Path, tmp_path: Path
) -> None:
    add_lifter(data, "a")
    copy = tmp_path / "copy.sqlite3"
    rows = back_up(copy, data)
    assert set(rows) == set(COUNTED)
    assert rows["store_lifter"] == lifters(copy) == 1
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    assert sorted(file.name for file in tmp_path.iterdir()) == ["copy.sqlite3", "data"]


def test_a_backup_beside_a_busy_writer_is_whole(data: Path, tmp_path: Path) -> None:
    stop = threading.Event()

    def write() -> None:
        number = 0
        while not stop.is_set():
            add_lifter(data, f"w{number}")
            number += 1

    with closing(_open(data)) as opened:
        opened.execute("PRAGMA journal_mode=WAL")
    writer = threading.Thread(target=write)
    writer.start()
    try:
        copies = [back_up(tmp_path / f"copy{n}.sqlite3", data) for n in range(5)]
    finally:
        stop.set()
        writer.join()
    counts = [rows["store_lifter"] for rows in copies]
    assert counts == sorted(counts)


def test_restoring_gives_back_what_was_and_keeps_what_is(data: Path, tmp_path: Path) -> None:
    add_lifter(data, "a")
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    add_lifter(data, "b")
    done = restore(copy, data)
    assert lifters(database_file(data)) == 1
    assert done.kept is not None
    assert lifters(done.kept) == 2
    again = restore(copy, data)
    assert again.kept is not None
    assert again.kept != done.kept


def test_what_somebody_is_writing_is_not_pulled_from_under_them(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """`take` beside `restore`: what it had stored stood in a journal that was thrown away."""
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    connect = sqlite3.connect
    with closing(_open(data)) as writer:
        writer.execute("PRAGMA journal_mode=WAL")
        add_lifter(data, "a")
        monkeypatch.setattr(sqlite3, "connect", lambda *a, **k: connect(*a, **k | {"timeout": 0}))
        with pytest.raises(BadInput, match="somebody else is writing"):
            restore(copy, data)
        writer.execute("UPDATE store_lifter SET name = 'Taken'")
        writer.commit()
    kept = restore(copy, data).kept
    assert kept is not None
    with closing(connect(kept)) as opened:
        assert opened.execute("SELECT name FROM store_lifter").fetchall() == [("Taken",)]


def _no_room(*_written: object, **_how: object) -> None:
    raise OSError(ENOSPC, "No space left on device")


def test_a_copy_for_which_there_is_no_room_says_so(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "open", _no_room)
    with pytest.raises(BadInput, match="free space"):
        back_up(tmp_path / "copy.sqlite3", data)
    assert [one.name for one in tmp_path.iterdir()] == ["data"]


class _SmallDisk(io.BytesIO):
    def write(self, data: Any) -> int:
        if self.tell() > 100:
            _no_room()
        return super().write(data)


@pytest.mark.django_db
def test_an_archive_that_breaks_off_leaves_no_noise_behind() -> None:
    unraisable: list[object] = []
    hook, sys.unraisablehook = sys.unraisablehook, unraisable.append
    try:
        with pytest.raises(OSError, match="No space"), _SmallDisk() as out:
            write_archive(out)
        gc.collect()
    finally:
        sys.unraisablehook = hook
    assert unraisable == []


def test_a_restore_cut_short_leaves_the_site_where_it_was(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_lifter(data, "a")
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    add_lifter(data, "b")
    replaced = Path.replace

    def cut(self: Path, target: Path) -> Path:
        if target == database_file(data):
            raise KeyboardInterrupt
        return replaced(self, target)

    monkeypatch.setattr(Path, "replace", cut)
    with pytest.raises(KeyboardInterrupt):
        restore(copy, data)
    assert lifters(database_file(data)) == 2


def test_an_archive_takes_the_sites_place_only_once_it_is_whole(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    back_up(tmp_path / "other", data)
    add_lifter(data, "a")
    rooms: list[Path] = []

    def restored(*_: object) -> Restored:
        assert lifters(database_file(data)) == 1  # a power cut now leaves the site as it was
        shutil.copy(tmp_path / "other", database_file(rooms[0]))
        return Restored(rows={}, erased=0)

    monkeypatch.setattr(restore_site, "looks_like_zip", lambda file: True)
    monkeypatch.setattr(restore_site, "ArchiveReader", lambda file: file)
    monkeypatch.setattr(restore_site, "opened_store", lambda room: nullcontext(rooms.append(room)))
    monkeypatch.setattr(restore_site, "_from_archive", restored)
    done = restore(tmp_path / "x.zip", data, anew=True)
    assert lifters(database_file(data)) == 0
    assert done.kept is not None
    assert lifters(done.kept) == 1
    assert not rooms[0].exists()


def test_restoring_onto_a_new_machine(data: Path, tmp_path: Path) -> None:
    add_lifter(data, "a")
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    done = restore(copy, tmp_path / "new")
    assert done.kept is None
    assert lifters(database_file(tmp_path / "new")) == 1


def test_a_running_server_is_not_robbed_of_its_database(data: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    with serving_alone(data):
        with pytest.raises(BadInput, match="stop that server"):
            restore(copy, data)
        with pytest.raises(BadInput, match="in use"), serving_alone(data):
            pass
    restore(copy, data)


def _without_table(file: Path) -> None:
    with closing(sqlite3.connect(file)) as opened, opened:
        opened.execute("DROP TABLE store_batch")


def _written_over(file: Path, seed: int = 4) -> None:
    content, rng = bytearray(file.read_bytes()), random.Random(seed)
    for at in rng.sample(range(len(content)), 100):
        content[at] = rng.randrange(256)
    file.write_bytes(content)


def _one_letter(file: Path) -> None:
    content = file.read_bytes()
    file.write_bytes(content.replace(b"Lifter a", b"Lifter b"))


def _cut(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:-4096])


def _of_one_table(file: Path) -> None:
    file.unlink()
    with closing(sqlite3.connect(file)) as opened, opened:
        opened.execute("CREATE TABLE t (x)")


def _as_text(file: Path) -> None:
    file.write_text("not a database, and long enough to be read as one " * 100)


def _overwritten(file: Path) -> None:
    content = bytearray(file.read_bytes())
    content[8192:40960] = b"\x5a" * (40960 - 8192)
    file.write_bytes(content)


@pytest.mark.parametrize(
    ("harm", "sealed"),
    [
        *((harm, True) for harm in (_without_table, _written_over, _one_letter, _cut)),
        *((harm, False) for harm in (_cut, _of_one_table, _as_text, _overwritten, Path.unlink,
                                     lambda file: file.write_bytes(b""))),
        (_without_table, None),
    ],
)  # fmt: skip
def test_only_a_sound_backup_is_restored(
    data: Path, tmp_path: Path, harm: Callable[[Path], object], sealed: bool | None
) -> None:
    """A sound one without a seal the site's code opens, which is told apart by None."""
    add_lifter(data, "a")
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    if not sealed:
        _unsealed(copy)
    harm(copy)
    before = database_file(data).read_bytes()
    if sealed is None:
        said = restored_apart(copy, data)
    else:
        with pytest.raises(BadInput) as refused:
            restore(copy, data)
        said = str(refused.value)
    assert "copy.sqlite3" in said
    assert database_file(data).read_bytes() == before
    assert {one.name for one in data.iterdir() if "-" not in one.name} <= {
        "site.sqlite3",
        "serving.lock",
    }


def _unsealed(file: Path) -> None:
    """As an older version wrote it: the same pages, no seal."""
    with closing(sqlite3.connect(file)) as opened, opened:
        opened.execute("PRAGMA application_id=0")
    with closing(sqlite3.connect(file)) as opened:
        content = file.read_bytes()
        pages, size = (opened.execute(f"PRAGMA {of}").fetchone()[0]
                       for of in ("page_count", "page_size"))  # fmt: skip
    file.write_bytes(content[: pages * size])


def test_a_backup_of_an_older_version_is_brought_up_to_date(data: Path, tmp_path: Path) -> None:
    add_lifter(data, uuid4().hex)
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    _unsealed(copy)
    with closing(sqlite3.connect(copy)) as opened, opened:
        opened.execute("DROP TABLE store_houseframe")
        opened.execute("DELETE FROM django_migrations WHERE name = '0008_house_frames'")
    assert not restored_apart(copy, tmp_path / "again")
    with closing(_open(tmp_path / "again")) as opened:
        assert opened.execute("SELECT count(*) FROM store_lifter").fetchone() == (1,)
        assert opened.execute("SELECT count(*) FROM store_houseframe").fetchone() == (0,)


def test_places_that_will_not_do_are_said(data: Path, tmp_path: Path) -> None:
    for file, folder in (
        (tmp_path / "copy", tmp_path / "nowhere"),
        (tmp_path / "no" / "such" / "folder", data),
        (database_file(data), data),
    ):
        with pytest.raises(BadInput):
            back_up(file, folder)


def test_postgres_is_told_its_own_tools(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("BLOCKWRIGHT_DATABASE_URL", "postgresql:///gym")
    with pytest.raises(BadInput, match="pg_dump"):
        back_up(tmp_path / "copy", data)
    with pytest.raises(BadInput, match="pg_restore"):
        restore(tmp_path / "copy", data)


def test_the_secret_is_made_once_and_private(tmp_path: Path) -> None:
    first = secret_key(tmp_path)
    assert secret_key(tmp_path) == first
    assert len(first) >= 64
    assert stat.S_IMODE((tmp_path / "secret_key").stat().st_mode) == 0o600


def test_a_backup_is_not_written_over_unasked(data: Path, tmp_path: Path) -> None:
    add_lifter(data, "a")
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    before = copy.read_bytes()
    add_lifter(data, "b")
    with pytest.raises(BadInput, match="--replace"):
        back_up(copy, data)
    assert copy.read_bytes() == before
    assert back_up(copy, data, replace=True)["store_lifter"] == 2


EMPTY, DAMAGED, FOREIGN, TEXT = "is empty", "damaged", "holds no site", "not a database"


@pytest.mark.parametrize(("done", "says"), [
    ("INSERT INTO django_migrations (app, name, applied) "
     "VALUES ('store', '9999_of_next_year', '2030-01-01')", "a newer version"),
    ("DELETE FROM django_migrations WHERE name IN ('0001_tables', '0006_imports')",
     "a version of before the first release"),
])  # fmt: skip
def test_what_another_version_wrote_is_neither_served_nor_restored(
    done: str, says: str, data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    add_lifter(data, "somebody")
    with closing(_open(data)) as opened, opened:
        opened.execute(done)
    newer, other = database_file(data), tmp_path / "other"
    before = newer.read_bytes()
    for asked in (["serve", "--port", "0", "--data", str(data)],
                  ["restore", str(newer), "--data", str(other)]):  # fmt: skip
        assert exit_code(asked) == 2
        assert f"{newer}: was written by {says}" in capsys.readouterr().err
    assert newer.read_bytes() == before
    assert not database_file(other).exists()


@pytest.mark.parametrize("says", [EMPTY, DAMAGED, FOREIGN, TEXT])
@pytest.mark.parametrize("verb", ["serve", "take", "backup"])
def test_a_database_that_is_none_is_told_by_name(
    data: Path, tmp_path: Path, says: str, verb: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file, lifter = database_file(data), tmp_path / "ana.toml"
    lifter.write_text('name = "Ana"')
    if says == DAMAGED:
        for number in range(200):
            add_lifter(data, f"k{number}")
        content = bytearray(file.read_bytes())
        content[8192:-4096] = b"\x5a" * (len(content) - 8192 - 4096)
        file.write_bytes(content)
    else:
        file.unlink()
        file.write_bytes(b"a text, and long enough for one " * 200 if says == TEXT else b"")
    if says == FOREIGN:
        with closing(_open(data)) as opened, opened:
            opened.execute("CREATE TABLE t (x)")
    before = file.read_bytes()
    more = {"serve": ["--port", "0"], "take": [str(lifter)], "backup": [str(tmp_path / "copy")]}
    mask = os.umask(0o022)
    try:
        assert exit_code([verb, *more[verb], "--data", str(data)]) == 2
    finally:
        os.umask(mask)
    said = capsys.readouterr().err
    assert says in said
    assert str(file) in said
    assert "blockwright restore FILE" in said
    assert file.read_bytes() == before, "nothing was made of it"


def test_a_damaged_database_can_be_replaced_by_a_backup(data: Path, tmp_path: Path) -> None:
    add_lifter(data, "a")
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    database_file(data).write_bytes(b"")
    done = restore(copy, data)
    assert done.kept is not None
    assert lifters(database_file(data)) == 1


def test_who_was_erased_stays_erased_after_a_restore(data: Path, tmp_path: Path) -> None:
    gone, stays = uuid4().hex, uuid4().hex
    add_lifter(data, gone)
    add_lifter(data, stays)
    copy = tmp_path / "copy.sqlite3"
    back_up(copy, data)
    with closing(_open(data)) as opened, opened:
        opened.execute("INSERT INTO store_erasure VALUES (?, '2026-01-06')", (gone,))
        opened.execute("DELETE FROM store_lifter WHERE key = ?", (gone,))
    assert not restored_apart(copy, data)
    with closing(_open(data)) as opened:
        assert opened.execute("SELECT key FROM store_lifter").fetchall() == [(stays,)]
        assert opened.execute("SELECT lifter_key FROM store_erasure").fetchall() == [(gone,)]
    left = b"".join(one.read_bytes() for one in data.iterdir() if one.name.startswith("site."))
    assert f"Lifter {gone}".encode() not in left


def test_a_first_start_cut_short_is_told_from_an_old_site(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A disk that was full stopped it between two steps; it was said to be of an old version."""
    file = database_file(tmp_path)
    with closing(sqlite3.connect(file)) as opened, opened:
        opened.execute("CREATE TABLE django_migrations (app, name)")
        opened.execute("INSERT INTO django_migrations VALUES ('accounts', '0001_initial')")
        opened.execute("CREATE TABLE accounts_user (id)")
    for asked in (["serve", "--port", "0"], ["backup", str(tmp_path / "copy")]):
        assert exit_code([*asked, "--data", str(tmp_path)]) == 2
        said = capsys.readouterr().err
        assert "was left half made by its first start" in said
        assert "nobody is in it" in said
