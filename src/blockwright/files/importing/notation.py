"""One grammar for what a cell says of its sets, read token by token to the end or not at all.

    cell  := group (separator group)*
    group := [warm-up] (load x reps | load : reps | count x reps @ load | reps @ load) [effort]
    reps  := number (separator number)*        a number may have parts: 8+3+2
    load  := [body +|-] number [unit] [each]

What is left over (a word in the middle, a number nobody claims) makes the whole cell unread here:
a half-read set is worse than none. What has two readings by itself ("3x8") is left to `cells`.
"""

import re
from dataclasses import replace

from blockwright.files.importing.tokens import Token, tokens_of
from blockwright.files.importing.told import OneSet, Told, Weight

_ANY = re.compile(r"\d")
_PLAIN_NUMBER = re.compile(r"[\d.,+-]+")
_NO_NOTE = re.compile(r"f$|fail|miss|fallo|falha|échec|echec|\w*versagen|cedimento|mins?\b|secs?\b")
"""What tells more than a note does: a set that failed, a time."""
_OF_A_NOTE = frozenset({"word", ",", "-", "(", ")", "and", "at", "for", "each"})
_A_SIDE = re.compile(r"side|seite|lado")
_MOST_EFFORT = 10
_MOST_REPS = 60
_MOST_LISTED = 30
_MOST_SETS = 12
_SURE_LOAD = 12
"""A bare number up to this may count sets (judgement)."""
_FEW = 6


class _Unclear(Exception):
    """The cell is not all understood."""


class _Doubtful(Exception):
    """The cell does not say which of its sets are warm-ups."""


def read_notation(text: str, load_first: bool | None) -> Told | None:
    """The sets of a cell of which all was understood, else None; no set where a reader could only
    guess."""
    if not _ANY.search(text) or _PLAIN_NUMBER.fullmatch(text):
        return None
    try:
        sets = _Reader(tokens_of(text), load_first).cell()
    except _Unclear:
        return None
    except _Doubtful:
        return Told("sets")
    return Told("sets", tuple(sets)) if sets else None


def _heads_a_list(weight: Weight, reps: list[tuple[int, ...]]) -> bool:
    """Whether the first number of "155/8/8/7" is a load, not repetitions as the others are."""
    most = max(map(max, reps))
    return weight.unit is not None or (
        weight.amount > max(_MOST_LISTED, 3 * most) and len(reps) > 1
    )


class _Reader:
    def __init__(self, tokens: list[Token], load_first: bool | None) -> None:
        self._load_first = load_first
        self._tokens = tokens
        self._at = 0

    # Steps

    def _kind(self, ahead: int = 0) -> str:
        at = self._at + ahead
        return self._tokens[at].kind if at < len(self._tokens) else "end"

    def _text(self, ahead: int = 0) -> str:
        return self._tokens[self._at + ahead].text

    def _take(self, *kinds: str) -> Token | None:
        if self._kind() not in kinds:
            return None
        self._at += 1
        return self._tokens[self._at - 1]

    def _number(self) -> float:
        token = self._take("number")
        if token is None:
            raise _Unclear
        return float(token.text)

    def _whole(self, most: int) -> int:
        number = self._number()
        if number != int(number) or number > most:
            raise _Unclear
        return int(number)

    # Grammar

    def cell(self) -> list[OneSet]:
        groups: list[list[OneSet]] = []
        warm = of_all = False
        while self._kind() != "end" and not self._is_note():
            dropped = bool(groups) and self._take("drop") is not None
            if groups and not dropped:
                self._separator()
            if self._take("warm"):
                warm, of_all = True, self._take(":") is not None
            group = self._group(warm)
            if dropped:
                self._drop(groups[-1], group)
                continue
            groups.append(group)
            if of_all and len(groups) > 1 and len(group) > 1:
                raise _Unclear
            goes_on = self._kind() not in (";", "\n", "and") and (
                of_all or self._goes_on_warm(warm)
            )
            warm, of_all = warm and goes_on, of_all and goes_on
        sets = [one for group in groups for one in group]
        heavy = [max((w.amount for w in one.weights), default=0) for one in sets if one.warmup]
        work = [max((w.amount for w in one.weights), default=0) for one in sets if not one.warmup]
        if heavy and work and max(heavy) >= max(work) > 0:
            raise _Doubtful
        return sets

    def _goes_on_warm(self, warm: bool) -> bool:
        """Whether "wu 40x5, 60x3; 80x8" has more warm-ups; "wu 40x5, 60x3, 80x8" does not say."""
        left = [token.kind for token in self._tokens[self._at :]]
        if warm and not {";", "\n"} & {*left} and left.count("times") + left.count(":") > 1:
            raise _Unclear if {"and", "warm"} & {*left} or left[0] != "," else _Doubtful
        return ";" in left or "\n" in left

    def _separator(self) -> None:
        if not self._take(",", ";", "and", "\n", "/", "+") and not self._tokens[self._at].spaced:
            raise _Unclear
        self._take("and")

    def _is_note(self) -> bool:
        """Words to the end, without a number in them."""
        rest = self._tokens[self._at :]
        begun = rest[1:] if rest[0].kind in (",", ";", "-", "+") else rest
        words = {token.kind for token in begun}
        note = bool(words) and words <= _OF_A_NOTE
        if note and any(_NO_NOTE.match(token.text) for token in begun):
            raise _Unclear
        return note

    def _group(self, warm: bool) -> list[OneSet]:
        if self._take("("):
            # Sets in brackets before the work sets.
            if self._at > 1:
                raise _Unclear
            self._take("warm")
            sets = self._sets()
            while self._take(","):
                sets += self._sets()
            if not self._take(")") or self._kind() == "end":
                raise _Unclear
            return [replace(one, warmup=True) for one in sets]
        sets = self._sets()
        marked = self._kind() == "(" and self._kind(1) == "warm" and self._kind(2) == ")"
        if marked:
            self._at += 3
        elif self._take("warm"):
            marked = True
        return [replace(one, warmup=True) for one in sets] if warm or marked else sets

    def _sets(self) -> list[OneSet]:
        begun = self._at
        for rule in (self._schemed, self._loaded, self._load_schemed, self._at_load):
            self._at = begun
            try:
                return self._with_effort(rule())
            except _Unclear:
                continue
        raise _Unclear

    def _with_effort(self, sets: list[OneSet]) -> list[OneSet]:
        token = self._take("effort")
        if token is None and self._kind() == "@" and self._kind(1) == "number":
            raise _Unclear
        if token is None and self._kind() == "(" and self._kind(1) == "effort":
            self._at += 1
            token = self._take("effort")
            if not self._take(")"):
                raise _Unclear
        if token is None and self._kind() == "at" and self._kind(1) == "number":
            number = float(self._tokens[self._at + 1].text)
            if self._tokens[self._at].text != "@" or not 5 <= number <= _MOST_EFFORT:
                raise _Unclear
            self._at += 2
            rir = (10 - number, 10 - number)
        elif token is None:
            return sets
        else:
            low, high = token.text.strip("⟦⟧").split()
            rir = (float(low), float(high))
        sets = [replace(one, row_rir=rir) for one in sets]
        return [*sets[:-1], replace(sets[-1], rir=rir)]

    def _schemed(self) -> list[OneSet]:
        """3x8 @ 80; 3x8 80kg; 3 sets of 8 at 80; 3x8x80."""
        count = self._whole(_MOST_SETS)
        if not self._take("sets", "times"):
            raise _Unclear
        self._take("times")
        reps = self._reps()
        spaced = self._tokens[self._at].spaced if self._kind() != "end" else False
        if self._take("at"):
            pass
        elif self._take("times"):
            if len(reps) > 1 or len(reps[0]) > 1:
                raise _Unclear
        elif not spaced:
            raise _Unclear
        bare = self._kind() == "number"
        weight, sure = self._load()
        if bare and weight.amount <= (_MOST_EFFORT if sure else max(_SURE_LOAD, *reps[0])):
            # An effort, or a count.
            sure_by_word = weight.unit or self._tokens[self._at - 1].kind == "each"
            if not sure_by_word:
                raise _Unclear
        if self._kind() in ("times", ":"):
            raise _Unclear
        if len(reps) == 1:
            reps *= count
        if len(reps) != count:
            raise _Unclear
        return [OneSet(parts, (weight,)) for parts in reps]

    def _loaded(self) -> list[OneSet]:
        """80x8,8,7; 80kg: 8, 8, 7; 80/8/8/7; 80 for 8, 8 and 7; bw+10 x 8 7."""
        pair = self._kind() == "number" and self._kind(1) == "times" and self._kind(3) == "times"
        if pair and self._tokens[self._at].text == "2":
            self._at += 2
        begun = self._tokens[self._at] if self._kind() != "end" else None
        weight, sure = self._load()
        mark = self._take("times", ":", "for", "/", "at")
        if mark is None or (mark.kind == "at" and not weight.bodyweight):
            raise _Unclear
        if mark.kind == ":" and self._kind() != "times" and not self._tokens[self._at].spaced:
            # A time of day or of a run.
            raise _Unclear
        if mark.kind == ":":
            self._take("times")
        listed = mark.kind in ("/", ":")
        reps = self._reps("/" if mark.kind == "/" else "")
        reps += self._repeated(reps[0][0]) if mark.kind == "times" else []
        if self._kind() == "times" or (begun is None):
            raise _Unclear
        if mark.kind == "/" and not weight.bodyweight and not _heads_a_list(weight, reps):
            raise _Unclear
        count = int(weight.amount) == weight.amount <= _SURE_LOAD and not sure and not pair
        if count and not self._is_load(weight.amount, reps, listed):
            raise _Unclear
        return [OneSet(parts, (weight,)) for parts in reps]

    def _load_schemed(self) -> list[OneSet]:
        """80 3x8; 80kg: 3x8."""
        weight, sure = self._load()
        self._take(":")
        count = self._whole(_FEW)
        if not self._take("times") or (weight.amount <= _SURE_LOAD and not sure):
            raise _Unclear
        reps = self._reps()
        if len(reps) not in (1, count) or self._kind() in ("times", "at"):
            raise _Unclear
        return [OneSet(parts, (weight,)) for parts in (reps * count)[:count]]

    def _is_load(self, amount: float, reps: list[tuple[int, ...]], listed: bool) -> bool:
        """Whether a small bare number before repetitions is surely their load."""
        if listed:
            return len(reps) > 1 and amount != len(reps)
        return amount > _FEW and (len(reps) > 1 or bool(self._load_first))

    def _at_load(self) -> list[OneSet]:
        """8,8,7 @ 80."""
        reps = self._reps()
        if not self._take("at"):
            raise _Unclear
        bare = self._kind() == "number"
        weight, sure = self._load()
        if bare and not sure and weight.amount <= _MOST_EFFORT:
            raise _Unclear
        if self._kind() in ("times", ":"):
            raise _Unclear
        return [OneSet(parts, (weight,)) for parts in reps]

    def _load(self) -> tuple[Weight, bool]:
        """A load, and whether it is one beyond doubt."""
        body = self._take("body") is not None
        if not body and self._kind() == "unit" and self._tokens[self._at].text == "kg":
            # Of "Körpergewicht", where a load stands.
            body = self._take("unit") is not None
        sign = self._take("+", "-")
        if body and sign is None:
            if self._kind() == "number" and not self._tokens[self._at].spaced:
                raise _Unclear
            return Weight(0.0, None, True), True
        token = self._take("number")
        if token is None or (body and sign and sign.text == "-" and token.spaced):
            # "bw - 12/10": a dash, no help.
            raise _Unclear
        amount = float(token.text)
        unit = self._take("unit")
        each = self._take("each")
        behind = self._kind()
        seconds = behind not in ("times", "for", "end") or (behind == "end" and amount >= 30)
        if each is not None and each.text == "s" and seconds:
            raise _Unclear
        if each is not None and _A_SIDE.search(each.text):
            # What hangs on one end of a bar.
            raise _Unclear
        amount = -amount if sign is not None and sign.kind == "-" else amount
        told = Weight(
            amount,
            None if unit is None else "kg" if unit.text[0] == "k" else "lb",
            body or sign is not None,
        )
        return told, body or bool(sign or unit or each or "." in token.text)

    def _reps(self, only: str = "") -> list[tuple[int, ...]]:
        """A list of repetitions; what begins the next load ends it."""
        found, dashes = [self._parts()], 0
        while True:
            begun = self._at
            mark = self._take(",", "/", "and", "-")
            dashes += mark is not None and mark.kind == "-"
            if only and (mark is None or mark.kind != only):
                self._at = begun
                break
            if mark is not None and mark.kind == ",":
                self._take("and")
            spaced = self._kind() != "end" and self._tokens[self._at].spaced
            if self._kind() != "number" or (mark is None and not spaced) or self._is_load_next():
                self._at = begun
                break
            found.append(self._parts())
        if dashes and len(found) == 2 and found[0] < found[1]:
            # "8-10" is a range.
            raise _Unclear
        return found

    def _repeated(self, first: int) -> list[tuple[int, ...]]:
        """The further sets of "80 x8 x8 x7"; "100 x3 x5" may be sets and repetitions."""
        found = []
        while self._kind() == "times" and self._kind(1) == "number":
            if not self._tokens[self._at].spaced or self._tokens[self._at + 1].spaced:
                break
            self._at += 1
            found.append(self._parts())
        if len(found) == 1 and first <= _FEW:
            raise _Unclear
        return found

    def _is_load_next(self) -> bool:
        """Whether the number here belongs to the next group, not to the list."""
        token, behind = self._tokens[self._at], self._kind(1)
        high = float(token.text) > _MOST_LISTED
        return high or "." in token.text or behind in ("times", "unit", "sets", ":", "for", "each")

    def _parts(self) -> tuple[int, ...]:
        parts = [self._whole(_MOST_REPS)]
        self._take("rep")
        while self._kind() == "+" and self._kind(1) == "number" and self._kind(2) != "times":
            self._at += 1
            parts.append(self._whole(_MOST_REPS))
        if not any(parts):
            raise _Unclear
        if self._kind() == "+" and self._kind(1) == "word" and self._text(1) in ("f", "fail"):
            # One more was tried.
            self._at += 2
        each = self._tokens[self._at] if self._kind() == "each" else None
        if each is not None and each.text != "s":
            self._at += 1
        return tuple(parts)

    @staticmethod
    def _drop(before: list[OneSet], lighter: list[OneSet]) -> None:
        if len(lighter) != 1 or not before[-1].weights or not lighter[0].weights:
            raise _Unclear
        last, then = before[-1], lighter[0]
        if then.weights[0].amount >= last.weights[-1].amount:
            raise _Unclear
        before[-1] = replace(
            last, reps=last.reps + then.reps, weights=last.weights + then.weights, rir=then.rir
        )
