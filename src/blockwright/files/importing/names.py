"""Names of lifts as people write them, to the catalogue's: abbreviations, plurals, typing slips.

A name is cut into plain words; an alias scores by the weight of the words both share, where a word
that many lifts carry ("machine") weighs little. Near words count too (rapidfuzz)."""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

from blockwright.engine.training import Catalogue
from .words import without_accents, without_warmup, words

SURE = 0.8
"""From this score on, and well before the next lift, a name is taken and said (judgement)."""
POSSIBLE = 0.5
"""Below this score no lift of the catalogue is meant; the name becomes an own lift (judgement)."""
_AHEAD = 0.04
_OFFERED = 5
_UNKNOWN_WORD = 1.0
_A_SLIP = 0.97  # What a name keeps of its score where a word was only like one of the catalogue's
_SHORTEST_TYPO = 4
_SHORTEST_BEGUN = 3
_NEAR_NAME = 0.86

_SHORT: dict[str, str] = {without_accents(k): v for k, v in words()["short"].items()}
_JOINED = tuple(
    (re.compile(without_accents(form)), full) for form, full in words()["joined"].items()
)
_PREFIX = re.compile(r"^\s*(?:[a-h]\d?[.):]\s*|[a-h]\d\s+|\d{1,2}[.):]\s+|[-*•]\s*)", re.I)
_NO_PART = re.compile(
    r"(?:\s*[,:(-]\s*|(?<!last)(?<!top)\s+)(?:(?:set|s[ée]rie|satz)\s*#?\s*\d{1,2}"
    r"|(?:tm|e?1rm|training max)\s*[:=@]?\s*\d.*)\)?$",
    re.I,
)
_SOME_SETS = (
    r"(?:(?:top|heavy|work(?:ing)?)[ -](?:set|single|double|triple)s?|back[ -]?offs?(?: sets?)?)"
)
_OF_WHICH_SETS = re.compile(rf"[\s,:(-]+{_SOME_SETS}\)?$|^{_SOME_SETS}[\s:-]+(?=[^\W\d])", re.I)
"""Behind a lift's name what is no part of it: "Squat - set 2", "Press - TM 60", "Bench top set"."""
_NO_NAME = re.compile(r"\([^)]*\d[^)]*\)|\((?:kgs?|lbs?)\b[^)]*\)|\bc/")
_CUT_SHORT = re.compile(r"\b([a-z]{4,})\.")
_ENDINGS = (("presses", "press"), ("crunches", "crunch"), ("lunges", "lunge"), ("raises", "raise"),
            ("ches", "ch"), ("xes", "x"))  # fmt: skip
_STAY = frozenset({"press", "biceps", "triceps", "cross", "abs", "pass", "pres", "squads"})
_KIT_WORDS: dict[str, list[str]] = words()["kit"]
_OWN_BARS = frozenset(words()["kit_of_its_own"]["words"])
_SHARED: dict[str, list[str]] = words()["shared_names"]
_OTHER_KIT = 0.7
"""A lift without the kit that the name says keeps this share of its score (judgement)."""
NO_LIFT = frozenset(words()["headings"]["no_lift"])
"""Names made of these words alone head days and columns; they are no lifts."""
_SUM = re.compile(rf"(?:{'|'.join(words()['headings']['sums'])})\b", re.I)


_LONG_WORD = 6
_LONGER_WORD = 9  # From this length on no word of the catalogue is near to another language's
_LONG_SHORT = tuple(
    word
    for word, full in _SHORT.items()
    if len(word) >= (_LONG_WORD if " " in full else _LONGER_WORD)
)


@dataclass(frozen=True, slots=True)
class Match:
    """What a typed name may mean: lifts of the catalogue, best first, with their scores 0-1."""

    typed: str
    lifts: tuple[tuple[str, float], ...]

    @property
    def best(self) -> str | None:
        return self.lifts[0][0] if self.lifts and self.lifts[0][1] >= POSSIBLE else None

    @property
    def score(self) -> float:
        return self.lifts[0][1] if self.lifts else 0.0

    @property
    def is_sure(self) -> bool:
        if self.score < SURE:
            return False
        return len(self.lifts) < 2 or self.score - self.lifts[1][1] >= _AHEAD or self.score >= 0.995


MOST_SEARCHED = 600
"""Different names of lifts that are compared with all of the catalogue, some milliseconds each: a
file with more has something else in the column. What follows keeps the name it was typed with."""


class LiftMatcher:
    """Matches names against one catalogue; `known` are names a coach has already explained."""

    def __init__(self, catalogue: Catalogue, known: dict[str, str] | None = None) -> None:
        self.catalogue = catalogue
        self._known = {_key(name): lift for name, lift in (known or {}).items()}
        self._memo: dict[str, Match] = {}
        self._searched = 0

    def match(self, text: str) -> Match:
        said = " ".join(_PREFIX.sub("", without_warmup(lift_alone(text))[0]).split())
        if said not in self._memo:
            self._memo[said] = self._match(said.strip(" :.-"), words_of(said))
        return self._memo[said]

    def says_more(self, match: Match) -> bool:
        """Whether a name holds words that its best lift lacks: "scapular push up"."""
        known = set(words_of(match.best or ""))
        return any(self._nearest(word) not in known for word in words_of(match.typed))

    def is_shared(self, match: Match) -> bool:
        """Whether a name is one of several lifts' of which the first is the usual one."""
        return " ".join(sorted(words_of(match.typed))) in _SHARED

    def _match(self, typed: str, said: Sequence[str]) -> Match:
        if (lift := self._known.get(_key(typed))) is not None:
            return Match(typed, ((lift, 1.0),))
        if (shared := _SHARED.get(" ".join(sorted(words_of(typed))))) is not None:
            return Match(typed, tuple((lift, SURE - _AHEAD) for lift in shared))
        if (found := self.catalogue.find(typed)) is not None:
            return Match(typed, ((found.name, 1.0),))
        if not any(len(word) > 2 for word in said) or is_no_lift(typed):
            return Match(typed, ())
        self._searched += 1
        if self._searched > MOST_SEARCHED:
            return Match(typed, ())
        meant = words_of(" ".join(self._nearest(word) or word for word in said))
        slip = 1.0 if set(meant) == set(said) else _A_SLIP
        scores: dict[str, float] = {}
        for alias, lift in self._aliases_with(meant):
            of_body = self.catalogue.lifts[lift].load_kind == "bodyweight_plus"
            gone = {"bodyweight"} if of_body and "bodyweight" not in alias else set()
            score = self._score(frozenset(meant) - gone, alias) * self._kit_share(meant, lift)
            scores[lift] = max(slip * score, scores.get(lift, 0.0))
        for lift, score in self._alike(typed):
            scores[lift] = max(score, scores.get(lift, 0.0))
        ranked = sorted(scores.items(), key=lambda item: (-item[1], len(item[0]), item[0]))
        return Match(typed, tuple((name, round(score, 3)) for name, score in ranked[:_OFFERED]))

    def _alike(self, typed: str) -> list[tuple[str, float]]:
        """Lifts whose names are nearly the same letters, spaces apart ("latpulldwn")."""
        found = process.extract(
            _letters(typed), self._compact, scorer=OSA.normalized_similarity,
            score_cutoff=_NEAR_NAME, limit=4,
        )  # fmt: skip
        return [
            (self.catalogue.by_alias[alias], 1.0 if score == 1 else round(score - 0.04, 3))
            for _, score, alias in found
        ]

    @cached_property
    def _compact(self) -> dict[str, str]:
        return {alias: _letters(alias) for alias in self.catalogue.by_alias}

    @cached_property
    def _aliases(self) -> list[tuple[frozenset[str], str]]:
        return [
            (frozenset(words_of(alias)), name) for alias, name in self.catalogue.by_alias.items()
        ]

    @cached_property
    def _with_word(self) -> dict[str, list[int]]:
        """Where in `_aliases` each word stands."""
        found: dict[str, list[int]] = {}
        for at, (alias, _) in enumerate(self._aliases):
            for word in alias:
                found.setdefault(word, []).append(at)
        return found

    def _aliases_with(self, said: Sequence[str]) -> list[tuple[frozenset[str], str]]:
        """The aliases that share a word with what was said."""
        places = {at for word in said for at in self._with_word.get(word, ())}
        return [self._aliases[at] for at in sorted(places)]

    @cached_property
    def _weights(self) -> dict[str, float]:
        most = math.log(len(self._aliases) + 1)
        return {
            word: 0.3 + math.log((len(self._aliases) + 1) / len(places)) / most
            for word, places in self._with_word.items()
        }

    def _score(self, said: frozenset[str], alias: frozenset[str]) -> float:
        """Twice the shared weight over both weights."""
        both, every = (
            sum(self._weights.get(word, _UNKNOWN_WORD) for word in words)
            for words in (said & alias, [*said, *alias])
        )
        return min(1.0, 2.0 * both / every)

    def _kit_share(self, said: Sequence[str], lift: str) -> float:
        """1, or less where the name says a kit that the lift does not use."""
        kit = self.catalogue.lifts[lift].kit
        bars = _OWN_BARS.intersection(said)
        if bars and not bars.intersection(words_of(lift)):
            return _OTHER_KIT * _OTHER_KIT
        other = any(
            word in said and not any(piece in kit for piece in pieces)
            for word, pieces in _KIT_WORDS.items()
        )
        return _OTHER_KIT if other else 1.0

    def _nearest(self, word: str) -> str | None:
        if word in self._with_word:
            return word
        return _begun(word, self._words) or _near(word, self._words)

    @cached_property
    def _words(self) -> tuple[str, ...]:
        return tuple(self._with_word)


@lru_cache(maxsize=32768)
def _near(word: str, known: tuple[str, ...]) -> str | None:
    """The known word one slip away (a letter wrong, missing or swapped), two in a long one."""
    if len(word) < _SHORTEST_TYPO:
        return None
    slips = 1 if len(word) <= _LONG_WORD else 2
    found = process.extractOne(word, known, scorer=OSA.distance, score_cutoff=slips)
    return found[0] if found else None


@lru_cache(maxsize=32768)
def _begun(word: str, known: tuple[str, ...]) -> str | None:
    """The one known word that begins so: "bulg", "incl"."""
    if len(word) < _SHORTEST_BEGUN:
        return None
    found = [other for other in known if other.startswith(word)]
    return found[0] if len(found) == 1 else None


def _begun_short(match: "re.Match[str]") -> str:
    """A word cut short by a dot ("Kreuzh."), where one that we know begins so."""
    found = {full for word, full in _SHORT.items() if word.startswith(match[1])}
    return found.pop() if len(found) == 1 else match[0]


@lru_cache(maxsize=32768)
def lift_alone(text: str) -> str:
    """A lift's name without a set's number or a maximum behind it."""
    text = _NO_PART.sub("", text) if text[-1:] in ")0123456789" or "TM" in text else text
    return _OF_WHICH_SETS.sub("", text)


def _letters(name: str) -> str:
    return "".join(words_of(name))


@lru_cache(maxsize=32768)
def words_of(name: str) -> tuple[str, ...]:
    """The plain words of a name: no marks, abbreviations written out, singular."""
    said = _NO_NAME.sub(" ", without_accents(name.lower()))
    said = _CUT_SHORT.sub(_begun_short, said)
    said = " ".join(re.sub(r"[()&/,:]", " ", said).split())
    for pattern, word in _JOINED:
        said = pattern.sub(word, said.strip())
    parts = re.sub(r"[-_.]", " ", said).split()
    return tuple(_singular(part) for word in parts for part in _in_full(word).split())


@lru_cache(maxsize=32768)
def _in_full(word: str) -> str:
    """An abbreviation written out; a long one also where a letter is wrong."""
    for form in (word, word.removesuffix("s")):
        if form in _SHORT:
            return _SHORT[form]
    if len(word) < _LONG_WORD:
        return word
    found = _near(word, _LONG_SHORT)
    return _SHORT[found] if found else word


@lru_cache(maxsize=32768)
def sums_up(text: str) -> bool:
    """Whether a text begins as sums do."""
    return _SUM.match(without_accents(text.strip(" -*"))) is not None


@lru_cache(maxsize=32768)
def is_no_lift(name: str) -> bool:
    """Whether a text is only words that head days and columns, or begins as sums do."""
    if sums_up(name):
        return True
    said = re.sub(r"\bwarm[ -]?up\b", "warmup", name.lower())
    plain = re.sub(r"[^a-z0-9]+", " ", said).strip()
    if any(word not in NO_LIFT for word in plain.split()):
        return False
    # "Block pull" is one, of two words that head days.
    return not any(pattern.search(plain) for pattern, _ in _JOINED)


def _singular(word: str) -> str:
    if word in _STAY or word.endswith("ss"):
        return word
    for plural, single in _ENDINGS:
        if word.endswith(plural):
            return word[: -len(plural)] + single
    return word[:-1] if word.endswith("s") and len(word) > 3 else word


def _key(name: str) -> str:
    return " ".join(re.sub(r"[-_]", " ", name.lower()).split())


def name_notes(matches: Mapping[str, Match], names: Mapping[str, str]) -> list[str]:
    """What is said of names taken for another, by the typed name in `matches` and `names`."""
    return [
        f'"{matches[typed].typed}" is taken as {name}'
        if name != matches[typed].typed
        else f'"{name}" is kept as a lift of its own'
        for typed, name in sorted(names.items(), key=lambda item: item[0].lower())
        if (matches[typed].score < 1 and name.lower() != matches[typed].typed.lower())
        or matches[typed].best is None
    ]
