"""Takes files into the site from the command line, by the action the site's own page uses."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.limits import read_limited
from blockwright.files.reading import CommandAnswer
from blockwright.verbs.open_store import open_store

if TYPE_CHECKING:
    from blockwright.store.models import Lifter
    from blockwright.verbs.import_files import Given


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
    open_store(data)
    from django.db import connections
    from django.utils import timezone

    from blockwright.verbs.import_files import (
        Given,
        add_with_files,
        import_files,
        name_in,
    )

    given = [Given(path.name, content) for path, content in contents]
    try:
        name = lifter or name_in(given)
        row = _lifter(name)
        new = row is None
        if row is None:
            _require_file_of(name, given)
            row, taken = add_with_files(None, given, timezone.now())
        else:
            taken = import_files(None, row, given, timezone.now())
    finally:
        connections.close_all()
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
    if problems:
        raise BadInput(problems)
    return found


def _lifter(name: str) -> "Lifter | None":
    """The one lifter of this name; None when there is none."""
    from blockwright.store.models import Lifter

    # The longest a lifter's name may be; SQLite compares no longer ones without case.
    found = list(Lifter.objects.filter(name__iexact=name.strip()[:201]))
    if len(found) > 1:
        says = f"the site has {len(found)} lifters named {name}"
        raise BadInput.of(says, "take the files on that lifter's own page", column="--lifter")
    return found[0] if found else None


def _require_file_of(name: str, given: "Sequence[Given]") -> None:
    """A lifter the site does not know comes with their own file."""
    from blockwright.verbs.import_files import name_in

    try:
        named = name_in(given)
    except BadInput as error:
        says = f"the site has no lifter named {name}"
        mend = "mend the name, or give their lifter file with the others"
        raise BadInput.of(says, mend, column="--lifter") from error
    if named.casefold() != name.strip().casefold():
        says = f"the site has no lifter named {name}, and the lifter file is {named}'s"
        raise BadInput.of(says, "mend the name here or in the file", column="--lifter")


def _text(document: dict[str, Any]) -> str:
    parts = [
        f"{document[key]} {word}{'' if document[key] == 1 else 's'}" for key, word in _WORDS.items()
    ]
    who = f"{document['lifter']} is new here" if document["new"] else document["lifter"]
    changed = "the lifter file, " if document["lifter_changed"] else ""
    return f"{who}: taken in {changed}{', '.join(parts)}."
