"""The letter as text: the face on one screen, or in full with figures, sources, runners-up."""

from collections.abc import Iterable, Iterator
from textwrap import wrap

from blockwright.sheets.letter import Letter
from blockwright.sheets.letter_changes import Change, Line, Said

WIDTH = 100
_HEAD = 9
"""Columns of "Change   "."""


def letter_text(letter: Letter, *, full: bool = False) -> str:
    """The face; with `full` also each line's figures and the names that decide on it."""
    parts = [letter.heading, *wrap(letter.verdict, WIDTH)]
    parts += _under("Change", [*_changes(letter.changes), *_climb(letter)])
    parts += _under("Settle", _wrapped(letter.settle))
    parts += _under("Stays", _wrapped(letter.stays))
    if full:
        parts += ["", *_full(letter)]
    elif letter.changes:
        parts.append("More, and names: --full")
    return "\n".join(parts)


def _changes(changes: Iterable[Change]) -> Iterator[list[str]]:
    changes = list(changes)
    alone = [change for change in changes if _is_alone(change)]
    for change in changes:
        if _is_alone(change):
            alike = [_cells(one) for one in alone if bool(one.day) == bool(change.day)]
            widths = [max(map(len, column)) for column in zip(*alike, strict=True)]
            pad = (cell.ljust(width) for cell, width in zip(_cells(change), widths, strict=True))
            yield _hanging("  ".join(cell for cell in pad if cell), change.why)
        else:
            sure = f", {change.certainty}" if change.certainty else ""
            yield _hanging("", f"{change.about}{sure}: {change.why}")


def _cells(change: Change) -> tuple[str, ...]:
    return (change.day, change.about, change.change, change.certainty)


def _is_alone(change: Change) -> bool:
    return bool(change.change)


def _hanging(head: str, rest: str) -> list[str]:
    """A line with its reason, which goes on below where it is too long."""
    room = WIDTH - _HEAD
    if len(head) + 2 + len(rest) <= room:
        return [f"{head}  {rest}".strip()]
    if not head:
        return wrap(rest, room, subsequent_indent="  ", break_on_hyphens=False)
    return [head.rstrip(), *wrap(rest, room, initial_indent="    ", subsequent_indent="    ")]


def _climb(letter: Letter) -> Iterator[list[str]]:
    if letter.nothing:
        yield [letter.nothing]
    if letter.climb:
        yield [letter.climb[:1].upper() + letter.climb[1:]]


def _wrapped(sentences: Iterable[str]) -> Iterator[list[str]]:
    for sentence in sentences:
        yield wrap(sentence, WIDTH - _HEAD, subsequent_indent="  ", break_on_hyphens=False)


def _under(head: str, items: Iterable[list[str]]) -> list[str]:
    lines = [line for item in items for line in item]
    return [f"{head if n == 0 else '':{_HEAD}}{line}" for n, line in enumerate(lines)]


# --------------------------------------------------------------------------------------- in full


def _full(letter: Letter) -> Iterator[str]:
    if letter.message:
        yield from ("To the lifter", *_filled(letter.message), "")
    yield from ["What happened"] if letter.happened else []
    for note in letter.happened:
        yield from _filled(note)
    for line in letter.lines:
        yield ""
        yield from _line(line)
    if letter.all_stays:
        yield from ("", "What stays")
        for stay in letter.all_stays:
            yield from _filled(stay)
    if letter.cautions:
        yield from ("", "Cautions, whatever is decided")
        for caution in letter.cautions:
            yield from _filled(_numbered(caution))
    if letter.sources:
        yield from ("", "Sources")
        for number, source in enumerate(letter.sources, 1):
            yield from _filled(f"[{number}] {source}")
    if letter.lines:
        yield ""
        yield "Accept, change or decline each line by the name in brackets: `blockwright revise`."


def _line(line: Line) -> Iterator[str]:
    yield from _filled(f"{line.says}  [{line.id}]", indent="")
    for reason in line.because:
        yield from _filled(f"because {_numbered(reason)}", indent="    ")
    yield from _filled(f"{line.figure} that {line.claim}", indent="    ")
    if line.runner_up:
        yield from _filled(f"next best: {line.runner_up}", indent="    ")


def _numbered(said: Said) -> str:
    return said.says + ("" if said.source is None else f" [{said.source}]")


def _filled(text: str, indent: str = "  ") -> list[str]:
    """Wrapped with a hanging indent; a proposal's name is never broken at its hyphens."""
    return wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "  ",
        break_on_hyphens=False,
        break_long_words=False,
    )
