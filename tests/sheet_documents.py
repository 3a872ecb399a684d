"""Sheets of the invented block as documents, for the tests of paper, screen and workbook."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from blockwright.engine.day_sheet import day_sheet, session_in_week, sessions_of
from blockwright.engine.training import Block, Entry
from blockwright.files.codec import document as written
from sheet_people import MONDAY, block, catalogue, policy, session, week


def document_of(
    number: int,
    session_number: int,
    made: Block | None = None,
    entries: Sequence[Entry] = (),
    *,
    with_advice: bool = True,
) -> dict[str, Any]:
    """One session's document; `entries` stand in for those of a one-session block."""
    made = made or block()
    if entries:
        made = replace(made, weeks=(week(1, [session(1, MONDAY, entries)]),))
    chosen = session_in_week(made, number, session_number)
    sheet = day_sheet(made, chosen, catalogue(), policy(), with_advice=with_advice)
    document: dict[str, Any] = written("sheet", sheet)
    return document


def documents(made: Block | None = None) -> list[dict[str, Any]]:
    """Every session's document, without advice."""
    made = made or block()
    return [
        document_of(planned.week.week, planned.session.session, made, with_advice=False)
        for planned in sessions_of(made)
    ]
