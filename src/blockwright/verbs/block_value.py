"""A stored block's document to the engine's value, remembered since a revision never changes."""

from functools import lru_cache

from blockwright.engine.training import Block
from blockwright.files.block_json import block_from_json
from blockwright.store.models import BlockRevision
from blockwright.verbs.load_lifter import Document


def block_value(revision: BlockRevision) -> Block:
    """The block of a row; remembered, since a revision never changes."""
    return _block(revision.pk, Document(revision.document))


@lru_cache(maxsize=64)
def _block(_pk: int, document: Document) -> Block:
    return block_from_json(document.table, "the stored block", checked=True)
