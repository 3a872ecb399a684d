"""The sheet as plain text: 80 columns, for a terminal or any printer."""

import re
from collections.abc import Iterator
from textwrap import wrap

from .sheet_words import Document, EntryWords, SheetWords, sheet_words

WIDTH = 80
_INDENT = "    "


def sheet_text(document: Document) -> str:
    """One session, no line wider than 80 characters unless a single word is."""
    return "\n".join(_lines(sheet_words(document))) + "\n"


def _lines(sheet: SheetWords) -> Iterator[str]:
    yield from _spread(sheet.lifter, sheet.day)
    yield from _folded(sheet.place)
    if sheet.refer:
        yield from ("", *_folded(sheet.refer.upper()))
    yield "=" * WIDTH
    if sheet.finding:
        yield from (*_folded(f"Finding a load. {sheet.finding}."), "-" * WIDTH)
    for entry in sheet.entries:
        yield from _entry(entry)
        yield "-" * WIDTH
    for note in sheet.notes:
        yield from _folded(f"Note: {note}")
    yield from _folded(f"Caution: {sheet.cautions}")
    yield ""
    yield "Began ______  ended ______  effort of the whole session, 0-10 ______"


def _entry(entry: EntryWords) -> Iterator[str]:
    head = f"{entry.order:>2}  {entry.title}"
    if len(head) + 2 + len(entry.rest) <= WIDTH:
        yield from _spread(head, entry.rest)
    else:
        yield from (*_folded(head), *_folded(entry.rest, _INDENT))
    for target in entry.targets:
        load = ": ".join(part for part in (target.load, target.setting) if part)
        said = ", ".join(part for part in (target.asked, load, target.forecast) if part)
        yield from _folded(said, _INDENT)
    advice = "; ".join(f"{part.reps}, {part.rest}" for part in entry.advice)
    for label, text in (
        ("", entry.standard),
        ("Caution: ", entry.caution),
        ("", entry.shared),
        ("Warm up: ", entry.warmup),
        ("Tries: ", entry.tries),
        (f"{entry.advice_head}: ", f"{advice}." if advice else ""),
    ):
        if text:
            yield from _folded(f"{label}{text}", _INDENT)
    for number in range(1, entry.sets + 1):
        yield f"{_INDENT}set {number}   load ________   reps ______   in reserve ______"


def _spread(left: str, right: str) -> Iterator[str]:
    """Two ends of one line, or two lines where they do not fit."""
    if len(left) + 2 + len(right) <= WIDTH:
        yield left + right.rjust(WIDTH - len(left))
    else:
        yield from (*_folded(left), *_folded(right))


def _folded(text: str, indent: str = "") -> list[str]:
    # A number stays with its unit: wrap does not break at a no-break space.
    tied = re.sub(r"(?<=\d) (?=(?:kg|lb)\b)", "\N{NO-BREAK SPACE}", text)
    lines = wrap(
        tied,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]
