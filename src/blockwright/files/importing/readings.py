"""The readings of one group of a cell: sets and their load, in each order people write them."""

import re
from collections.abc import Callable, Iterator, Sequence

from .line import MOST_LISTED, MOST_REPS, MOST_SETS_A_CELL, Line, Load, Reps
from .tokens import Token
from .told import OneSet, Told, Weight

_MOST_EFFORT = 10
USUAL_SETS = 6  # In "80x3x8" the number above this is the repetitions (judgement)
_FEW_SETS = 5  # In "3x8" so few are sets, also where loads come first in a file (judgement)
_LATE = re.compile(r"(?:[5-9]|10)(?:\.5)?")

Part = tuple[Told, int]  # What a group tells and where it ends


class Readings(Line):
    """What a group that begins at a place may tell, the likeliest first."""

    def __init__(self, said: str, tokens: Sequence[Token], load_first: bool | None) -> None:
        super().__init__(said, tokens)
        self._load_first = load_first

    def readings(self, at: int) -> Iterator[Part]:
        rules: tuple[Callable[[int], Iterator[Part]], ...] = (
            self._scheme_at_load, self._triple, self._load_with_scheme,
            self._loaded, self._reps_at_load, self._loads_for_reps, self._pair, self._repetitions,
            self._load_alone,
        )  # fmt: skip
        for rule in rules:
            yield from rule(at)

    def _scheme_at_load(self, at: int) -> Iterator[Part]:
        """3x8 @ 80; 3x8 80kg; 3x8x80; 3x8 (80); 2x8, 1x6 @ 90."""
        told = self.schemes(at)
        if told is None:
            return
        reps, at, many = told
        most = max(max(parts) for parts in reps)
        if (load := self._load_behind(at, most)) is not None:
            if many > 1 and load.amount <= MOST_SETS_A_CELL and not load.sure:
                return
            yield all_at(reps, load.weight), load.behind
        if many > 1 and not self._load_first and self.kind(at) != "x":
            yield Told("reps", tuple(OneSet(parts) for parts in reps)), at

    def _load_behind(self, at: int, most: int) -> Load | None:
        """The load behind repetitions, where a mark or itself shows that it is one."""
        mark = self.kind(at)
        if mark == "at" or mark == ":":
            load = self.load(at + 1, pair=True)
            bare = load is not None and not load.sure and load.amount <= max(_MOST_EFFORT, most)
            if (self.text(at) == "@" and self.effort_at(at)) or (mark == ":" and bare):
                return None
            return load if load and self.kind(load.behind) not in ("x", ":") else None
        if mark == "(" or (mark in ("-", ",", "/") and self.spaced(at + 1)):
            at += 1 + (self.kind(at + 1) == "at")
            load = self.load(at)
            high = load is not None and load.amount >= (40 if mark in ",/" else 20)
            each = self.text(load.behind - 1) == "s" if load else False
            if load is None or each or not (high or (load.sure and "." not in self.text(at))):
                return None
            if mark == "(":
                return (
                    load._replace(behind=load.behind + 1) if self.kind(load.behind) == ")" else None
                )
            return load if self._ends(load.behind) else None
        if not self.spaced(at) or mark == "(":
            return None
        load = self.load(at, pair=True)
        if load is None or not self._ends(load.behind):
            return None
        text = self.text(load.behind - 1)
        if self.kind(load.behind - 1) == "each" and text == "s":
            return load if load.amount < MOST_LISTED or "." in self.text(load.behind - 2) else None
        if load.weight.unit or load.weight.bodyweight or self.kind(load.behind - 1) == "each":
            return load
        half = text.endswith(".5") and load.amount < 10
        return load if load.amount > max(_MOST_EFFORT, most) and not half else None

    def _ends(self, at: int) -> bool:
        """Whether a group may end here: no number that is left belongs to it."""
        if self.kind(at) in ("x", ":", "rep", "sets", "number", "for", "pause", "unit"):
            return self.kind(at) == "number" and self.spaced(at) and self.kind(at + 1) in ("x", "/")
        return True

    def _triple(self, at: int) -> Iterator[Part]:
        """3x8x80 and 80x8x3: the outer number that can be no load is the count of sets."""
        first = self.load(at)
        if first is None or self.kind(first.behind) != "x":
            return
        middle = self.one(first.behind + 1)
        if middle is None or self.kind(middle[1]) not in ("x", "sets", ",", "(", "for"):
            return
        reps, mark = middle
        kind, begun = self.kind(mark), mark + 1 + (self.kind(mark) == "(")
        if kind in (",", "("):
            # "12kg x 10, 3 sets"; "100x5 (x3)".
            is_count = self.kind(mark + 1) == "x" if kind == "(" else self.kind(mark + 2) == "sets"
            count = self.whole(begun, MOST_SETS_A_CELL) if is_count else None
            if count:
                yield (
                    all_at([reps] * count, first.weight),
                    begun + 1 + (kind == "(") + (kind == ","),
                )
            return
        if kind == "sets":
            # "100 x 3 sets x 5".
            told = self.one(begun + (self.kind(begun) in ("x", ",")))
            if told and len(reps) == 1:
                yield all_at([told[0]] * reps[0], first.weight), told[1]
            return
        last = self.load(mark + 1)
        if last is None or self.kind(last.behind) == "x" or len(reps) > 1:
            return
        yield from self._of_three(first, reps[0], last, mark)

    def _of_three(self, first: Load, reps: int, last: Load, mark: int) -> Iterator[Part]:
        behind = last.behind + (self.kind(last.behind) == "sets")
        counts = [not one.sure and one.amount == int(one.amount) for one in (first, last)]
        few = counts[0] and first.amount <= MOST_SETS_A_CELL
        if all(counts) and first.amount == 2 and last.amount < reps:
            # A pair: 2x20x12 is two dumbbells of 20 for twelve.
            yield all_at([(int(last.amount),)], Weight(float(reps))), behind
        elif few and (not counts[1] or last.amount > first.amount):
            yield all_at([(reps,)] * int(first.amount), last.weight), behind
        elif counts[1]:
            count = int(last.amount)
            if count > USUAL_SETS >= reps:
                reps, count = count, reps
            spaced = self.spaced(mark) and self.spaced(first.behind) and not self.spaced(mark + 1)
            if count <= MOST_SETS_A_CELL and not (spaced and reps > USUAL_SETS):
                yield all_at([(reps,)] * count, first.weight), behind

    def _load_with_scheme(self, at: int) -> Iterator[Part]:
        """80 3x8; 80kg: 3x8; 80 (3x8); 42.5kg 2x8, 1x7."""
        inside = self.kind(at) == "("
        load = self.load(at + inside, pair=True)
        if load is None or (inside and self.kind(load.behind) != ")"):
            return
        load = load._replace(behind=load.behind + inside)
        mark = self.kind(load.behind)
        begun = load.behind + (mark in (":", ",", "/", "-", "for", "at", "("))
        begun += self.kind(begun) == "x" and mark == ":"
        told = self.schemes(begun)
        if told is None or (begun == load.behind and not self.spaced(begun)):
            return
        reps, end, _ = told
        if mark == "(":
            if self.kind(end) != ")":
                return
            end += 1
        if not load.sure and load.amount <= MOST_SETS_A_CELL:
            return
        if self._ends(end) and (self.kind(end) != "at" or self.effort_at(end)):
            yield all_at(reps, load.weight), end

    def _loaded(self, at: int) -> Iterator[Part]:
        """80x8,8,7; 80kg: 8, 8, 7; 80/8/8/7; 80 for 8, 8 and 7; 80 (8,8,7); bw 10, 8."""
        load = self.load(at, pair=True)
        load = load if load and self._is_pair(at, load) else self.load(at)
        if load is None:
            return
        if load.weight == Weight(0.0):
            load = load._replace(weight=Weight(0.0, None, True))
        mark, begun = self._mark_behind(load, self.kind(at) == "body")
        told = self.list(begun, "/" if mark == "/" else "") if mark else None
        if told is None:
            return
        reps, end = told
        if mark == "(":
            end += 1
            if self.kind(end - 1) != ")":
                return
        if self._fits(load, reps, mark, end):
            yield all_at(reps, load.weight), end
        first = self.one(begun) if mark == "x" and len(reps) > 1 else None
        if first and self._fits(load, [first[0]], mark, first[1]):
            # "80x8 8x3": the list went too far.
            yield all_at([first[0]], load.weight), first[1]

    def _mark_behind(self, load: Load, body: bool) -> tuple[str, int]:
        """What stands between a load and its repetitions, and where these begin; "" for neither."""
        mark, begun = self.kind(load.behind), load.behind + 1
        if mark == "amrap" or (body and mark == "number"):
            return "amrap", load.behind
        if mark == "number" and self.spaced(load.behind):
            return " ", load.behind
        if mark == "-" and not (self.spaced(load.behind) and self.spaced(begun)):
            return "", begun
        if mark == ":" and not self.spaced(begun) and not load.sure:
            # A time of day or of a run.
            return "", begun
        known = mark in ("x", ":", "for", "/", "(", "-") or (mark == "at" and body)
        return mark if known else "", begun + (mark in (":", "(") and self.kind(begun) == "x")

    def _is_pair(self, at: int, load: Load) -> bool:
        if self.text(at) != "2" or self.kind(at + 1) != "x":
            return True
        if self.kind(load.behind) == "x":
            reps = self.whole(load.behind + 1, MOST_REPS)
            if self.kind(load.behind + 2) in (",", "/"):
                return True
            return reps is not None and (load.weight.unit is not None or reps < load.amount)
        return bool(load.weight.unit or load.amount % 1 or self.kind(load.behind) in (":", "("))

    def _fits(self, load: Load, reps: Reps, mark: str, end: int) -> bool:
        """Whether a number before repetitions is their load, not one of them or their count."""
        most, many = max(map(max, reps)), len(reps) > 1
        behind = [self.kind(at) for at in range(end, end + 3)]
        aside = behind[:2] == ["(", "number"] and behind[2] != "unit"
        if aside or not self._ends(end) or (behind[0] == "at" and not self.effort_at(end)):
            return False
        if load.weight.unit or load.weight.bodyweight or mark == "amrap":
            return True
        listed = bool({",", "/", "-", "and"} & {self.kind(at) for at in range(end)})
        if mark == "/":
            high = load.amount > max(MOST_LISTED, 3 * most)
            no_day = load.amount >= 25 and most <= 20 and self.text(end - 1)[0] != "0"
            return high if many else no_day
        if mark == " ":
            above = load.amount > max(MOST_SETS_A_CELL, most)
            return load.sure or (many and listed and above)
        if load.sure or load.amount > MOST_SETS_A_CELL:
            return True
        if not many or load.amount == len(reps):
            return False
        return mark != "x" or (listed and not (len(reps) == 2 and reps[1] > reps[0]))

    def _reps_at_load(self, at: int) -> Iterator[Part]:
        """8,8,7 @ 80; 8 @ 80; 12 x 80kg; 8,8,7 80kg; 8,8,7 (80); 10,10,8 x 30; 5,5,4 +10."""
        told = self.list(at, to="x") or self.list(at)
        if told is None:
            return
        reps, end = told
        many, most = len(reps) > 1, max(map(max, reps))
        if _begins_with_load(reps):
            return
        if self.kind(end) == "x":
            load = self.load(end + 1)
            if load is None or not self._ends(load.behind):
                return
            if (
                load.weight.unit
                or self.kind(end + 1) == "body"
                or (many and self._heads(reps, load))
            ):
                yield all_at(reps, load.weight), load.behind
            return
        worded = self.kind(end - 1) == "rep"
        load = self._load_behind(end, most)
        marked = self.kind(end) in ("at", "(") or (worded and load and load.weight.unit)
        body = load is not None and self.kind(end) == "body"
        if load is not None and (many or marked or body):
            yield all_at(reps, load.weight), load.behind

    @staticmethod
    def _heads(reps: Reps, load: Load) -> bool:
        """Whether "10,10,8 x 30" is three sets at 30; "8, 6 x 10" may be either."""
        few = len(reps) == 2 and reps[1][0] <= USUAL_SETS and load.amount < 20
        return not few and reps[0] >= reps[1] and load.amount == int(load.amount)

    def _loads_for_reps(self, at: int) -> Iterator[Part]:
        """60/80/100 x 5: three or more loads, each for the same repetitions."""
        loads = []
        while (load := self.load(at)) is not None and not load.weight.bodyweight:
            loads.append(load.weight)
            at = load.behind
            if self.kind(at) not in ("/", "-"):
                break
            at += 1
        amounts = [weight.amount for weight in loads]
        rising = amounts == sorted(set(amounts)) and len(amounts) > 2
        reps = self.whole(at + 1, MOST_REPS) if self.kind(at) == "x" else None
        if rising and reps is not None and min(amounts) > MOST_SETS_A_CELL:
            unit = loads[-1].unit
            yield (
                Told("sets", tuple(OneSet((reps,), (w._replace(unit=unit),)) for w in loads)),
                at + 2,
            )

    def _pair(self, at: int) -> Iterator[Part]:
        """ "8x12": a load and its repetitions, or sets and repetitions."""
        first = self.whole(at, 999)
        if first is None or self.kind(at + 1) not in ("x", "sets"):
            return
        begun = at + 2 + (self.kind(at + 2) == "x")
        is_scheme = self.kind(at + 1) == "sets"
        second = self.whole(begun, 999)
        if second is None:
            return
        item = self.one(begun)
        end = item[1] if item else begun + 1
        if (item and len(item[0]) > 1) or not self._ends(end):
            return
        no_load = first <= _FEW_SETS and second > first
        of_load = self._load_first and first > MOST_SETS_A_CELL
        most = MOST_REPS if of_load else MOST_REPS // 2
        if second > most and first <= MOST_REPS // 2:
            yield all_at([(first,)], Weight(float(second))), end
        elif first > MOST_SETS_A_CELL or (self._load_first and not no_load and not is_scheme):
            if second <= MOST_REPS:
                yield all_at([(second,)], Weight(float(first))), end
        elif first:
            yield (
                Told("pair" if self._load_first is None else "scheme", numbers=(first, second)),
                end,
            )

    def _repetitions(self, at: int) -> Iterator[Part]:
        told = self.list(at)
        dashed = told is not None and len(told[0]) == 2 and self.kind(at + 1) == "-"
        headed = told is not None and _begins_with_load(told[0])
        if told is not None and not (dashed or headed) and self._ends(told[1]):
            yield Told("reps", tuple(OneSet(parts) for parts in told[0])), told[1]

    def _load_alone(self, at: int) -> Iterator[Part]:
        at += self.text(at) == "@"
        load = self.load(at, pair=True)
        if load is None or not self._ends(load.behind):
            return
        if self.kind(load.behind) == "failed" and load.amount >= MOST_LISTED:
            yield all_at([(0,)], load.weight), load.behind + 1
        elif self.text(load.behind - 1) != "s":
            yield Told("load", weight=load.weight), load.behind

    def effort_at(self, at: int) -> tuple[float, float] | None:
        """ "@8", "@8-9": an effort where a load could be."""
        if self.text(at) != "@" or not _LATE.fullmatch(self.text(at + 1)):
            return None
        ends = [10 - float(self.text(at + 1))]
        if self.kind(at + 2) == "-" and _LATE.fullmatch(self.text(at + 3)):
            ends.append(10 - float(self.text(at + 3)))
        return min(ends), max(ends)


def _begins_with_load(reps: Reps) -> bool:
    """ "60 8 8 7 @ 8": the first is the load."""
    return len(reps) > 2 and reps[0][0] > 3 * max(map(max, reps[1:]))


def all_at(reps: Reps, weight: Weight) -> Told:
    return Told("sets", tuple(OneSet(parts, (weight,)) for parts in reps))
