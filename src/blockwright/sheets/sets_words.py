"""Weekly sets as a person reads them: a finding, a panel for each muscle, tables, the evidence.

Works on a `blockwright/sets/1` document as plain JSON; a page lays out what stands here."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.published import volume
from blockwright.engine.units import number_text
from . import report_plots as plots
from .report_shapes import Document, Figure, Table

NOTE = (
    "Full dots and line: sets done; a week not over stands off the line. Open dots, dashed: "
    "planned. Dotted: the floor. Hatched: where the ceiling lies eight times in ten, if our model "
    "is right; open above until a week proved too much. A done set counts only when it ended near "
    "failure, so a deload's easy sets do not."
)
EVIDENCE = (
    "More weekly sets go with more growth, with diminishing returns, in a meta-regression: "
    f"{volume.PELLAND_SLOPES.source}. A trial of 9 against 36 weekly sets in trained people "
    f"found the two equivalent: {volume.STEELE_2026_TRIAL.source}. The plan climbs because the "
    "method climbs while recovery holds; no growth is promised.",
    "The floor is the smallest dose with detectable growth "
    f"({volume.PELLAND_THRESHOLDS.source}), not learnt from this log. No trial measures a "
    "ceiling: it starts from our judgement, is learnt from weeks that were recovered from and "
    "weeks that were not, and reads “at least” until one was not.",
    "A set counts in full for the muscle a lift trains directly and by its share for the others, "
    f"the rule that fitted best ({volume.PELLAND_COUNTING.source}).",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetsWords:
    """The page's text and drawings. Empty `figures`: no muscle has direct sets."""

    title: str
    figures: tuple[Figure, ...]
    tables: tuple[Table, ...]


def sets_words(document: Document) -> SetsWords:
    """Everything the page says of one block, or of the last weeks where there is none."""
    weeks, muscles = document["weeks"], document["muscles"]
    nothing = "Nothing of this block is done yet" if document["start"] else "No set counts yet"
    figures = tuple(
        Figure(
            title=plots.muscle_title(muscle),
            svg=plots.muscle_svg(muscle, _named(document), plots.DESK),
            alt=plots.muscle_alt(muscle),
        )
        for muscle in muscles
    )
    done = max((len(muscle["sets_done"]) for muscle in muscles), default=0)
    heads = [_week_head(document, week) for week in weeks[:done]]
    heads += [f"{_week_head(document, week)}, planned" for week in weeks[done:]]
    tables = (_counted(muscles, weeks, heads), _direct(muscles, heads)) if muscles else ()
    return SetsWords(title=document["finding"] or nothing, figures=figures, tables=tables)


def _named(document: Document) -> list[Document]:
    """The weeks as the foot of a drawing names them."""
    if document["start"]:
        return list(document["weeks"])
    return [{**week, "name": _day(week["start"])} for week in document["weeks"]]


def _week_head(document: Document, week: Document) -> str:
    day = _day(week["start"])
    if not document["start"]:
        return f"Week of {day}"
    deload = ", deload" if week["kind"] == "deload" else ""
    return f"Week {week['week']}{deload}, {day}"


def _day(iso: str) -> str:
    day = date.fromisoformat(iso)
    return f"{day.day} {day:%b}"


def _counted(muscles: Sequence[Document], weeks: Sequence[Document], heads: list[str]) -> Table:
    rows = tuple(
        (
            _name(muscle),
            muscle["emphasis"],
            *_cells(muscle["sets_done"], muscle["sets_planned"]),
            number_text(muscle["floor"], 1),
            plots.ceiling_words(muscle["ceiling"]).removeprefix("ceiling "),
            standing(muscle, weeks),
        )
        for muscle in muscles
    )
    head = ("Muscle", "Emphasis", *heads, "Floor", "Ceiling", "Last full week")
    right = tuple(range(2, 3 + len(heads)))
    return Table("Sets that counted, indirect ones by their share; done of planned", head, rows,
                 right)  # fmt: skip


def _direct(muscles: Sequence[Document], heads: list[str]) -> Table:
    rows = tuple(
        (_name(muscle), *_cells(muscle["direct_done"], muscle["direct_planned"]))
        for muscle in muscles
    )
    caption = "Of these, direct sets; done of planned"
    return Table(caption, ("Muscle", *heads), rows, tuple(range(1, 1 + len(heads))))


def _cells(done: Sequence[float], planned: Sequence[float]) -> list[str]:
    """One a week: "6 of 7.5", "6" where nothing was planned, "7.5" for a week to come, whose head
    says that it is planned."""
    cells = []
    for week in range(max(len(done), len(planned))):
        plan = number_text(planned[week], 1) if week < len(planned) else ""
        if week >= len(done):
            cells.append(plan)
        else:
            cells.append(number_text(done[week], 1) + (f" of {plan}" if plan else ""))
    return cells


def standing(muscle: Document, weeks: Sequence[Document]) -> str:
    """Where the last build week that is over stood in the band; "" before there is one."""
    over = [
        sets
        for sets, week in zip(muscle["sets_done"], weeks, strict=False)
        if week["is_over"] and week["kind"] == "build"
    ]
    if not over:
        return ""
    sets, ceiling = over[-1], muscle["ceiling"]
    if sets < muscle["floor"]:
        return "below the floor"
    if ceiling["at_least"] is not None:
        return "within the band" if sets <= ceiling["at_least"] else "beyond what is known"
    if sets <= ceiling["low80"]:
        return "within the band"
    return "near the ceiling" if sets <= ceiling["high80"] else "above the ceiling"


def _name(muscle: Document) -> str:
    return str(muscle["muscle"]).replace("_", " ")
