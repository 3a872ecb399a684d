"""A cell of CSV that a spreadsheet would run as a formula, made harmless and read back as it was.

A spreadsheet takes a cell that begins with one of `= + - @`, a tab or a line end for a formula and
runs it. An apostrophe before it makes it text; our reader takes it away again. Plain numbers stay.
"""

import re

_RUNS = "=+-@\t\r\n＝＋－＠"
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


def harmless(cell: str) -> str:
    """The cell as it is written."""
    if not _would_run(cell) or _NUMBER.fullmatch(cell):
        return cell
    return f"'{cell}"


def as_it_was(cell: str) -> str:
    """The cell that `harmless` wrote."""
    return cell[1:] if cell.startswith("'") and _would_run(cell) else cell


def _would_run(cell: str) -> bool:
    """Also of a text with apostrophes before it: one more must come off it again."""
    return cell.lstrip("'")[:1] in _RUNS if cell.lstrip("'") else False
