"""Whose row it is: the `lifter` column of a log of sets or check-ins."""

import unicodedata

from blockwright.engine.errors import Problem, told
from blockwright.files.csv_text import CsvFile
from blockwright.files.csv_values import CellError


def name_key(name: str) -> str:
    """What two spellings of one person's name share: capitals and spaces do not matter."""
    return unicodedata.normalize("NFKC", " ".join(name.split())).casefold()


class LifterNames:
    """The people of one file. A column that is empty throughout is one person without a name; a
    name spelt in two ways is one person, called as in the lifter file or else as it came first."""

    def __init__(self, csv_file: CsvFile, asks: str, known_as: str | None = None) -> None:
        """`asks` is the question put where a name is missing."""
        at = csv_file.columns.index("lifter") if "lifter" in csv_file.columns else None
        typed = {cells[at] for _, cells in csv_file.rows if at is not None and at < len(cells)}
        self._file, self._asks = csv_file.file, asks
        self._keys = {key for text in typed if (key := name_key(text))}
        self._spelt = {name_key(known_as): known_as} if known_as else {}
        self._others: dict[str, tuple[str, int]] = {}

    @property
    def is_one(self) -> bool:
        return len(self._keys) <= 1

    def named(self, text: str, row: int) -> str | None:
        """The person of a row; CellError where others are named and this row is not."""
        name = " ".join(text.split())
        if not name:
            if self._keys:
                raise CellError(self._asks, "name the lifter in every row, or in none")
            return None
        taken = self._spelt.setdefault(name_key(name), name)
        if name != taken:
            self._others.setdefault(name, (taken, row))
        return taken

    def warnings(self) -> list[Problem]:
        """Spellings that were taken for another one."""
        found = [
            Problem(
                file=self._file,
                row=row,
                column="lifter",
                says=f'"{name}" is taken for "{taken}", one person',
                mend="write the name in one way, or tell two people apart",
            )
            for name, (taken, row) in self._others.items()
        ]
        return list(told(found))
