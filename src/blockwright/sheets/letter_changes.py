"""What a letter changes, a line each, and the lines joined where they are too many."""

import re
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace

_MERGED = {
    "trim_sets": "Fewer sets on {what}",
    "swap_lift": "{what} swapped",
    "stop_lift": "{what} out",
    "refer": "To a licensed professional (no diagnosis)",
}
"""What several changes of one kind are called as one line."""
MOST_LINES = 7
"""Changes shown one by one; beyond, loads and added sets share a line a day."""
_DAILY = ("lower_load", "raise_load", "add_set")
_CUT = "lower_load"
_OUT = ("stop_lift", "swap_lift")
_WEEKS = ("light_week", "deload_now")
_SHORT = "short of range"
FIRST_LOAD = "first load "
BY_TRIES = " (by tries)"
_WORDS = ("even", "likely", "sure")
_UNITS = ("kg", "lb")
_TRIES = re.compile(r", tries from [+\d.]+ \w+")


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
    session: int
    """0 for what is not of one session."""
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
    """One line of the face: a proposal, or several of one kind or day."""

    lines: tuple[Line, ...]
    day: str
    about: str
    change: str
    certainty: str
    """Of several, the one they share; "" where `why` says each."""
    why: str
    """Of several, each lift with its change."""


def merged(lines: Sequence[Line], room: int) -> tuple[Change, ...]:
    """A change a line; where they are too many, or too many words, loads and added sets are a line
    a day, with the reasons there is room for, and then other kinds a line each."""
    changes = _shown(lines, None, ("refer",))
    if len(changes) <= MOST_LINES and sum(map(words_of, changes)) <= room:
        return changes
    for why, joined in ((_reason, ("refer",)), (_reason_in_short, ("refer",)),
                        (_reason_of_cut, ("refer",)), (_reason_of_cut, _MERGED)):  # fmt: skip
        changes = _shown(lines, why, joined)
        if sum(map(words_of, changes)) <= room:
            break
    return changes


def briefer(changes: Sequence[Change], room: int) -> tuple[Change, ...]:
    """The changes, where they are still too many words: a week's answer with one lift that shows
    why; what goes out without where its stand-in's tries begin, nor the pain that the referral
    tells; loads that come down
    by cause, then without their reasons. Every load stays: a coach signs what can be seen."""
    referred = "; ".join(change.why for change in changes if change.lines[0].kind == "refer")

    def cause(line: Line) -> str:
        place, of_pain, _ = line.why.rpartition("pain ")
        if line.kind != _CUT or (of_pain and f"{place.strip() or line.about} (pain " in referred):
            return ""
        return _SHORT if line.why[:1].isdigit() else line.why.partition(";")[0]

    def plain(change: Change) -> Change:
        kind, (place, of_pain, _) = change.lines[0].kind, change.why.partition(" pain ")
        if kind in _WEEKS:
            return replace(change, why=change.why.partition(", ")[0])
        if kind not in _OUT:
            return change
        known = of_pain and f"{place} (pain " in referred
        to, why = (_TRIES.sub("", said) for said in (change.change, change.why))
        return replace(change, change=to, why="" if known else why)

    made = list(changes)
    steps: tuple[Callable[[Change], Change], ...] = (
        plain,
        lambda change: _told_again(change, cause),
        lambda change: _told_again(change, lambda line: ""),
        lambda change: replace(change, why="") if change.lines[0].kind in _DAILY and change.change
        else change,
    )  # fmt: skip
    for step in steps:
        if sum(map(words_of, made)) > room:
            made = [step(change) for change in made]
    return tuple(made)


def words_of(change: Change) -> int:
    return count_words((change.day, change.about, change.change, change.certainty, change.why))


def count_words(parts: Iterable[str]) -> int:
    return sum(len(part.split()) for part in parts)


_Why = Callable[[Line], str]
"""What is said of a line behind its change; "" for nothing."""


def _reason(line: Line) -> str:
    return "" if line.change.startswith(FIRST_LOAD) else line.why.partition(";")[0]


def _reason_in_short(line: Line) -> str:
    """Of two loads, the one that is judged by."""
    return _reason(line).rpartition(", then ")[2]


def _reason_of_cut(line: Line) -> str:
    return _reason(line) if line.kind == _CUT else ""


def _shown(
    lines: Iterable[Line], daily: _Why | None, joined: Collection[str]
) -> tuple[Change, ...]:
    """In the order of the lines, their kinds together; loads and added sets by day where `daily`
    says what stands behind each."""
    kinds: dict[str, list[Line]] = {}
    for line in lines:
        by_day = daily is not None and line.kind in _DAILY and line.day
        kinds.setdefault("by day" if by_day else line.kind, []).append(line)
    changes: list[Change] = []
    for kind, found in kinds.items():
        if kind == "by day" and daily is not None:
            changes += _days(found, daily)
        elif kind == "refer" or (kind in joined and len(found) > 1):
            changes.append(_joined(kind, found))
        else:
            changes += _alone(found)
    return tuple(changes)


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
    """Several of one kind as one line; of a referral what each is for, of others where it goes."""
    noun = "lift" if any(line.day for line in lines) else "muscle"
    count = len({line.about for line in lines})
    usual = _usual(lines)
    said = [f"{line.about} ({line.why})" if kind == "refer" else
            f"{line.day} {line.about} {_tight(line)}{_in_brackets([_weaker(line, usual)])}".strip()
            for line in lines]  # fmt: skip
    return Change(
        lines=tuple(lines),
        day="",
        about=_MERGED[kind].format(what=f"{count} {noun}{'s' if count > 1 else ''}"),
        change="",
        certainty="" if kind == "refer" else usual,
        why=", ".join(said),
    )


def _days(lines: Sequence[Line], why: _Why) -> list[Change]:
    """A line for each day, the unit behind the first and what a load without an arrow is; the same
    change for the same reason on a later day is told without it."""
    days: dict[tuple[int, str], list[Line]] = {}
    for line in lines:
        days.setdefault((line.session, line.day), []).append(line)
    units = {line.change.partition(" (")[0].rpartition(" ")[2] for line in lines} & {*_UNITS}
    first = any(line.change.startswith(FIRST_LOAD) for line in lines)
    note = ", ".join([*units, *(["no arrow: first load"] if first else [])])
    made: list[Change] = []
    told: set[tuple[str, str, str]] = set()

    def once(line: Line) -> str:
        return "" if _same(line) in told else why(line)

    for (_, day), mine in sorted(days.items()):
        about = f"{day} ({note})" if note and not made else day
        one = Change(lines=tuple(mine), day="", about=about, change="", certainty=_usual(mine),
                     why="")  # fmt: skip
        made.append(_told_again(one, once))
        told.update(map(_same, mine))
    return made


def _same(line: Line) -> tuple[str, str, str]:
    return line.about, line.change, line.why


def _told_again(change: Change, why: _Why) -> Change:
    """The line of a day with something else behind its changes; any other as it is."""
    if change.change or change.lines[0].kind not in _DAILY:
        return change
    lifts: dict[str, list[Line]] = {}
    for line in change.lines:
        lifts.setdefault(line.about, []).append(line)
    said = []
    for about, mine in lifts.items():
        behind = [word for line in mine for word in (_weaker(line, change.certainty), why(line))]
        said.append(f"{about} {', '.join(map(_tight, mine))}{_in_brackets(behind)}")
    return replace(change, why="; ".join(said))


def _in_brackets(words: Iterable[str]) -> str:
    """ " (even; 15 at 25 with 6 left)", each once; "" of none."""
    said = "; ".join(dict.fromkeys(filter(None, words)))
    return f" ({said})" if said else ""


def _usual(lines: Iterable[Line]) -> str:
    """The certainty of most; of as many, the weaker."""
    counts = Counter(line.certainty for line in lines)
    return max(counts, key=lambda word: (counts[word], -_WORDS.index(word)))


def _weaker(line: Line, usual: str) -> str:
    """The certainty of a line that is less than what stands before them all."""
    return line.certainty if _WORDS.index(line.certainty) < _WORDS.index(usual) else ""


def _tight(line: Line) -> str:
    """The change in as few words as say it: "95→90"."""
    told, by_tries, _ = line.change.partition(BY_TRIES)
    told = told.partition(" (")[0].removeprefix(FIRST_LOAD).replace(" → ", "→")
    if line.kind in _DAILY:
        told = told.removesuffix(" kg").removesuffix(" lb")
    return told + (" by tries" if by_tries else "")
