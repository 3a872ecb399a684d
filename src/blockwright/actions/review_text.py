"""A review as a coach reads it: a letter. What happened, what we propose, why, how sure."""

from collections.abc import Iterable, Mapping
from textwrap import fill
from typing import Any

WIDTH = 92
ASKED_FOR = ("refer", "stop_lift", "swap_lift", "deload_now", "extend_block", "raise_load",
             "lower_load", "add_set", "trim_sets")  # fmt: skip
"""Kinds that change something; the rest stays and is told in short."""


def review_text(document: Mapping[str, Any]) -> str:
    """The letter of a `blockwright/proposals/1` document."""
    proposals = document["proposals"]
    changes = [p for p in proposals if p["kind"] in ASKED_FOR]
    stays = [p for p in proposals if p["kind"] not in ASKED_FOR]
    week = document["week"]
    parts = [
        f"{document['lifter']}, through {document['through']}"
        + (f": proposals for week {week}" if week is not None else ""),
        "",
        *_cautions(document["cautions"]),
        "What happened",
        *(_item(note["says"]) for note in document["notes"]),
        "",
        "What we propose",
        *(_change(proposal) for proposal in changes),
    ]
    if not changes:
        parts.append(_item("no change" if stays else "nothing: no week is left to change"))
    if stays:
        parts += ["", "What stays", *(_stay(proposal) for proposal in stays)]
    if proposals:
        parts += [
            "",
            fill(
                "Accept, change or decline each line by the name in brackets, with "
                "`blockwright revise`. Cautions stay whatever is decided.",
                WIDTH,
            ),
        ]
    return "\n".join(parts)


def _cautions(cautions: Iterable[Mapping[str, Any]]) -> list[str]:
    lines = [_item(caution["says"]) for caution in cautions]
    return ["Caution", *lines, ""] if lines else []


def _change(proposal: Mapping[str, Any]) -> str:
    lines = [_item(f"{proposal['says']}  [{proposal['id']}]")]
    lines += [_under(f"because {reason['says']}") for reason in proposal["reasons"]]
    lines.append(_under(f"{_sure(proposal)} that {proposal['claim']}"))
    if proposal["runner_up"] is not None:
        lines.append(_under(f"instead of: {proposal['runner_up']['says']}"))
    return "\n".join(lines)


def _stay(proposal: Mapping[str, Any]) -> str:
    why = proposal["reasons"][0]["says"]
    return _item(f"{proposal['says']}: {why} ({_sure(proposal)})  [{proposal['id']}]")


def _sure(proposal: Mapping[str, Any]) -> str:
    return f"{100 * proposal['confidence']:.0f} % sure"


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
