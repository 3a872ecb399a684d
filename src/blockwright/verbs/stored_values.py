"""A row of the site as the engine's value, remembered until the row changes; a block as a row."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from blockwright.accounts.models import User
from blockwright.engine.policy import Policy
from blockwright.engine.training import Block, Catalogue
from blockwright.engine.training import Lifter as LifterValue
from blockwright.files.block_json import block_from_json, block_to_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_file import lifter_from_table
from blockwright.files.policy_files import default_policy
from blockwright.store.blocks import add_revision
from blockwright.store.models import BlockRevision, Lifter
from .remembered import remembered


@dataclass(frozen=True, slots=True)
class KnownLifter:
    value: LifterValue
    catalogue: Catalogue
    policy: Policy


class RowContent:
    """A row's document in a cache whose key names the row: compared, never hashed."""

    def __init__(self, table: Mapping[str, Any]) -> None:
        self.table = table

    def __hash__(self) -> int:
        return 0

    def __eq__(self, other: object) -> bool:
        return isinstance(other, RowContent) and (
            self.table is other.table or self.table == other.table
        )


@remembered(512, lambda row: (row.key, row.version, RowContent(row.document)))
def load_lifter(row: Lifter) -> KnownLifter:
    """The lifter of a row. BadInput if the row was written by a newer version."""
    value = lifter_from_table(row.document, None).value
    return KnownLifter(
        value=value,
        catalogue=catalogue_for(value),
        policy=default_policy().overridden(value.policy, "lifter"),
    )


@remembered(64, lambda revision: (revision.pk, RowContent(revision.document)))
def block_value(revision: BlockRevision) -> Block:
    """The block of a row; remembered, since a revision never changes."""
    return block_from_json(revision.document, "the stored block", checked=True)


def keep_block(row: Lifter, block: Block, by: User | None) -> BlockRevision:
    """Stores the block as a revision; as `store.blocks.add_revision`."""
    return add_revision(row, block_to_json(block), by)
