"""What a letter changes, a line each, and the lines joined where they are too many."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

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
MOST_LINES = 7
"""Changes shown one by one; beyond, the kinds with most changes share a line each, without their
reasons."""
_CUT = "lower_load"
"""Shares a line last, and keeps its reasons there; so many lifts have one reason, the week."""
_CLIMBS = ("raise_load", "add_set")
_OUT = ("stop_lift", "swap_lift")
_WEEKS = ("light_week", "deload_now")
_LEAST_MERGED = 3
_SHORT = "short of range"
_LOADS = (" kg", " lb")
FIRST_LOAD = "first load "
BY_TRIES = " (by tries)"
_WORDS = ("sure", "likely", "even")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cited:
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
    because: tuple[Cited, ...]
    figure: str
    """ "85 % sure"."""
    claim: str
    runner_up: str | None
    cautions: tuple[Cited, ...]


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


def merged(lines: Sequence[Line], room: int) -> tuple[Change, ...]:
    """A change a line; where they are too many, or too many words, the largest kinds as one line
    each."""
    kinds: dict[str, list[Line]] = {}
    for line in lines:
        kinds.setdefault(_group(line), []).append(line)
    joined = {"refer"}
    changes = _shown(kinds, joined)
    keys = kinds.keys() & _MERGED.keys()
    for kind in sorted(keys, key=lambda kind: (kind == _CUT, -len(kinds[kind]))):
        too_long = sum(map(words_of, changes)) > room
        if (len(changes) <= MOST_LINES or kind == _CUT) and not too_long:
            break
        joined |= {kind} if len(kinds[kind]) >= (2 if too_long else _LEAST_MERGED) else set()
        changes = _shown(kinds, joined)
    return changes


def briefer(changes: Sequence[Change], room: int) -> tuple[Change, ...]:
    """The changes, where they are still too many words: a week's answer with one lift that shows
    why; what climbs by its lifts' names alone: each line unfolds; then what climbs alone without
    its reason, and what goes out for a pain without it where the referral has said it."""
    made = list(changes)
    if sum(map(words_of, made)) > room:
        made = [replace(one, why=one.why.partition(", ")[0]) if one.lines[0].kind in _WEEKS else one
                for one in made]  # fmt: skip
    for at, change in sorted(enumerate(changes), key=lambda one: -words_of(one[1])):
        if sum(map(words_of, made)) <= room:
            break
        if len(change.lines) > 1 and change.lines[0].kind in _CLIMBS:
            names = dict.fromkeys(line.about for line in change.lines)
            about = change.about.partition(" (")[0]
            made[at] = replace(change, about=about, why=", ".join(names))
    referred = "; ".join(change.why for change in changes if change.lines[0].kind == "refer")
    if sum(map(words_of, made)) > room:
        made = [_by_cause(change, referred) for change in made]
    for at, change in enumerate(made):
        alone = len(change.lines) == 1 and change.lines[0].kind in _CLIMBS
        place, of_pain, _ = change.why.partition(" pain ")
        known = change.lines[0].kind in _OUT and of_pain and f"{place} (pain " in referred
        if (alone or known) and sum(map(words_of, made)) > room:
            made[at] = replace(change, why="")
    return tuple(made)


def _by_cause(change: Change, referred: str) -> Change:
    """Loads below the print by cause: sets that fell short as one, and pain that the referral tells
    by its place; what was lifted unfolds."""
    if len(change.lines) < _LEAST_MERGED or change.lines[0].kind != _CUT:
        return change

    def cause(line: Line) -> str:
        place, of_pain, _ = line.why.rpartition("pain ")
        if of_pain and f"{place.strip() or line.about} (pain " in referred:
            return f"{place}pain"
        return _SHORT if line.why[:1].isdigit() else line.why

    joined = _joined(_CUT, [replace(line, why=cause(line)) for line in change.lines])
    return replace(joined, lines=change.lines)


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


def words_of(change: Change) -> int:
    return count_words((change.day, change.about, change.change, change.certainty, change.why))


def count_words(parts: Iterable[str]) -> int:
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
        on = [] if kind in _OUT else on
        days.setdefault(", ".join(dict.fromkeys(on)), []).append(said)
    return "; ".join(f"{day} {', '.join(each)}".strip() for day, each in days.items())


def _common_unit(changes: Sequence[str]) -> str:
    """ " kg" or " sets" where every change ends so, or at bodyweight, said once; else ""."""
    units = {f" {change.rpartition(' ')[2]}" for change in changes} - {" bodyweight"}
    return units.pop() if len(units) == 1 and units <= {*_LOADS, " sets"} else ""
