"""The data folder: database, secret, certificate. Knows paths; imports no Django.

site.sqlite3     the database (unless another is named by BLOCKWRIGHT_DATABASE_URL)
secret_key       made at first start, mode 600
certificate/     of `serve --https`
static/          the site's scripts and styles, written at each start
serving.lock     held while a server runs

And what is wrong with the database, by name and with the mend."""

import os
import secrets
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from errno import EEXIST, EISDIR, ENOSPC
from pathlib import Path

from blockwright.accounts.migrations import BEFORE
from blockwright.engine.errors import BadInput
from .migrations import BEFORE as BEFORE_STORE

ENVIRONMENT = "BLOCKWRIGHT_DATA"
DATABASE_URL = "BLOCKWRIGHT_DATABASE_URL"


def data_folder(given: Path | None = None) -> Path:
    """The folder named, or named by the environment, or the user's own data folder."""
    if given is not None:
        return given.absolute()
    named = os.environ.get(ENVIRONMENT)
    if named:
        return Path(named).absolute()
    from platformdirs import user_data_path

    return user_data_path("blockwright")


def made_folder(given: Path | None = None) -> Path:
    """The folder, made if need be, for its owner only. BadInput when it cannot be."""
    folder = data_folder(given)
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise BadInput.of(
            f"cannot be the data folder: {error.strerror or error}",
            "name a folder you may write to with --data DIR",
            file=str(folder),
        ) from error
    return folder


def database_file(folder: Path) -> Path:
    return folder / "site.sqlite3"


def secret_key(folder: Path) -> str:
    """The site's secret; made at the first start and never shown."""
    file = folder / "secret_key"
    if not file.exists():
        write_private(file, secrets.token_urlsafe(64).encode())
    return file.read_text(encoding="ascii")


@contextmanager
def replacing(file: Path, mode: int = 0o600) -> Iterator[Path]:
    """An empty file beside the target, for its owner only where nothing else is said, to be filled;
    at the end it takes the target's place, or is gone where something failed. BadInput when the
    place cannot be written."""
    try:
        if not file.name:
            raise IsADirectoryError(EISDIR, "it is a folder")
        if file.exists() and not (file.is_file() or file.is_dir()):
            raise FileExistsError(EEXIST, "it is a device")
        partial = file.with_name(f"{file.name}.{os.getpid()}.part")
        partial.unlink(missing_ok=True)
        os.close(os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode))
        try:
            yield partial
            partial.replace(file)
        finally:
            partial.unlink(missing_ok=True)
    except OSError as error:
        mend = "name a file in a folder that exists and that you may write to"
        mend = _ROOM[1] if error.errno == ENOSPC else mend
        says = f"cannot be written: {error.strerror or error}"
        raise BadInput.of(says, mend, file=str(file)) from error


def write_private(file: Path, content: bytes) -> None:
    """Writes a file that only its owner may read, whole or not at all."""
    with replacing(file) as partial:
        partial.write_bytes(content)


@contextmanager
def serving_alone(folder: Path) -> Iterator[None]:
    """Held by the running server; lets `restore` refuse to pull the database from under it.
    BadInput when a server is running on this folder.

    A lock on an SQLite file: it works on every system and ends with the process, however it ends.
    """
    file = folder / "serving.lock"
    file.touch(0o600)
    with closing(sqlite3.connect(file, timeout=0, isolation_level=None)) as held:
        try:
            held.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as error:
            raise BadInput.of(
                "is in use by a running server",
                "stop that server first, or name another folder with --data DIR",
                file=str(folder),
            ) from error
        yield


_RESTORE = "stop the site and put a backup back: blockwright restore FILE"
_ROOM = ("the disk is full", "free space on the site's machine, then try again")
_TURN = ("somebody else is writing, and takes long", "try again in a minute")
_GONE = ("PostgreSQL does not answer", "start it, or mend BLOCKWRIGHT_DATABASE_URL")
_TROUBLES = (
    ("is full", *_ROOM),
    ("No space left", *_ROOM),
    ("malformed", "the database is damaged", _RESTORE),
    ("not a database", "the file is not a database", _RESTORE),
    ("readonly", "the database may not be written", "give the site's user the right to write it"),
    ("disk I/O", "the disk cannot be read or written", "check the disk, then restore a backup"),
    ("unable to open", "the database cannot be opened", "check the folder and its rights"),
    *((theirs, *_TURN) for theirs in ("is locked", "timeout", "deadlock")),
    ("connection", *_GONE),
)
"""What SQLite and PostgreSQL say, and what it means."""
PASSING = (_TURN, _GONE)  # Not the disk's nor the file's
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
        raise BadInput.of("is empty", mend, file=str(file))
    try:
        with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=rw", uri=True)) as opened:
            names = {row[0] for row in opened.execute("SELECT name FROM sqlite_master")}
            sound = opened.execute("PRAGMA quick_check(1)").fetchall() == [("ok",)]
            if _OURS in names:
                refuse_other_versions(opened, file)
    except sqlite3.Error as error:
        says, mend = database_trouble(error) or (f"cannot be read ({error})", mend)
        raise BadInput.of(says, mend, file=str(file)) from error
    if not sound:
        raise BadInput.of("the database is damaged", mend, file=str(file))
    if _OURS not in names:
        raise BadInput.of("holds no site", mend, file=str(file))


def refuse_other_versions(opened: sqlite3.Connection, file: Path) -> None:
    """BadInput for a database that a newer version has changed (ours would write it wrong), or
    that a version of before the first release left half way."""
    code = Path(__file__).parents[1]
    for app, before in (("accounts", BEFORE), ("store", BEFORE_STORE)):
        rows = opened.execute(f"SELECT name FROM {_OURS} WHERE app = ?", [app])
        steps = {name for (name,) in rows}
        known = {step.stem for step in (code / app / "migrations").glob("0*.py")}
        if steps - known - set(before):
            mend = "take that version, or a newer one"
            raise BadInput.of("was written by a newer version of Blockwright", mend, file=str(file))
        if steps and set(before) - steps:
            if _is_nobodys(opened):
                mend = "free space on the disk, move the file away and start again: nobody is in it"
                raise BadInput.of("was left half made by its first start", mend, file=str(file))
            says = "was written by a version of before the first release"
            raise BadInput.of(says, "open it once with one of November 2026", file=str(file))


def _is_nobodys(opened: sqlite3.Connection) -> bool:
    """Whether a database holds neither people nor lifters, nor, it may be, their tables."""
    names = {name for (name,) in opened.execute("SELECT name FROM sqlite_master")}
    there = sorted(names & {"accounts_user", "store_lifter"})
    return not any(opened.execute(f"SELECT 1 FROM {one} LIMIT 1").fetchone() for one in there)
