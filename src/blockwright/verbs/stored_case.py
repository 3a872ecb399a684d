"""A coach's case from the site's rows, read once for all pages until a fact, a lifter's file or a
block changes: what one page has found out of it, the next need not.

Beside it a stored block with what a change to it is judged by: log, policy, sessions that are over.
"""

from collections.abc import Hashable
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from blockwright.engine.case import BlockCase, CoachCase
from blockwright.engine.editing import Closed, EditContext
from blockwright.engine.planning.loads import paths_for
from blockwright.engine.review.attention import due_from
from blockwright.engine.review.case import cleared_by, cleared_days, pain_said
from blockwright.engine.review.safety import pain_by_lift
from blockwright.engine.strength import Beliefs
from blockwright.engine.training import Block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.policy_files import block_policy
from blockwright.files.signs.grammar import signs_found
from blockwright.store.access import or_404
from blockwright.store.blocks import block_of, decided_so_far, made_on
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import facts_of, last_seq
from blockwright.store.models import BlockRevision, Lifter
from .amend_fact import told_plainly
from .remembered import remembered
from .stored_values import block_value, load_lifter
from .told import signs_told

_REMEMBERED = 8
"""Logs kept in memory; ten years of four sessions a week are about 20 MB, what is believed of
them 2 MB for each question."""


@remembered(_REMEMBERED, lambda row: (row.key, row.reader, last_seq(row)))
def _log(row: Lifter) -> dict[str, Any]:
    """What a case has from the log, by its fields."""
    facts = facts_of(row)
    return {
        "sets": sets_done(facts),
        "checkins": checkins(facts),
        "signs": signs_told(facts),
        "disputes": told_plainly(facts),
    }


def cleared_of(row: Lifter) -> tuple[date | None, dict[str, date]]:
    """The start of the first block, and which signs and causes were cleared."""
    start, decided = decided_so_far(row)
    return start, cleared_by((one["kind"], one["change"]) for one in decided)


def _made_from(row: Lifter, revision: BlockRevision | None = None) -> Hashable:
    start, cleared = cleared_of(row)
    number = None if revision is None else revision.pk
    return row.key, row.reader, row.version, last_seq(row), number, start, tuple(cleared.items())


def _known(row: Lifter) -> dict[str, Any]:
    """What every case has of a lifter, by its fields; BadInput if the row was written by a newer
    version."""
    start, cleared = cleared_of(row)
    known = {"lifter": load_lifter(row).value, "cleared": cleared, "first_start": start}
    return known | {"read_note": signs_found} | _log(row)


@remembered(_REMEMBERED, _made_from)
def stored_case(row: Lifter) -> CoachCase:
    """Everything the lifter logged that stands. BadInput as `_known`."""
    known = load_lifter(row)
    return CoachCase(catalogue=known.catalogue, policy=known.policy, **_known(row))


@remembered(_REMEMBERED, _made_from)
def block_case(row: Lifter, revision: BlockRevision) -> BlockCase:
    """The same beside one of their blocks, under that block's policy."""
    block = block_value(revision)
    catalogue, policy = catalogue_for(block.lifter), block_policy(block)
    return BlockCase(block=block, catalogue=catalogue, policy=policy, **_known(row))


@dataclass(frozen=True, eq=False)
class StoredBlock:
    """One revision as a value, with the lifter's log and today's date where the person is."""

    row: Lifter
    revision: BlockRevision
    block: Block
    case: BlockCase
    today: date

    @cached_property
    def closed(self) -> Closed:
        days = frozenset(done.moment.day for done in self.case.sets)
        return Closed(today=self.today, trained=days)

    @cached_property
    def due_from(self) -> date:
        """From which day on its sessions were due."""
        made = made_on(self.row, self.block.start)
        return due_from(self.block.start, made, sorted(self.closed.trained))

    def context(self, *, with_loads: bool = False) -> EditContext:
        """What an edit is judged by; `with_loads` also reads the log for loads of new lifts."""

        case, paths = self.case, None
        if with_loads:
            paths = paths_for(
                self.block.lifter, case.policy, case.catalogue, self.beliefs(), case.sets
            )
        return EditContext(
            catalogue=self.case.catalogue,
            policy=self.case.policy,
            closed=self.closed,
            paths=paths,
            painful=self._painful(),
        )

    def beliefs(self) -> Beliefs | None:
        """None while nothing is logged to go by."""
        return self.case.beliefs() if self.case.taught else None

    def _painful(self) -> frozenset[str]:
        """Lifts with a live pain report."""
        said, cleared = pain_said(self.case.until(self.today)), cleared_days(self.case)
        lifts = self.case.catalogue.lifts.values()
        return frozenset(
            pain_by_lift(said, lifts, self.case.catalogue, self.case.policy, self.today, cleared)
        )


def last_stored(row: Lifter, start: date, today: date) -> StoredBlock:
    """The last revision of the block that starts on `start`. Http404 where there is none."""
    return stored_block(row, or_404(block_of(row, start), "block"), today)


def stored_block(row: Lifter, revision: BlockRevision, today: date) -> StoredBlock:
    case = block_case(row, revision)
    return StoredBlock(row=row, revision=revision, block=case.block, case=case, today=today)
