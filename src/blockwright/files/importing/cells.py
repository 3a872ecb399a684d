"""One cell of a training log to the sets it tells: "3x8 @ 80", "80x8,8,7", "BW+10 x 6 @8".

    cell  := group (separator group)*
    group := [warm-up] (count x reps @ load | load count x reps | load x reps | reps @ load
             | count x reps | reps | load) [effort] [warm-up] [note]

It is read to the end or not at all: a half-read set is worse than none. It tells whole sets,
repetitions alone, a load alone, or a scheme (sets x repetitions whose load stands elsewhere). Two
bare numbers ("8x12") can be a load and its repetitions or a scheme: the caller, who has seen the
whole table, says which (`load_first`); None leaves them a `pair`."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from .line import Line, Load
from .readings import USUAL_SETS, Part, Readings
from .tokens import NUMBER, Token, tokens_of
from .told import LAST_SET, NO_SETS, OneSet, Told, Weight, all_so, last_so
from .words import without_warmup

LONGEST_CELL = 300  # A longer text is prose (judgement)
_SEPARATORS = frozenset({",", ";", "/", "+", "and", "then", "drop", "-"})
_BEGIN_A_NOTE = frozenset({"word", "for", "at", "sets", "label", "each", "amrap", "effort", "sides",
                           "failed", "drop", "then"})  # fmt: skip
_NUMBER_IN_NOTE = re.compile(r"\d(?!\d|\.\d|st\b|nd\b|rd\b|th\b)")
_EFFORT = re.compile(r"⟦([^⟧]*)⟧")
_NO_NOTE = re.compile(
    r"(?:s|sec|secs|seconds?|min|mins|minutes?|m|km|mi|cal|kcals?|meters?|metres?|h|hours?|steps?|"
    r"plates?|weeks?|days?|%)\b"
)
_NUMBERS_ASIDE = re.compile(r"[(\[]?(?:next|pain|rest|aim|goal|target)\b")
"""Notes whose numbers are of no set that was done."""
_DID = re.compile(r"\(?(?:only |just )?(?:did|got|made|managed)\s*(?:only |just )?(\d{1,2})\b")
_FAILED = re.compile(
    r"\bfail|\bmiss(?:ed)?\b|(?<!kein )(?:muskelversagen|bis zum versagen)|"
    r"\b(?:al fallo|a falha|a cedimento|à l'échec)\b"
)
_OF_LAST = re.compile(r"\b(?:last|letzte\w*|[uú]ltim[ao]|derni[eè]re?)\b")
_CLOCK = re.compile(r"\d{1,2}:[0-5]\d(?:[:.]\d{1,2})?")
_OF_ONE_SIDE = re.compile(r"[12][ -]?(?:arm|leg|hand)\b")
_PLAIN = re.compile(r"\d{1,4}(?:[.,]\d{1,3})?")
_PRAISE = re.compile(r"(?:easy|hard|ok|good|felt \w+|pr|pb|paused?|tough|grindy?)\)?")
_A_SIDE = re.compile(
    rf"(?P<side>{NUMBER})\s*(?:a|per|each|every|cada|par|por|je|pro|/)?\s*"
    rf"(?:side|lado|cot[eé]|côté|seite)\s*\+\s*(?:bar\w*|stange)?\s*(?P<bar>{NUMBER})(?:\s*bar)?"
)
_NO_EFFORT: tuple[tuple[float, float] | None, ...] = ()


def read_cell(text: str, load_first: bool | None = None) -> Told:
    """What the cell tells, which is nothing when it is no set at all.

    `load_first` settles bare pairs ("8x12"): True a load and its repetitions, False a scheme; None
    leaves them a `pair`."""
    return (len(text) <= LONGEST_CELL and _read(text, load_first)) or NO_SETS


@lru_cache(maxsize=65536)
def _read(text: str, load_first: bool | None) -> Told | None:
    said, tokens = tokens_of(text)
    if not any(token.kind in ("number", "body") for token in tokens):
        return None
    if _CLOCK.fullmatch(said) or _OF_ONE_SIDE.match(said):
        return None
    groups = _Cell(said, tokens, load_first).groups(0)
    return _joined(groups, bool(load_first)) if groups else None


@dataclass(frozen=True, slots=True)
class _Group:
    told: Told
    mark: str = ""  # What stands before it: a separator, none for the first
    warm: str = ""  # The warm-up mark before it; ends in a colon where it is of all that follow


class _Cell(Readings):
    """Reads one cell; of the readings of a group the first after which all else is read holds."""

    def __init__(self, said: str, tokens: Sequence[Token], load_first: bool | None) -> None:
        super().__init__(said, tokens, load_first)
        self._known: dict[int, list[_Group] | None] = {}

    def groups(self, at: int) -> list[_Group] | None:
        if at not in self._known:
            self._known[at] = None
            self._known[at] = self._groups(at)
        return self._known[at]

    def _groups(self, at: int) -> list[_Group] | None:
        begun = at
        mark, at = self._separator(at) if at else ("", at)
        if begun and (not mark or self.kind(at) == "end"):
            return None
        at += self.kind(at) in ("label", "sides")
        warm, at = self._warm(at)
        for told, behind in (*self._bracketed(at), *self.readings(at)):
            for whole, end in self._finished(told, behind, bool(warm)):
                if self.kind(end) == "end":
                    return [_Group(whole, mark, warm)]
                if (rest := self.groups(end)) and _goes_with(whole, rest[0]):
                    return [_Group(whole, mark, warm), *rest]
        return None

    def _separator(self, at: int) -> tuple[str, int]:
        mark = ""
        while self.kind(at) in _SEPARATORS and not (mark and self.kind(at) in "+-"):
            if self.kind(at) == "-" and not self.spaced(at + 1):
                break
            sign = self.kind(at) in ("+", "-") and not self.spaced(at + 1) and not mark
            if sign and self.spaced(at):
                # "+5x5 +5x4": the sign of the next load.
                return " ", at
            drops = self.kind(at) == "+" and not self.spaced(at)
            mark = "drop" if drops or "drop" in (mark, self.kind(at)) else mark + self.kind(at)
            at += 1
        return mark or (" " if self.spaced(at) or self.kind(at) == "(" else ""), at

    def _warm(self, at: int) -> tuple[str, int]:
        if self.kind(at) != "warm":
            return "", at
        return ("warm:", at + 2) if self.kind(at + 1) == ":" else ("warm", at + 1)

    def _bracketed(self, at: int) -> Iterator[Part]:
        """ "(60x5) 100x5": sets in brackets before the work sets are warm-ups."""
        if at or self.kind(0) != "(":
            return
        close = next((i for i in range(len(self.tokens)) if self.kind(i) == ")"), 0)
        inner = _Cell(self.said, self.tokens[1:close], self._load_first)
        groups = inner.groups(0) if close else None
        told = _joined(groups, False) if groups else None
        if told and told.kind == "sets" and self.kind(close + 1) != "end":
            yield _warmed(told), close + 1

    def _finished(self, told: Told, at: int, led: bool) -> Iterator[Part]:
        """The group with its effort, its warm-up mark and its note."""
        note, warm, efforts = "", False, _NO_EFFORT
        while True:
            kind, begun = self.kind(at), at
            at += kind in ("(", ",", "-") and self.kind(at + 1) in ("effort", "warm", "failed")
            inside, behind = self.kind(at), at + 1 + (at > begun and self.kind(at + 1) == ")")
            if inside == "effort":
                efforts, at = self.tokens[at].efforts, behind
            elif kind == "at" and (late := self.effort_at(at)):
                efforts, at = (late,), at + (4 if self.kind(at + 2) == "-" else 2)
            elif inside == "warm" and not led:
                warm, at = True, behind
            elif inside == "failed" or (inside == "x" and self.ends_item(behind)):
                told, efforts, at = *_failed(told, efforts), behind
            elif kind == "(" and (aside := self.load(at + 1)) and self._is_other_unit(told, aside):
                at = aside.behind + 1
            elif (noted := self._note(told, begun)) is not None:
                told, said, at = noted
                note = f"{note} {said}"
            else:
                at = begun
                break
        if warm or without_warmup(note)[1]:
            told = _warmed(told)
        if found := _EFFORT.search(note):
            low, _, high = found[1].partition(" ")
            efforts = ((float(low), float(high)),) if high else ()
        if not efforts and _FAILED.search(note):
            efforts = ((0.0, 0.0),)
        whole = _with_efforts(told, efforts, note)
        if whole is not None and not (warm and told.kind == "load"):
            yield whole, at

    def _is_other_unit(self, told: Told, load: Load) -> bool:
        """Whether a load in brackets is the set's own in the other unit: "225lb 5,5 (102 kg)"."""
        units = {weight.unit for one in told.sets for weight in one.weights}
        other = load.weight.unit is not None and load.weight.unit not in units
        return None not in units and other and self.kind(load.behind) == ")"

    def _note(self, told: Told, at: int) -> tuple[Told, str, int] | None:
        """Words behind a group: to the end, where they tell no other number, or to the next."""
        begun = at
        while self.kind(at) in ("(", ",", ";", ":", "-", "+"):
            at += 1
            if self.kind(at - 1) == "-" and not self.spaced(at):
                return None
        bare = at == begun and (self.kind(at) == "effort" or not self.spaced(at))
        if bare or self.kind(at) not in _BEGIN_A_NOTE or _NO_NOTE.match(self.rest(at)):
            return None
        if told.kind == "load" and not _PRAISE.fullmatch(self.rest(at)):
            return None
        plain, end = _EFFORT.sub("", self.rest(at)), len(self.tokens)
        numbers = _NUMBER_IN_NOTE.findall(plain)
        if not numbers or _NUMBERS_ASIDE.match(plain):
            return told, self.rest(at), end
        did = _DID.match(plain)
        last = did or LAST_SET.search(plain)
        if last and told.sets and len(numbers) == 1:
            several = len(told.sets) > 1
            told = told._replace(sets=last_so(told.sets, reps=(int(last[1]),)))
            return None if did and several else (told, "", end)
        end = at
        while self.kind(end) in ("word", "sets", "label", "amrap", "for"):
            end += 1
        said = " ".join(self.text(i) for i in range(at, end))
        begins = self.kind(end) == "number" and begun == at and _PRAISE.fullmatch(said)
        if end == at or not (begins or self.kind(end) in (",", ";", "/", ")", "drop", "effort")):
            return None
        return told, said, end + (self.kind(end) == ")")


def _goes_with(told: Told, behind: _Group) -> bool:
    """Whether two groups may stand behind each other: both whole sets, or both repetitions."""
    if told.kind == behind.told.kind == "reps":
        return "+" not in behind.mark
    if told.numbers and behind.told.kind == "sets" and behind.mark in ("/", "-", " "):
        return False
    return not {told.kind, behind.told.kind} & {"reps", "load"}


def _warmed(told: Told) -> Told:
    return told._replace(sets=all_so(told.sets, warmup=True))


def _failed(
    told: Told, efforts: tuple[tuple[float, float] | None, ...]
) -> tuple[Told, tuple[tuple[float, float] | None, ...]]:
    """A single that failed was no repetition; of more the last was tried and failed."""
    if told.kind == "sets" and told.sets[-1].reps == (1,):
        return told._replace(sets=last_so(told.sets, reps=(0,))), efforts
    return told, ((0.0, 0.0),)


def _with_efforts(
    told: Told, efforts: tuple[tuple[float, float] | None, ...], note: str
) -> Told | None:
    """One effort for a row of sets belongs to its last set, surely where the note says so; a list
    tells each. None where there are not as many."""
    if len(efforts) > 1:
        if len(efforts) != len(told.sets):
            return None
        each = zip(told.sets, efforts, strict=True)
        return told._replace(sets=tuple(one._replace(rir=rir) for one, rir in each))
    if not efforts or efforts[0] is None:
        return told
    if not told.sets:
        return told._replace(rir=efforts[0])
    row = None if _OF_LAST.search(note) else efforts[0]
    sets = all_so(told.sets, row_rir=row)
    return told._replace(sets=last_so(sets, rir=efforts[0]))


def _joined(groups: list[_Group], load_first: bool) -> Told | None:
    """The groups as one; None where they are not of one kind or their warm-ups are in doubt."""
    if len(groups) == 1 and not groups[0].warm:
        return groups[0].told
    told = [group.told for group in groups]
    pairs = [one.numbers[0] for one in told if one.numbers]
    if (load_first and len(pairs) < len(told)) or max(pairs, default=0) > USUAL_SETS:
        told = [_light(one) for one in told]
    if len({one.kind for one in told}) > 1 or told[0].kind not in ("sets", "reps"):
        return None
    if (warm := _warmups(groups)) is None:
        return None
    sets: list[OneSet] = []
    for group, one, warmup in zip(groups, told, warm, strict=True):
        own = _warmed(one).sets if warmup else one.sets
        last = sets[-1] if sets else None
        if group.mark == "drop" and len(own) == 1 and last and last.weights and own[0].weights:
            then = own[0]
            if then.weights[0].amount < last.weights[-1].amount:
                sets[-1] = last._replace(
                    reps=last.reps + then.reps, weights=last.weights + then.weights,
                    rir=then.rir,
                )  # fmt: skip
                continue
        sets += own
    heavy, work = (
        max((w.amount for s in sets if s.warmup is is_warm for w in s.weights), default=0)
        for is_warm in (True, False)
    )
    return None if heavy >= work > 0 else told[0]._replace(sets=tuple(sets))


def _warmups(groups: list[_Group]) -> list[bool] | None:
    """Which groups are warm-ups; None where "wu 40x5, 60x3, 80x8" does not say."""
    found, warm, of_all = [], False, False
    for at, group in enumerate(groups):
        ends = any(mark in group.mark for mark in (";", "then", "and"))
        warm = bool(group.warm) or (warm and of_all and not ends)
        later = "".join(other.mark for other in groups[at + 1 :])
        if group.warm:
            of_all = group.warm.endswith(":") or ";" in later or "then" in later
            unsaid = groups[at + 1 :] and not of_all and not any(g.warm for g in groups[at + 1 :])
            if unsaid and "," in groups[at + 1].mark and len(groups) - at > 2:
                return None
        found.append(warm)
    return found


def _light(told: Told) -> Told:
    """A bare pair beside whole sets: so light a load ("7.5x12 + 5x10")."""
    if not told.numbers:
        return told
    load, reps = told.numbers
    return Told("sets", (OneSet((reps,), (Weight(float(load)),), told.rir),))


def all_warmups(note: str) -> tuple[OneSet, ...]:
    """The sets of a note of warm-ups and no more: "wu: 60x5 80x3"."""
    marked = without_warmup(note)[1] and any(letter.isdigit() for letter in note)
    told = read_cell(note if marked else "")
    sets = told.sets if told.kind == "sets" else ()
    return sets if all(one.warmup for one in sets) else ()


@lru_cache(maxsize=32768)
def read_load(text: str) -> Weight | None:
    """A cell of a load column: "82,5", "BW+10", "2x22.5", "185 lb"; None when it is no load."""
    said = without_warmup(text)[0].lower().strip(" .")
    if said == "kg":
        # Of "Körpergewicht", in a cell of loads.
        return Weight(0.0, None, True)
    if _PLAIN.fullmatch(said):
        return Weight(float(said.replace(",", ".")))
    said = re.sub(r"^((?:2\s*x\s*)?[^\d]*\d{1,4}),(\d{1,3})(?=\D*$)", r"\1.\2", said)
    if match := _A_SIDE.fullmatch(said):
        return Weight(2 * float(match["side"]) + float(match["bar"]))
    line = Line(*tokens_of(said))
    load = line.load(line.kind(0) == "at", pair=True)
    return load.weight if load is not None and line.kind(load.behind) == "end" else None
