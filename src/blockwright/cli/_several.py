"""Options that take several words: `--accept A B C` is `--accept A --accept B --accept C`."""

from collections.abc import Iterator
from typing import Any, ClassVar

from typer.core import TyperArgument, TyperCommand


class TakesSeveral(TyperCommand):
    """A command whose repeatable options also take all the words up to the next option, which
    typer cannot. A word counts so only once the command has all its arguments: files may stand
    before the options or behind them."""

    several: ClassVar[frozenset[str]] = frozenset()

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Writes the option again before each further word, then parses as usual."""
        return list(super().parse_args(ctx, list(self._one_by_one(args))))

    def _one_by_one(self, args: list[str]) -> Iterator[str]:
        missing = sum(isinstance(param, TyperArgument) for param in self.params)
        option = ""
        words = iter(args)
        for word in words:
            if word == "--":
                yield word
                yield from words
            elif word.startswith("-") and len(word) > 1:
                option = word if word in self.several else ""
                yield word
                if word in self._with_a_value():
                    yield from (value for value in (next(words, None),) if value is not None)
            elif option and missing <= 0:
                yield from (option, word)
            else:
                missing -= 1
                yield word

    def _with_a_value(self) -> set[str]:
        return {
            name
            for param in self.params
            if not isinstance(param, TyperArgument) and not getattr(param, "is_flag", False)
            for name in param.opts
        }
