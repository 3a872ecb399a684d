"""Why a lift stands on its day: what forbids it on the days before."""

from collections import Counter
from dataclasses import dataclass, replace

from blockwright.engine.planning.board import Board, board_of
from blockwright.engine.planning.request import Item, Request, main_muscle
from blockwright.engine.planning.week import ComposedWeek
from blockwright.engine.planning.why_there import Why, why_not_there
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Reason
from blockwright.engine.training import DAYS, Catalogue, Lifter, Week

_PLACES_TOLD = 5
"""Lifts whose day is explained."""
_ALIKE_TOLD = 2
"""Of them, with the same kind of reason."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Composed:
    """A finished block and what it was made from."""

    lifter: Lifter
    catalogue: Catalogue
    policy: Policy
    request: Request
    week: ComposedWeek
    gentle: bool
    weeks: tuple[Week, ...]
    deload_left_out: tuple[str, ...]
    load_reasons: tuple[Reason, ...]

    @property
    def builds(self) -> tuple[Week, ...]:
        return tuple(week for week in self.weeks if week.kind == "build")


def place_reasons(made: Composed) -> list[Reason]:
    """Why some lifts stand on their day and not on another that would seem to do."""
    request, plan = made.request, made.week.plan
    board = board_of(request, plan, made.week.budget_s)
    pinned = {pin.lift for pin in request.pins}
    names = Counter(request.options[item.option].lift.name for item in plan)
    told: list[tuple[int, Reason]] = []
    for item in plan:
        option = request.options[item.option]
        if option.lift.name in pinned or names[option.lift.name] > 1:
            continue
        reason = _place_reason(made, board, item)
        if reason is not None:
            told.append((_interest(made, item), reason))
    told.sort(key=lambda pair: -pair[0])
    chosen: list[Reason] = []
    for _, reason in told:
        if len(chosen) == _PLACES_TOLD:
            break
        muscles = [r.facts["muscle"] for r in chosen]
        alike = sum(r.code == reason.code for r in chosen)
        if reason.facts["muscle"] not in muscles and alike < _ALIKE_TOLD:
            chosen.append(reason)
    return chosen


def _interest(made: Composed, item: Item) -> int:
    lift = made.request.options[item.option].lift
    lead = made.lifter.emphasis_of(main_muscle(lift)) == "lead"
    return 4 * lead + 2 * lift.compound + (lift.axial >= 2)


def _place_reason(made: Composed, board: Board, item: Item) -> Reason | None:
    """The nearest earlier day the lift could not have stood on, and what forbids it."""
    request = made.request
    option = request.options[item.option]
    board.take(item.slot, item.option)
    found: Reason | None = None
    here = request.slots[item.slot]
    for slot in range(len(request.slots)):
        there = request.slots[slot]
        if slot == item.slot or there.day == here.day or found is not None:
            continue
        if sum(other.day == there.day for other in request.slots) > 1:
            continue  # of two sessions on a day, what keeps it from one says little
        why = why_not_there(board, slot, item)
        if why is None or why.facts.get("hard_day") == here.day:
            continue
        if why.code == "day_full":
            why = _full(made, slot, why)
            if why is None:
                continue
        if (slot, item.option) in {(i.slot, i.option) for i in made.week.plan}:
            continue
        found = Reason(
            code=why.code,
            facts={
                "lift": option.lift.name,
                "muscle": said(main_muscle(option.lift)),
                "day": here.day,
                "other_day": there.day,
                **why.facts,
            },
            policy=why.policy,
        )
    board.place(item.slot, item.option, item.sets)
    return found


def _full(made: Composed, slot: int, why: Why) -> Why | None:
    """The same by the minutes of the last build week as written, where special sets and pairs
    give some back; None where the lift would fit into those."""
    there = made.request.slots[slot]
    sessions = made.builds[-1].sessions
    days = {DAYS[session.day.weekday()]: session for session in sessions}
    session = days.get(there.day)
    if session is None:
        return None
    left = int(session.minutes_available - session.minutes_planned)
    minutes = why.facts["minutes"]
    if not isinstance(minutes, int) or minutes <= left:
        return None
    return replace(why, facts={"minutes_left": left, "minutes": minutes})


def said(muscle: str) -> str:
    """A muscle's name as a person writes it."""
    return muscle.replace("_", " ")
