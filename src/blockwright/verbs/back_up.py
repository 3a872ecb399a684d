"""Copies the site's database while it is in use, and puts a copy back.

Works on the SQLite file alone: no Django, nothing to stop. A copy counts as one only after it has
been opened, checked and counted; then it is sealed: its header says so, and behind its last page
stands the SHA-256 of all before it. A copy without a seal (of an older version, or made by other
means) is opened as the site would open it before it is put back.
"""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from blockwright.engine.errors import BadInput
from blockwright.store.folder import ENVIRONMENT as DATA_FOLDER
from blockwright.store.folder import (
    ServingLock,
    data_folder,
    database_file,
    made_folder,
    refuse_other_versions,
    require_sound,
)

COUNTED = (
    "accounts_user", "store_lifter", "store_blockrevision", "store_fact", "store_proposals",
    "store_decision",
)  # fmt: skip
_POSTGRES = "BLOCKWRIGHT_DATABASE_URL"
_PAGES_AT_ONCE = 256
_NOT_SEALED, _SEALED = 0, 0x426C6B77
"""SQLite's `application_id`, which stands at this byte of a file:"""
_MARK_AT = 68
_SEAL = b"\nblockwright backup, SHA-256 "
_SEAL_LENGTH = len(_SEAL) + 2 * sha256().digest_size
_MEND = "give a file that `blockwright backup` wrote"


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
        _copy(source, partial, _SEALED)
        after = _verified(partial)
        lost = [table for table in COUNTED if after[table] < before[table]]
        if lost and before == _counted(source):
            raise BadInput.of("the copy lacks rows", "check the disk", file=str(file))
        digest = sha256(partial.read_bytes()).hexdigest()
        with partial.open("ab") as out:
            out.write(_SEAL + digest.encode())
    return Copied(file, after)


def restore(file: Path, data: Path | None = None) -> Copied:
    """Puts a backup in the place of the site's database; the one that was there is kept beside.
    Who was erased from that one is erased from the backup's rows first.

    BadInput, and nothing stored, while a server runs on the folder, or when the file is not a
    sound backup.
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
            sealed = _is_sealed(file)
            _verified(file)
            _copy(file, partial, _NOT_SEALED)
            erased = who_erased(target)
            if erased or not sealed:
                _open_as_site(file, partial, erased)
            rows = _verified(partial)
            kept = keep_beside(target)
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


def _copy(source: Path, target: Path, mark: int) -> None:
    """SQLite's online backup: one consistent state, whoever writes meanwhile."""
    try:
        with closing(_reading(source)) as old, closing(sqlite3.connect(target)) as new:
            old.backup(new, pages=_PAGES_AT_ONCE, sleep=0.02)
            # A copy is one file: nothing of it may wait in a journal beside it.
            new.execute("PRAGMA journal_mode=DELETE")
            new.execute(f"PRAGMA application_id={mark}")
    except sqlite3.Error as error:
        says = f"cannot be copied: {error}"
        raise BadInput.of(says, "check the disk", file=str(source)) from error


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
    try:
        with closing(_reading(file)) as opened:
            sound = opened.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            whole = not opened.execute("PRAGMA foreign_key_check").fetchall()
            refuse_other_versions(opened, file)
        if sound and whole:
            return _counted(file)
    except sqlite3.Error as error:
        raise BadInput.of(f"is not a backup of a site ({error})", _MEND, file=str(file)) from error
    raise BadInput.of("is damaged", _MEND, file=str(file))


def _is_sealed(file: Path) -> bool:
    """Whether `back_up` wrote every byte of the file; BadInput for one that was changed since."""
    content = file.read_bytes()
    body, seal = content[:-_SEAL_LENGTH], content[-_SEAL_LENGTH:]
    if not seal.startswith(_SEAL) and content[_MARK_AT : _MARK_AT + 4] != _SEALED.to_bytes(4):
        return False
    if seal != _SEAL + sha256(body).hexdigest().encode():
        says = "is damaged: it is not as `blockwright backup` wrote it"
        raise BadInput.of(says, "copy it here again from where it is kept, or give an older one",
                          file=str(file))  # fmt: skip
    return True


def who_erased(target: Path) -> list[str]:
    """Who was erased from the database that is replaced; nobody where it cannot be read."""
    if not target.is_file():
        return []
    try:
        with closing(_reading(target)) as opened:
            return [row[0] for row in opened.execute("SELECT lifter_key FROM store_erasure")]
    except sqlite3.Error:
        return []


def _open_as_site(file: Path, partial: Path, erased: Sequence[str]) -> None:
    """Has the site's code bring the copy up to date, read every row of it and erase those who were
    erased since: in a process and a folder of its own, whatever this process has open. BadInput
    where it cannot."""
    with tempfile.TemporaryDirectory(dir=partial.parent) as room:
        copy = partial.replace(database_file(Path(room)))
        settings = {"DJANGO_SETTINGS_MODULE": "blockwright.server.settings"}
        environment = os.environ | settings | {DATA_FOLDER: room}
        command = [sys.executable, "-m", "blockwright.server.restored", *erased]
        ran = subprocess.run(command, env=environment, stdin=subprocess.DEVNULL,
                             capture_output=True, text=True)  # fmt: skip
        if ran.returncode:
            why = (ran.stderr.strip().splitlines() or ["it stopped"])[-1].rpartition("Error: ")[2]
            raise BadInput.of(f"is no site that this version can open ({why})"[:300], _MEND,
                              file=str(file))  # fmt: skip
        copy.replace(partial)


def keep_beside(target: Path) -> Path | None:
    """Gives the database that is there a second name, with what its journal still holds. It stays
    in its place until another takes it, so that no power cut leaves the site without one."""
    if not target.exists():
        return None
    # A damaged database, or none, has no journal worth keeping.
    with suppress(sqlite3.Error), closing(sqlite3.connect(target, timeout=20)) as old:
        old.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    number = 1
    while (kept := target.with_name(f"before-restore-{number}.sqlite3")).exists():
        number += 1
    try:
        kept.hardlink_to(target)
    except OSError:  # a file system without second names
        shutil.copy2(target, kept)
    for ending in ("-wal", "-shm"):
        target.with_name(target.name + ending).unlink(missing_ok=True)
    return kept
