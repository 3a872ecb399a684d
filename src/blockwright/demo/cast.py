"""Who trains in the invented weights room: their truth, their old routine, their coach's habits.

Every figure and every sentence of `cast.toml` is made up. What happens to them is not written down
anywhere: it comes out of the run."""

import tomllib
from dataclasses import dataclass
from importlib import resources
from typing import Literal

from blockwright.files.codec import from_json
from .body import BodySpec

ROOM = "the weights room of the Skarn Fell mountain-rescue volunteers"

Answer = Literal["declined", "changed"]
LiftSets = tuple[str, int, int, int]
"""A lift of an old routine: name, sets, fewest and most repetitions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OldDay:
    weekday: int
    start: str
    lifts: tuple[LiftSets, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HardWeeks:
    """Weeks in which everything is harder: `ln_fall` of strength, `tired` points of each
    wellness item."""

    first_week: int
    ln_fall: float
    tired: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Pain:
    """Pain in the lifts of some patterns: `levels` by week, 0 from then on. `about` is what the
    person calls it in the week's check-in."""

    patterns: tuple[str, ...]
    levels: tuple[int, ...]
    about: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Habit:
    """How the coach answers some proposals; whatever no habit speaks of is accepted."""

    answer: Answer
    kind: str
    words: str
    weeks: tuple[int, ...] = ()  # Weeks proposed for; empty: any
    about: tuple[str, ...] = ()  # Muscles or lifts; empty: any
    most: int = 1  # How often in one week


@dataclass(frozen=True, slots=True, kw_only=True)
class Typing:
    """How the log goes wrong, as shares of sets."""

    slips: float = 0.006
    no_rir: float = 0.06
    rir_ranges: float = 0.08
    warmups: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """One of the cast. `key` names their file in `people/` and their folder."""

    key: str
    seed: int
    about: str
    body: BodySpec
    routine: tuple[OldDay, ...]
    history_weeks: int = 10
    away_weeks: int = 0
    typing: Typing = Typing()
    trouble: HardWeeks | None = None
    pain: Pain | None = None
    habits: tuple[Habit, ...] = ()
    missed: tuple[tuple[int, int], ...] = ()  # Week and session
    weeks_behind: int = 3  # Whole weeks trained by the day the demo is played for
    letter_waits: bool = False  # Whether the coach has not answered the last of those weeks yet


def _cast() -> tuple[Person, ...]:
    file = resources.files("blockwright.demo") / "cast.toml"
    people = tomllib.loads(file.read_text(encoding="utf-8"))["person"]
    return tuple(from_json(Person, one) for one in people)


CAST = _cast()
COACH = CAST[0]
"""Whom the link of the demo signs in: owner of the site, coach of all, and a lifter herself."""
NEWCOMER = "liv"  # Came in today: no log, no block, and the questions of the screening still open
