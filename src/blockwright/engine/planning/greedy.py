"""Building a week by marginal gain, and rebuilding it after a part was torn out."""

import numpy as np

from blockwright.engine.planning.board import Board
from blockwright.engine.planning.dice import Dice
from blockwright.engine.planning.request import Ints, Request, WeekPlan


def greedy_week(request: Request) -> WeekPlan:
    """The week that always takes the step of largest gain. Quick, and what the search must
    beat."""
    board = Board(request, request.budget_s)
    place_pins(board)
    build_up(board)
    return board.plan()


def place_pins(board: Board) -> None:
    """Puts what the coach insists on in first, where it fits."""
    request = board.request
    least = request.numbers.sets_least
    # pins with the fewest places go first
    groups = sorted(
        (len(group), index, group) for index, pin in enumerate(request.pins) for group in pin.wanted
    )
    for _, index, group in groups:
        pin = request.pins[index]
        pairs = [(s, o) for s in group for o in pin.options if request.allowed[s, o]]
        if any(board.sets[s, o] for s, o in pairs) or not pairs:
            continue
        slot = np.array([s for s, _ in pairs], dtype=np.int64)
        option = np.array([o for _, o in pairs], dtype=np.int64)
        fits = board.fits(slot, option, least, new=True)
        if fits.any():
            gain = np.where(fits, board.gain(slot, option, least, new=True), -(10**9))
            best = int(gain.argmax())
            board.place(int(slot[best]), int(option[best]), least)


def build_up(
    board: Board, *, noise: float = 0.0, per_second: float = 0.0, dice: Dice | None = None
) -> None:
    """Takes the best step (a new lift with the least sets, or one more set) while any gains.

    `per_second` (0 to 1) is how much the step's seconds weigh; `noise` blurs the choice.
    """
    least = board.request.numbers.sets_least
    while True:
        best = _best_step(board, least, noise, per_second, dice)
        if best is None:
            return
        board.place(*best)


def _best_step(
    board: Board, least: int, noise: float, per_second: float, dice: Dice | None
) -> tuple[int, int, int] | None:
    request = board.request
    slots, options = np.nonzero(board.sets)
    if board.frozen:
        loose = np.array([pair not in board.frozen for pair in _pairs(slots, options)], dtype=bool)
        slots, options = slots[loose], options[loose]
    found: list[tuple[float, int, int, int]] = []
    for slot, option, step, new in (
        (board.pair_slot, board.pair_option, least, True),
        (slots, options, 1, False),
    ):
        if not len(slot):
            continue
        fits = board.fits(slot, option, step, new=new)
        if new:
            fits &= board.sets[slot, option] == 0
        slot, option = slot[fits], option[fits]
        if not len(slot):
            continue
        gain = board.gain(slot, option, step, new=new).astype(np.float64)
        seconds = step * request.per_set_s[option] + new * request.fixed_s[option]
        score = gain / np.maximum(seconds, 30.0) ** per_second
        if noise and dice is not None:
            score = score * (1.0 + noise * (2.0 * dice.shares(len(score)) - 1.0))
        best = int(score.argmax())
        if gain[best] > 0:
            found.append((float(score[best]), int(slot[best]), int(option[best]), step))
    if not found:
        return None
    return max(found, key=lambda f: f[0])[1:]


def _pairs(slots: Ints, options: Ints) -> list[tuple[int, int]]:
    return list(zip(slots.tolist(), options.tolist(), strict=True))
