"""Copies the site's database while it is in use.

Works on the SQLite file alone: no Django, nothing to stop. A copy counts as one only after it has
been opened, checked and counted; then it is sealed: its header says so, and behind its last page
stands the SHA-256 of all before it."""

import os
import sqlite3
from contextlib import closing
from hashlib import sha256
from pathlib import Path

from blockwright.engine.errors import BadInput
from blockwright.store.folder import (
    DATABASE_URL,
    data_folder,
    database_file,
    database_trouble,
    refuse_other_versions,
    replacing,
    require_sound,
)

COUNTED = (
    "accounts_user", "store_lifter", "store_blockrevision", "store_fact", "store_proposals",
    "store_decision",
)  # fmt: skip
_PAGES_AT_ONCE = 256
NOT_SEALED, SEALED = 0, 0x426C6B77
"""SQLite's `application_id`, which stands at this byte of a file:"""
_MARK_AT = 68
_SEAL = b"\nblockwright backup, SHA-256 "
_SEAL_LENGTH = len(_SEAL) + 2 * sha256().digest_size
MEND = "give a file that `blockwright backup` wrote"


def back_up(file: Path, data: Path | None = None, *, replace: bool = False) -> dict[str, int]:
    """Writes a verified copy of the site's database to `file`; over a file that is there only with
    `replace`. How many rows each table has in it. BadInput when it cannot be."""
    refuse_postgres("back up", "pg_dump")
    require_site(data)
    source = database_file(data_folder(data))
    if file.exists() and file.resolve() == source.resolve():
        raise BadInput.of("is the site's own database", "name another file", file=str(file))
    require_free(file, replace=replace)
    require_sound(source)
    with replacing(file) as partial:
        copied(source, partial, SEALED)
        rows = verified(partial)
        digest = sha256(partial.read_bytes()).hexdigest()
        with partial.open("ab") as out:
            out.write(_SEAL + digest.encode())
    return rows


def require_site(data: Path | None) -> None:
    source = database_file(data_folder(data))
    if not os.environ.get(DATABASE_URL) and not source.is_file():
        mend = "name the folder of the site with --data DIR"
        raise BadInput.of("there is no site here yet", mend, file=str(source))


def require_free(file: Path, *, replace: bool) -> None:
    if file.exists() and not replace:
        raise BadInput.of("is there already", "name another file, or say --replace", file=str(file))


def refuse_postgres(verb: str, tool: str) -> None:
    if os.environ.get(DATABASE_URL):
        says = f"the site's database is PostgreSQL, which this cannot {verb}"
        raise BadInput.of(says, f"use {tool}; docs/site.md says how", key=DATABASE_URL)


def copied(source: Path, target: Path, mark: int) -> None:
    """SQLite's online backup: one consistent state, whoever writes meanwhile."""
    try:
        with closing(reading(source)) as old, closing(sqlite3.connect(target)) as new:
            old.backup(new, pages=_PAGES_AT_ONCE, sleep=0.02)
            # A copy is one file: nothing of it may wait in a journal beside it.
            new.execute("PRAGMA journal_mode=DELETE")
            new.execute(f"PRAGMA application_id={mark}")
    except sqlite3.Error as error:
        says, mend = database_trouble(error) or (str(error), "check the disk")
        raise BadInput.of(f"cannot be copied: {says}", mend, file=str(source)) from error


def reading(file: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True, timeout=20)


def _counted(file: Path) -> dict[str, int]:
    with closing(reading(file)) as opened:
        return {
            table: int(opened.execute(f"SELECT count(*) FROM {table}").fetchone()[0])
            for table in COUNTED
        }


def verified(file: Path) -> dict[str, int]:
    """The rows of a sound database of ours; BadInput for anything else."""
    try:
        with closing(reading(file)) as opened:
            sound = opened.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            whole = not opened.execute("PRAGMA foreign_key_check").fetchall()
            refuse_other_versions(opened, file)
        if sound and whole:
            return _counted(file)
    except sqlite3.Error as error:
        raise BadInput.of(f"is not a backup of a site ({error})", MEND, file=str(file)) from error
    raise BadInput.of("is damaged", MEND, file=str(file))


def is_sealed(file: Path) -> bool:
    """Whether `back_up` wrote every byte of the file; BadInput for one that was changed since."""
    content = file.read_bytes()
    body, seal = content[:-_SEAL_LENGTH], content[-_SEAL_LENGTH:]
    if not seal.startswith(_SEAL) and content[_MARK_AT : _MARK_AT + 4] != SEALED.to_bytes(4):
        return False
    if seal != _SEAL + sha256(body).hexdigest().encode():
        says = "is damaged: it is not as `blockwright backup` wrote it"
        raise BadInput.of(says, "copy it here again from where it is kept, or give an older one",
                          file=str(file))  # fmt: skip
    return True
