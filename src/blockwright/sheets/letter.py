"""The review's letter as one value: text, page, paper and JSON show what stands here.

Works on a `blockwright/proposals/1` document as plain JSON; every sentence comes ready made. The
face is one screen: a verdict, what changes, what to settle, what stays. The rest is behind it.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from blockwright.engine.units import Unit, load_text, number_text
from blockwright.sheets.report_shapes import Document, sentence

_CHANGED = ("load_kg", "sets", "weeks", "week_kind", "lift")
"""What a change may be of, before what it is about."""
_ORDER = ("refer", "stop_lift", "swap_lift", "deload_now", "light_week", "lower_load", "trim_sets",
          "raise_load", "add_set", "extend_block")  # fmt: skip
"""Kinds that change something, in the order of a letter; a kind not named here stays."""
_MERGED = {
    "raise_load": "Loads up on {what}",
    "add_set": "A set more on {what}",
    "trim_sets": "Fewer sets on {what}",
    "swap_lift": "{what} swapped",
    "stop_lift": "{what} out",
    "refer": "To a licensed professional (no diagnosis)",
    "first_load": "First loads, found from the log, on {what}",
    "by_tries": "Far too light, to be found again by tries from there: {what}",
    "lower_load": "Loads below the print on {what}",
}
"""What several changes of one kind are called as one line."""
_CUT = "lower_load"
"""Shares a line last, and keeps its reasons there; so many lifts have one reason, the week."""
_INTO = {"deload": "the deload", "full": "back to the full week"}
_OVER = "The block is over: its report says what it came to; plan the next one from it."
MOST_LINES, MOST_WORDS = 7, 180
"""Changes shown one by one, and words of a face; beyond, the kinds with most changes share a line
each, without their reasons."""
_WORDS_AROUND = 7
"""Headings of the parts, the way to what is behind."""
_CLIMBS = ("raise_load", "add_set")
_OUT = ("stop_lift", "swap_lift")
MOST_STAYS = 3
_LEAST_MERGED = 3
_LOADS = (" kg", " lb")
FIRST_LOAD = "first load "
BY_TRIES = " (by tries)"
NO_STEP_DOWN = ("last time)", "stay at bodyweight")
"""How the change of a load ends that is below the print, not below what was lifted."""
_ISO = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")
_WORDS = ("sure", "likely", "even")


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A sentence, with the number of its source in the letter's list (None without one)."""

    says: str
    source: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One proposal: its line on the face, and what unfolding shows."""

    id: str
    kind: str
    day: str
    about: str
    change: str
    """ "85 → 90 kg"."""
    certainty: str
    """ "sure", "likely" or "even"."""
    why: str
    says: str
    because: tuple[Said, ...]
    figure: str
    """ "85 % sure"."""
    claim: str
    runner_up: str | None
    cautions: tuple[Said, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One line of the face: a proposal, or several of one kind."""

    lines: tuple[Line, ...]
    day: str
    about: str
    change: str
    certainty: str
    """Of several, the one they share; "" where `why` says each."""
    why: str
    """Of several, each lift with its change, by day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """A letter in the order in which it is read; `happened` on, what is behind its face."""

    heading: str
    verdict: str
    changes: tuple[Change, ...]
    climb: str
    """ "as printed: 6 loads and 5 sets up"; "" where nothing climbs."""
    settle: tuple[str, ...]
    stays: tuple[str, ...]
    nothing: str
    """What stands in place of changes; "" where there are some."""
    message: str
    """To the lifter, in their words."""
    happened: tuple[str, ...]
    cautions: tuple[Said, ...]
    """Every caution in full."""
    all_stays: tuple[str, ...]
    sources: tuple[str, ...]
    """Numbered from 1."""

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
    settle = (*(sentence(one) for one in _asked(document["settle"])),
              *(sentence(_dated(line)) for line in document["caution_lines"]))  # fmt: skip
    stays = _face_stays(document)
    heading = f"{document['lifter']}: letter "
    heading += f"for week {week}" if week is not None else "after the last week"
    verdict, climb = sentence(document["verdict"]), _climb(document)
    room = MOST_WORDS - _WORDS_AROUND - _count((heading, verdict, climb, *settle))
    spoken = _count(stays)
    changes = _merged([_line(item, sources) for item in proposals], room - spoken)
    while len(stays) > 1 and spoken + sum(map(_words, changes)) > room:
        spoken -= len(stays[-1].split())
        stays = stays[:-1]
    changes = _briefer(changes, room - spoken)
    return Letter(
        heading=heading,
        verdict=verdict,
        changes=changes,
        climb=climb,
        settle=settle,
        stays=stays,
        nothing="" if changes else "Nothing against the print." if week else _OVER,
        message=document.get("message", ""),
        happened=tuple(note["says"] for note in document["notes"]),
        cautions=_said(document["cautions"], sources),
        all_stays=tuple(
            sentence(f"{_name(stay)}: {str(stay['why']).removeprefix(f'{_name(stay)} ')}")
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
        **proposal["line"],
        says=proposal["says"],
        because=_said(proposal["reasons"], sources),
        figure=sure_text(proposal["confidence"]),
        claim=proposal["claim"],
        runner_up=None if other is None else other["says"],
        cautions=_said(proposal["cautions"], sources),
    )


def _merged(lines: Sequence[Line], room: int) -> tuple[Change, ...]:
    """A change a line; where they are too many, or too many words, the largest kinds as one line
    each."""
    kinds: dict[str, list[Line]] = {}
    for line in lines:
        kinds.setdefault(_group(line), []).append(line)
    joined = {"refer"}
    changes = _shown(kinds, joined)
    keys = kinds.keys() & _MERGED.keys()
    for kind in sorted(keys, key=lambda kind: (kind == _CUT, -len(kinds[kind]))):
        too_long = sum(map(_words, changes)) > room
        if (len(changes) <= MOST_LINES or kind == _CUT) and not too_long:
            break
        joined |= {kind} if len(kinds[kind]) >= (2 if too_long else _LEAST_MERGED) else set()
        changes = _shown(kinds, joined)
    return changes


def _briefer(changes: Sequence[Change], room: int) -> tuple[Change, ...]:
    """The changes, where they are still too many words with what climbs by its lifts' names alone:
    each line unfolds; then what climbs alone without its reason, and what goes out for a pain
    without it where the referral has said it."""
    made = list(changes)
    for at, change in sorted(enumerate(changes), key=lambda one: -_words(one[1])):
        if sum(map(_words, made)) <= room:
            break
        if len(change.lines) > 1 and change.lines[0].kind in _CLIMBS:
            names = dict.fromkeys(line.about for line in change.lines)
            about = change.about.partition(" (")[0]
            made[at] = replace(change, about=about, why=", ".join(names))
    referred = "; ".join(change.why for change in changes if change.lines[0].kind == "refer")
    for at, change in enumerate(made):
        alone = len(change.lines) == 1 and change.lines[0].kind in _CLIMBS
        place, of_pain, _ = change.why.partition(" pain ")
        known = change.lines[0].kind in _OUT and of_pain and f"{place} (pain " in referred
        if (alone or known) and sum(map(_words, made)) > room:
            made[at] = replace(change, why="")
    return tuple(made)


def _group(line: Line) -> str:
    """The kind of change that a line is joined under."""
    if line.change.startswith(FIRST_LOAD):
        return "first_load"
    return "by_tries" if line.change.endswith(BY_TRIES) else line.kind


def _shown(kinds: Mapping[str, list[Line]], joined: set[str]) -> tuple[Change, ...]:
    changes: list[Change] = []
    for kind, found in kinds.items():
        changes += [_joined(kind, found)] if kind in joined else _alone(found)
    return tuple(changes)


def _words(change: Change) -> int:
    return _count((change.day, change.about, change.change, change.certainty, change.why))


def _count(parts: Iterable[str]) -> int:
    return sum(len(part.split()) for part in parts)


def _alone(lines: Sequence[Line]) -> list[Change]:
    """A change a line; the same one on two days is one."""
    alike: dict[tuple[str, str, str], list[Line]] = {}
    for line in lines:
        alike.setdefault((line.about, line.change, line.certainty), []).append(line)
    return [
        Change(
            lines=tuple(same),
            day=", ".join(line.day for line in same),
            about=about if same[0].day else about[:1].upper() + about[1:],
            change=change,
            certainty=certainty,
            why=same[0].why,
        )
        for (about, change, certainty), same in alike.items()
    ]


def _joined(kind: str, lines: Sequence[Line]) -> Change:
    noun = "muscle" if kind == "trim_sets" and not any(line.day for line in lines) else "lift"
    count = len({line.about for line in lines})
    what = f"{count} {noun}{'s' if count > 1 else ''}"
    unit = _common_unit([line.change.partition(" (")[0] for line in lines])
    reason = {line.why for line in lines}
    shared = len(reason) == 1 and kind.endswith("_load") and kind != _CUT
    because = f", {reason.pop()}" if shared else ""
    groups: dict[str, list[Line]] = {}
    for line in sorted(lines, key=lambda one: _WORDS.index(one.certainty)):
        groups.setdefault("" if kind == "refer" else line.certainty, []).append(line)
    by = _by_reason if kind == _CUT and count <= MOST_LINES else _by_day
    said = {word: by(kind, same, unit) for word, same in groups.items()}
    alike = len(said) == 1
    return Change(
        lines=tuple(lines),
        day="",
        about=_MERGED[kind].format(what=what)
        + (f" ({unit.strip()})" if unit in _LOADS else "")
        + because,
        change="",
        certainty=next(iter(said)) if alike else "",
        why="; ".join(own if alike else f"{word} {own}" for word, own in said.items()),
    )


def _by_reason(kind: str, lines: Sequence[Line], unit: str) -> str:
    """Lifts with their changes, those of one reason together, the reason without what was asked."""
    reasons: dict[str, list[Line]] = {}
    for line in lines:
        reasons.setdefault(line.why.partition(";")[0], []).append(line)
    return "; ".join(f"{_by_day(kind, same, unit)} ({why})" for why, same in reasons.items())


def _by_day(kind: str, lines: Sequence[Line], unit: str) -> str:
    """Each lift with its change, by day."""
    alike: dict[str, list[str]] = {}
    for line in lines:
        change = f"({line.why})" if kind == "refer" else line.change.removesuffix(BY_TRIES)
        change = change.partition(" (")[0] if kind == _CUT else change
        change = change.removesuffix(unit).removeprefix(FIRST_LOAD).replace(" → ", "→")
        alike.setdefault(f"{line.about} {change}".strip(), []).append(line.day)
    days: dict[str, list[str]] = {}
    for said, on in alike.items():
        days.setdefault(", ".join(dict.fromkeys(on)), []).append(said)
    return "; ".join(f"{day} {', '.join(each)}".strip() for day, each in days.items())


def _common_unit(changes: Sequence[str]) -> str:
    """ " kg" or " sets" where every change ends so, or at bodyweight, said once; else ""."""
    units = {f" {change.rpartition(' ')[2]}" for change in changes} - {" bodyweight"}
    return units.pop() if len(units) == 1 and units <= {*_LOADS, " sets"} else ""


def _climb(document: Document) -> str:
    climb = document.get("climb") or {"loads": 0, "sets": 0}
    if climb.get("into", "build") != "build":
        return "as printed: " + _INTO[climb["into"]]
    parts = [
        f"{n} {noun if n > 1 else noun.removesuffix('s')}"
        for n, noun in ((climb["loads"], "loads"), (climb["sets"], "sets"))
        if n
    ]
    return f"as printed: {' and '.join(parts)} up" if parts else ""


# ------------------------------------------------------------------------------ settle and stays


def _asked(questions: Iterable[Document]) -> list[str]:
    """The questions, those that ask the same of several things as one."""
    alike: dict[str, list[str]] = {}
    for one in questions:
        about, _, rest = one["asks"].partition(": ")
        alike.setdefault(rest or about, []).append(about if rest else "")
    told = {rest: "; ".join(dict.fromkeys(about)) for rest, about in alike.items()}
    return [_dated(f"{about}: {rest}" if about else rest) for rest, about in told.items()]


def _dated(text: str) -> str:
    """With its days as a coach says them."""
    return _ISO.sub(_short_day, text)


def _short_day(found: re.Match[str]) -> str:
    day = date.fromisoformat(found[0])
    return f"{day:%a} {day.day} {day:%b}"


def _name(stay: Document) -> str:
    return str(stay["lift"] or (stay["muscle"] or "").replace("_", " "))


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
        groups.setdefault(head or own, {})[_name(stay)] = own if head else ""
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


def _said(items: Iterable[Document], sources: Sequence[str]) -> tuple[Said, ...]:
    return tuple(
        Said(
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
