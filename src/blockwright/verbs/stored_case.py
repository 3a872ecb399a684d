"""A coach's case from the site's rows, read once for all pages until a fact, a lifter's file or a
block changes: what one page has found out of it, the next need not."""

from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from uuid import UUID

from blockwright.engine.case import CoachCase, Disputed
from blockwright.engine.review.case import cleared_by
from blockwright.engine.signs import Warning
from blockwright.engine.training import CheckIn, SetDone
from blockwright.files.catalogue import catalogue_for
from blockwright.files.policy_files import block_policy
from blockwright.store.blocks import decided_so_far
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import facts_of, last_seq
from blockwright.store.models import BlockRevision, Lifter
from blockwright.verbs.block_value import block_value
from blockwright.verbs.disputes import told_plainly
from blockwright.verbs.load_lifter import load_lifter
from blockwright.verbs.told import signs_told

_REMEMBERED = 8
"""Logs kept in memory; ten years of four sessions a week are about 20 MB, what is believed of
them 2 MB for each question."""


def stored_case(row: Lifter, revision: BlockRevision | None = None) -> CoachCase:
    """Everything the lifter logged that stands, beside one of their blocks where it is given: then
    under that block's policy. BadInput if the row was written by a newer version."""
    start, decided = decided_so_far(row)
    cleared = cleared_by((one["kind"], one["change"]) for one in decided)
    return _case(
        row.key, row.reader, row.version, last_seq(row), None if revision is None else revision.pk,
        start, tuple(cleared.items()), _Rows(row, revision),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Log:
    sets: tuple[SetDone, ...]
    checkins: tuple[CheckIn, ...]
    signs: tuple[Warning, ...]
    disputes: tuple[Disputed, ...]


@lru_cache(maxsize=_REMEMBERED)
def _log(key: UUID, reader: int | None, _seq: int) -> _Log:
    row = Lifter(key=key)
    row.reader = reader
    facts = facts_of(row)
    return _Log(sets_done(facts), checkins(facts), signs_told(facts), told_plainly(facts))


class _Rows:
    """Rows that the other arguments name: no part of the cache's key."""

    def __init__(self, row: Lifter, revision: BlockRevision | None) -> None:
        self.row, self.revision = row, revision

    def __hash__(self) -> int:
        return 0

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Rows)


@lru_cache(maxsize=2 * _REMEMBERED)
def _case(
    key: UUID, reader: int | None, _version: int, seq: int, _revision: int | None,
    start: date | None, cleared: tuple[tuple[str, date], ...], rows: _Rows,
) -> CoachCase:  # fmt: skip
    known, log = load_lifter(rows.row), _log(key, reader, seq)
    block = None if rows.revision is None else block_value(rows.revision)
    return CoachCase(
        lifter=known.value,
        block=block,
        catalogue=known.catalogue if block is None else catalogue_for(block.lifter),
        policy=known.policy if block is None else block_policy(block),
        sets=log.sets,
        checkins=log.checkins,
        signs=log.signs,
        disputes=log.disputes,
        cleared=dict(cleared),
        first_start=start,
    )
