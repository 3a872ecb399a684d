"""A lifter's standing sets and check-ins, read once for all pages, until a fact comes."""

from dataclasses import dataclass
from functools import lru_cache
from uuid import UUID

from blockwright.engine.training import CheckIn, SetDone
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import facts_of, last_seq
from blockwright.store.models import Lifter

_REMEMBERED = 8
"""Logs kept in memory; ten years of four sessions a week are about 20 MB."""


@dataclass(frozen=True, slots=True)
class StoredLog:
    """Everything a lifter logged that stands, in the order it was done."""

    seq: int
    """The last fact's number: a name for this state of the log."""
    sets: tuple[SetDone, ...]
    checkins: tuple[CheckIn, ...]


def stored_log(row: Lifter) -> StoredLog:
    """The log as it is now."""
    return _log(row.key, last_seq(row))


@lru_cache(maxsize=_REMEMBERED)
def _log(key: UUID, seq: int) -> StoredLog:
    facts = facts_of(Lifter(key=key))
    return StoredLog(seq, sets_done(facts), checkins(facts))
