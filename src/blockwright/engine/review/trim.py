"""Which entries lose sets when a muscle has fewer: the climb first, then where there are most."""

from collections.abc import Mapping
from typing import TypeVar

Key = TypeVar("Key")


def trim(sets: Mapping[Key, tuple[int, int]], target: int) -> dict[Key, int]:
    """Sets by entry after trimming to `target` in all, at least one each.

    `sets` holds each entry's sets now and those of the week before. One set at a time: from an
    entry above its week before, else from the one with most; the last of those that tie.
    """
    left = {key: now for key, (now, _) in sets.items()}
    while sum(left.values()) > target:
        spare = [key for key, now in left.items() if now > 1]
        if not spare:
            break
        spare.reverse()
        most = max(spare, key=lambda key: (left[key] - sets[key][1] > 0, left[key]))
        left[most] -= 1
    return left
