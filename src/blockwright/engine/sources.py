"""Where a number comes from: authors, year, table, and how it was quoted."""

from dataclasses import dataclass
from typing import Literal

Quoted = Literal["seen", "from memory", "computed"]


@dataclass(frozen=True, slots=True)
class Source:
    """A publication (or our own computation) that stands behind a number.

    `quoted` says whether the text was seen, remembered, or the figure computed by us; a value
    quoted from memory is shown as such wherever it is shown."""

    authors: str
    year: int | None  # None where what we saw or remember bears no date
    title: str
    where: str  # Journal, book, table or page
    quoted: Quoted
    doi: str | None = None

    def __str__(self) -> str:
        said = "" if self.quoted == "seen" else f" ({self.quoted})"
        dated = self.authors if self.year is None else f"{self.authors} {self.year}"
        return f"{dated}, {self.where}{said}"


COMMON_PRACTICE = "common practice, no source"
JUDGEMENT = "judgement"
