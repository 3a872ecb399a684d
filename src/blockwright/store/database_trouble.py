"""What is wrong with the site's database, by name and with the mend. Imports no Django."""

import sqlite3
from contextlib import closing
from pathlib import Path

from blockwright.engine.errors import BadInput, Problem

_RESTORE = "stop the site and put a backup back: blockwright restore FILE"
_TROUBLES = (
    ("is full", "the disk is full", "free space on the site's machine, then try again"),
    ("malformed", "the database is damaged", _RESTORE),
    ("not a database", "the file is not a database", _RESTORE),
    ("readonly", "the database may not be written", "give the site's user the right to write it"),
    ("disk I/O", "the disk cannot be read or written", "check the disk, then restore a backup"),
    ("unable to open", "the database cannot be opened", "check the folder and its rights"),
)
_OURS = "django_migrations"


def database_trouble(error: BaseException) -> tuple[str, str] | None:
    """What an error of the database says in a person's words, and the mend; None for another."""
    if not any(kind.__name__ in ("DatabaseError", "Error") and kind.__module__ in
               ("sqlite3", "django.db.utils") for kind in type(error).__mro__):  # fmt: skip
        return None
    said = str(error)
    return next(((says, mend) for theirs, says, mend in _TROUBLES if theirs in said), None)


def require_sound(file: Path) -> None:
    """BadInput for a database file that is there and is none of ours, empty or damaged: a site
    that had people in it must not begin anew over it, in silence."""
    if not file.exists():
        return
    mend = f"{_RESTORE}; or move the file away to begin a new site"
    if file.stat().st_size == 0 and not file.with_name(f"{file.name}-wal").exists():
        raise BadInput(Problem(file=str(file), says="is empty", mend=mend))
    try:
        with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=rw", uri=True)) as opened:
            names = {row[0] for row in opened.execute("SELECT name FROM sqlite_master")}
            sound = opened.execute("PRAGMA quick_check(1)").fetchall() == [("ok",)]
    except sqlite3.Error as error:
        says, mend = database_trouble(error) or (f"cannot be read ({error})", mend)
        raise BadInput(Problem(file=str(file), says=says, mend=mend)) from error
    if not sound:
        raise BadInput(Problem(file=str(file), says="the database is damaged", mend=mend))
    if _OURS not in names:
        raise BadInput(Problem(file=str(file), says="holds no site", mend=mend))
