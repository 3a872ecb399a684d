"""A block's report from what the site holds: revision, facts and letters.

Remembered until one of them changes; a report of a usual log takes some tenths of a second.
"""

from datetime import date, timedelta
from functools import lru_cache
from typing import Any
from uuid import UUID

from blockwright.engine.errors import BadInput
from blockwright.engine.training import Block
from blockwright.store.access import or_404
from blockwright.store.blocks import block_of
from blockwright.store.facts import last_day, last_seq
from blockwright.store.letters import letters_of_block
from blockwright.store.models import Lifter
from blockwright.store.partner import again
from blockwright.verbs.report_block import report_document, told_by
from blockwright.verbs.stored_case import stored_case
from blockwright.verbs.stored_values import block_value

_REMEMBERED = 32


def report_lifter(row: Lifter, start: date, today: date) -> dict[str, Any] | None:
    """The `blockwright/report/1` document of the block of `start`, as of `today` or the last
    logged day; None when nothing of it is done yet. Http404 for no such block."""
    revision = or_404(block_of(row, start), "block")
    letters = tuple(letter.pk for letter in letters_of_block(row, start))
    through = through_of(row, block_value(revision), today)
    try:
        number, seq = revision.revision, last_seq(row)
        return _reported(row.key, row.reader, start, number, seq, letters, through)
    except BadInput:
        return None


def through_of(row: Lifter, block: Block, today: date) -> date:
    """The day up to which a block is looked at: today or, of a log that runs ahead of the
    calendar, its last day; never beyond the block."""
    ends = block.start + timedelta(days=7 * len(block.weeks) - 1)
    return min(max(today, last_day(row) or today), ends)


@lru_cache(maxsize=_REMEMBERED)
def _reported(
    key: UUID,
    reader: int | None,
    start: date,
    _revision: int,
    _seq: int,
    _letters: tuple[int, ...],
    through: date,
) -> dict[str, Any]:
    row = again(key, reader)
    revision = or_404(block_of(row, start), "block")
    told = told_by(letter.document for letter in letters_of_block(row, start))
    return report_document(stored_case(row, revision), told, through)
