"""Answers kept in memory by what they depend on: the one way in which pages remember.

    @remembered(32, lambda row, start: (row.key, row.reader, last_seq(row), start))
    def report(row, start): ...

The key names everything the answer is made from; the arguments themselves are not compared."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from functools import lru_cache, wraps
from typing import Generic, ParamSpec, TypeVar

Asked = ParamSpec("Asked")
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class _Named(Generic[Answer]):
    key: Hashable
    make: Callable[[], Answer] = field(compare=False)


def remembered(
    most: int, key: Callable[..., Hashable]
) -> Callable[[Callable[Asked, Answer]], Callable[Asked, Answer]]:
    """Keeps the `most` answers that were asked for last."""

    def kept(function: Callable[Asked, Answer]) -> Callable[Asked, Answer]:
        @lru_cache(maxsize=most)
        def made(asked: _Named[Answer]) -> Answer:
            return asked.make()

        @wraps(function)
        def answer(*args: Asked.args, **more: Asked.kwargs) -> Answer:
            return made(_Named(key(*args, **more), lambda: function(*args, **more)))

        return answer

    return kept
