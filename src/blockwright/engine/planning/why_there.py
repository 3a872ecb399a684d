"""What forbids a lift on another day, in the order a coach would think of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from blockwright.engine.planning.board import Board
from blockwright.engine.planning.request import Item
from blockwright.engine.reasons import FactValue
from blockwright.engine.training import MUSCLES


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """A code, its facts, and the policy behind it."""

    code: str
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    policy: tuple[str, ...] = ()


def why_not_there(board: Board, slot: int, item: Item) -> Why | None:
    """What forbids `item` (not on the board) in `slot`; None when nothing does."""
    request = board.request
    option = item.option
    if board.count[slot] >= request.most_lifts:
        return Why(code="day_lifts", facts={"lifts": request.most_lifts})
    seconds = item.sets * int(request.per_set_s[option]) + int(request.fixed_s[option])
    if board.seconds[slot] + seconds > board.budget_s[slot]:
        left = max(0, int(board.budget_s[slot] - board.seconds[slot]))
        return Why(
            code="day_full", facts={"minutes_left": left // 60, "minutes": -(-seconds // 60)}
        )
    spacing = _spacing(board, slot, item)
    if spacing is not None:
        return spacing
    if int(board.axial[slot]) + item.sets * int(request.axial[option]) > (
        request.numbers.axial_session
    ):
        return Why(code="day_axial", policy=("planning.axial_session",))
    return _volume(board, slot, item)


def _spacing(board: Board, slot: int, item: Item) -> Why | None:
    """Two hard sessions of a muscle too close together."""
    request = board.request
    hard = request.numbers.hard_direct
    for muscle in range(len(MUSCLES)):
        if not request.direct[item.option, muscle]:
            continue
        if board.direct[slot, muscle] + item.sets < hard:
            continue
        for other in range(len(request.slots)):
            if request.too_close[muscle, slot, other] and board.direct[other, muscle] >= hard:
                return Why(
                    code="day_spacing",
                    facts={
                        "spaced_muscle": MUSCLES[muscle].replace("_", " "),
                        "hard_day": request.slots[other].day,
                        "hours": request.numbers.hours_between,
                    },
                    policy=("planning.hours_between", "planning.hard_direct_sets"),
                )
    return None


def _volume(board: Board, slot: int, item: Item) -> Why | None:
    request = board.request
    for muscle in range(len(MUSCLES)):
        more = item.sets * int(request.share_q[item.option, muscle])
        if more and board.volume[slot, muscle] + more > request.numbers.session_q:
            return Why(
                code="day_enough",
                facts={
                    "full_muscle": MUSCLES[muscle].replace("_", " "),
                    "sets": request.numbers.session_q / 4,
                },
                policy=("planning.session_sets",),
            )
    return None
