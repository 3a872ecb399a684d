"""What a letter changes, a line each, and the lines joined where they are too many."""

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from blockwright.engine.review.proposals import LetterLine, from_to

_MERGED = {
    "trim_sets": "Fewer sets than printed on {what}",
    "swap_lift": "{what} swapped",
    "stop_lift": "{what} out",
    "refer": "To a licensed professional (no diagnosis)",
}
"""What several changes of one kind are called as one line."""
MOST_LINES = 12  # Changes shown one by one; beyond, loads and added sets share a line a day
_DAILY = ("lower_load", "raise_load", "add_set")
_CUT = "lower_load"
_OUT = ("stop_lift", "swap_lift")
_WEEKS = ("light_week", "deload_now")
_FEW = 2  # First loads, at what was lifted, that are named; more are counted
_WORDS = ("even", "likely", "sure")
_TIGHT: Mapping[str, str] = {"load": "{was}→{to}", "sets": "{was}→{to} sets",
                             "stays": "not up, {to} again", "first": "first load {to}"}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Cited:
    """A sentence, with the number of its source in the letter's list (None without one)."""

    says: str
    source: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(LetterLine):
    """One proposal: its line on the face, and what unfolding shows."""

    id: str
    kind: str
    session: int  # 0 for what is not of one session
    says: str
    because: tuple[Cited, ...]
    figure: str  # "85 % sure"
    claim: str
    runner_up: str | None
    cautions: tuple[Cited, ...]

    @property
    def in_short(self) -> str:
        """Why, without what is asked or else beside it."""
        return self.brief or self.why

    @property
    def is_as_lifted(self) -> bool:
        """Whether a load the print left open is what was lifted, and likely to land."""
        return self.way == "first" and not self.tries and self.certainty != _WORDS[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One line of the face: a proposal, or several of one kind or day."""

    lines: tuple[Line, ...]
    day: str
    about: str
    change: str
    certainty: str  # Of several, the one they share; "" where `why` says each
    why: str  # Of several, each lift with its change


@dataclass(frozen=True, slots=True, kw_only=True)
class _Telling:
    """One way to tell the lines of a letter."""

    daily: Callable[[Line], str] | None = None
    """What stands behind each load or added set, a line a day; None for a line each."""
    joined: Collection[str] = ("refer",)  # Kinds whose lines are one
    plain: bool = False
    """Whether a week's answer goes without the lifts that show why, and what goes out without where
    its stand-in's tries begin and the pain that the referral tells."""


def _of_cuts(say: Callable[[Line], str]) -> Callable[[Line], str]:
    return lambda line: say(line) if line.kind == _CUT else ""


def _in_few(line: Line) -> str:
    """Why, of what goes up the set alone: "12 at 80"."""
    return line.in_short if line.kind == _CUT else line.in_short.partition(" with ")[0]


_TELLINGS = (
    _Telling(),
    _Telling(daily=lambda line: line.in_short),
    _Telling(daily=_in_few, joined=_MERGED),
    _Telling(daily=_of_cuts(lambda line: line.in_short)),
    _Telling(daily=_of_cuts(lambda line: line.in_short), joined=_MERGED),
    _Telling(daily=_of_cuts(lambda line: line.in_short), joined=_MERGED, plain=True),
    _Telling(daily=_of_cuts(lambda line: line.cause or line.in_short), joined=_MERGED, plain=True),
    _Telling(daily=lambda line: "", joined=_MERGED, plain=True),
)
"""From a line each with all its reasons to every load by its day and no more: a coach signs what
can be seen."""


def face_of(
    lines: Sequence[Line], stays: Sequence[str], room: int
) -> tuple[tuple[Change, ...], tuple[str, ...]]:
    """The changes in the fullest telling that leaves room for the lines of what stays, and those
    lines: all but the first give way before a reason of what hurts or comes down does."""
    kept = list(stays)
    for telling in _TELLINGS:
        changes = _told(lines, telling)
        words = sum(map(words_of, changes))
        while telling.joined is _MERGED and len(kept) > 1 and words + count_words(kept) > room:
            kept.pop()
        few = telling.daily is not None or len(changes) <= MOST_LINES
        if few and words + count_words(kept) <= room:
            break
    return changes, tuple(kept)


def words_of(change: Change) -> int:
    return count_words((change.day, change.about, change.change, change.certainty, change.why))


def count_words(parts: Iterable[str]) -> int:
    return sum(len(part.split()) for part in parts)


def _told(lines: Sequence[Line], telling: _Telling) -> tuple[Change, ...]:
    """In the order of the lines, their kinds together."""
    known = {line.place for line in lines if line.kind == "refer"} - {""}
    if telling.plain:
        lines = [_plain(line, known) for line in lines]
    held = {(line.day, line.about) for line in lines if line.kind == _CUT}
    lines = [replace(line, why="") if line.kind == "trim_sets" and (line.day, line.about) in held
             else line for line in lines]  # fmt: skip
    at = {(line.about, line.to) for line in lines if line.is_as_lifted}
    opened = [line for line in lines if line.way == "first" and (line.about, line.to) in at]
    as_lifted = opened if telling.daily is not None or len(opened) > _FEW else []
    kinds: dict[str, list[Line]] = {}
    for line in lines:
        daily = line.kind in _DAILY or (line.day, line.about) in held
        by_day = telling.daily is not None and daily and line.day
        kind = "first" if line in as_lifted else "by day" if by_day else line.kind
        kinds.setdefault(kind, []).append(line)
    changes: list[Change] = []
    for kind, found in kinds.items():
        if kind == "first":
            moved = {(line.about, line.to) for line in lines if line not in found}
            changes.append(_first_loads(found, moved))
        elif kind == "by day" and telling.daily is not None:
            changes += _days(found, telling.daily)
        elif kind == "refer" or (kind in telling.joined and len(found) > 1):
            changes.append(_joined(kind, found))
        else:
            changes += _alone(found)
    return tuple(sorted(changes, key=lambda one: one.about.startswith(_FIRST)))


def _plain(line: Line, known: Collection[str]) -> Line:
    if line.kind in _WEEKS:
        return replace(line, why=line.in_short)
    why = "" if line.place in known else line.why
    if line.kind in _OUT:
        return replace(line, why=why, change=line.change.removesuffix(line.tries))
    return replace(line, brief="", cause="", why="") if line.kind == _CUT and not why else line


_FIRST = "First load"


def _first_loads(lines: Sequence[Line], moved: Collection[tuple[str, str]]) -> Change:
    """Loads that the print left open, as they were lifted: a line for all; by name what no other
    line leads to the same load."""
    lifts = {one.about: one for one in lines if (one.about, one.to) not in moved} or {
        one.about: one for one in lines
    }
    count = f"{len(lines)} as lifted"
    named = ", ".join(f"{about} {line.to} {line.unit}" for about, line in lifts.items())
    return Change(
        lines=tuple(lines),
        day="",
        about=_FIRST + ("s" if len(lines) > 1 else ""),
        change=named if len(lifts) <= _FEW else count,
        certainty=_usual(lines),
        why="",
    )


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


def _days(lines: Sequence[Line], why: Callable[[Line], str]) -> list[Change]:
    """A line for each day, the unit of the loads behind the first; the same change for the same
    reason on a later day is told without it."""
    days: dict[tuple[int, str], list[Line]] = {}
    for line in lines:
        days.setdefault((line.session, line.day), []).append(line)
    units = dict.fromkeys(line.unit for line in lines if line.unit not in ("", "sets"))
    made: list[Change] = []
    told: set[tuple[str, str, str]] = set()
    for (_, day), mine in sorted(days.items()):
        usual, lifts = _usual(mine), dict[str, list[Line]]()
        for line in mine:
            lifts.setdefault(line.about, []).append(line)
        said = []
        for about, of_lift in lifts.items():
            behind = [
                word
                for line in of_lift
                for word in (_weaker(line, usual), "" if _same(line, why) in told else why(line))
            ]
            said.append(f"{about} {', '.join(map(_tight, of_lift))}{_in_brackets(behind)}")
        told.update(_same(line, why) for line in mine)
        made.append(Change(lines=tuple(mine), day="", change="", certainty=usual,
                           about=day if made else f"{day}{_in_brackets(units)}",
                           why="; ".join(said)))  # fmt: skip
    return made


def _same(line: Line, why: Callable[[Line], str]) -> tuple[str, str, str]:
    return line.about, line.change, why(line)


def _in_brackets(words: Iterable[str]) -> str:
    """ " (even; 15 at 25 with 6 left)", each once; "" of none."""
    said = "; ".join(dict.fromkeys(filter(None, words)))
    return f" ({said})" if said else ""


def _usual(lines: Iterable[Line]) -> str:
    """The certainty of most; of as many, the stronger."""
    counts = Counter(line.certainty for line in lines)
    return max(counts, key=lambda word: (counts[word], _WORDS.index(word)))


def _weaker(line: Line, usual: str) -> str:
    """The certainty of a line that is less than what stands before them all; of a cut, another."""
    less = _WORDS.index(line.certainty) < _WORDS.index(usual)
    return line.certainty if less or (line.kind == _CUT and line.certainty != usual) else ""


def _tight(line: Line) -> str:
    """The change in as few words as say it: "95→90"."""
    if line.kind == "trim_sets":
        return line.change.removeprefix("not up, ")
    way = line.way or ""
    was, to = from_to(line.was, line.to, "")
    told = _TIGHT.get(way, line.change).format(was=was, to=to)
    return told + (" by tries" if line.tries and line.way in ("load", "first") else "")
