"""Opens the site's database for a command, without serving the site; and takes files into it, by
the action the site's own page uses."""

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.limits import read_limited
from blockwright.files.reading import CommandAnswer
from blockwright.store.folder import (
    DATABASE_URL,
    ENVIRONMENT,
    database_file,
    made_folder,
    require_sound,
    secret_key,
)


def open_store(data: Path | None) -> Path:
    """Sets Django up on the data folder and brings its database up to date; the folder.

    May run beside a server of the same folder. BadInput when the folder cannot be made."""
    # What the site writes is for the person who runs it.
    os.umask(0o077)
    folder = made_folder(data)
    if not os.environ.get(DATABASE_URL):
        require_sound(database_file(folder))
    secret_key(folder)
    os.environ[ENVIRONMENT] = str(folder)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "blockwright.server.settings")
    import django

    django.setup()
    from django.core.management import call_command

    call_command("migrate", verbosity=0, interactive=False)
    return folder


@contextmanager
def opened_store(data: Path | None) -> Iterator[None]:
    """The same, let go of afterwards."""
    before = os.umask(0o077)
    open_store(data)
    from django.db import connections

    try:
        yield
    finally:
        connections.close_all()
        os.umask(before)


_WORDS = {"sets": "set", "checkins": "check-in", "blocks": "block revision",
          "letters": "letter", "decisions": "decision"}  # fmt: skip
"""What is counted, by the names of `Taken`."""


def take_files(
    files: Sequence[Path], lifter: str | None = None, data: Path | None = None
) -> CommandAnswer:
    """Stores all of the files or none; they are of `lifter`, else of whom the lifter file (or a
    block) among them names. A lifter the site does not know is added, if their file is there.
    BadInput with every problem of every file."""
    contents = _read(files)
    with opened_store(data):
        from django.utils import timezone

        from .import_files import Given, take_for

        given = [Given(path.name, content) for path, content in contents]
        row, new, taken = take_for(lifter, given, timezone.now())
    counts = {key: getattr(taken, key) for key in _WORDS}
    document = {
        "format": "blockwright/take/1",
        "lifter": row.name,
        "new": new,
        "lifter_changed": taken.lifter_changed,
        **counts,
    }
    return CommandAnswer(document, _text(document), tuple(taken.warnings))


def _read(files: Sequence[Path]) -> list[tuple[Path, bytes]]:
    found: list[tuple[Path, bytes]] = []
    problems: list[Problem] = []
    for path in files:
        try:
            found.append((path, read_limited(path)))
        except BadInput as error:
            problems += error.problems
    BadInput.raise_any(problems)
    return found


def _text(document: dict[str, Any]) -> str:
    parts = [
        f"{document[key]} {word}{'' if document[key] == 1 else 's'}" for key, word in _WORDS.items()
    ]
    who = f"{document['lifter']} is new here" if document["new"] else document["lifter"]
    changed = "the lifter file, " if document["lifter_changed"] else ""
    return f"{who}: taken in {changed}{', '.join(parts)}."
