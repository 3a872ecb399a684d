"""What stands among facts and their amendments, what is disputed, and in which order: the rule of
docs/sync.md, the same as `standing.js` has it (tests/browser_js/test_standing_vectors.py)."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from .models import Fact

CLOCK_TOLERANCE_S = 120.0
"""A phone's clock within two minutes of the server's is taken as it is (judgement)."""


def set_right(at: datetime, clock_ahead_s: float) -> datetime:
    """A time of a phone's clock, less what that clock was ahead when it was sent."""
    if abs(clock_ahead_s) <= CLOCK_TOLERANCE_S:
        return at
    return at - timedelta(seconds=clock_ahead_s)


def done_at(fact: Fact) -> datetime:
    """The instant it was done: the phone's, less what its clock was ahead."""
    if fact.at is None:
        return datetime(fact.day.year, fact.day.month, fact.day.day, tzinfo=UTC)
    return set_right(fact.at, fact.clock_ahead_s)


_WORDS = frozenset({"note", "text", "where", "why"})  # Of a fact's body: what somebody wrote


@dataclass(frozen=True, slots=True)
class FactVerdict:
    """What became of a fact that amends nothing."""

    first: Fact
    last: Fact  # The last word on it; one that is withdrawn says that nothing stands
    others: tuple[Fact, ...]
    """What was said otherwise without knowing the last word, nor the last word of it: which is
    true? is for a person. In order of arrival."""

    @property
    def stands(self) -> bool:
        return not self.last.withdrawn


def standing(facts: Iterable[Fact]) -> list[Fact]:
    """For each fact that amends nothing, the last word on it, unless that takes it back.

    The moment, day and place in order stay those of the first."""
    return [
        last if last is one.first and not one.others else _in_place_of(last, one.first, one.others)
        for one in verdicts(facts)
        if not (last := _last_of_the_body(one)).withdrawn
    ]


def _last_of_the_body(one: FactVerdict) -> Fact:
    """The last word, or, where that takes back and did not know of another that bears pain or
    words, this one: a warning stays until somebody says which is true."""
    bearing = (each for each in one.others if not each.withdrawn and _bears(each.body))
    return next(bearing, one.last) if one.last.withdrawn else one.last


def _bears(body: Mapping[str, Any]) -> bool:
    return "measure" in body or body.get("pain") is not None or any(map(body.get, _WORDS))


def verdicts(facts: Iterable[Fact]) -> list[FactVerdict]:
    """The verdict on each fact that amends nothing, in the order they came."""
    by_id = {fact.id: fact for fact in facts}
    rising = sorted(by_id.values(), key=lambda fact: fact.seq)
    words: dict[Any, list[Fact]] = defaultdict(list)
    for fact in rising:
        amended = None if fact.amends is None else by_id.get(fact.amends)
        if amended is not None and amended.kind == fact.kind:
            words[fact.amends].append(fact)
    return [_verdict(fact, words) for fact in rising if fact.amends is None]


def _verdict(first: Fact, words: dict[Any, list[Fact]]) -> FactVerdict:
    """Read from the last amendments back to the first fact: each says itself, or the latest of
    what amends it; an amendment that was taken back says nothing."""
    if first.id not in words:
        return FactVerdict(first, first, ())
    said: dict[Any, Fact | None] = {}
    otherwise: list[Fact] = []
    last = first
    for fact in reversed(_family(first, words)):
        about = [word for one in words.get(fact.id, ()) if (word := said[one.id]) is not None]
        last = _latest(about) if about else fact
        otherwise += (one for one in about if one is not last)
        said[fact.id] = None if last.withdrawn and last is not fact else last
    others = {one.id: one for one in otherwise if not _knows(last, one) and not _same(last, one)}
    return FactVerdict(first, last, tuple(sorted(others.values(), key=lambda one: one.seq)))


def _family(first: Fact, words: dict[Any, list[Fact]]) -> list[Fact]:
    """The fact and all that amends it, each after what it amends."""
    found = [first]
    for fact in found:
        found += words.get(fact.id, ())
    return found


def _latest(rising: Sequence[Fact]) -> Fact:
    """The latest of some words in order of arrival."""
    last = rising[0]
    for fact in rising[1:]:
        if _knows(fact, last) or (not _knows(last, fact) and done_at(fact) >= done_at(last)):
            last = fact
    return last


def _knows(later: Fact, earlier: Fact) -> bool:
    """Whether who wrote the one had the other before them: written by them on the same phone before
    it, or among the facts that phone had from the server. Nobody knew what came in later."""
    if later.device is not None and (later.device, later.by_id) == (earlier.device, earlier.by_id):
        return later.n > earlier.n
    knew = (later.event or {}).get("knew")
    return isinstance(knew, int) and knew >= earlier.seq and later.seq > earlier.seq


def _same(one: Fact, other: Fact) -> bool:
    if one.withdrawn or other.withdrawn:
        return one.withdrawn == other.withdrawn
    return bool(_said(one) == _said(other))


def _said(fact: Fact) -> Any:
    return fact.body if fact.event is None else fact.event.get(fact.kind)


def _in_place_of(fact: Fact, first: Fact, others: Iterable[Fact]) -> Fact:
    """The amendment's content at the original's moment, with what others, who did not know of it,
    say of the body: not saved, a value to read."""
    return Fact(
        seq=fact.seq, id=fact.id, lifter_id=first.lifter_id, kind=first.kind, amends=fact.amends,
        day=first.day, at=first.at, zone=first.zone, device=first.device, n=first.n,
        body=_with_others([fact.body, *(one.body for one in others if not one.withdrawn)]),
        clock_ahead_s=first.clock_ahead_s, received_at=fact.received_at,
    )  # fmt: skip


def _with_others(bodies: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """The first body, with the words of all and the worst pain."""
    body = dict(bodies[0])
    for key in _WORDS:
        if words := dict.fromkeys(one[key] for one in bodies if one.get(key)):
            body[key] = "; ".join(words)
    worst = "value" if body.get("measure") == "pain" else "pain"
    pains = [one[worst] for one in bodies if one.get(worst) is not None]
    return body | {worst: max(pains)} if pains else body


def in_done_order(facts: Sequence[Fact]) -> list[Fact]:
    """By day and time; facts of one device keep the order of its running number, whatever its
    clock did in between. Rows of a file (no device) keep the file's order within equal times."""
    ordered = sorted(facts, key=lambda fact: (fact.day, done_at(fact), fact.n, fact.seq))
    places: dict[Any, list[int]] = {}
    for place, fact in enumerate(ordered):
        if fact.device is not None:
            places.setdefault((fact.day, fact.device), []).append(place)
    result = list(ordered)
    for group in places.values():
        by_number = sorted((ordered[place] for place in group), key=lambda fact: fact.n)
        for place, fact in zip(group, by_number, strict=True):
            result[place] = fact
    return result
