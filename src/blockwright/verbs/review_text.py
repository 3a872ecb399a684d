"""A review as a coach reads it: a letter. What happened, what we propose, why, how sure."""

from collections.abc import Mapping
from textwrap import fill
from typing import Any

from blockwright.sheets.letter import Letter, Line, letter_of

WIDTH = 92


def review_text(document: Mapping[str, Any]) -> str:
    """The letter of a `blockwright/proposals/1` document."""
    letter = letter_of(document)
    parts = [
        letter.title,
        _filled(letter.verdict, ""),
        "",
        *_cautions(letter),
        *(["Is it true?", *(_item(asked) for asked in letter.asks), ""] if letter.asks else []),
        "What happened",
        *(_item(note) for note in letter.happened),
        "",
        "What we propose",
        *(_change(line) for line in letter.changes),
    ]
    if letter.nothing:
        parts.append(_item(letter.nothing))
    if letter.settle:
        parts += ["", "To settle", *(_item(question) for question in letter.settle)]
    if letter.stays:
        parts += ["", "What stays", *(_item(stay) for stay in letter.stays)]
    if letter.changes:
        parts += [
            "",
            fill(
                "Accept, change or decline each line by the name in brackets, with "
                "`blockwright revise`. Cautions stay whatever is decided.",
                WIDTH,
            ),
        ]
    return "\n".join(parts)


def _cautions(letter: Letter) -> list[str]:
    lines = [_item(caution.says) for caution in letter.cautions]
    return ["Caution", *lines, ""] if lines else []


def _change(line: Line) -> str:
    lines = [_item(f"{line.says}  [{line.id}]")]
    lines += [_under(f"because {reason.says}") for reason in line.because]
    lines.append(_under(f"{line.sure} that {line.claim}"))
    if line.runner_up is not None:
        lines.append(_under(f"next best: {line.runner_up}"))
    return "\n".join(lines)


def _item(text: str) -> str:
    return _filled(text, "  ")


def _under(text: str) -> str:
    return _filled(text, "      ")


def _filled(text: str, indent: str) -> str:
    """Wrapped with a hanging indent; a proposal's name is never broken at its hyphens."""
    return fill(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "  ",
        break_on_hyphens=False,
        break_long_words=False,
    )
