"""How the coach answers a review: habits first, all the rest accepted. Pain is never argued."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from blockwright.demo.cast import Habit
from blockwright.demo.training import Trainee
from blockwright.verbs.revise_block import CoachAnswer

REFERRED = "seen by a physiotherapist: go on gently"


def answers_to(who: Trainee, document: Mapping[str, Any]) -> tuple[CoachAnswer, ...]:
    """An answer to every proposal of a `blockwright/proposals/1` document."""
    used: dict[int, int] = {}
    found = []
    for proposal in document["proposals"]:
        answer = _by_habit(who, proposal, used)
        if answer is None and proposal["kind"] == "refer":
            answer = _referred(proposal, date.fromisoformat(document["through"]))
        found.append(answer or CoachAnswer(proposal=proposal["id"], verdict="accepted"))
    return tuple(found)


def _by_habit(
    who: Trainee, proposal: Mapping[str, Any], used: dict[int, int]
) -> CoachAnswer | None:
    for number, habit in enumerate(who.person.habits):
        if used.get(number, 0) >= habit.most or not _fits(habit, proposal):
            continue
        change = "" if habit.answer == "declined" else _smaller(who, proposal)
        if habit.answer == "changed" and not change:
            continue
        used[number] = used.get(number, 0) + 1
        return CoachAnswer(
            proposal=proposal["id"], verdict=habit.answer, change=change, words=habit.words
        )
    return None


def _fits(habit: Habit, proposal: Mapping[str, Any]) -> bool:
    return (
        habit.kind == proposal["kind"]
        and (not habit.weeks or proposal["week"] in habit.weeks)
        and (
            not habit.about or proposal["lift"] in habit.about or proposal["muscle"] in habit.about
        )
    )


def _smaller(who: Trainee, proposal: Mapping[str, Any]) -> str:
    """A load one step of the kit short of the proposed one, where that is still a raise."""
    loads = [(proposal[side] or {}).get("load_kg") for side in ("before", "after")]
    known = [float(load) for load in loads if load is not None]
    if len(known) < len(loads):
        return ""
    before, after = known
    step = who.rack(who.catalogue.lifts[proposal["lift"]]).next_easier(after)
    if step is None:
        return ""
    between = before < step.load_kg < after or after < step.load_kg < before
    return f"load_kg={step.load_kg!r}" if between else ""


def _referred(proposal: Mapping[str, Any], through: date) -> CoachAnswer:
    """The coach sends the lifter to somebody licensed and writes the day down."""
    seen = through + timedelta(days=1)
    change = f"cleared_on={seen}"
    return CoachAnswer(proposal=proposal["id"], verdict="changed", change=change, words=REFERRED)
