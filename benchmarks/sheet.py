"""How long a sheet takes: the document with its advice, text, PDF and workbook.

The block is invented here: three build weeks of two sessions with six and five lifts. The
reference is measured in the same run: laying out the same words as a plain page.
"""

import json
import time
from collections.abc import Callable
from datetime import date, timedelta
from statistics import median
from typing import Any

from blockwright.engine.day_sheet import day_sheet, session_in_week, sessions_of
from blockwright.engine.gym import Gym
from blockwright.engine.training import (
    Block,
    Entry,
    Lifter,
    Moment,
    Session,
    SetDone,
    SetPlan,
    SolverReport,
    Week,
)

MONDAY = date(2027, 1, 4)
DAYS = (
    (("barbell back squat", 102.5, 6), ("romanian deadlift", 82.5, 8), ("leg extension", 45, 12),
     ("seated leg curl", 40, 10), ("dumbbell lateral raise", 8, 12), ("cable crunch", 30, 10)),
    (("bench press", 82.5, 8), ("pull-up", 5, 6), ("dumbbell shoulder press", 20, 8),
     ("seated cable row", 55, 10), ("triceps pushdown", 25, 12)),
)  # fmt: skip


def seconds(work: Callable[[], object], runs: int = 7) -> float:
    """Median wall time over `runs` runs, the first (loading) left out."""
    work()
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    return median(times)


def invented_block(lifts: Any, kit: frozenset[str]) -> Block:
    """Three build weeks; lifts that the catalogue does not know are left out."""
    who = Lifter(
        name="Ines Invented", bodyweight=78, bodyweight_kg=78, start=MONDAY,
        gym=Gym(kit=kit, unit="kg"),
    )  # fmt: skip
    weeks = []
    for number in (1, 2, 3):
        sessions = tuple(
            Session(
                session=place, day=MONDAY + timedelta(days=7 * (number - 1) + 3 * (place - 1)),
                start_time="18:00", minutes_available=75, minutes_planned=66,
                entries=tuple(_entries(day, lifts)),
            )
            for place, day in enumerate(DAYS, start=1)
        )  # fmt: skip
        weeks.append(Week(week=number, kind="build", rir=2, sessions=sessions, muscle_sets={}))
    solver = SolverReport(status="feasible", objective=1, bound=1, gap=0)
    return Block(
        revision=1, status="ready", lifter=who, start=MONDAY, weeks=tuple(weeks), solver=solver
    )


def _entries(day: Any, lifts: Any) -> list[Entry]:
    known = [row for row in day if lifts.find(row[0]) is not None]
    return [
        Entry(
            order=order, lift=name, method="straight", rest_s=120,
            sets=(SetPlan(load_kg=load, reps_low=low, reps_high=low + 4, rir=2),) * 3,
        )
        for order, (name, load, low) in enumerate(known, start=1)
    ]  # fmt: skip


def invented_log(block: Block) -> list[SetDone]:
    """Twelve weeks of three sets of every lift."""
    planned = [entry for session in block.weeks[0].sessions for entry in session.entries]
    return [
        SetDone(
            moment=Moment(day=MONDAY - timedelta(days=7 * ago)), lift=entry.lift, set_number=number,
            loads_kg=(entry.sets[0].load_kg or 0.0,), entered_load="", entered_unit="kg",
            reps=(entry.sets[0].reps_low + 3 - number,), rir_low=2, rir_high=2,
        )
        for entry in planned
        for ago in range(12, 0, -1)
        for number in (1, 2, 3)
    ]  # fmt: skip


def main() -> None:
    """Prints JSON lines."""
    import typst

    from blockwright.engine.strength import Bodyweights, replay
    from blockwright.files.catalogue import builtin_catalogue
    from blockwright.files.codec import document as written
    from blockwright.files.policy_files import default_policy
    from blockwright.sheets.pdf import paper_fonts, sheets_pdf
    from blockwright.sheets.text import sheet_text
    from blockwright.sheets.workbook import block_workbook

    lifts, policy = builtin_catalogue(), default_policy()
    kit = frozenset(word for lift in lifts.lifts.values() for word in lift.kit)
    block = invented_block(lifts, kit)
    log = invented_log(block)
    beliefs = replay(log, lifts, policy, bodyweights=Bodyweights(usual_kg=78))
    first = session_in_week(block, 1, 1)

    def document(**more: Any) -> Any:
        sheet = day_sheet(block, first, lifts, policy, beliefs, **more)
        return written("sheet", sheet)

    made = document()
    all_documents = [
        written("sheet", day_sheet(block, one, lifts, policy, with_advice=False))
        for one in sessions_of(block)
    ]
    words = sheet_text(made).encode()

    def plain_page() -> object:
        source = b'#set text(font: "Source Sans Pro")\n#raw(block: true, sys.inputs.words)'
        return typst.compile(
            source, font_paths=paper_fonts(), ignore_system_fonts=True,
            sys_inputs={"words": words.decode()},
        )  # fmt: skip

    page_s = seconds(plain_page)
    page = f"the same words as a plain page: {page_s:.4f} s"
    work: dict[str, Callable[[], object]] = {
        "sheet document with advice, six lifts": document,
        "sheet document without advice": lambda: document(with_advice=False),
        "sheet as text": lambda: sheet_text(made),
        "sheet as PDF, A4": lambda: sheets_pdf([made]),
        "sheet as PDF, pocket": lambda: sheets_pdf([made], "pocket"),
        "block as workbook, six sessions": lambda: block_workbook(all_documents),
    }
    for name, one in work.items():
        value = seconds(one)
        report(name, round(value, 4), "s", page, value / page_s)
    weight = len(sheets_pdf([made]))
    report("PDF of one session", weight, "bytes", "limit: 100000 bytes", weight / 100_000)


def report(bench: str, value: float, unit: str, reference: str, ratio: float) -> None:
    """One JSON line."""
    line = {"bench": bench, "value": value, "unit": unit, "reference": reference}
    print(json.dumps(line | {"ratio": round(ratio, 2)}))


if __name__ == "__main__":
    main()
