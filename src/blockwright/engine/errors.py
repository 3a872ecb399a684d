"""The errors Blockwright raises on purpose; anything else is our fault.

    BlockwrightError        something a person can mend; carries place, says, mend
    ├── BadInput            a file, a row or an argument that cannot be used (exit 2)
    │   └── ChangedMeanwhile  somebody wrote it since it was read; nothing was stored
    └── Clash               rules that cannot all hold for a plan (exit 2)

A `Problem` is one finding in one place. Readers collect every problem of a file and raise once, so
that a person mends a file in one go."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Self


@dataclass(frozen=True, slots=True)
class Problem:
    """One finding: where it is, what is wrong, and what to do about it.

    `row` counts the header as row 1, as a spreadsheet shows it; `column` is the header's word or,
    of no file, the field of what was asked ("date", "session"), which a command calls its option;
    `key` is a dotted key of a TOML or JSON file ("slot.2.minutes")."""

    says: str
    mend: str
    file: str | None = None
    row: int | None = None
    column: str | None = None
    key: str | None = None
    stands_for: int = 1
    """More than one where this only counts findings that are not told one by one."""

    @property
    def place(self) -> str:
        """The place in words: "log.csv, row 14, load"; "" when there is none."""
        parts = [
            self.file,
            f"row {self.row}" if self.row is not None else None,
            self.column,
            self.key,
        ]
        return ", ".join(part for part in parts if part)

    def __str__(self) -> str:
        head = f"{self.place}: " if self.place else ""
        return f"{head}{self.says}; {self.mend}" if self.mend else f"{head}{self.says}"


MOST_TOLD = 100  # Findings told one by one; nobody mends more in one go


def told(problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """The first findings and, in one more, the number of the rest."""
    if len(problems) <= MOST_TOLD:
        return tuple(problems)
    rest = sum(problem.stands_for for problem in problems[MOST_TOLD:])
    looked = all(problem.stands_for == 1 for problem in problems[MOST_TOLD:])
    more = Problem(
        file=problems[-1].file,
        says=f"and {rest} more" if looked else f"and {rest} more findings or rows not looked at",
        mend="mend these first, then look again",
        stands_for=rest,
    )
    return (*problems[:MOST_TOLD], more)


class BlockwrightError(Exception):
    """Base of every error a person can mend.

    `problems` is never empty, and of many only the first stand there, with the number of the rest;
    the message joins them, one a line."""

    def __init__(self, problems: Problem | Sequence[Problem]) -> None:
        self.problems: tuple[Problem, ...] = told(
            (problems,) if isinstance(problems, Problem) else tuple(problems)
        )
        if not self.problems:
            raise ValueError("an error without a problem says nothing")
        super().__init__("\n".join(str(problem) for problem in self.problems))

    @classmethod
    def of(cls, says: str, mend: str, **place: Any) -> Self:
        """The error of one problem; `place` as the fields of `Problem`."""
        return cls(Problem(says=says, mend=mend, **place))

    @classmethod
    def raise_any(cls, problems: Sequence[Problem]) -> None:
        """Raises the error of what was found, if anything was."""
        if problems:
            raise cls(problems)


class BadInput(BlockwrightError):
    """A file, a row, a key or an argument that cannot be used as it stands."""


class ChangedMeanwhile(BadInput):
    """Somebody else wrote, or decided, since what this builds on was read; nothing was stored."""


@dataclass(frozen=True, slots=True)
class ClashingRule:
    """One rule of a clash in the lifter's own words, and what giving it up would cost."""

    rule: str
    says: str


class Clash(BlockwrightError):
    """Rules that cannot hold together. `rules` clash; `give_up` is the cheapest way out."""

    def __init__(self, rules: Sequence[ClashingRule], give_up: Sequence[ClashingRule]) -> None:
        self.rules = tuple(rules)
        self.give_up = tuple(give_up)
        together = "; ".join(rule.says for rule in rules)
        mend = "; ".join(rule.says for rule in give_up) or "relax one of them"
        super().__init__(
            Problem(says=f"these cannot all hold: {together}", mend=f"cheapest to give up: {mend}")
        )
