"""The sheet as plain text: 80 columns, for a terminal or any printer."""

import re
from collections.abc import Iterator
from textwrap import wrap

from blockwright.engine.units import Unit
from blockwright.sheets.phrases import (
    Document,
    advice_head,
    advice_parts,
    caution_paragraph,
    cautions_text,
    day_text,
    effort_text,
    finding_text,
    lift_title,
    minutes_text,
    place_text,
    refer_text,
    rests,
    rung_text,
    shared_bar_sentence,
    targets,
    tries_text,
)

WIDTH = 80
_INDENT = "    "


def sheet_text(document: Document) -> str:
    """One session, no line wider than 80 characters unless a single word is."""
    return "\n".join(_lines(document)) + "\n"


def _lines(document: Document) -> Iterator[str]:
    yield from _spread(document["lifter"], day_text(document))
    yield from _folded(
        f"{lift_title(place_text(document))}; {effort_text(document['week_rir'])}; "
        f"{minutes_text(document)}"
    )
    if refer := refer_text(document):
        yield from ("", *_folded(refer.upper()))
    yield "=" * WIDTH
    if finding := finding_text(document):
        yield from (*_folded(f"Finding a load. {finding}."), "-" * WIDTH)
    rest_of = rests(document["entries"])
    for entry in document["entries"]:
        yield from _entry(entry, rest_of[entry["order"]], document["units"])
        yield "-" * WIDTH
    for note in document["notes"]:
        yield from _folded(f"Note: {note['says']}.")
    yield from _folded(f"Caution: {cautions_text(document)}")
    yield ""
    yield "Began ______  ended ______  effort of the whole session, 0-10 ______"


def _entry(entry: Document, rest: str, unit: Unit) -> Iterator[str]:
    head = f"{entry['order']:>2}  {lift_title(entry['lift'])}"
    if len(head) + 2 + len(rest) <= WIDTH:
        yield from _spread(head, rest)
    else:
        yield from (*_folded(head), *_folded(rest, _INDENT))
    for target in targets(entry, unit):
        load = ": ".join(part for part in (target.load, target.setting) if part)
        said = ", ".join(part for part in (target.asked, load, target.forecast) if part)
        yield from _folded(said, _INDENT)
    yield from _folded(entry["standard"], _INDENT)
    if caution := caution_paragraph(entry):
        yield from _folded(f"Caution: {caution}", _INDENT)
    if entry["shared_bar"]:
        yield from _folded(shared_bar_sentence(entry["shared_bar"], unit) + ".", _INDENT)
    if entry["warmup"]:
        rungs = "; ".join(rung_text(rung, unit) for rung in entry["warmup"])
        yield from _folded(f"Warm up: {rungs}.", _INDENT)
    if tries := tries_text(entry, unit):
        yield from _folded(f"Tries: {tries}.", _INDENT)
    if advice := "; ".join(f"{part.reps}, {part.rest}" for part in advice_parts(entry, unit)):
        yield from _folded(f"{advice_head(entry)}: {advice}.", _INDENT)
    for number in range(1, len(entry["sets"]) + 1):
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
