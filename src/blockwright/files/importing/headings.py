"""What the columns of a training log are called, and which labels stand over them."""

import re
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Literal

from blockwright.engine.units import Unit
from blockwright.files.importing.days import When
from blockwright.files.importing.words import without_accents, words

Role = Literal[
    "date", "week", "day", "lifter", "lift", "sets", "set", "load", "reps", "rir", "rpe", "rest",
    "note", "unit", "method", "pain", "cell", "skip",
]  # fmt: skip

_ROLES: dict[Role, re.Pattern[str]] = {
    role: re.compile(without_accents("|".join(forms))) for role, forms in words()["columns"].items()
}
_PLANNED = re.compile(
    r"^(?:target|planned?|prescribed|goal|soll|rx|programmed|last week'?s?|previous|prev)\b[ :.-]*"
)
_DONE = re.compile(r"^(?:actual|done|performed|ist|logged|achieved|completed|today'?s?)\b[ :.-]*")
_PLANNED_BEHIND = re.compile(r"[ :.-]+(?:target|planned?|prescribed|goal|soll|range)$")
_DONE_BEHIND = re.compile(
    r"[ :.-]+(?:reported|actual|done|logged|used|lifted|performed|achieved|completed|ist)$"
)
_SET_BEFORE = re.compile(r"^(?:set|s|satz|serie)\s*#?(?P<set>\d{1,2})\b[ :.-]*(?P<rest>.*)$")
_SET_AFTER = re.compile(r"^(?P<rest>[a-zé ]+?)[ #:.-]*(?:set |s)?(?P<set>\d{1,2})$")
_SET_NTH = re.compile(r"^(?P<set>\d)(?:st|nd|rd|th) set[ :.-]*(?P<rest>.*)$")
_IN_UNIT = re.compile(r"\b(?P<unit>kg|kgs|kilos?|lbs?|pounds)\b")


@dataclass(frozen=True, slots=True)
class Column:
    """A column: what its cells are, and the labels that stand over it."""

    role: Role
    unit: Unit | None = None
    set_number: int | None = None
    planned: bool = False
    when: When = field(default_factory=When)
    lift: str = ""
    lifter: str = ""

    def under(self, label: "Column") -> "Column":
        """This column below a label of a row above."""
        return replace(
            self,
            unit=self.unit or label.unit,
            set_number=self.set_number or label.set_number,
            planned=self.planned or label.planned,
            when=self.when.over(label.when),
            lift=self.lift or label.lift,
            lifter=self.lifter or label.lifter,
        )


@lru_cache(maxsize=4096)
def read_heading(text: str) -> Column | None:
    """What a header cell calls its column; None when it is no heading."""
    said = " ".join(without_accents(text.lower()).replace("\n", " ").split())
    unit = _unit(said)
    if match := re.search(r"[(\[](rir|rpe)[)\]]", said):
        said = match[1]
    said = re.sub(r"[(\[][^)\]]*[)\]]", " ", said)
    said = " ".join(said.replace("_", " ").split()).strip(" :.*?")
    if len(said) > 40 or not said:
        return None
    planned = bool(_PLANNED.match(said) or _PLANNED_BEHIND.search(said))
    if planned:
        rest = _PLANNED_BEHIND.sub("", _PLANNED.sub("", said))
    else:
        rest = _DONE_BEHIND.sub("", _DONE.sub("", said))
    if planned and (not rest or _role(rest) is None):
        return Column("skip", planned=True) if not rest or len(rest.split()) <= 2 else None
    if not rest:
        return Column("cell", unit)
    for pattern in (_SET_BEFORE, _SET_NTH, _SET_AFTER):
        match = pattern.match(rest)
        if match is None:
            continue
        leaf = _role(match["rest"].strip()) if match["rest"].strip() else "cell"
        if leaf in ("load", "reps", "rir", "rpe", "cell", "rest"):
            return Column(leaf, unit, int(match["set"]), planned)
    role = _role(rest)
    if role is None and unit is not None and re.search(r"[(\[](?:in )?(?:kg|lb)", text.lower()):
        role = "load"
    return Column(role, unit, planned=planned) if role else None


def _role(said: str) -> Role | None:
    bare = re.sub(r"\b(?:in )?(?:kg|kgs|lbs?)\b", "", said).strip(" /-") or said
    for role, forms in _ROLES.items():
        if forms.fullmatch(said) or forms.fullmatch(bare):
            return role
    return None


def _unit(said: str) -> Unit | None:
    match = _IN_UNIT.search(said)
    return None if match is None else "kg" if match["unit"].startswith("k") else "lb"
