"""Warning signs in a log's notes, in words: a warning that names the row and the day."""

from collections.abc import Iterable

from blockwright.engine.errors import Problem
from blockwright.engine.signs import Warning

_SEE = "no further training before a doctor has looked at it; at once if it is there now"


def sign_warnings(found: Iterable[Warning], file: str, column: str) -> list[Problem]:
    """A warning for each sign, in order; a doubtful one asks."""
    return [
        Problem(
            file=file,
            row=one.row,
            column=column,
            says=f"{one.day}: {one.sign} was written down ({one.lift})"
            if one.asks is None
            else f"{one.day}: this may be {one.sign} ({one.lift})",
            mend=_SEE if one.asks is None else f"ask: {one.asks} In doubt, {_SEE}",
        )
        for one in found
    ]
