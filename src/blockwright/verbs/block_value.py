"""A stored block's document to the engine's value, remembered since a revision never changes."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from blockwright.engine.training import Block
from blockwright.files.block_json import block_from_json
from blockwright.store.models import BlockRevision


def block_value(revision: BlockRevision) -> Block:
    """The block of a row; remembered, since a revision never changes."""
    return _block(revision.pk, _Document(revision.document))


class _Document:
    """A document that does not count in the cache's key: the row's number does."""

    def __init__(self, document: Mapping[str, Any]) -> None:
        self.document = document

    def __hash__(self) -> int:
        return 0

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Document) and self.document == other.document


@lru_cache(maxsize=64)
def _block(_pk: int, document: _Document) -> Block:
    return block_from_json(document.document, "the stored block", checked=True)
