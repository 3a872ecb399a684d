"""The form as a template draws it: every field with its words, its value, what is wrong with it."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from datetime import date, timedelta
from typing import Any, NamedTuple

from django.http import QueryDict

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Allow
from blockwright.files.lifter_fields import Field
from blockwright.files.lifter_file import lifter_from_table
from blockwright.files.policy_files import default_policy
from .fields import Rows, Section, Typed, fields, rows, sections
from .typed import WAS, FilledForm, compacted, filled, row_numbers, typed_from

_ASSIGNED = re.compile(r": [\w\"'.]+ = .*$|\s*\([^()]* = [^()]*\)$")
_TO_SET = re.compile(r"\b(answer|add) (\w+) = (?:true or false|\S+)")
_KEY_BEFORE = re.compile(r"\b\w+ = ")
_ROW = re.compile(r"\[\[(\w+)\]\]")
_TABLE = re.compile(r"\[(\w+)\]")


@dataclass(slots=True)
class Asked:
    of: Field
    name: str
    said: list[str]
    about: str = ""  # Which row it stands in, for lists of problems: "slot 2"
    hint: str = ""
    wrong: list[str] = field(default_factory=list)
    focus: bool = False

    @property
    def id(self) -> str:
        return "id_" + self.name.replace(".", "-")

    @property
    def value(self) -> str:
        return self.said[0] if self.said else ""

    @property
    def widget(self) -> str:
        """Which piece of HTML it is."""
        if self.of.kind == "checks":
            return "checks"
        return "choice" if self.of.choices else self.of.kind

    @property
    def choices(self) -> list[tuple[str, str, bool]]:
        """Value, words, whether chosen; what stands there and is none of them is one more."""
        known = [(value, words, value in self.said) for value, words in self.of.choices]
        values = {value for value, _ in self.of.choices}
        return known + [(said, said, True) for said in self.said if said not in values and said]

    @property
    def described_by(self) -> str:
        ids = [f"{self.id}_hint"] if self.hint else []
        return " ".join([*ids, f"{self.id}_wrong"] if self.wrong else ids)


@dataclass(frozen=True, slots=True)
class ShownRow:
    n: int
    part: Rows
    asked: list[Asked]
    was: str
    is_empty: bool


@dataclass(frozen=True, slots=True)
class ShownRows:
    part: Rows
    rows: list[ShownRow]
    focus: bool = False  # Whether the button that adds rows gets the keyboard: a row was taken away


@dataclass(frozen=True, slots=True)
class ShownSection:
    section: Section
    asked: list[Asked]
    parts: list[ShownRows]

    @property
    def is_open(self) -> bool:
        """Something in it is wrong, or a button of its was pressed."""
        return any(one.wrong or one.focus for one in _all_asked(self)) or any(
            part.focus for part in self.parts
        )

    @property
    def digest(self) -> str:
        """What it says beyond the usual, in a line."""
        rows = [
            part.part.called(filled)
            for part in self.parts
            if (filled := sum(not row.is_empty for row in part.rows))
        ]
        return ", ".join([*(words for one in self.asked if (words := _short(one))), *rows])


@dataclass(frozen=True, slots=True)
class Shown:
    """The whole form. `loose` are problems that belong to no field."""

    sections: list[ShownSection]
    wrong: list[Asked]
    loose: list[str]


@dataclass(frozen=True, slots=True)
class Turn:
    """What a button of the form asked for: rows of one part added, or one taken away."""

    part: str = ""
    added: int = 0


def shown(
    typed: Typed,
    problems: Iterable[Problem] = (),
    places: Mapping[str, str] | None = None,
    turn: Turn | None = None,
) -> Shown:
    """The form with `compacted` rows; problems go to the field that their key names."""
    turn = turn or Turn()
    drawn = [
        ShownSection(
            section,
            [Asked(one, one.key, list(typed.get(one.key, ())), hint=one.hint)
             for one in section.fields],
            [_rows(part, typed, turn) for part in section.rows],
        )
        for section in sections()
    ]  # fmt: skip
    asked = {one.name: one for section in drawn for one in _all_asked(section)}
    loose: list[str] = []
    for problem in problems:
        place = _field_of(problem.key or "", places or {}, asked)
        words = said(problem)
        if place is None:
            loose.append(f"{problem.key}: {words}" if problem.key else words)
        elif words not in asked[place].wrong:
            asked[place].wrong.append(words)
    return Shown(drawn, [one for one in asked.values() if one.wrong], loose)


def in_form(problems: Iterable[Problem]) -> list[str]:
    """Problems of the file's reader, each with its place in the form: for somebody who never saw
    the file."""
    places = ((label_of(one.key or one.column or ""), said(one)) for one in problems)
    return [f"{place[:1].upper()}{place[1:]}: {says}" if place else says for place, says in places]


def said(problem: Problem) -> str:
    """What a problem says and its mend, without the file's notation."""
    mend = plain_mend(problem.mend)
    return problem.says.replace(" = ", " ") + (f"; {mend}" if mend else "")


def plain_mend(mend: str) -> str:
    """A mend of the file's reader in the form's words: keys and tables by what they are called."""
    said = _KEY_BEFORE.sub("", _TO_SET.sub(_labelled, _ASSIGNED.sub("", mend)))
    said = _ROW.sub(lambda found: label_of(found[1]), said)
    said = _TABLE.sub(lambda found: f'"{label_of(found[1]).capitalize()}"', said)
    return said.replace("`blockwright lifts`", "Lifts")


def _labelled(found: re.Match[str]) -> str:
    labels = (one.label for one in fields() if one.key.endswith(f".{found[2]}"))
    return f'{found[1]} "{next(labels, found[2])}"'


def label_of(name: str) -> str:
    """A field's words by its name: "slot 2, minutes"."""
    for one in fields():
        if name == one.key or name.startswith(f"{one.key}."):
            return one.label
    for section in sections():
        if name == section.key:
            return section.title
    for part in rows():
        if name == part.key:
            return part.one
        match = re.fullmatch(rf"{re.escape(part.key)}\.(\d+)(?:\.(.+))?", name)
        if match:
            words = next((one.label for one in part.fields if one.key == match[2]), "")
            return f"{part.one} {match[1]}" + (f", {words.lower()}" if words else "")
    return name


def _short(one: Asked) -> str:
    label = one.of.label.partition(",")[0].lower()
    if one.widget == "checks":
        return f"{label} ({len(one.said)})" if one.said else ""
    if one.widget == "lines":
        return f"{label} ({len(one.value.splitlines())})" if one.value else ""
    if one.widget == "switch":
        return label if one.value else ""
    return f"{label} {one.value}" if one.value and one.value != one.of.usual else ""


def _rows(part: Rows, typed: Typed, turn: Turn) -> ShownRows:
    there = row_numbers(typed, part)
    is_turned = turn.part == part.key
    spare = part.spare + (turn.added if is_turned else 0)
    numbers = [*there, *range(len(there) + 1, len(there) + spare + 1)]
    drawn = [_row(part, n, typed, is_empty=n not in there) for n in numbers]
    if is_turned and turn.added:
        first = next(row for row in drawn if row.is_empty)
        first.asked[0].focus = True
    return ShownRows(part, drawn, focus=is_turned and not turn.added)


def _row(part: Rows, n: int, typed: Typed, *, is_empty: bool) -> ShownRow:
    was = typed.get(f"{part.key}.{n}.{WAS}", ())
    asked = [
        Asked(
            one,
            f"{part.key}.{n}.{one.key}",
            list(typed.get(f"{part.key}.{n}.{one.key}", ())),
            about=f"{part.one} {n}",
            hint=one.hint,
        )
        for one in part.fields
    ]
    if part.key == "policy" and not is_empty:
        asked[1].hint = _usual(asked[0].value) or asked[1].hint
    return ShownRow(n, part, asked, was[0] if was else "", is_empty)


def _usual(key: str) -> str:
    """What a policy value is without a change, within which bounds, and what it is for."""
    known = default_policy().values.get(key)
    if known is None:
        return ""
    bounds = "" if known.low is None or known.high is None else f", {known.low:g} to {known.high:g}"
    usual = ("yes" if known.value else "no") if isinstance(known.value, bool) else known.value
    return f"usually {usual} {known.unit}".rstrip() + f"{bounds}: {known.why}"


def _all_asked(section: ShownSection) -> list[Asked]:
    return [
        *section.asked,
        *(one for part in section.parts for row in part.rows for one in row.asked),
    ]


def _field_of(key: str, places: Mapping[str, str], asked: Mapping[str, Asked]) -> str | None:
    """The field of a reader's key: its own, that of the list it is an item of, else the first
    of the row it names."""
    at = places.get(key, key)
    while at:
        if at in asked:
            return at
        first = next((name for name in asked if name.startswith(f"{at}.")), None)
        if first is not None:
            return first
        at = at.rpartition(".")[0]
        at = places.get(at, at)
    return None


MORE_ROWS = 2
ADD, REMOVE = "add", "remove"
"""Names of the buttons; their value is a part ("slot") or a row of one ("slot.2")."""


class Difference(NamedTuple):
    label: str
    stored: str
    typed: str


def blank_form(units: str, today: date) -> dict[str, list[str]]:
    """The form of a lifter nobody has written of yet: a block would begin next Monday."""
    start = (today + timedelta(days=7 - today.weekday())).isoformat()
    return typed_from({"units": units, "start": start, "allow": asdict(Allow())})


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


def judged(typed: Typed, base: Mapping[str, Any]) -> tuple[FilledForm, list[Problem]]:
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
