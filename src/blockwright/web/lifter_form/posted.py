"""What came back from the form: the text, the button that was pressed, what differs."""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any, NamedTuple

from django.http import QueryDict

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Allow
from blockwright.files.lifter_file import lifter_from_table
from blockwright.web.lifter_form.fields import Typed
from blockwright.web.lifter_form.sections import rows
from blockwright.web.lifter_form.shown import Turn, label_of
from blockwright.web.lifter_form.typed import (
    WAS,
    Filled,
    compacted,
    filled,
    row_numbers,
    typed_from,
)

MORE_ROWS = 2
ADD, REMOVE = "add", "remove"
"""Names of the buttons; their value is a part ("slot") or a row of one ("slot.2")."""


class Difference(NamedTuple):
    """One field in which the form and the stored file differ, each as a person reads it."""

    label: str
    stored: str
    typed: str


def blank_form(units: str) -> dict[str, list[str]]:
    """The form of a lifter nobody has written of yet."""
    return typed_from({"units": units, "allow": asdict(Allow())})


def typed_in(post: QueryDict) -> dict[str, list[str]]:
    """What was typed, without the one character that no database keeps in a text."""
    return {name: [text.replace("\0", "") for text in post.getlist(name)] for name in post}


def turned(post: QueryDict, typed: Typed) -> tuple[dict[str, list[str]], Turn] | None:
    """The form after a button that adds rows or takes one away; None for the one that saves."""
    if ADD in post:
        part = next((one for one in rows() if one.key == post[ADD]), None)
        after = compacted(typed)
        if part is None:
            return after, Turn()
        empty = len(row_numbers(typed, part)) - len(row_numbers(after, part))
        return after, Turn(part.key, max(empty - part.spare, 0) + MORE_ROWS)
    if REMOVE in post:
        key, _, number = str(post[REMOVE]).rpartition(".")
        row = f"{key}.{number}."
        kept = {name: said for name, said in typed.items() if not name.startswith(row)}
        known = any(one.key == key for one in rows()) and number.isdecimal()
        return compacted(kept if known else typed), Turn(key)
    return None


def judged(typed: Typed, base: Mapping[str, Any]) -> tuple[Filled, list[Problem]]:
    """The file's table, and everything that is wrong with it: by the form where a text is no
    value, by the file's reader otherwise."""
    made = filled(typed, base)
    problems = list(made.problems)
    unread = {problem.key for problem in problems}
    try:
        lifter_from_table(made.table, None)
    except BadInput as error:
        problems += [
            one for one in error.problems if made.places.get(one.key or "", one.key) not in unread
        ]
    return made, problems


def without_origin(typed: Typed) -> dict[str, list[str]]:
    """Rows that are no longer said to be rows of the stored file, since that is another now."""
    return {name: list(said) for name, said in typed.items() if not name.endswith(f".{WAS}")}


def differences(typed: Typed, file: Mapping[str, Any]) -> list[Difference]:
    """Where the form says something else than the stored file."""
    stored = typed_from(file)
    names = dict.fromkeys(name for name in (*stored, *typed) if not name.endswith(f".{WAS}"))
    return [
        Difference(label_of(name), _read(stored.get(name)), _read(typed.get(name)))
        for name in names
        if _read(stored.get(name)) != _read(typed.get(name))
    ]


def _read(said: list[str] | Any) -> str:
    return ", ".join(" / ".join(text.split("\n")).strip() for text in said or () if text.strip())
