"""The whole site as one archive, and a fresh site from it (docs/archive.md)."""

import dataclasses
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO, TYPE_CHECKING, Any
from uuid import UUID

from blockwright.engine.errors import BadInput
from blockwright.files.archive_zip import ArchiveReader, ArchiveWriter, exact_json
from blockwright.files.limits import what_cannot_be_kept
from blockwright.store.folder import ServingLock, database_file, made_folder
from blockwright.verbs import back_up
from blockwright.verbs.open_store import open_store

if TYPE_CHECKING:
    from django.db.models import Model

_README = """Everything a Blockwright site knows, to be read back by `blockwright restore`.

archive.json           the format, and the SHA-256 of every other file
site.json              people (no passwords), remembered names, house templates, who was erased
lifters/KEY/rows.json  a lifter: shares, blocks, facts, letters, decisions, searches, imports
lifters/KEY/           lifter.toml, sets.csv, checkins.csv: the same for people and spreadsheets;
                       `restore` does not read them
"""


@dataclass(frozen=True, slots=True)
class Archived:
    """What an archive holds, or a site got from one: how many of each."""

    lifters: int
    facts: int
    people: int
    kept: Path | None = None
    """Where the database that was replaced went."""
    erased: int = 0
    """Lifters left out because they were erased since."""


def write_archive(out: IO[bytes]) -> Archived:
    """Writes the site's archive, of one moment; the same rows give the same bytes."""
    from django.db import transaction

    from blockwright.store.archive_rows import lifter_tables, site_tables
    from blockwright.store.facts import facts_of
    from blockwright.store.models import Lifter
    from blockwright.verbs.erase_lifter import files_for_people

    archive = ArchiveWriter(out)
    facts = 0
    with transaction.atomic():
        site = site_tables()
        archive.add("README.txt", _README)
        archive.add("site.json", exact_json(site))
        lifters = list(Lifter.objects.order_by("key"))
        for row in lifters:
            tables = lifter_tables(row)
            facts += len(tables["facts"])
            archive.add(f"lifters/{row.key}/rows.json", exact_json(tables))
            for name, text in files_for_people(row, facts_of(row)).items():
                archive.add(f"lifters/{row.key}/{name}", text)
    archive.close()
    return Archived(len(lifters), facts, len(site["people"]))


def archive_site(file: Path, data: Path | None = None, *, replace: bool = False) -> Archived:
    """Writes the archive of the site in the data folder to `file`, whole or not at all. BadInput
    when it cannot be, or is there already (without `replace`)."""
    back_up.require_site(data)
    back_up.require_free(file, replace=replace)
    with back_up.replacing(file) as partial, _open(data), partial.open("wb") as out:
        return write_archive(out)


def restore_archive(file: Path, data: Path | None = None, *, replace: bool = False) -> Archived:
    """Makes a fresh site of an archive; in the place of one that is there only with `replace`, and
    then the old one is kept beside: it stays in its place until the new one is whole, so that no
    power cut leaves the site without one. Who was erased there or in the archive stays erased.

    BadInput, and nothing stored, while a server runs, when the site is not fresh, or for an
    archive that is damaged, of another version, too large, or no archive.
    """
    if replace:
        back_up.refuse_postgres("replace", "a new database")
    reader = ArchiveReader(file)
    folder = made_folder(data)
    lock = ServingLock(folder)
    lock.take()
    try:
        if not replace:
            with _open(data):
                return _restored(reader, [])
        target = database_file(folder)
        with TemporaryDirectory(dir=folder) as room:
            with _open(Path(room)):
                restored = _restored(reader, back_up.who_erased(target))
            kept = back_up.keep_beside(target)
            database_file(Path(room)).replace(target)
        return dataclasses.replace(restored, kept=kept)
    finally:
        lock.give_back()


def _restored(reader: ArchiveReader, erased: list[str]) -> Archived:
    from django.db import IntegrityError, connection, transaction

    from blockwright.accounts.models import User
    from blockwright.store.archive_rows import is_fresh, set_counters, site_rows, store_rows
    from blockwright.store.models import Erasure, Fact, Lifter
    from blockwright.verbs.erase_lifter import erase_again

    if not is_fresh():
        says = "the site in this folder has people or lifters already"
        mend = "name another folder with --data DIR, or say --replace"
        raise BadInput.of(says, mend, column="--data")
    gone = {UUID(key) for key in erased} | set(Erasure.objects.values_list("pk", flat=True))
    try:
        with transaction.atomic():
            site = _rows(reader, "site.json", site_rows)
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
    return Archived(Lifter.objects.count(), Fact.objects.count(), User.objects.count(), erased=back)


def _lifter(reader: ArchiveReader, name: str) -> "list[Model]":
    """The rows of one lifter, each document one that the pages can read."""
    from blockwright.files.block_json import block_from_json
    from blockwright.files.lifter_file import lifter_from_table
    from blockwright.store.archive_rows import lifter_rows
    from blockwright.store.convert import checkins, sets_done
    from blockwright.store.models import BlockRevision, Fact

    rows = _rows(reader, name, lifter_rows)
    lifter: Any = rows[0]
    if str(lifter.pk) != name.split("/")[1]:
        raise reader.bad("is another lifter's", name)
    facts = [row for row in rows if isinstance(row, Fact)]
    try:
        lifter_from_table(lifter.document, name)
        for row in rows:
            if isinstance(row, BlockRevision):
                block_from_json(row.document, name)
        sets_done(facts)
        checkins(facts)
    except (BadInput, KeyError, TypeError, ValueError, AttributeError) as error:
        raise reader.bad(f"holds what no page can read ({error})"[:300], name) from error
    return rows


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


@contextmanager
def _open(data: Path | None) -> Iterator[None]:
    """The site's database, let go of afterwards."""
    before = os.umask(0o077)
    open_store(data)
    from django.db import connections

    try:
        yield
    finally:
        connections.close_all()
        os.umask(before)
