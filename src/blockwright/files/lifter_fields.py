"""Every field of a lifter file, described once (`data/lifter_fields.toml`): the reader checks by
it, the form asks by it, and docs/lifter_file.md is written from it.

Gym and own lifts have readers of their own (`gym_tables`, `lift_table`) that ask by this table; the
fields whose message is the product have a reader alone, and name no bounds."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from blockwright.engine.lifts import ROLES, ZONES
from blockwright.engine.screening import CAUSES
from blockwright.engine.training import DAY_NAMES, DAYS, MUSCLES, REGIONS
from .reading import shipped
from .toml_checks import Table
from .vocabulary import FATIGUE_GROUPS, LOAD_KINDS, STABILITIES, vocabulary

Kind = Literal[
    "text", "number", "day", "time", "choice", "answer", "switch", "checks", "lines", "numbers"
]
"""answer: yes, no or not said; switch: yes or no; checks: some of the choices; lines: texts."""
Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One thing that is asked. `key` is dotted, from the file or from the row it stands in."""

    key: str
    label: str
    kind: Kind = "text"
    choices: Choices = ()
    """Value and words; of a form's choice the first is what an empty answer means."""
    hint: str = ""
    suggest: str = ""  # Id of the page's list of suggestions
    usual: str = ""  # What holds when nothing is said
    low: float | None = None
    high: float | None = None
    unit: str = ""
    whole: bool = False  # Of a number: no fraction
    need: str = ""  # The mend where it is missing; "" where it may be
    empty: str = ""  # Of a choice that may stay open: what the form calls that

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(value for value, _ in self.choices)


_WORDS: Mapping[str, Mapping[str, str] | Sequence[str]] = {
    "days": {day: DAY_NAMES[day] for day in DAYS},
    "answers": {"": "not answered", "no": "no", "yes": "yes"},
    "causes": CAUSES,
    "patterns": tuple(vocabulary().patterns),
    "angles": tuple(vocabulary().angles),
    "load_kinds": LOAD_KINDS,
    "roles": ROLES,
    "stabilities": STABILITIES,
    "fatigue_groups": FATIGUE_GROUPS,
    "muscles": MUSCLES,
    "regions": REGIONS,
    "zones": ZONES,
    "ladders": ("dumbbells", "stack"),
}
"""The house's lists, by the name they have in the table of fields."""


def _plain(word: str) -> str:
    return word.replace("_", " ")


def _choices(listed: str | Mapping[str, str] | Sequence[str], says: Mapping[str, str]) -> Choices:
    words = _WORDS[listed] if isinstance(listed, str) else listed
    if isinstance(words, Mapping):
        return tuple(words.items())
    return tuple((word, says.get(word, _plain(word))) for word in words)


def _fields(said: Mapping[str, Any]) -> Iterator[Field]:
    """What a line of the table describes: a field, or one for each word of a list."""
    given = {"choices": (), "says": {}, "first_hint": "", "each": "", **said}
    choices = _choices(given.pop("choices"), given.pop("says"))
    each, hint = given.pop("each"), given.pop("first_hint")
    for number, word in enumerate(_WORDS[each] if each else ("",)):
        made = Field(**given, choices=choices)
        made = replace(made, key=made.key.format(word), label=made.label.format(_plain(word)))
        yield replace(made, hint=hint) if hint and number == 0 else made


PARTS: Mapping[str, tuple[Field, ...]] = {
    name: tuple(each for line in lines for each in _fields(line))
    for name, lines in shipped("lifter_fields.toml").items()
}
"""The fields by the part of the table they stand in."""
FIELDS: Mapping[str, Field] = {each.key: each for part in PARTS.values() for each in part}
"""Every field by its key."""


def of_row(row: str) -> tuple[Field, ...]:
    """The fields of a row, their keys from the row on."""
    start = f"{row}."
    return tuple(
        replace(each, key=key.removeprefix(start))
        for key, each in FIELDS.items()
        if key.startswith(start)
    )


_ASKS: Mapping[Kind, Callable[[Table, str], Any]] = {
    "text": Table.text,
    "day": Table.day,
    "time": Table.minute_of_day,
    "answer": Table.switch,
    "switch": Table.switch,
    "lines": Table.words,
}


def described(table: Table, name: str) -> Field:
    """The field of a table, whichever of its rows this is."""
    return FIELDS[".".join(part for part in table.key(name).split(".") if not part.isdecimal())]


def ask(table: Table, name: str, unit: str = "") -> Any:
    """The value of a field of the table, checked as it is described: what is usual where nothing is
    said, else None. What is wrong, or missing and needed, is an error of its key. `unit` is that
    of a number whose unit another field says."""
    each = described(table, name)
    if each.need:
        table.need(name, each.need)
    low, high, unit = each.low or 0, each.high or 0, each.unit or unit
    if each.kind == "numbers":
        return table.numbers(name, low, high, unit)
    if each.kind == "checks":
        return table.words_of(name, each.words)
    if each.kind == "choice":
        return table.word(name, each.words) or each.usual or None
    if each.kind == "number" and each.whole:
        found = table.whole(name, int(low), int(high), unit)
        return int(each.usual) if found is None and each.usual else found
    if each.kind == "number":
        return table.number(name, low, high, unit)
    return _ASKS[each.kind](table, name)


def ask_all(table: Table, names: Sequence[str]) -> dict[str, Any]:
    return {name: ask(table, name) for name in names}
