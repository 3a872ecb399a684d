"""How the tables are written, and what the grammar makes of them.

A pattern is words, `a|b` for one of several, `<class>`, `stem*`, each in order; `a_b` is a phrase;
`~n` allows up to n other words between, `^n` over a comma too, `=n` in either order; a trailing `?`
marks what may be left out; `$` is the end of the clause. A line that begins with blanks goes on
with the line before; `#` begins a remark."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property


@dataclass(frozen=True)
class Element:
    """One place of a pattern: any of its words, phrases, stems or classes."""

    words: frozenset[str] = frozenset()
    phrases: tuple[tuple[str, ...], ...] = ()
    stems: tuple[str, ...] = ()
    classes: tuple[str, ...] = ()
    gap: int = 0  # Most other words between it and the element before
    over_comma: bool = False  # Whether the gap may reach over a comma
    optional: bool = False
    at_end: bool = False  # Whether it is no word but the end of the clause

    @cached_property
    def heads(self) -> frozenset[str]:
        """The words it may begin with."""
        return self.words | {phrase[0] for phrase in self.phrases}


Pattern = tuple[Element, ...]


@cache
def compiled(text: str) -> tuple[Pattern, ...]:
    """The patterns a written one stands for: two where its order is free."""
    made: list[Element] = []
    gap, free, over_comma = 0, 0, False
    for part in text.split():
        if part[0] in "~=^":
            gap, over_comma = int(part[1:]), part[0] == "^"
            free = len(made) if part[0] == "=" else free
        else:
            made.append(replace(_element(part), gap=gap, over_comma=over_comma))
            gap, over_comma = 0, False
    if not free:
        return (tuple(made),)
    before, after = made[:free], made[free:]
    width = after[0].gap
    turned = [replace(after[0], gap=0), *after[1:], replace(before[0], gap=width), *before[1:]]
    return tuple(made), tuple(turned)


class PatternIndex:
    """Patterns by what their first element may be: a note meets few of them."""

    def __init__(self, patterns: Sequence[Pattern]) -> None:
        self.patterns = tuple(patterns)
        self._by_head: dict[str, list[int]] = {}
        self._by_class: dict[str, list[int]] = {}
        self._by_stem: list[tuple[str, int]] = []
        for number, pattern in enumerate(self.patterns):
            for head in pattern[0].heads:
                self._by_head.setdefault(head, []).append(number)
            for name in pattern[0].classes:
                self._by_class.setdefault(name, []).append(number)
            self._by_stem += [(stem, number) for stem in pattern[0].stems]

    def near(self, words: frozenset[str], classes: frozenset[str]) -> list[int]:
        """The numbers of the patterns that may begin in a note of these words, in order."""
        found = {n for word in words for n in self._by_head.get(word, ())}
        found |= {n for name in classes for n in self._by_class.get(name, ())}
        found |= {n for stem, n in self._by_stem if any(w.startswith(stem) for w in words)}
        return sorted(found)


def _element(part: str) -> Element:
    if part == "$":
        return Element(at_end=True)
    options = part.removesuffix("?").split("|")
    return Element(
        words=frozenset(one for one in options if one[0] != "<" and one[-1] != "*"),
        phrases=tuple(tuple(o.split("_")) for o in options if "_" in o and o[0] != "<"),
        stems=tuple(one[:-1] for one in options if one[-1] == "*"),
        classes=tuple(one[1:-1] for one in options if one[0] == "<"),
        optional=part.endswith("?"),
    )


def lines(text: str) -> Iterator[str]:
    """The lines of a table, those that go on joined."""
    held = ""
    for line in text.strip().splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        if line[0] == " ":
            held += line.strip() if held.endswith("|") else " " + line.strip()
            continue
        if held:
            yield held
        held = line.strip()
    if held:
        yield held


def sections(text: str) -> Iterator[tuple[str, str]]:
    """The lines of a table with the heading in brackets that each stands under."""
    head = ""
    for line in lines(text):
        if line.startswith("["):
            head = line[1:-1]
        else:
            yield head, line


@cache
def classes_of(text: str) -> Mapping[str, tuple[tuple[str, ...], ...]]:
    """By name of a class, its entries as words."""
    found = (line.split(": ", 1) for line in lines(text))
    return {name: tuple(tuple(e.split("_")) for e in words.split()) for name, words in found}
