"""A small grammar of warning signs: sign and body part in one clause, denial scoped to it.

A note is cut into words (`reading.py`); each belongs to classes, typing slips included
(`spelling.py`); the words of harmless phrases are taken out; the rules (`tables.py` has them all)
are matched within clauses; a match counts unless it is denied (`denial.py`); all words together are
weighed (`evidence.py`), which finds what no rule foresaw and drops what only sounds like a sign.
The phone runs the same tables with the same steps (`static/blockwright/signs.js`)."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from blockwright.engine.signs import BLOOD, QUESTIONS, SignFound
from .denial import counts, is_plain_pain, is_yes
from .evidence import doubt_left, sign_meant
from .patterns import Pattern, PatternIndex, compiled, sections
from .reading import NoteReading, Place
from .tables import ALWAYS, CONTEXTS, RULES


@dataclass(frozen=True, slots=True)
class Rule:
    """One way to write a sign."""

    sign: str
    sure: bool
    unless: tuple[Pattern, ...]  # What makes it harmless when it stands in the same sentence
    pattern: Pattern


@lru_cache(maxsize=4096)
def signs_found(note: str) -> tuple[SignFound, ...]:
    """The warning signs in what somebody wrote, each once, in the order of `QUESTIONS`."""
    if not note.strip():
        return ()
    reading = NoteReading(note)
    sure = signs_by_rule(reading)
    doubt = doubt_left(reading, sure)
    if doubt is None and (sure.get(BLOOD) or _is_answered(reading)):
        doubt = True  # no other words explain it away
    if doubt is None or is_plain_pain(reading):
        return ()
    if not sure:
        sure = {sign_meant(reading): False}
    return tuple(SignFound(sign, sure[sign] and not doubt) for sign in QUESTIONS if sign in sure)


def signs_by_rule(reading: NoteReading) -> dict[str, bool]:
    """The signs that the rules find, and whether each is beyond doubt."""
    table, index = rules()
    sure: dict[str, bool] = {}
    for number in index.near(reading.words, reading.named):
        rule = table[number]
        if rule.sign not in sure and any(True for _ in _standing(rule, reading)):
            sure[rule.sign] = rule.sure
    return sure


def _standing(rule: Rule, reading: NoteReading) -> Iterator[tuple[Place, ...]]:
    for places in reading.matches(rule.pattern):
        if counts(reading, places) and not reading.has(rule.unless, places[0][0]):
            yield places


def _is_answered(reading: NoteReading) -> bool:
    """Whether somebody was asked for a sign and said yes."""
    table, index = rules()
    near = (table[number] for number in index.near(reading.words, reading.named))
    return any(is_yes(reading, at[-1][1]) for rule in near for at in _standing(rule, reading))


@cache
def rules() -> tuple[tuple[Rule, ...], PatternIndex]:
    """Every rule, those beyond doubt first, and where to look for them."""
    contexts: dict[str, list[Pattern]] = {}
    for name, line in sections(CONTEXTS):
        contexts.setdefault(name, []).extend(compiled(line))
    made: list[Rule] = []
    for sign, line in sections(RULES):
        head, pattern = line.split(": ", 1)
        level, *unless = head.split()
        names = (*ALWAYS.split(), *(name.removeprefix("-") for name in unless))
        without = tuple(p for name in names for p in contexts[name])
        made += [Rule(sign, level == "sure", without, one) for one in compiled(pattern)]
    made.sort(key=lambda rule: not rule.sure)
    return tuple(made), PatternIndex([rule.pattern for rule in made])
