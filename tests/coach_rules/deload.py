"""Rule 9: the deload is lighter in every way."""

import math
from collections.abc import Iterator
from statistics import median

from coach_rules.plan import Check, Plan, Session, Week

LONGEST, MOST_OF_FIRST, OF_LAST = 1.05, 0.8, (0.4, 0.6)
DELOAD_RIR = 5
FEWER_SESSIONS = {9: 5, 6: 3, 4: 2, 3: 2, 2: 2, 1: 1}
LOAD_DOWN_TO = 0.8
MINUTES_A_LIFT = 6
MOST_DIRECT = 4
"""Sets of a muscle in a session that is not hard."""


def check_deload(plan: Plan) -> Iterator[Check]:
    deload = plan.deload
    if deload is None:
        yield Check(9, False, "there is no deload")
        return
    number = deload.number
    longest = max(s.planned for s in deload.sessions)
    most = LONGEST * median(s.planned for s in plan.first.sessions)
    yield Check(9, longest <= most + 0.05, f"{longest:g} min, {most:.1f} at most", number)
    lifts = max(len(s.entries) for s in deload.sessions)
    first = max(len(s.entries) for s in plan.first.sessions)
    yield Check(9, lifts <= first, f"{lifts} lifts, week one has {first} at most", number)
    heavy = max(sum(e.lift.axial == 3 for e in s.entries) for s in deload.sessions)
    yield Check(9, heavy <= 1, f"{heavy} lifts of axial 3 in a session", number)
    sets, start, end = deload.set_count, plan.first.set_count, plan.last.set_count
    yield Check(9, sets <= MOST_OF_FIRST * start, f"{sets} sets, week one has {start}", number)
    half = plan.lifter.get("deload", {}).get("style", "half") == "half"
    low, high = OF_LAST
    words = f"{sets} sets, the last week has {end}"
    full = not half and _says_few(plan) and _is_full(plan, deload)
    yield Check(9, (low * end <= sets or full) and sets <= math.ceil(high * end), words, number)
    left = {row["rir"] for e in deload.entries for row in e.sets}
    yield Check(9, left == {DELOAD_RIR}, f"{sorted(left)} in reserve", number)
    if half:
        yield from _half(plan, deload)
    else:
        wanted = FEWER_SESSIONS.get(len(plan.last.sessions), math.ceil(len(plan.last.sessions) / 2))
        words = f"{len(deload.sessions)} sessions, {wanted} in two parts"
        yield Check(9, len(deload.sessions) == wanted, words, number)


def _says_few(plan: Plan) -> bool:
    """Whether the block says that its deload in two parts holds fewer sets than usual."""
    return any(reason["code"] == "deload_merged_few" for reason in plan.block["reasons"])


def _is_full(plan: Plan, deload: Week) -> bool:
    """Whether no session of a deload in two parts takes another of the usual lifts: it has as many
    as week one's largest, or its time, or every muscle left has its fill of direct sets."""
    longest = LONGEST * median(s.planned for s in plan.first.sessions)
    most = max(len(s.entries) for s in plan.first.sessions)
    return all(
        len(s.entries) >= most or s.planned >= longest - MINUTES_A_LIFT or _takes_no_other(plan, s)
        for s in deload.sessions
    )


def _takes_no_other(plan: Plan, session: Session) -> bool:
    here = {entry.lift.name for entry in session.entries}
    families = {entry.lift.family for entry in session.entries}
    sets: dict[str, int] = {}
    for entry in session.entries:
        for muscle in entry.lift.direct:
            sets[muscle] = sets.get(muscle, 0) + entry.count
    return all(
        entry.lift.family in families
        or any(sets.get(m, 0) + math.ceil(entry.count / 2) > MOST_DIRECT for m in entry.lift.direct)
        for entry in plan.last.entries
        if entry.lift.name not in here
    )


def _half(plan: Plan, deload: Week) -> Iterator[Check]:
    """The usual days; loads a step or 10 % below the same session's."""
    days = {(s.day.weekday(), s.start) for s in deload.sessions}
    usual = {(s.day.weekday(), s.start) for s in plan.last.sessions}
    words = f"{len(days)} of the {len(usual)} usual sessions"
    yield Check(9, days == usual, words, deload.number)
    same = {(s.day.weekday(), s.start, e.lift.name): e
            for s in plan.last.sessions for e in s.entries}  # fmt: skip
    wrong = []
    for session in deload.sessions:
        for entry in session.entries:
            was = same.get((session.day.weekday(), session.start, entry.lift.name))
            if was is None or not was.load_kg or entry.load_kg is None:
                continue
            if not _lighter(entry.lift.load_kind, entry.load_kg, was.load_kg):
                wrong.append(f"{entry.lift.name} {was.load_kg:g} to {entry.load_kg:g} kg")
    yield Check(9, not wrong, f"loads not a step lighter: {', '.join(wrong)}", deload.number)


def _lighter(kind: str, now: float, was: float) -> bool:
    """Below, and by no more than a fifth where a step can be that small; small loads have wide
    steps, and the lightest stays."""
    if kind == "assisted":
        return now >= was
    step = 10.0 if was >= 100 else 5.0
    return LOAD_DOWN_TO * was - step <= now < was or (now == was and was <= 20)
