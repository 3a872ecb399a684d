"""The review's letter, sorted for reading: what command, page and paper say in the same sentences.

Works on a `blockwright/proposals/1` document as plain JSON; every sentence comes ready made.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Document = Mapping[str, Any]

SURE_WORDS = (
    (0.99, "virtually certain"),
    (0.90, "very likely"),
    (0.66, "likely"),
    (0.50, "more likely than not"),
    (0.33, "about as likely as not"),
)
"""Words for a probability of at least so much; below the last it is "unlikely". Mastrandrea et al.
2010, guidance note on the treatment of uncertainties, Table 1 (from memory); "more likely than
not" begins at the upper half of its "about as likely as not"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A sentence, with the number of its source in the letter's list (None without one)."""

    says: str
    source: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One proposal as the letter tells it."""

    id: str
    kind: str
    says: str
    because: tuple[Said, ...]
    sure: str
    """ "85 % sure"."""
    sure_words: str
    """ "likely"."""
    claim: str
    runner_up: str | None
    cautions: tuple[Said, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """A letter in the order in which it is read."""

    title: str
    cautions: tuple[Said, ...]
    asks: tuple[str, ...]
    """Sets that were set aside: is each true? They lead the letter, after the cautions."""
    verdict: str
    """How the week went, one sentence."""
    happened: tuple[str, ...]
    changes: tuple[Line, ...]
    settle: tuple[str, ...]
    """The other questions."""
    stays: tuple[str, ...]
    """What keeps its print, and why."""
    nothing: str
    """What stands in place of changes; "" where there are some."""
    sources: tuple[str, ...]
    """Numbered from 1."""


def letter_of(document: Document) -> Letter:
    """The letter of a `blockwright/proposals/1` document."""
    proposals = document["proposals"]
    sources = _sources(document)
    lines = [_line(proposal, sources) for proposal in proposals]
    week = document["week"]
    return Letter(
        title=f"{document['lifter']}, through {document['through']}"
        + (f": proposals for week {week}" if week is not None else ""),
        cautions=_said(document["cautions"], sources),
        asks=_asked(document, about_sets=True),
        verdict=document["verdict"],
        happened=_happened(document["notes"]),
        changes=tuple(lines),
        settle=_asked(document, about_sets=False),
        stays=tuple(_stay(stay) for stay in document["stays"]),
        nothing=_nothing(document),
        sources=sources,
    )


def _happened(notes: Sequence[Document]) -> tuple[str, ...]:
    """The notes; muscles of which the same is said share a line, where the first of them stands."""
    lines: dict[str, list[str]] = {}
    for note in notes:
        count, _, rest = note["says"].partition("; ")
        if note["code"] == "muscle_week" and rest:
            lines.setdefault(rest, []).append(count)
        else:
            lines[note["says"]] = []
    return tuple(
        rest
        if not counts
        else f"{counts[0]}; {rest}"
        if len(counts) == 1
        else f"{', '.join(counts)}. Of each: {rest}"
        for rest, counts in lines.items()
    )


def sure_text(confidence: float) -> str:
    """ "85 % sure"."""
    return f"{100 * confidence:.0f} % sure"


def sure_words(confidence: float) -> str:
    """A probability in words, by `SURE_WORDS`."""
    return next((words for least, words in SURE_WORDS if confidence >= least), "unlikely")


def _line(proposal: Document, sources: Sequence[str]) -> Line:
    other = proposal["runner_up"]
    return Line(
        id=proposal["id"],
        kind=proposal["kind"],
        says=proposal["says"],
        because=_said(proposal["reasons"], sources),
        sure=sure_text(proposal["confidence"]),
        sure_words=sure_words(proposal["confidence"]),
        claim=proposal["claim"],
        runner_up=None if other is None else other["says"],
        cautions=_said(proposal["cautions"], sources),
    )


def _asked(document: Document, *, about_sets: bool) -> tuple[str, ...]:
    return tuple(
        one["asks"] for one in document["settle"] if one["id"].startswith("set-") == about_sets
    )


def _stay(stay: Document) -> str:
    """ "Bench press: ..." or "quads: ..."."""
    name = stay["lift"] or (stay["muscle"] or "").replace("_", " ")
    return f"{name}: {stay['why']}"


def _nothing(document: Document) -> str:
    if document["proposals"]:
        return ""
    if document["week"] is None:
        return "nothing: no week is left to change"
    return "no change: the week stands as printed"


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
