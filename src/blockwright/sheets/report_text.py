"""A block report as text for a terminal: the findings and what they rest on."""

from textwrap import fill

from .report_plots import PAPER
from .report_shapes import Document, Part, Table
from .report_words import report_page

WIDTH = 92


def report_text(document: Document, *, full: bool = False) -> str:
    """The first page of a `blockwright/report/1` document; with `full` what is behind it too,
    pictures by their titles."""
    page = report_page(document, PAPER)
    lines = [f"Block report: {page.lifter}", page.line]
    lines += ["", *_filled(page.opening)] if page.opening else []
    for part in page.first:
        lines += ["", *_part(part)]
    lines += [""] if page.cautions else []
    for caution in page.cautions:
        lines += _filled(f"Caution. {caution}")
    if not full:
        return "\n".join([*lines, "", "Weeks, sets, estimates, proposals and their fate: --full"])
    lines += ["", *_filled(page.behind)]
    for part in page.parts:
        lines += ["", *_part(part)]
    return "\n".join(lines)


def _part(part: Part) -> list[str]:
    lines = [part.name.upper(), *_filled(part.title)]
    lines += [f"  {figure.title}" for figure in part.figures]
    for table in part.tables:
        lines += ["", *_table(table)]
    for note in part.notes:
        lines += _filled(note)
    return lines


def _table(table: Table) -> list[str]:
    widths = [max(len(row[n]) for row in (table.head, *table.rows)) for n in range(len(table.head))]
    return [
        "  "
        + "  ".join(
            cell.rjust(width) if n in table.right else cell.ljust(width)
            for n, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in (table.head, *table.rows)
    ]


def _filled(text: str) -> list[str]:
    return fill(text, WIDTH).split("\n")
