"""Names of lifts in a log to the catalogue's; unknown ones kept, with near misses to suggest."""

import re
from dataclasses import dataclass
from functools import cached_property

from blockwright.engine.errors import Problem, told
from blockwright.engine.training import Catalogue, Lift
from blockwright.files.csv_values import Assumptions, CellError
from blockwright.files.near import did_you_mean

MOST_UNKNOWN = 1000
_MOST_SUGGESTIONS = 20
"""Near misses are looked up for so many unknown lifts of a file; a search each is slow."""


@dataclass(frozen=True, slots=True)
class NamedLift:
    name: str
    """Canonical name where known, else as typed at its first row."""
    lift: Lift | None


class LiftNames:
    """Resolves what people type; remembers the unknown names and where each began."""

    def __init__(self, catalogue: Catalogue, assume: Assumptions) -> None:
        self._catalogue = catalogue
        self._assume = assume
        self._unknown: dict[str, tuple[str, int]] = {}

    @cached_property
    def _loose(self) -> dict[str, str]:
        """Made when a name is not known as it stands: a set from the phone needs none of it."""
        return {_loosened(alias): name for alias, name in self._catalogue.by_alias.items()}

    def named(self, text: str) -> NamedLift:
        """The lift a cell names; CellError when it is empty."""
        typed = " ".join(text.split())
        if not typed:
            raise CellError("the lift is missing", "name it")
        lift = self._catalogue.find(typed)
        if lift is None and (name := self._loose.get(_loosened(typed))) is not None:
            lift = self._catalogue.lifts[name]
        if lift is not None:
            return NamedLift(lift.name, lift)
        if len(self._unknown) >= MOST_UNKNOWN:
            says = f"more than {MOST_UNKNOWN} lifts of this file are known to nobody"
            raise CellError(says, "check that this column names lifts")
        first, _ = self._unknown.setdefault(typed.lower(), (typed, self._assume.row))
        return NamedLift(first, None)

    def warnings(self) -> list[Problem]:
        """One warning for each unknown lift, at its first row."""
        plain = "describe it in a [[lift]] of the lifter file, or see `blockwright lifts`"
        found = [
            Problem(
                file=self._assume.file,
                row=row,
                column="lift",
                says=f'no lift is called "{typed}"; it is read with wide guesses about it',
                mend=did_you_mean(typed, self._catalogue.by_alias, plain, 3)
                if place < _MOST_SUGGESTIONS
                else plain,
            )
            for place, (typed, row) in enumerate(self._unknown.values())
        ]
        return list(told(found))


def _loosened(name: str) -> str:
    """Hyphens, underscores and doubled spaces do not make another lift."""
    return " ".join(re.sub(r"[-_]", " ", name.lower()).split())
