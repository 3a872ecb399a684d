"""What the columns of a training log are called, and which labels stand over them."""

import re
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal, cast

from blockwright.engine.units import Unit
from .days import NO_DAY, When
from .words import unit_in, without_accents, without_warmup, words

Role = Literal[
    "date", "week", "day", "lifter", "lift", "sets", "set", "load", "reps", "rir", "rpe", "rest",
    "note", "unit", "method", "warmup", "help", "pain", "flag", "last",
    "cell", "skip",
]  # fmt: skip

_ROLES = re.compile(
    without_accents(
        "|".join(f"(?P<{role}>{'|'.join(forms)})" for role, forms in words()["columns"].items())
    )
)
"""The first role whose words fit is taken."""
_LONGEST = 80
_SETS = re.compile(r"[\d.]+ ?(?:kgs?|lbs?)? ?[x@,/]|(?:kg|bw) ?x ?\d")
_PLAN = "|".join(words()["headings"]["planned"])
_DID = "|".join(words()["headings"]["done"])
_PLANNED = re.compile(rf"^(?:{_PLAN}|last week'?s?|previous|prev)\b[ :.-]*")
_DONE = re.compile(rf"^(?:{_DID}|today'?s?)\b[ :.-]*")
_PLANNED_BEHIND = re.compile(rf"[ :.(\[-]+(?:{_PLAN}|range)[)\]]?$")
_DONE_BEHIND = re.compile(rf"[ :.(\[-]+(?:{_DID}|reported|used|lifted)[)\]]?$")
_OF_TEN = re.compile(r"\s*(?:/ ?10|out of 10|\(?[01]-10\)?)$")
_UNIT = re.compile(r"[(\[](?:in )?(?:kg|lb)s?(?: (?:per|each|a|/) ?(?:hand|db|dumbbell))?[)\]]")
_OF_WHICH = re.compile(
    r"[ ,:/-]+(?:(?:of|on|for|in|at|per|by|a|each|every|the|last|final|top|work|working)[ -]+)*"
    r"(?:last|final|top|sets?|end)$| (?:letzte\w*|derni\w+|ultim[ao])(?: satz| serie)?$"
    r"|^(?:last|final|top)(?: (?:work(?:ing)? )?set)?[ :-]+(?=rpe|rir)"
)
"""Of which set a column is told: "RIR last set", "reps per set"."""
_SIDE = re.compile(r"^(?P<side>left|right|l|r|li|re)\b[ .:_-]*(?P<rest>.+)$")
SIDES = {"l": 91, "r": 92}  # The set numbers that stand for the left and the right side of one row
_OF_SOME_SETS = re.compile(
    r"^(?P<some>top|back)(?:[ -]?offs?|[ -]?down)?(?: sets?)?[ .:-]+(?P<rest>.+)$"
)
SOME_SETS = {"top": 81, "back": 82}
"""The set numbers that stand for a row's top set and its back-offs."""
ALONE = frozenset({*SIDES.values(), SOME_SETS["top"]})
"""Set numbers of sets that are the last of their kind, whatever follows them."""
WARMUP = -20  # The set number of warm-ups that have columns of their own; numbered ones follow it
_SET_BEFORE = re.compile(r"^(?:set|s|satz|serie)\s*#?(?P<set>\d{1,2})\b[ :.-]*(?P<rest>.*)$")
_SET_AFTER = re.compile(
    r"^(?P<rest>[a-z#./ ]+?)[ #:.-]*(?:(?:set|satz|serie) |s)?(?P<set>\d{1,2})$"
)
_SET_NTH = re.compile(r"^(?P<set>\d)(?:st|nd|rd|th) set[ :.-]*(?P<rest>.*)$")
_FILLING = re.compile(
    r"#|\b(?:the|of|no\.?|nr\.?|number|how many|my|i|we|was|did|done|used|per (?:set|serie)|"
    r"amount|in|(?:/|each|a) ?set|lifted|moved|today|actual\w*|performed|completed|per side)(?!\w)|"
    r"/ ?(?:set|serie|satz)\b|\?"
)
"""Words of a heading that leave what its column holds as it is: "how many sets"."""


@dataclass(frozen=True)
class Column:
    """A column: what its cells are, and the labels that stand over it."""

    role: Role
    unit: Unit | None = None
    set_number: int | None = None
    planned: bool = False
    when: When = NO_DAY
    lift: str = ""
    lifter: str = ""
    scheme: str = ""
    """Sets and repetitions that a lift's heading tells for the loads below: "Squat 3x10"."""

    @cached_property
    def is_labelled(self) -> bool:
        """Whether it says itself of which week, day, lift, set or person it is."""
        return bool(self.when or self.lift or self.set_number or self.lifter)

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
            scheme=self.scheme or label.scheme if self.role in ("cell", "load") else "",
        )


@lru_cache(maxsize=32768)
def read_heading(text: str) -> Column | None:
    """What a header cell calls its column; None when it is no heading."""
    if len(text) > _LONGEST or _SETS.match(text):
        return None
    said = " ".join(without_accents(text.lower()).replace("\n", " ").split())
    unit = unit_in(said)
    if match := re.search(r"[(\[](rir|rpe)[)\]]", said):
        before = said[: match.start()].strip()
        head = read_heading(before)
        said = before if head is not None and head.role in ("reps", "cell") else match[1]
    said = _OF_TEN.sub("", said)
    inside = re.search(rf"[(\[](?:{_PLAN})[)\]]", said)
    said = re.sub(r"[(\[][^)\]]*[)\]]", " ", said)
    said = "rpe" if said == "@" else " ".join(said.replace("_", " ").split()).strip(" :.*?@")
    if len(said) > 40 or not said or _SETS.match(said) or said == "last set":
        return None
    if re.fullmatch(r"as (?:planned|prescribed|written|programmed)|according to plan", said):
        return Column("cell")
    planned = bool(inside or _PLANNED.match(said) or _PLANNED_BEHIND.search(said))
    if planned:
        rest = _PLANNED_BEHIND.sub("", _PLANNED.sub("", said))
    else:
        rest = _DONE_BEHIND.sub("", _DONE.sub("", said))
    if planned and (not rest or _role(rest) is None):
        # "Goal: 180 dead" is about the person, no plan's column.
        few = len(rest.split()) <= 2 and not re.search(r"\d", rest)
        return Column("skip", planned=True) if few else None
    if not rest:
        return Column("cell", unit)
    rest, is_warmup = without_warmup(rest)
    if is_warmup and (not rest or rest.isdecimal()):
        return Column("cell", unit, WARMUP + int(rest)) if rest else Column("warmup", unit)
    for pattern in (_SET_BEFORE, _SET_NTH, _SET_AFTER):
        match = pattern.match(rest)
        if match is None:
            continue
        if reps := re.fullmatch(r"x ?(\d{1,2})(?: ?reps?)?|(\d{1,2}) ?reps?", match["rest"]):
            return Column("cell", unit, int(match["set"]), planned, scheme=reps[1] or reps[2])
        leaf = _role(match["rest"].strip()) if match["rest"].strip() else "cell"
        if leaf in ("load", "reps", "rir", "rpe", "cell", "rest"):
            return Column(leaf, unit, int(match["set"]), planned)
    if (match := _SIDE.match(rest)) and (leaf := _role(match["rest"])) in ("load", "reps"):
        return Column(leaf, unit, SIDES[match["side"][0]], planned)
    if (match := _OF_SOME_SETS.match(rest)) and (leaf := _role(match["rest"])) in ("load", "reps"):
        return Column(leaf, unit, SOME_SETS[match["some"]], planned)
    role = _role(rest) or _role(_OF_WHICH.sub("", rest))
    if role is None and _UNIT.search(text.lower()):
        role = "load"
    number = WARMUP if is_warmup else None
    return Column(role, unit, number, planned) if role else None


def says_done(text: str) -> bool:
    """Whether a heading says in so many words that its column was done: "Actual reps"."""
    said = without_accents(text.lower())
    return bool(_DONE.match(said) or _DONE_BEHIND.search(said))


@lru_cache(maxsize=32768)
def calls_a_plan(text: str) -> bool:
    """Whether a text says that what stands beside it is planned, and no more."""
    head = read_heading(text)
    return head is not None and head.planned and head.role == "skip"


def role_of(text: str) -> Role | None:
    """What a column headed so holds: "lifter" of "Client", "Name:"; None for no heading."""
    head = read_heading(text)
    return None if head is None else head.role


def numbers_a_set(text: str) -> bool:
    """Whether a text is a set's number and no more: "Set 2"."""
    head = read_heading(text)
    return head is not None and head.role == "cell" and head.set_number is not None


@lru_cache(maxsize=32768)
def _role(said: str) -> Role | None:
    bare = re.sub(r"\b(?:in )?(?:kg|kgs|lbs?)\b", "", said).strip(" /-") or said
    if match := _ROLES.fullmatch(said) or _ROLES.fullmatch(bare):
        return cast("Role", match.lastgroup)
    parts = re.split(r"\s*[x*/:]\s*|\s+by\s+", said)
    if len(parts) > 1 and {_role(part) for part in parts} <= {"load", "reps", "sets"}:
        # "Charge x reps": whole sets in one cell.
        return "cell"
    first, _, load = said.partition("@")
    if load and _role(first.strip()) == "lift":
        # "Exercise @ load", over "Squat @ 100 kg".
        return "lift"
    plain = " ".join(_FILLING.sub(" ", said).split()).strip(" -:.")
    return _role(plain) if plain and plain != said else None


def is_label(head: Column) -> bool:
    """Whether a heading stands over sets as a whole: a week, a day, a lift, a set's number."""
    return head.role == "cell" and head.is_labelled
