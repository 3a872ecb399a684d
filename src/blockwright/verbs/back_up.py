"""Copies the site's database while it is in use, and puts a copy back.

Works on the SQLite file alone: no Django, nothing to stop. A copy counts as one only after it has
been opened, checked and counted.
"""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from blockwright.engine.errors import BadInput
from blockwright.store.folder import ENVIRONMENT as DATA_FOLDER
from blockwright.store.folder import (
    ServingLock,
    data_folder,
    database_file,
    made_folder,
    refuse_newer,
    require_sound,
)

COUNTED = (
    "accounts_user", "store_lifter", "store_blockrevision", "store_fact", "store_proposals",
    "store_decision",
)  # fmt: skip
_POSTGRES = "BLOCKWRIGHT_DATABASE_URL"
_PAGES_AT_ONCE = 256


@dataclass(frozen=True, slots=True)
class Copied:
    """A copy that was opened and counted: rows by table."""

    file: Path
    rows: dict[str, int]
    kept: Path | None = None
    """Where the database that was replaced went."""


def back_up(file: Path, data: Path | None = None, *, replace: bool = False) -> Copied:
    """Writes a verified copy of the site's database to `file`; over a file that is there only with
    `replace`. BadInput when it cannot be."""
    refuse_postgres("back up", "pg_dump")
    require_site(data)
    source = database_file(data_folder(data))
    if file.exists() and file.resolve() == source.resolve():
        raise BadInput.of("is the site's own database", "name another file", file=str(file))
    require_free(file, replace=replace)
    require_sound(source)
    with replacing(file) as partial:
        before = _counted(source)
        _copy(source, partial)
        after = _verified(partial)
        lost = [table for table in COUNTED if after[table] < before[table]]
        if lost and before == _counted(source):
            raise BadInput.of("the copy lacks rows", "check the disk", file=str(file))
    return Copied(file, after)


def restore(file: Path, data: Path | None = None) -> Copied:
    """Puts a backup in the place of the site's database; the one that was there is kept beside.

    BadInput while a server runs on the folder, or when the file is not a sound backup.
    """
    refuse_postgres("restore", "pg_restore")
    if not file.is_file():
        raise BadInput.of("there is no such file", "check the path", file=str(file))
    folder = made_folder(data)
    target = database_file(folder)
    lock = ServingLock(folder)
    lock.take()
    try:
        with replacing(target) as partial:
            _verified(file)
            _copy(file, partial)
            rows = _verified(partial)
            erased = who_erased(target)
            kept = put_aside(target)
        if erased:
            _erase_again(folder, erased)
            rows = _verified(target)
    finally:
        lock.give_back()
    return Copied(target, rows, kept)


def require_site(data: Path | None) -> None:
    source = database_file(data_folder(data))
    if not os.environ.get(_POSTGRES) and not source.is_file():
        mend = "name the folder of the site with --data DIR"
        raise BadInput.of("there is no site here yet", mend, file=str(source))


def require_free(file: Path, *, replace: bool) -> None:
    if file.exists() and not replace:
        raise BadInput.of("is there already", "name another file, or say --replace", file=str(file))


def refuse_postgres(verb: str, tool: str) -> None:
    if os.environ.get(_POSTGRES):
        says = f"the site's database is PostgreSQL, which this cannot {verb}"
        raise BadInput.of(says, f"use {tool}; docs/site.md says how", key=_POSTGRES)


@contextmanager
def replacing(file: Path) -> Iterator[Path]:
    """An empty file beside the target, for its owner only, to be filled; at the end it takes the
    target's place, or is gone where something failed."""
    partial = file.with_name(f"{file.name}.{os.getpid()}.part")
    try:
        partial.unlink(missing_ok=True)
        os.close(os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    except OSError as error:
        mend = "name a file in a folder that exists and that you may write to"
        says = f"cannot be written: {error.strerror or error}"
        raise BadInput.of(says, mend, file=str(file)) from error
    try:
        yield partial
        partial.replace(file)
    finally:
        partial.unlink(missing_ok=True)


def _copy(source: Path, target: Path) -> None:
    """SQLite's online backup: one consistent state, whoever writes meanwhile."""
    try:
        with closing(_reading(source)) as old, closing(sqlite3.connect(target)) as new:
            old.backup(new, pages=_PAGES_AT_ONCE, sleep=0.02)
            # A copy is one file: nothing of it may wait in a journal beside it.
            new.execute("PRAGMA journal_mode=DELETE")
    except sqlite3.Error as error:
        raise BadInput.of(
            f"cannot be copied: {error}", "check the disk", file=str(source)
        ) from error


def _reading(file: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True, timeout=20)


def _counted(file: Path) -> dict[str, int]:
    with closing(_reading(file)) as opened:
        return {
            table: int(opened.execute(f"SELECT count(*) FROM {table}").fetchone()[0])
            for table in COUNTED
        }


def _verified(file: Path) -> dict[str, int]:
    """The rows of a sound database of ours; BadInput for anything else."""
    mend = "give a file that `blockwright backup` wrote"
    try:
        with closing(_reading(file)) as opened:
            sound = opened.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            whole = not opened.execute("PRAGMA foreign_key_check").fetchall()
            refuse_newer(opened, file)
        if sound and whole:
            return _counted(file)
    except sqlite3.Error as error:
        raise BadInput.of(f"is not a backup of a site ({error})", mend, file=str(file)) from error
    raise BadInput.of("is damaged", mend, file=str(file))


def who_erased(target: Path) -> list[str]:
    """Who was erased from the database that is replaced; nobody where it cannot be read."""
    if not target.is_file():
        return []
    try:
        with closing(_reading(target)) as opened:
            return [row[0] for row in opened.execute("SELECT lifter_key FROM store_erasure")]
    except sqlite3.Error:
        return []


def _erase_again(folder: Path, keys: Sequence[str]) -> None:
    """Erases them from what was restored too, in a process of its own: the site's code, on this
    folder, whatever this process has open."""
    settings = {"DJANGO_SETTINGS_MODULE": "blockwright.server.settings"}
    environment = os.environ | settings | {DATA_FOLDER: str(folder)}
    command = [sys.executable, "-m", "blockwright.server.erase_again", *keys]
    ran = subprocess.run(command, env=environment, stdin=subprocess.DEVNULL, capture_output=True)
    if ran.returncode:
        says = "is restored, but who was erased since is back in it"
        mend = f"erase them anew on their pages: {', '.join(keys)}"
        raise BadInput.of(says, mend, file=str(database_file(folder)))


def put_aside(target: Path) -> Path | None:
    """Moves the database that is there out of the way, with what its journal still holds."""
    if not target.exists():
        return None
    # A damaged database, or none, has no journal worth keeping.
    with suppress(sqlite3.Error), closing(sqlite3.connect(target, timeout=20)) as old:
        old.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    number = 1
    while (kept := target.with_name(f"before-restore-{number}.sqlite3")).exists():
        number += 1
    target.replace(kept)
    for ending in ("-wal", "-shm"):
        target.with_name(target.name + ending).unlink(missing_ok=True)
    return kept


def put_back(kept: Path, target: Path) -> None:
    """Undoes `put_aside`, whatever stands in the place meanwhile."""
    for ending in ("-wal", "-shm"):
        target.with_name(target.name + ending).unlink(missing_ok=True)
    kept.replace(target)
