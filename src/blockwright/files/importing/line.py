"""The parts of a cell of sets: a load, one set's repetitions, a list of them, a scheme."""

from collections.abc import Sequence
from typing import NamedTuple

from blockwright.engine.units import Unit
from .tokens import Token
from .told import Weight

MOST_SETS_A_CELL = 12  # More sets of one lift in a cell is a load, not a count (judgement)
MOST_REPS = 60  # More repetitions in one set is no set of a log (judgement)
MOST_LISTED = 30  # A bare number above this is no repetition of a list (judgement)
_BETWEEN_REPS = frozenset({",", "/", "and", "-", ";"})
_BEGINS_A_GROUP = frozenset({"x", "unit", "sets", ":", "for", "each"})
Reps = list[tuple[int, ...]]


class Load(NamedTuple):
    """A load, and whether it is one beyond doubt: a unit, a sign or a hand stands beside it."""

    weight: Weight
    sure: bool
    behind: int

    @property
    def amount(self) -> float:
        return self.weight.amount


class Line:
    """The tokens of a cell; each method reads a part from a place on, and says where it ends."""

    def __init__(self, said: str, tokens: Sequence[Token]) -> None:
        self.said = said
        self.tokens = tokens

    def kind(self, at: int) -> str:
        return self.tokens[at].kind if 0 <= at < len(self.tokens) else "end"

    def text(self, at: int) -> str:
        return self.tokens[at].text if at < len(self.tokens) else ""

    def spaced(self, at: int) -> bool:
        return at < len(self.tokens) and self.tokens[at].spaced

    def rest(self, at: int) -> str:
        """What is written from a token on."""
        return self.said[self.tokens[at].begins :].strip() if at < len(self.tokens) else ""

    def load(self, at: int, pair: bool = False) -> Load | None:
        """A load; as one of a `pair` "2x22.5", too."""
        body = self.kind(at) == "body" or (self.kind(at) == "unit" and self.kind(at + 1) in "+-")
        at += body
        helped = self.kind(at) == "help"
        at += helped
        sign = self.kind(at) if self.kind(at) in ("+", "-") else ""
        if body and (not sign or self.kind(at + 1) != "number" or self._is_dash(at)):
            touching = self.kind(at) == "number" and not self.spaced(at)
            return None if touching else Load(Weight(0.0, None, True), True, at)
        at += bool(sign)
        paired = pair and self.text(at) == "2" and self.kind(at + 1) == "x"
        at += 2 * paired
        if self.kind(at) != "number":
            return None
        amount, decimal = float(self.text(at)), "." in self.text(at)
        at, unit = self._unit(at + 1)
        each = self.kind(at) == "each"
        at += each
        if self.kind(at) == "help" and self.text(at) != "minus":
            helped, at = True, at + 1
        amount = -amount if helped or sign == "-" else amount
        sure = bool(body or sign or unit or each or helped or paired or decimal)
        return Load(Weight(amount, unit, bool(body or sign or helped)), sure, at)

    def _unit(self, at: int) -> tuple[int, Unit | None]:
        if self.kind(at) != "unit":
            return at, None
        return at + 1, "kg" if self.text(at)[0] == "k" else "lb"

    def _is_dash(self, at: int) -> bool:
        """ "bw - 12/10": a dash, no help."""
        return self.kind(at) == "-" and self.spaced(at + 1) and self.kind(at + 2) in ("/", ",")

    def whole(self, at: int, most: int) -> int | None:
        text = self.text(at) if self.kind(at) == "number" else ""
        return int(text) if text.isdecimal() and int(text) <= most else None

    def one(self, at: int) -> tuple[tuple[int, ...], int] | None:
        """The repetitions of a set: "8", "8 reps", "8+3+2", "8/leg", "8+", "f" for none."""
        if self.kind(at) == "amrap":
            at += 1
            if self.kind(at) == "(" and self.kind(at + 2) == ")":
                reps = self.whole(at + 1, MOST_REPS)
                return None if reps is None else ((reps,), at + 3)
            at += self.kind(at) in (":", "=")
        if self.kind(at) == "failed" or (self.kind(at) == "x" and self.ends_item(at + 1)):
            return (0,), at + 1
        reps = self.whole(at, MOST_REPS)
        if reps is None:
            return None
        parts, at = [reps], at + 1
        at += self.kind(at) == "rep"
        while (
            self.kind(at) in ("+", "pause")
            and (more := self.whole(at + 1, MOST_REPS)) is not None
            and self.kind(at + 2) not in ("x", "unit")
            and not (self.spaced(at) and self.kind(at) == "+" and not self.spaced(at + 1))
        ):
            parts.append(more)
            at += 2
        if self.kind(at) == "+" and self.kind(at + 1) == "failed":
            at += 2
        elif self.kind(at) == "+" and (self.ends_item(at + 1)) and not self.spaced(at):
            at += 1
        at += self.kind(at) == "rep"
        at += self.kind(at) == "sides" or (self.kind(at) == "each" and self.text(at) != "s")
        return tuple(parts), at

    def ends_item(self, at: int) -> bool:
        return self.kind(at) in ("end", ",", "/", ";", ")", "effort", "at", "(")

    def list(self, at: int, only: str = "", to: str = "") -> tuple[Reps, int] | None:
        """A list of repetitions; what begins the next load ends it. "8-10" is a range."""
        if (first := self.one(at)) is None:
            return None
        found, at, dashes = [first[0]], first[1], 0
        while True:
            mark = self.kind(at) if self.kind(at) in _BETWEEN_REPS else ""
            begun = at + bool(mark)
            begun += mark == "," and self.kind(begun) == "and"
            x = self.kind(begun) == "x" and self.kind(begun + 1) == "number"
            chain = self.kind(begun + 2) == "x" or (self.kind(at - 2) == "x" and len(found) > 1)
            if x and not chain and (not self.spaced(begun) or self.spaced(begun + 1)):
                break
            if mark != only if only else not (mark or x or self.spaced(begun)):
                break
            begun += x
            to_end = bool(to) and self.kind(begun + 1) == to
            if (self._begins_a_load(begun) and not to_end) or (more := self.one(begun)) is None:
                break
            if not mark and self.kind(begun) != "number" and len(found) < 2:
                break
            dashes += mark == "-"
            found.append(more[0])
            at = more[1]
        if dashes and len(found) == 2 and found[0] < found[1]:
            return None
        return found, at

    def _begins_a_load(self, at: int) -> bool:
        if self.kind(at) != "number":
            return False
        text = self.text(at)
        high = float(text) > MOST_LISTED or "." in text
        chained = self.kind(at - 1) == "x" and self.kind(at + 1) == "x"
        return high or (self.kind(at + 1) in _BEGINS_A_GROUP and not chained)

    def scheme(self, at: int, most: int = MOST_SETS_A_CELL) -> tuple[Reps, int] | None:
        """ "3x8", "3 sets of 8", "3 x 8,8,7": a list as long as the count tells each."""
        count = self.whole(at, most)
        if not count or self.kind(at + 1) not in ("x", "sets"):
            return None
        at += 2
        at += self.kind(at) == "x"
        if (told := self.list(at)) is None:
            return None
        reps, behind = told
        marked = any(self.kind(i) in _BETWEEN_REPS for i in range(at, behind))
        if len(reps) not in (1, count) or (len(reps) > 1 and not marked):
            first = self.one(at)
            reps, behind = ([first[0]], first[1]) if first else (reps, behind)
        return (reps * count)[:count], behind

    def schemes(self, at: int) -> tuple[Reps, int, int] | None:
        """One scheme or several, and how many: "2x8, 1x7"."""
        told = self.scheme(at)
        if told is None:
            return None
        (every, at), many = told, 1
        while self.kind(at) in (",", ";", "/", "+") and (more := self.scheme(at + 1, 6)):
            if self.kind(more[1]) == "x":
                break
            every, at, many = every + more[0], more[1], many + 1
        return every, at, many
