"""Patterns by day that a week is given: the log's, another block's, a coach's own."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blockwright.engine.training import DAYS, Block, Catalogue, Slot
from .log_facts import HEAVY_REPS
from .patterns import basic_of
from .problem import Problem


@dataclass(frozen=True, slots=True)
class GivenFrame:
    """Patterns by (day, start time), from a log or another block, and the heavy ones."""

    roles: Mapping[tuple[str, str | None], frozenset[str]]
    heavy: frozenset[tuple[str, str | None, str]]
    fixed: bool = False  # Whether it is a coach's own frame, to be kept as it is
    lost: int = 0  # Visits of it that the lifter has no slot for


def logged_frame(problem: Problem) -> GivenFrame | None:
    """The patterns of the log's main lifts by day; None without a log."""
    if not problem.log:
        return None
    roles: dict[tuple[str, str | None], set[str]] = {}
    heavy = set()
    for logged in problem.log.lifts.values():
        basic = logged.basic
        if basic is None:
            continue
        for day, reps in logged.days.items():
            roles.setdefault((day, None), set()).add(basic)
            if reps <= HEAVY_REPS and day not in logged.light:
                heavy.add((day, None, basic))
    return GivenFrame({k: frozenset(v) for k, v in roles.items()}, frozenset(heavy))


def frame_of(block: Block, catalogue: Catalogue) -> GivenFrame:
    """The frame of another block's last build week, to be kept as it is."""
    builds = block.builds
    roles: dict[tuple[str, str | None], frozenset[str]] = {}
    heavy = set()
    for session in builds[-1].sessions if builds else ():
        day = DAYS[session.day.weekday()]
        found = [(e, lift) for e in session.entries if (lift := catalogue.find(e.lift))]
        basics = {(e.zone, b) for e, lift in found if (b := basic_of(lift)) is not None}
        roles[day, session.start_time] = frozenset(basic for _, basic in basics)
        heavy |= {(day, session.start_time, basic) for zone, basic in basics if zone == "low"}
    return GivenFrame(roles, frozenset(heavy), fixed=True)


def laid_on(given: GivenFrame, slots: Sequence[Slot]) -> GivenFrame:
    """A frame on a lifter's own slots, to be kept as it is: a visit goes to the slot on its day,
    those left over to the slots left over, in the order of the week. What finds no slot is left
    out."""
    free = sorted(slots, key=lambda slot: (slot.day_index, slot.start_minute))
    to: dict[tuple[str, str | None], Slot] = {}
    waiting = []
    for visit in sorted(given.roles, key=lambda at: (DAYS.index(at[0]), at[1] or "")):
        slot = next((one for one in free if one.day == visit[0]), None)
        if slot is None:
            waiting.append(visit)
        else:
            free.remove(slot)
            to[visit] = slot
    to |= dict(zip(waiting, free, strict=False))
    places = {visit: (slot.day, slot.start_time) for visit, slot in to.items()}
    return GivenFrame(
        roles={places[visit]: given.roles[visit] for visit in places},
        heavy=frozenset((*places[d, s], basic) for d, s, basic in given.heavy if (d, s) in places),
        fixed=True,
        lost=len(given.roles) - len(places),
    )
