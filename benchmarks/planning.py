"""How long planning takes and how good the week is, for an invented lifter of five evenings.

Value: CPU seconds of a whole block, a replan, a clash, and the gap to the bound. Reference: the
targets (25 s, 3 s, 2 s, 4 %).
"""

import json
import time
from collections.abc import Callable
from datetime import date

from blockwright.engine.errors import Clash
from blockwright.engine.gym import Gym
from blockwright.engine.planning import compose
from blockwright.engine.planning.replan import Trouble, replan
from blockwright.engine.training import Block, Lifter, Limits, Pin, Slot
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy

KIT = frozenset(word for lift in builtin_catalogue().lifts.values() for word in lift.kit)
USUAL = Lifter(
    name="Invented Uma",
    bodyweight=70.0,
    bodyweight_kg=70.0,
    start=date(2027, 1, 4),
    slots=tuple(
        Slot(day=day, start_minute=18 * 60, minutes=60)
        for day in ("mon", "tue", "thu", "fri", "sat")
    ),
    emphasis={"glutes": "lead", "chest": "hold"},
    gym=Gym(kit=KIT, unit="kg"),
)


def cpu_s(work: Callable[[], object]) -> float:
    """CPU seconds of one run."""
    began = time.process_time()
    work()
    return time.process_time() - began


def plan() -> Block:
    return compose(USUAL, builtin_catalogue(), default_policy())


def clash() -> None:
    pinned = Lifter(
        name="Invented Cy",
        bodyweight_kg=70.0,
        start=date(2027, 1, 4),
        slots=USUAL.slots,
        gym=USUAL.gym,
        limits=Limits(avoid_lifts=("leg press",)),
        pins=(Pin(lift="leg press", days=("mon",)),),
    )
    try:
        compose(pinned, builtin_catalogue(), default_policy())
    except Clash:
        return
    raise RuntimeError("an avoided lift that is pinned was planned")


def main() -> None:
    """Prints one JSON line a figure."""
    cpu_s(clash)  # loads the solver
    began = time.process_time()
    block = plan()
    block_s = time.process_time() - began
    trouble = Trouble(week=4, session=2, minutes=30)
    replan_s = cpu_s(lambda: replan(block, trouble, builtin_catalogue(), default_policy()))
    for name, value, unit, reference in (
        ("plan, five evenings, every lift", block_s, "s CPU", 25.0),
        ("plan, gap to the bound", 100 * block.solver.gap, "%", 4.0),
        ("replan, 30 minutes", replan_s, "s CPU", 3.0),
        ("clash named", cpu_s(clash), "s CPU", 2.0),
    ):
        print(
            json.dumps(
                {
                    "bench": name,
                    "value": round(value, 3),
                    "unit": unit,
                    "reference": reference,
                    "ratio": round(value / reference, 3),
                }
            )
        )


if __name__ == "__main__":
    main()
