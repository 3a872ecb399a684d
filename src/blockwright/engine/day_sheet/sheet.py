"""The nouns of a sheet: what one session takes, ready for paper, phone and workbook."""

from dataclasses import dataclass
from typing import Literal

from blockwright.engine.rack import FindingLadder, PartnerMoves, Setting, WarmupSet
from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.training import Block, Entry, Lift, Session, SetPlan, Week

Move = Literal["raise", "keep", "wait", "lower"]  # `wait`: kept today, and more next time


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSet:
    """One set: the plan with its load filled in where facts allow it, and how it is set."""

    planned: SetPlan
    setting: Setting | None  # None while no load is known, or where the kit makes nothing as light


@dataclass(frozen=True, slots=True, kw_only=True)
class AdviceRow:
    """What a first set of `reps_from` to `reps_to` repetitions means for the next set."""

    reps_from: int
    reps_to: int | None  # None: or more
    setting: Setting
    move: Move  # Of what the muscles move: less assistance is a raise
    reason: Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedBar:
    """How a partner's load of the same lift goes on the same bar."""

    partner: str
    moves: PartnerMoves


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetEntry:
    """One lift of the session, in order."""

    entry: Entry
    sets: tuple[SheetSet, ...]
    lift: Lift
    cautions: tuple[Caution, ...]
    warmup: tuple[WarmupSet, ...]
    finding: FindingLadder | None  # The way to a load where none is known; None where one is
    advice: tuple[AdviceRow, ...]
    """Covers every result from 0 on, lowest first; empty where a result changes nothing."""
    shared_bar: SharedBar | None

    @property
    def find_load(self) -> tuple[WarmupSet, ...]:
        """The tries of the way to a load."""
        return () if self.finding is None else self.finding.tries

    @property
    def find_rules(self) -> tuple[Reason, ...]:
        """The rules of the way to a load."""
        return () if self.finding is None else self.finding.rules


@dataclass(frozen=True, slots=True, kw_only=True)
class DaySheet:
    """One session of a block with everything a lifter needs to do it."""

    block: Block
    week: Week
    session: Session
    entries: tuple[SheetEntry, ...]
    cautions: tuple[Caution, ...]
    notes: tuple[Reason, ...]
