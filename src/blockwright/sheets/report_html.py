"""The block report as one static page: no script, nothing fetched, prints well, light and dark."""

from html import escape
from importlib import resources
from string import Template

from blockwright.sheets.report_plots import PAGE
from blockwright.sheets.report_shapes import Document, Figure, Part, Table
from blockwright.sheets.report_words import report_page


def report_html(document: Document) -> str:
    """The page of a `blockwright/report/1` document, complete in itself."""
    page = report_page(document, PAGE)
    cautions = "".join(f"<p><b>Caution.</b> {escape(text)}</p>" for text in page.cautions)
    return Template(_shipped("report.html")).substitute(
        title=escape(page.title),
        style=_shipped("report.css"),
        lifter=escape(page.lifter),
        line=escape(page.line),
        opening=f"<p>{escape(page.opening)}</p>" if page.opening else "",
        cautions=f'<div class="cautions">{cautions}</div>' if cautions else "",
        first="\n".join(_part(f"first-{n}", part) for n, part in enumerate(page.first, start=1)),
        behind=escape(page.behind),
        parts="\n".join(_part(f"part-{n}", part) for n, part in enumerate(page.parts, start=1)),
        foot=escape(page.foot),
    )


def _shipped(name: str) -> str:
    return (resources.files("blockwright.sheets") / name).read_text(encoding="utf-8").rstrip("\n")


def _part(key: str, part: Part) -> str:
    figures = "".join(_figure(figure) for figure in part.figures)
    panels = (
        f'<div class="panels">{figures}</div><p class="soft">{escape(part.figure_note)}</p>'
        if figures
        else ""
    )
    lead = f'<p class="soft">{escape(part.lead)}</p>\n' if part.lead else ""
    return (
        f'<section aria-labelledby="{key}">\n'
        f'<p class="name">{escape(part.name)}</p>\n'
        f'<h2 id="{key}">{escape(part.title)}</h2>\n'
        f"{lead}{panels}{''.join(_table(table) for table in part.tables)}"
        f"{''.join(f'<p>{escape(note)}</p>' for note in part.notes)}\n"
        "</section>"
    )


def _figure(figure: Figure) -> str:
    return f"<figure><figcaption>{escape(figure.title)}</figcaption>{figure.svg}</figure>\n"


def _table(table: Table) -> str:
    """Scrolls sideways by itself on a narrow screen, reachable by keyboard."""
    head = "".join(
        f'<th scope="col"{_right(table, n)}>{escape(text)}</th>'
        for n, text in enumerate(table.head)
    )
    rows = "".join(f"<tr>{_cells(table, row)}</tr>\n" for row in table.rows)
    return (
        f'<div class="wide" tabindex="0" role="region" aria-label="{escape(table.caption)}">'
        f"<table><caption>{escape(table.caption)}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{rows}</tbody></table></div>\n"
    )


def _cells(table: Table, row: tuple[str, ...]) -> str:
    first = f'<th scope="row"{_right(table, 0)}>{escape(row[0])}</th>'
    rest = (f"<td{_right(table, n)}>{escape(text)}</td>" for n, text in enumerate(row[1:], start=1))
    return first + "".join(rest)


def _right(table: Table, column: int) -> str:
    return ' class="right"' if column in table.right else ""
