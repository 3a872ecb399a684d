"""One note cut into words: which class stands where, and where a pattern matches."""

import re
from collections.abc import Iterator, Sequence
from functools import cache

from .patterns import Element, Pattern, PatternIndex, classes_of, compiled, lines
from .spelling import corrected
from .tables import BREAKERS, CLASSES, HARD, HARMLESS, JOINERS, MERGED, NOT_DENIALS

_TOKEN = re.compile(r"[a-z0-9]+(?:'[a-z]+)?|[.;!?\n]|[,()]|\s[-–—]+\s|[/&+]")
_AND = {"&": "and", "+": "and", "/": "or"}
MOST_WORDS = 300
"""Words of a note that are read: more is no note, and the phone has to answer at once."""

Place = tuple[int, int]  # First word of a match of one element, and the word after its last


@cache
def word_set(text: str) -> frozenset[str]:
    """The words of a plain list."""
    return frozenset(text.split())


def tokens_of(note: str) -> list[str]:
    """Words and marks: a hard mark as "." or "?", a soft one (comma, bracket, dash) as ","."""
    text = note.lower().replace("’", "'").replace("‘", "'").replace("w/o", "without")
    text = text.replace("w/", "with ").replace(" v. ", " very ")
    text = re.sub(r"(?<=[a-z0-9])-(?=[a-z0-9])|(?<=[0-9])\.(?=[0-9])", " ", text)
    for phrase, word in MERGED:
        text = text.replace(phrase, word)
    found = []
    for raw in _TOKEN.findall(text)[:MOST_WORDS]:
        token = raw.strip() or "."
        if token[0] in ".;!?":
            found.append("?" if token == "?" else ".")
        elif token[0] in ",()-–—":
            found.append(",")
        else:
            found.append(_AND.get(token) or corrected(token))
    return found


class NoteReading:
    """The words of one note, and where which class stands."""

    def __init__(self, note: str) -> None:
        self.tokens = tokens_of(note)
        self.hard = [t in (".", "?") or t in word_set(HARD) for t in self.tokens]
        self.soft = [t == "," for t in self.tokens]
        self.classes = _class_places(self.tokens)
        self.words = frozenset(self.tokens)
        self.named = frozenset(name for here in self.classes for name in here)
        self.silent: set[int] = set()
        """Words of harmless phrases: they count for nothing."""
        self._stops = False
        others = self._words_matched(NOT_DENIALS)
        self.ifs = self._covered("if")
        self.silent = self._words_matched(HARMLESS)
        self._stops = True
        said = (i for i in self._covered("deny") if i not in others)
        self.denials = {i for i in said if not self._is_taken_back(i)}

    def _is_taken_back(self, index: int) -> bool:
        """ "Not dizzy until the last set", "didn't faint but nearly did"."""
        mark = next(i for i in range(index, len(self.tokens) + 1) if self.is_mark(i))
        if mark == len(self.tokens) or not self.hard[mark]:
            return False
        after = self.tokens[mark + 1 : mark + 3]
        return self.tokens[mark] == "until" or after in (["nearly", "did"], ["almost", "did"])

    def _words_matched(self, table: str) -> set[int]:
        return {
            i
            for pattern in self.near(_index_of(table))
            for places in self.matches(pattern)
            for a, b in places
            for i in range(a, b)
        }

    def near(self, index: PatternIndex) -> Iterator[Pattern]:
        """The patterns of a table that may stand in the note, in order."""
        return (index.patterns[n] for n in index.near(self.words, self.named))

    def _covered(self, name: str) -> dict[int, int]:
        """Every word of the class's places, and where its place begins."""
        places = self._places(Element(classes=(name,)))
        return {i: a for a, b in places for i in range(a, b)}

    def matches(self, pattern: Pattern, *, aloud: bool = False) -> Iterator[tuple[Place, ...]]:
        """Every way the pattern stands in one clause, as the places of its elements. `aloud`:
        the words of harmless phrases too."""
        if not all(each.optional or self._is_possible(each) for each in pattern):
            return
        for place in self._places(pattern[0], aloud=aloud):
            yield from self._rest(pattern, 1, (place,), aloud)

    def _is_possible(self, element: Element) -> bool:
        """Whether any word of the note could be the element's: most patterns end here."""
        return (
            element.at_end
            or not self.named.isdisjoint(element.classes)
            or not self.words.isdisjoint(element.heads)
            or any(token.startswith(stem) for stem in element.stems for token in self.words)
        )

    def _places(self, element: Element, *, aloud: bool = False) -> Iterator[Place]:
        for index in range(len(self.tokens)):
            for end in self._ends(element, index, aloud):
                yield index, end

    def _rest(
        self, pattern: Pattern, number: int, places: tuple[Place, ...], aloud: bool
    ) -> Iterator[tuple[Place, ...]]:
        if number == len(pattern):
            yield places
            return
        element, start = pattern[number], places[-1][1]
        for index in self._reached(start, element):
            for end in self._ends(element, index, aloud):
                yield from self._rest(pattern, number + 1, (*places, (index, end)), aloud)
        if element.optional:
            yield from self._rest(pattern, number + 1, places, aloud)

    def _ends(self, element: Element, index: int, aloud: bool) -> Iterator[int]:
        """Where the element ends when it begins at this word."""
        if element.at_end:
            if self.is_mark(index):
                yield index
            return
        if index >= len(self.tokens):
            return
        token, here = self.tokens[index], self.classes[index]
        ends = {end for name in element.classes for end in here.get(name, ())}
        if token in element.words or any(token.startswith(stem) for stem in element.stems):
            ends.add(index + 1)
        for phrase in element.phrases:
            if tuple(self.tokens[index : index + len(phrase)]) == phrase:
                ends.add(index + len(phrase))
        for end in sorted(ends):
            if aloud or not any(i in self.silent for i in range(index, end)):
                yield end

    def _reached(self, start: int, element: Element) -> Iterator[int]:
        """Words from `start` that a gap may reach: in the clause, in rules over no other part."""
        for index in range(start, start + element.gap + 1):
            if index >= len(self.tokens) or element.at_end:
                yield index
                return
            if self.hard[index] or (self.soft[index] and not element.over_comma):
                return
            yield index
            if not self._stops:
                continue
            if self.tokens[index] in word_set(BREAKERS):
                return
            if "part" in self.classes[index] and not self._joined(index):
                return

    def _joined(self, index: int) -> bool:
        around = self.tokens[max(index - 1, 0) : index] + self.tokens[index + 1 : index + 2]
        return any(token in word_set(JOINERS) for token in around)

    def is_mark(self, index: int) -> bool:
        """Whether the clause ends here."""
        return index >= len(self.tokens) or self.hard[index] or self.soft[index]

    def sentence(self, index: int) -> range:
        """The words of the sentence of this word."""
        stops = [i for i, token in enumerate(self.tokens) if token in (".", "?")]
        start = max((i + 1 for i in stops if i < index), default=0)
        return range(start, min((i for i in stops if i >= index), default=len(self.tokens)))

    def has(self, patterns: Sequence[Pattern], index: int) -> bool:
        """Whether one of the patterns stands in the sentence of this word."""
        within = self.sentence(index)
        return any(
            places[0][0] in within and places[-1][1] <= within.stop
            for pattern in patterns
            for places in self.matches(pattern, aloud=True)
        )


@cache
def _index_of(table: str) -> PatternIndex:
    return PatternIndex([pattern for line in lines(table) for pattern in compiled(line)])


@cache
def _phrases() -> dict[str, list[tuple[str, tuple[str, ...]]]]:
    """By first word: every class and phrase that begins with it."""
    found: dict[str, list[tuple[str, tuple[str, ...]]]] = {}
    for name, entries in classes_of(CLASSES).items():
        for words in entries:
            found.setdefault(words[0], []).append((name, words))
    return found


def _class_places(tokens: Sequence[str]) -> list[dict[str, list[int]]]:
    """By word: each class that begins there, and where its words end."""
    places: list[dict[str, list[int]]] = []
    for index, token in enumerate(tokens):
        here: dict[str, list[int]] = {}
        for first in dict.fromkeys((token, token.removesuffix("'s"))):
            for name, words in _phrases().get(first, ()):
                if tuple(tokens[index + 1 : index + len(words)]) == words[1:]:
                    here.setdefault(name, []).append(index + len(words))
        places.append(here)
    return places
