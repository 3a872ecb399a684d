"""Puts a copy of a site in the place of the site's database: a backup (`back_up`), or an archive,
which makes a fresh site (docs/archive.md).

What is there stays in its place until the new one is whole, so that no power cut leaves the folder
without a site; it is kept beside. Who was erased from it stays erased. A backup without a seal (of
an older version, or made by other means) is opened as the site would open it before it is put back.
"""

import shutil
import sqlite3
from collections import deque
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any
from uuid import UUID

from pydantic import TypeAdapter

from blockwright.engine.errors import BadInput
from blockwright.engine.training import CheckIn, Moment, SetDone
from blockwright.files.archive_zip import ArchiveReader, looks_like_zip
from blockwright.files.limits import what_cannot_be_kept
from blockwright.store.folder import database_file, database_trouble, made_folder, serving_alone
from . import back_up
from .open_store import opened_store

if TYPE_CHECKING:
    from django.db.models import Model


@dataclass(frozen=True, slots=True)
class Restored:
    """What the site holds now: rows by table."""

    rows: dict[str, int]
    kept: Path | None = None  # Where the database that was replaced went
    erased: int | None = None  # Of an archive: lifters left out because they were erased since


def restore(file: Path, data: Path | None = None, *, anew: bool = False) -> Restored:
    """Puts a backup in the place of the site's database, or makes a fresh site of an archive, in
    the place of one that is there only with `anew`.

    BadInput, and nothing stored, while a server runs on the folder, for a file that is no sound
    backup, for an archive that is damaged, of another version, too large, or none, and for one
    where the site is not fresh."""
    reader = None
    if not looks_like_zip(file):
        back_up.refuse_postgres("restore", "pg_restore")
        if not file.is_file():
            raise BadInput.of("there is no such file", "check the path", file=str(file))
    else:
        if anew:
            back_up.refuse_postgres("replace", "a new database")
        reader = ArchiveReader(file)
    folder = made_folder(data)
    with serving_alone(folder):
        if reader is not None and not anew:
            with opened_store(data):
                return _from_archive(reader, [])
        target = database_file(folder)
        erased = _who_erased(target)
        with TemporaryDirectory(dir=folder) as name:
            room = Path(name)
            if reader is None:
                found = _from_backup(file, room, erased)
            else:
                with opened_store(room):
                    found = _from_archive(reader, erased)
            kept = _keep_beside(target)
            database_file(room).replace(target)
    return replace(found, kept=kept)


def _from_backup(file: Path, room: Path, erased: list[str]) -> Restored:
    """Copies a sound backup into the folder `room`, without the lifters erased since."""
    copy = database_file(room)
    copy.touch(0o600)
    sealed = back_up.is_sealed(file)
    back_up.verified(file)
    back_up.copied(file, copy, back_up.NOT_SEALED)
    if erased or not sealed:
        try:
            with opened_store(room):
                _read_whole(erased)
        except Exception as error:
            says = f"is no site that this version can open ({error})"[:300]
            raise BadInput.of(says, back_up.MEND, file=str(file)) from error
    return Restored(back_up.verified(copy))


def _read_whole(erased: list[str]) -> None:
    """Reads every row of the tables, brought up to date, and repeats the erasures."""
    from django.apps import apps

    from .erase_lifter import erase_again

    for model in apps.get_models():
        deque(model._base_manager.iterator(), maxlen=0)
    erase_again(erased)


def _who_erased(target: Path) -> list[str]:
    """Who was erased from the database that is replaced; nobody where it cannot be read."""
    if not target.is_file():
        return []
    try:
        with closing(back_up.reading(target)) as opened:
            return [row[0] for row in opened.execute("SELECT lifter_key FROM store_erasure")]
    except sqlite3.Error:
        return []


def _keep_beside(target: Path) -> Path | None:
    """Gives the database that is there a second name, with what its journal still holds. It stays
    in its place until another takes it, so that no power cut leaves the site without one. BadInput
    for a full disk, and where somebody has it open: what they write would be nowhere."""
    if not target.exists():
        return None
    try:
        with closing(sqlite3.connect(target, timeout=20)) as old:
            old.execute("PRAGMA journal_mode=DELETE")
    except sqlite3.Error as error:
        # A damaged database, or none, has no journal worth keeping.
        if (found := database_trouble(error)) is not None and "restore" not in found[1]:
            raise BadInput.of(*found, file=str(target)) from error
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


def _from_archive(reader: ArchiveReader, erased: list[str]) -> Restored:
    """Makes a fresh site of an archive."""
    from django.db import IntegrityError, connection, transaction

    from blockwright.accounts.models import User
    from blockwright.store.archive_rows import is_fresh, set_counters, site_rows, store_rows
    from blockwright.store.models import Erasure, Fact, HouseFrame, Lifter
    from .erase_lifter import erase_again
    from .house_templates import frame_of_visits, visits_of

    if not is_fresh():
        says = "the site in this folder has people or lifters already"
        mend = "name another folder with --data DIR, or say --replace"
        raise BadInput.of(says, mend, column="data")
    gone = {UUID(key) for key in erased} | set(Erasure.objects.values_list("pk", flat=True))
    try:
        with transaction.atomic():
            site = _rows(reader, "site.json", site_rows)
            with _readable(reader, "site.json"):
                for frame in (row for row in site if isinstance(row, HouseFrame)):
                    visits_of(frame_of_visits(frame.visits))
            erasures = {row.pk: row for row in site if isinstance(row, Erasure)}
            Erasure.objects.filter(pk__in=erasures).delete()
            store_rows(site)
            gone |= set(erasures)
            for name in reader.names():
                if name.endswith("/rows.json"):
                    store_rows(_lifter(reader, name))
            connection.check_constraints()
            set_counters()
            back = Lifter.objects.filter(pk__in=gone).count()
            erase_again(str(key) for key in sorted(gone))
    except IntegrityError as error:
        raise reader.bad("does not fit the lifters beside it", "site.json") from error
    rows = {
        "accounts_user": User.objects.count(),
        "store_lifter": Lifter.objects.count(),
        "store_fact": Fact.objects.count(),
    }
    return Restored(rows, erased=back)


def _lifter(reader: ArchiveReader, name: str) -> "list[Model]":
    """The rows of one lifter, each document one that the pages can read."""
    from blockwright.files.block_json import block_from_json
    from blockwright.files.lifter_file import lifter_from_table
    from blockwright.files.proposals_json import proposals_from_json
    from blockwright.store.archive_rows import lifter_rows
    from blockwright.store.convert import checkins, sets_done
    from blockwright.store.models import BlockRevision, Composing, Fact, Proposals

    rows = _rows(reader, name, lifter_rows)
    lifter: Any = rows[0]
    if str(lifter.pk) != name.split("/")[1]:
        raise reader.bad("is another lifter's", name)
    facts = [row for row in rows if isinstance(row, Fact)]
    kinds = {Fact.SET: TypeAdapter[Any](SetDone), Fact.CHECKIN: TypeAdapter[Any](CheckIn)}
    with _readable(reader, name):
        lifter_from_table(lifter.document, name)
        for row in rows:
            if isinstance(row, BlockRevision):
                block_from_json(row.document, name)
            elif isinstance(row, Proposals):
                proposals_from_json(row.document, name)
            elif isinstance(row, Composing):
                for key in ("problems", "rules", "give_up"):
                    iter(row.says.get(key, ()))
                if row.document is not None:
                    block_from_json(row.document, name)
        sets_done(facts)
        checkins(facts)
        for fact in facts:
            if fact.kind != Fact.SESSION:
                kinds[fact.kind].validate_python({"moment": Moment(day=fact.day), **fact.body})
            if fact.event is not None:
                fact.event[fact.kind].items()
    return rows


@contextmanager
def _readable(reader: ArchiveReader, name: str) -> Iterator[None]:
    try:
        yield
    except (BadInput, KeyError, TypeError, ValueError, AttributeError) as error:
        raise reader.bad(f"holds what no page can read ({error})"[:300], name) from error


def _rows(reader: ArchiveReader, name: str, made: Any) -> "list[Model]":
    from blockwright.store.archive_rows import NotARowError

    document = reader.document(name)
    fault = what_cannot_be_kept(document)
    if fault is not None:
        raise reader.bad(fault, name)
    try:
        rows: list[Model] = made(document)
    except NotARowError as error:
        raise reader.bad(str(error), name) from error
    return rows
