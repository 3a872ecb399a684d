"""How the coach answers a review: habits first, all the rest accepted. Pain is never argued.
And the log before the block: an old routine, done for some weeks, perhaps left for some."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from blockwright.engine.training import Lift
from blockwright.verbs.revise_block import CoachAnswer
from .cast import Habit, OldDay
from .training import (
    Asked,
    DayLog,
    Trainee,
    do_session,
    first_guess,
    session_answers,
    weigh_in,
    wellness,
)

REFERRED = "seen by a physiotherapist: go on gently"


def answers_to(who: Trainee, document: Mapping[str, Any]) -> tuple[CoachAnswer, ...]:
    """An answer to every proposal of a `blockwright/proposals/1` document."""
    used: dict[int, int] = {}
    found = []
    for proposal in document["proposals"]:
        answer = _by_habit(who, proposal, used)
        if answer is None and proposal["kind"] == "refer":
            # The coach sends the lifter to somebody licensed and writes the day down.
            seen = date.fromisoformat(document["through"]) + timedelta(days=1)
            change = f"cleared_on={seen}"
            answer = CoachAnswer(
                proposal=proposal["id"], verdict="changed", change=change, words=REFERRED
            )
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


REST_S, RIR = 150.0, 2.0
GUESSED_FOR = 1  # Repetitions above the lowest for which a first load is guessed


def lived_before(who: Trainee, start: date) -> DayLog:
    """Sets and check-ins of the weeks before `start` (a Monday)."""
    person, typed = who.person, DayLog()
    first = start - timedelta(days=7 * (person.history_weeks + person.away_weeks))
    loads: dict[str, float] = {}
    for week in range(person.history_weeks):
        monday = first + timedelta(days=7 * week)
        for day in person.routine:
            _old_day(who, monday + timedelta(days=day.weekday), day, loads, typed)
        typed.checkins.append(weigh_in(who, monday + timedelta(days=6)))
        who.body.end_week(_weekly(who))
    for _ in range(person.away_weeks):
        who.body.end_week({}, strengthens=0.0)
        for state in who.body.lifts.values():
            state.ln_one_rm -= 0.006
    return typed


def _old_day(who: Trainee, day: date, old: OldDay, loads: dict[str, float], typed: DayLog) -> None:
    asked = []
    for name, sets, low, high in old.lifts:
        lift = who.catalogue.lifts[name]
        if name not in loads:
            loads[name] = first_guess(who, lift, low + GUESSED_FOR, RIR)
        asked.append(
            Asked(lift=lift, loads_kg=[loads[name]] * sets, reps=(low, high), rir=[RIR] * sets,
                  rest_s=REST_S)
        )  # fmt: skip
    typed.checkins += wellness(who, day, 0)
    before = len(typed.sets)
    minutes = do_session(who, day, old.start, asked, typed, None)
    typed.checkins += session_answers(who, day, old.start, minutes, RIR)
    for one in asked:
        done = [s for s in typed.sets[before:] if s.lift == one.lift.name and s.method != "warmup"]
        loads[one.lift.name] = _rule(who, one.lift, loads[one.lift.name], done[0].reps[0], one)


def _rule(who: Trainee, lift: Lift, load: float, reps: int, asked: Asked) -> float:
    """Up a step at the top of the range, down one below its bottom."""
    low, high = asked.reps
    rack = who.rack(lift)
    harder = rack.next_harder(load) if reps >= high else None
    step = rack.next_easier(load) if reps < low else harder
    return load if step is None else step.load_kg


def _weekly(who: Trainee) -> dict[str, float]:
    """Fractional sets a muscle that the routine has in a week."""
    sums: dict[str, float] = {}
    for name, sets, _, _ in (lift for day in who.person.routine for lift in day.lifts):
        for muscle, share in who.catalogue.lifts[name].muscles.items():
            sums[muscle] = sums.get(muscle, 0.0) + share * sets
    return sums
