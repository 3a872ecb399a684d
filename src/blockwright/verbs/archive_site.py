"""The whole site as one archive (docs/archive.md)."""

from contextlib import closing
from pathlib import Path
from typing import IO

from blockwright.files.archive_zip import ArchiveWriter, exact_json
from blockwright.store.folder import replacing
from .back_up import require_free, require_site
from .open_store import opened_store

_README = """Everything a Blockwright site knows, to be read back by `blockwright restore`.

archive.json           the format, and the SHA-256 of every other file
site.json              people (no passwords), remembered names, house templates, who was erased
lifters/KEY/rows.json  a lifter: shares, blocks, facts, letters, decisions, searches, imports
lifters/KEY/           lifter.toml, sets.csv, checkins.csv: the same for people and spreadsheets;
                       `restore` does not read them
"""


def write_archive(out: IO[bytes]) -> dict[str, int]:
    """Writes the site's archive, of one moment; the same rows give the same bytes. How many of what
    are in it."""
    from django.db import transaction

    from blockwright.store.archive_rows import lifter_tables, site_tables
    from blockwright.store.facts import facts_of
    from blockwright.store.models import Lifter
    from .erase_lifter import files_for_people

    facts = 0
    with closing(ArchiveWriter(out)) as archive, transaction.atomic():
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
    return {"lifters": len(lifters), "facts": facts, "people": len(site["people"])}


def archive_site(file: Path, data: Path | None = None, *, replace: bool = False) -> dict[str, int]:
    """Writes the archive of the site in the data folder to `file`, whole or not at all. BadInput
    when it cannot be, or is there already (without `replace`)."""
    require_site(data)
    require_free(file, replace=replace)
    with replacing(file) as partial, opened_store(data), partial.open("wb") as out:
        return write_archive(out)
