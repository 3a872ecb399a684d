"""A stored block with what a change to it is judged by: log, policy, sessions that are over."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from blockwright.engine.case import CoachCase
from blockwright.engine.editing import Closed, Known, Setting
from blockwright.engine.policy import Policy
from blockwright.engine.review.attention import due_from
from blockwright.engine.review.case import cleared_days, pain_said
from blockwright.engine.review.exposures import exposures_of, lifts_in_use, window_of
from blockwright.engine.review.safety import pain_by_lift
from blockwright.engine.training import Block, Catalogue, SetDone
from blockwright.store.blocks import made_on
from blockwright.store.models import BlockRevision, Lifter
from blockwright.verbs.block_value import block_value
from blockwright.verbs.stored_case import stored_case


@dataclass(frozen=True, eq=False)
class StoredBlock:
    """One revision as a value, with the lifter's log and today's date where the person is."""

    row: Lifter
    revision: BlockRevision
    block: Block
    case: CoachCase
    today: date

    @property
    def catalogue(self) -> Catalogue:
        return self.case.catalogue

    @property
    def policy(self) -> Policy:
        return self.case.policy

    @property
    def sets(self) -> tuple[SetDone, ...]:
        return self.case.sets

    @cached_property
    def closed(self) -> Closed:
        """Which sessions are over."""
        days = frozenset(done.moment.day for done in self.sets)
        return Closed(today=self.today, trained=days)

    @cached_property
    def due_from(self) -> date:
        """From which day on its sessions were due."""
        made = made_on(self.row, self.block.start)
        return due_from(self.block.start, made, sorted(self.closed.trained))

    def setting(self, *, with_loads: bool = False) -> Setting:
        """What an edit is judged by; `with_loads` also reads the log for loads of new lifts."""
        from blockwright.engine.planning.block import heaviest_kg
        from blockwright.engine.planning.loads import LoadPaths

        lifter = self.block.lifter
        paths = None
        if with_loads:
            paths = LoadPaths(
                beliefs=self.known().beliefs,
                gym=lifter.gym,
                bodyweight_kg=lifter.bodyweight_kg,
                policy=self.policy,
                heaviest_kg=heaviest_kg(self.sets, self.catalogue, lifter.bodyweight_kg),
            )
        return Setting(
            catalogue=self.catalogue,
            policy=self.policy,
            closed=self.closed,
            paths=paths,
            painful=self._painful(),
        )

    def known(self) -> Known:
        """The lifter's log as the composer wants it."""
        return Known(facts=self.sets, beliefs=self.case.beliefs()) if self.sets else Known()

    def _painful(self) -> frozenset[str]:
        """Lifts with a live pain report."""
        window = window_of(self.block, self.sets, self.today)
        if window is None:
            return frozenset()
        exposures = exposures_of(self.block, self.sets, self.catalogue, self.today)
        in_use = lifts_in_use(exposures, window, self.catalogue)
        said, cleared = pain_said(self.case.until(self.today)), cleared_days(self.case)
        return frozenset(
            pain_by_lift(said, in_use, self.catalogue, self.policy, window.end, cleared)
        )


def stored_block(row: Lifter, revision: BlockRevision, today: date) -> StoredBlock:
    """The revision as a value, with every fact of the lifter."""
    return StoredBlock(
        row=row,
        revision=revision,
        block=block_value(revision),
        case=stored_case(row, revision),
        today=today,
    )
