"""The review's letter as one value: text, page, paper and JSON show what stands here.

Works on a `blockwright/proposals/1` document as plain JSON; every sentence comes ready made. The
face is one screen: a verdict, what changes, what to settle, what stays. The rest is behind it."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.units import Unit, load_text, number_text
from .letter_changes import Change, Cited, Line, count_words, face_of
from .report_shapes import Document, sentence

_CHANGED = ("load_kg", "sets", "weeks", "week_kind", "lift")
"""What a change may be of, before what it is about."""
_ORDER = ("refer", "stop_lift", "swap_lift", "deload_now", "light_week", "lower_load", "trim_sets",
          "raise_load", "add_set", "extend_block")  # fmt: skip
"""Kinds that change something, in the order of a letter; a kind not named here stays."""
_INTO = {"deload": "the deload", "full": "back to the full week"}
_OVER = "The block is over: its report says what it came to; plan the next one from it."
MOST_WORDS = 180  # Of a face; beyond, changes share a line
_WORDS_AROUND = 7  # Headings of the parts, the way to what is behind
MOST_ASKED = MOST_STAYS = 3
_ISO = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """A letter in the order in which it is read; `happened` on, what is behind its face."""

    heading: str
    verdict: str
    changes: tuple[Change, ...]
    climb: str  # "as printed: 6 loads and 5 sets up"; "" where nothing climbs
    climbs: tuple[str, ...]  # Those loads and sets, a line a day
    asked: tuple[str, ...]
    """Questions, what would change a load first; the face has `MOST_ASKED` of them."""
    cautioned: tuple[str, ...]  # Cautions merged by kind, all of them on the face
    stays: tuple[str, ...]
    nothing: str  # What stands in place of changes; "" where there are some
    message: str  # To the lifter, in their words
    happened: tuple[str, ...]
    cautions: tuple[Cited, ...]  # Every caution in full
    all_stays: tuple[str, ...]
    sources: tuple[str, ...]  # Numbered from 1

    @property
    def settle(self) -> tuple[str, ...]:
        """What the face has to settle."""
        return (*self.asked[:MOST_ASKED], *self.cautioned)

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every proposal, in the order of the face."""
        return tuple(line for change in self.changes for line in change.lines)


def letter_of(document: Document) -> Letter:
    """The letter of a `blockwright/proposals/1` document."""
    sources = _sources(document)
    proposals = [item for item in document["proposals"] if item["kind"] in _ORDER]
    proposals.sort(key=lambda item: (_ORDER.index(item["kind"]), item["session"] or 0))
    week = document["week"]
    questions, cautioned = settle_lines(document)
    asked = tuple(line for line, _ in questions)
    stays = _face_stays(document)
    heading = f"{document['lifter']}: letter "
    heading += f"for week {week}" if week is not None else "after the last week"
    verdict, climb = sentence(document["verdict"]), _climb(document)
    room = (
        MOST_WORDS
        - _WORDS_AROUND
        - count_words((heading, verdict, climb, *asked[:MOST_ASKED], *cautioned))
    )
    changes, stays = face_of([_line(item, sources) for item in proposals], stays, room)
    return Letter(
        heading=heading,
        verdict=verdict,
        changes=changes,
        climb=climb,
        climbs=tuple((document.get("climb") or {}).get("days", ())),
        asked=asked,
        cautioned=cautioned,
        stays=stays,
        nothing="" if changes else "Nothing against the print." if week else _OVER,
        message=document.get("message", ""),
        happened=tuple(note["says"] for note in document["notes"]),
        cautions=_said(document["cautions"], sources),
        all_stays=tuple(
            sentence(f"{_name(stay)}: {_without(str(stay['why']), _name(stay))}")
            for stay in document["stays"]
        ),
        sources=sources,
    )  # fmt: skip


# --------------------------------------------------------------------------------- what changes


def _line(proposal: Document, sources: Sequence[str]) -> Line:
    other = proposal["runner_up"]
    return Line(
        id=proposal["id"],
        kind=proposal["kind"],
        session=proposal["session"] or 0,
        **proposal["line"],
        says=proposal["says"],
        because=_said(proposal["reasons"], sources),
        figure=sure_text(proposal["confidence"]),
        claim=proposal["claim"],
        runner_up=None if other is None else other["says"],
        cautions=_said(proposal["cautions"], sources),
    )


def _climb(document: Document) -> str:
    climb = document.get("climb") or {"loads": 0, "sets": 0}
    if climb.get("into", "build") != "build":
        return "as printed: " + _INTO[climb["into"]]
    counts = ((climb["loads"], "load"), (climb["sets"], "set"))
    parts = [f"{n} {noun}{'s' if n > 1 else ''}" for n, noun in counts if n]
    return f"as printed: {' and '.join(parts)} up" if parts else ""


# ------------------------------------------------------------------------------ settle and stays


def settle_lines(document: Document) -> tuple[list[tuple[str, list[Document]]], tuple[str, ...]]:
    """Each line of questions and what it asks, and the cautions beside them. Questions that ask the
    same of several things are one line, and so is what one lift is asked and cautioned about."""
    alike: dict[str, list[tuple[str, Document]]] = {}
    for one in document["settle"]:
        about, _, rest = one["asks"].partition(": ")
        alike.setdefault(rest or about, []).append((about if rest else "", one))
    asked: list[tuple[str, list[Document]]] = []
    for rest, told in alike.items():
        line, ones = sentence(_line_of(rest, told)), [one for _, one in told]
        if not _said_beside(asked, told[0][0] if len(told) == 1 else "", rest, ones):
            asked.append((line, ones))
    parts = ((line, *line.partition(": ")) for line in document["caution_lines"])
    cautioned = [sentence(_dated(line)) for line, head, _, about in parts
                 if not _said_beside(asked, about, head, [])]  # fmt: skip
    return asked, tuple(cautioned)


def _said_beside(
    asked: list[tuple[str, list[Document]]], lift: str, says: str, ones: list[Document]
) -> bool:
    """Whether a line of the face asks about this lift alone: what else is said of it goes there."""
    name = lift[:1].upper() + lift[1:]
    for at, (line, before) in enumerate(asked[:MOST_ASKED]):
        if lift and line.startswith((f"{name} on ", f"{name}: ")):
            asked[at] = (f"{line} {sentence(_dated(says))}", [*before, *ones])
            return True
    return False


def _line_of(rest: str, told: Iterable[tuple[str, Document]]) -> str:
    sets: dict[str, dict[str, None]] = {}
    for name, _ in told:
        lift, _, done = name.rpartition(", ")
        sets.setdefault(lift or name, {})[done if lift else ""] = None
    about = "; ".join(", ".join(filter(None, (lift, *done))) for lift, done in sets.items())
    return _dated(f"{about}: {rest}" if about else rest)


def _dated(text: str) -> str:
    """With its days as a coach says them."""
    return _ISO.sub(_short_day, text)


def _short_day(found: re.Match[str]) -> str:
    day = date.fromisoformat(found[0])
    return f"{day:%a} {day.day} {day:%b}"


def _name(stay: Document) -> str:
    return str(stay["lift"] or (stay["muscle"] or "").replace("_", " "))


def _without(says: str, name: str) -> str:
    """A sentence that follows the name it begins with: "down", of "row: down" or "row down"."""
    return says.removeprefix(f"{name} ").removeprefix(f"{name}: ")


def _face_stays(document: Document) -> tuple[str, ...]:
    """At most `MOST_STAYS` lines: what stays for one reason together ("reps before load: to 20" is
    a reason all share and each lift's own). Each is named once, and not where a line above changes
    it, or says that it hurts."""
    said = {proposal["line"]["about"] for proposal in document["proposals"]
            if proposal["kind"] not in ("refer", "light_week")}  # fmt: skip
    groups: dict[str, dict[str, str]] = {}
    for stay in document["stays"]:
        if _name(stay) in said or any(_name(stay) in line for line in document["caution_lines"]):
            continue
        said.add(_name(stay))
        head, _, own = stay["short"].rpartition(": ")
        name = f"{_name(stay)} {stay.get('at', '')}".rstrip()
        groups.setdefault(head or own, {})[name] = own if head else ""
    lines = []
    for why, names in list(groups.items())[:MOST_STAYS]:
        more = f" and {len(names) - 2} more" if len(names) > 3 else ""
        shown = list(names.items())[: 2 if more else 3]
        each = ", ".join(f"{name} {own}".strip() for name, own in shown) + more
        lines.append(sentence(f"{why}: {each}" if shown[0][1] else f"{each}: {why}"))
    return tuple(lines)


# ------------------------------------------------------------------------------------ sentences


def sure_text(confidence: float) -> str:
    """ "85 % sure"."""
    return f"{100 * confidence:.0f} % sure"


def change_text(change: Document | None, unit: Unit) -> str:
    """What a change leads to, as a person reads it: "62.5 kg", "4 sets", "leg press"; "" where it
    names nothing new."""
    if not change:
        return ""
    key = next((name for name in _CHANGED if change.get(name) is not None), None)
    if key == "load_kg":
        return load_text(change[key], unit)
    if key in ("sets", "weeks"):
        return f"{number_text(change[key])} {'sets' if key == 'sets' else 'build weeks'}"
    ends = key == "week_kind" and change.get("then") == "end"
    return "deload, then the end" if ends else str(change[key]) if key else ""


def _said(items: Iterable[Document], sources: Sequence[str]) -> tuple[Cited, ...]:
    return tuple(
        Cited(
            says=item["says"],
            source=sources.index(item["source"]) + 1 if item["source"] in sources else None,
        )
        for item in items
    )


def _sources(document: Document) -> tuple[str, ...]:
    """Every source that cautions and reasons name, each once, in order of reading."""
    items = [*document["cautions"]]
    for proposal in document["proposals"]:
        items += [*proposal["reasons"], *proposal["cautions"]]
    return tuple(dict.fromkeys(item["source"] for item in items if item["source"]))
