"""Rules 1, 2, 4 and 5: patterns, the shape of a session, visits, how many lifts."""

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, pairwise

from coach_rules.plan import (
    HIP,
    KNEE,
    LEG_CURL,
    OVERHEAD,
    PRESS,
    ROW,
    VERTICAL,
    Check,
    Plan,
    Session,
    Week,
    neighbours,
)

PATTERNS = {
    "knee": KNEE, "hip": HIP, "press": PRESS, "row": ROW, "vertical pull": VERTICAL,
    "overhead press": OVERHEAD,
}  # fmt: skip
STANDS_IN = {"hip": LEG_CURL, "row": VERTICAL}
MOST_LIFTS = {1: 7, 2: 11, 3: 14, 4: 16}
MOST_LIFTS_FROM_FIVE = 18
SHORTEST_MIN, SHORTEST_SHARE = 30.0, 0.6
LEAD_SHORT, EMPTY_SHARE, FULL_MUSCLE = 0.9, 1 / 3, 8


def check_shape(plan: Plan) -> Iterator[Check]:
    yield from _patterns(plan)
    for session in plan.last.sessions:
        yield from _session(plan, session)
    yield from _visits(plan)
    yield from _lifts(plan)


def holding(week: Week, name: str) -> list[Session]:
    """Sessions of a week with a lift of several joints of this pattern."""
    return [
        s
        for s in week.sessions
        if s.of(PATTERNS[name]) or (name == "hip" and s.of(("back extension",), main=False))
    ]


# ------------------------------------------------------------------------------------- rule 1


def _patterns(plan: Plan) -> Iterator[Check]:
    for name, patterns in PATTERNS.items():
        if not plan.can(patterns) or (name == "overhead press" and _no_overhead(plan)):
            continue
        lacks = next((w.number for w in plan.builds if not holding(w, name)), None)
        yield Check(1, lacks is None, f"no {name} of several joints in the week", lacks)
    if len(plan.slots) < 4 or plan.weekly_minutes < 200:
        return
    for name in ("knee", "hip", "press", "row"):
        if not plan.may_grow(name, PATTERNS[name]):
            continue
        days = {s.number for s in holding(plan.last, name)}
        days |= {s.number for s in plan.last.sessions
                 if s.of(STANDS_IN.get(name, ()), main=False)}  # fmt: skip
        yield Check(1, len(days) >= 2, f"{name} is trained {len(days)} times, not twice",
                    plan.last.number)  # fmt: skip


def _no_overhead(plan: Plan) -> bool:
    return len(plan.slots) <= 2 or plan.weekly_minutes < 150 or "shoulder" in plan.painful


# ------------------------------------------------------------------------------------- rule 2


def _session(plan: Plan, session: Session) -> Iterator[Check]:
    week, number = plan.last.number, session.number

    def check(kept: bool, words: str) -> Check:
        return Check(2, kept, words, week, number)

    opener = session.entries[0]
    free = opener.lift.name not in plan.pinned
    usable = not free or opener.lift.main
    yield check(usable, f"begins with {opener.lift.name}, which is small")
    if opener.lift.main and free and any(e.lift.main and e.lift.loadable for e in session.entries):
        yield check(opener.lift.loadable, f"begins with {opener.lift.name}, not loadable in steps")
    mains = [e for e in session.entries if e.lift.main]
    if len(session.entries) >= 3:
        yield check(bool(mains), "has three lifts and none of several joints")
    if mains and not plan.allows("pre_exhaust"):
        early = [e.lift.name for e in session.entries
                 if not e.lift.main and e.order < mains[-1].order
                 and e.lift.name not in plan.pinned]  # fmt: skip
        yield check(not early, f"{', '.join(early)} before {mains[-1].lift.name}")
    hinges = [e.lift.name for e in session.of(("hinge",))]
    if hinges:
        yield check(len(hinges) <= 1, f"two hinges: {', '.join(hinges)}")
    heavy = [f"{a.lift.name}, {b.lift.name}" for a, b in pairwise(session.entries)
             if a.lift.axial == b.lift.axial == 3]  # fmt: skip
    if any(e.lift.axial == 3 for e in session.entries):
        yield check(not heavy, f"axial 3 back to back: {'; '.join(heavy)}")
    small = [e.lift.name for e in session.entries
             if e.low and not e.lift.main and e.lift.name not in plan.pinned]  # fmt: skip
    if any(e.low for e in session.entries):
        yield check(not small, f"small lifts in the low zone: {', '.join(small)}")


# ------------------------------------------------------------------------------------- rule 4


def _visits(plan: Plan) -> Iterator[Check]:
    for session in plan.last.sessions:
        shortest = min(SHORTEST_MIN, SHORTEST_SHARE * session.available)
        short = next(
            (
                (week.number, same.planned)
                for week in plan.builds
                for same in week.sessions
                if same.number == session.number and same.planned < shortest - 0.01
            ),
            None,
        )
        words = f"{short[1] if short else 0:g} min of {session.available:g}"
        yield Check(4, short is None, f"a visit of {words}", short[0] if short else None,
                    session.number)  # fmt: skip
    if len(plan.last.sessions) < len(plan.slots):
        said = any(
            word in r["says"]
            for r in plan.block["reasons"]
            if not r["code"].startswith("deload")
            for word in ("slot", "free", "merged")
        )
        yield Check(4, said, "a slot is left free and nothing says so")
    wanted = plan.lifter.get("visits")
    if wanted is not None:
        visits = len(plan.last.sessions)
        yield Check(4, visits == wanted, f"{visits} visits, {wanted} asked for")
    for muscle in plan.leads():
        yield _lead_has_minutes(plan, muscle)


def _lead_has_minutes(plan: Plan, muscle: str) -> Check:
    """A lead short of its target, where a session could still take a set of it."""
    sums = plan.last.muscle_sets[muscle]
    short = sums["fractional"] < LEAD_SHORT * sums["ceiling"]
    empty = [
        s
        for s in plan.last.sessions
        if s.planned <= (1 - EMPTY_SHARE) * s.available and _has_room(plan, s, muscle)
    ]
    words = f"{muscle} leads at {sums['fractional']:g} of {sums['ceiling']:g}"
    return Check(4, not (short and empty), f"{words} while a third of the slot is empty",
                 plan.last.number, empty[0].number if short and empty else None)  # fmt: skip


def _has_room(plan: Plan, session: Session, muscle: str) -> bool:
    """Room for one more set: fewer than eight in the session, no hard session within 40 h."""
    if _direct(session, muscle) >= FULL_MUSCLE:
        return False
    near = [
        other for other in plan.last.sessions
        if other is not session
        and min(abs(other.hour - session.hour), 168 - abs(other.hour - session.hour)) < 40
    ]  # fmt: skip
    grows = [e for e in session.entries if muscle in e.lift.direct and e.count < 4]
    hard = any(_direct(other, muscle) >= 4 for other in near)
    return bool(grows) and (_direct(session, muscle) + 1 < 4 or not hard)


def _direct(session: Session, muscle: str) -> int:
    return sum(e.count for e in session.entries if muscle in e.lift.direct)


# ------------------------------------------------------------------------------------- rule 5


def _lifts(plan: Plan) -> Iterator[Check]:
    most = MOST_LIFTS.get(len(plan.slots), MOST_LIFTS_FROM_FIVE)
    names = {e.lift.name for e in plan.last.entries} - plan.pinned
    yield Check(5, len(names) <= most, f"{len(names)} lifts in a week, {most} at most",
                plan.last.number)  # fmt: skip
    at: dict[str, list[Session]] = defaultdict(list)
    for session in plan.last.sessions:
        for entry in session.entries:
            if entry.lift.main and entry.lift.name not in plan.pinned:
                at[entry.lift.name].append(session)
    close = [
        n for n, found in at.items() if any(neighbours(a, b) for a, b in combinations(found, 2))
    ]
    yield Check(5, not close, f"on neighbouring days: {', '.join(close)}", plan.last.number)
