"""The block report as a tagged PDF, A4 or Letter; equal documents give equal bytes."""

from dataclasses import asdict
from typing import Any, Literal

from .pdf import compiled
from .report_plots import PAPER
from .report_shapes import Document
from .report_words import report_page

ReportPaper = Literal["a4", "letter"]
_NAMES = {"a4": "a4", "letter": "us-letter"}


def report_pdf(document: Document, paper: ReportPaper = "a4") -> bytes:
    """The PDF of a `blockwright/report/1` document: PDF/UA-1, fonts embedded, dated by the last
    day it looks at."""
    page: dict[str, Any] = asdict(report_page(document, PAPER))
    page["paper"] = _NAMES[paper]
    for part in (*page["first"], *page["parts"]):
        for table in part["tables"]:
            table["columns"] = _widths(table)
    return compiled("report", "report", page, document["through"])


def _widths(table: dict[str, Any]) -> list[float]:
    """0 for a column as wide as its text; a share of what is left for columns of long text."""
    columns = range(len(table["head"]))
    longest = [max((len(row[n]) for row in table["rows"]), default=0) for n in columns]
    return [float(length) ** 0.5 if length > _LONG else 0.0 for length in longest]


_LONG = 26  # Characters from which a column wraps
