"""How the coach answers a review: habits first, all the rest accepted. Pain is never argued."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from blockwright.demo.cast import Habit, Person
from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.training import Catalogue, Lifter

REFERRED = "seen by a physiotherapist: go on gently"


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """The coach's word on one proposal. `change` is a KEY=VALUE, for a changed one."""

    proposal: str
    answer: str
    words: str = ""
    change: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What the coach knows while answering."""

    person: Person
    lifter: Lifter
    catalogue: Catalogue
    policy: Policy


def words_on(desk: Desk, document: Mapping[str, Any]) -> tuple[Word, ...]:
    """A word on every proposal of a `blockwright/proposals/1` document."""
    used: dict[int, int] = {}
    found = []
    for proposal in document["proposals"]:
        word = _by_habit(desk, proposal, used)
        if word is None and proposal["kind"] == "refer":
            word = _referred(proposal, date.fromisoformat(document["through"]))
        found.append(word or Word(proposal=proposal["id"], answer="accepted"))
    return tuple(found)


def _by_habit(desk: Desk, proposal: Mapping[str, Any], used: dict[int, int]) -> Word | None:
    for number, habit in enumerate(desk.person.habits):
        if used.get(number, 0) >= habit.most or not _fits(habit, proposal):
            continue
        change = "" if habit.answer == "declined" else _smaller(desk, proposal)
        if habit.answer == "changed" and not change:
            continue
        used[number] = used.get(number, 0) + 1
        return Word(proposal=proposal["id"], answer=habit.answer, words=habit.words, change=change)
    return None


def _fits(habit: Habit, proposal: Mapping[str, Any]) -> bool:
    return (
        habit.kind == proposal["kind"]
        and (not habit.weeks or proposal["week"] in habit.weeks)
        and (
            not habit.about or proposal["lift"] in habit.about or proposal["muscle"] in habit.about
        )
    )


def _smaller(desk: Desk, proposal: Mapping[str, Any]) -> str:
    """A load one step of the kit short of the proposed one, where that is still a raise."""
    loads = [(proposal[side] or {}).get("load_kg") for side in ("before", "after")]
    known = [float(load) for load in loads if load is not None]
    if len(known) < len(loads):
        return ""
    before, after = known
    rack = rack_for(desk.catalogue.lifts[proposal["lift"]], desk.lifter.gym, desk.policy)
    step = rack.next_easier(after)
    if step is None:
        return ""
    between = before < step.load_kg < after or after < step.load_kg < before
    return f"load_kg={step.load_kg!r}" if between else ""


def _referred(proposal: Mapping[str, Any], through: date) -> Word:
    """The coach sends the lifter to somebody licensed and writes the day down."""
    seen = through + timedelta(days=1)
    return Word(
        proposal=proposal["id"], answer="changed", words=REFERRED, change=f"cleared_on={seen}"
    )


def answered(words: Sequence[Word], answer: str) -> list[Word]:
    """The words with that answer, in order."""
    return [word for word in words if word.answer == answer]
