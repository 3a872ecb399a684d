"""Rules 11, 13, 14 and 16: where sets go, enough of the basics, small lifts, minutes used."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import combinations

from coach_rules.plan import (
    HIP,
    KNEE,
    LEG_CURL,
    PULL,
    PUSH,
    RAISES,
    ROW,
    Check,
    Entry,
    Plan,
    Session,
    Week,
    neighbours,
)

MOST_SMALL_SETS, MOST_GROWTH = 4, 2
LEAST_SETS = {"knee": (KNEE, True, 4), "hip": (HIP, False, 3), "leg curl": (LEG_CURL, False, 3)}
PULL_TO_PUSH, KNEE_TO_HIP = (0.8, 1.9), (0.7, 1.5)
MOST_DIRECT = {"abs": 6, "calves": 8}
LIGHT_FROM, MOST_LIGHT_MAINS, MOST_LIGHT_SHARE = 12, 2, 0.25
TIME_USED, TIME_OF_LOG, ALIKE = (0.60, 0.95), 1.2, 0.6
MINUTES_A_LOGGED_SET = 3.0


def check_small_and_heavy(plan: Plan) -> Iterator[Check]:
    """Rule 11."""
    for session in plan.last.sessions:
        yield from _above_opener(plan, session)
        yield from _heavy_first(plan, session)
    small = [e for e in plan.last.entries if not e.lift.main]
    many = [f"{e.lift.name} {e.count}" for e in small if e.count > MOST_SMALL_SETS]
    yield Check(11, not many, f"more than four sets: {', '.join(many)}", plan.last.number)
    grown = [f"{b.lift.name} {a.count} to {b.count}" for _, a, b in plan.pairs()
             if b.count - a.count > MOST_GROWTH]  # fmt: skip
    yield Check(11, not grown, f"grows by more than two sets: {', '.join(grown)}")


def heavy(entry: Entry) -> bool:
    """A hinge or squat that loads the back, in the low zone."""
    return entry.lift.pattern in ("hinge", "squat") and entry.low and entry.lift.axial >= 2


def _above_opener(plan: Plan, session: Session) -> Iterator[Check]:
    opener = session.entries[0]
    above = [
        e.lift.name for e in session.entries[1:]
        if not e.lift.main and e.count > opener.count
        and not (plan.is_leads(e.lift) and (plan.on_hold(opener.lift) or heavy(opener)))
        and not (e.lift.name in plan.logged_lifts and plan.on_hold(opener.lift))
        and e.lift.name not in plan.pinned
    ]  # fmt: skip
    words = f"{', '.join(above)}: more sets than the opener {opener.lift.name}'s {opener.count}"
    yield Check(11, not above, words, plan.last.number, session.number)


def _heavy_first(plan: Plan, session: Session) -> Iterator[Check]:
    found = [e for e in session.entries if heavy(e)]
    if not found:
        return
    opener = session.entries[0]
    leads = plan.is_leads(opener.lift) and opener.lift.main
    fine = heavy(opener) or leads or opener.lift.name in plan.pinned
    words = f"{opener.lift.name} opens before the heavy {found[0].lift.name}"
    yield Check(11, fine, words, plan.last.number, session.number)
    rows = [e for e in session.of(ROW) if e.order < found[0].order]
    free = [e.lift.name for e in rows if e.lift.name not in plan.pinned]
    words = f"{', '.join(free)} before the heavy {found[0].lift.name}"
    yield Check(11, not free, words, plan.last.number, session.number)


# ------------------------------------------------------------------------------------ rule 13


def check_basics(plan: Plan) -> Iterator[Check]:
    last = plan.last
    for name, (patterns, main, least) in LEAST_SETS.items():
        if name == "leg curl" and plan.lifter.get("experience") == "novice":
            continue
        if not plan.may_grow(name, patterns, main=main):
            continue
        sets = sum(e.count for e in last.entries
                   if e.lift.pattern in patterns and (e.lift.main or not main))  # fmt: skip
        yield Check(13, sets >= least, f"{sets} sets of {name}, {least} at least", last.number)
    for name, patterns in (("press", PUSH), ("pull", PULL)):
        if len(plan.slots) >= 2 and plan.may_grow(name, patterns):
            days = {s.day for s in last.sessions if s.of(patterns)}
            yield Check(13, len(days) >= 2, f"{name} on {len(days)} days", last.number)
    yield from _two_days(plan)
    yield from _balance(plan, "pull to push", PULL, PUSH, PULL_TO_PUSH,
                        ("chest", "front_delts", "triceps", "lats", "upper_back"))  # fmt: skip
    yield from _balance(plan, "knee to hip", KNEE, HIP, KNEE_TO_HIP,
                        ("quads", "glutes", "hamstrings", "adductors"))  # fmt: skip


def _two_days(plan: Plan) -> Iterator[Check]:
    if len(plan.slots) != 2 or min(slot["minutes"] for slot in plan.slots) < 45:
        return
    for session in plan.last.sessions:
        for name, patterns in (("knee", KNEE), ("hip", HIP), ("press", PUSH), ("pull", PULL)):
            if plan.may_grow(name, patterns):
                held = bool(session.of(patterns, main=name != "hip"))
                yield Check(13, held, f"no {name} on one of two days", plan.last.number,
                            session.number)  # fmt: skip


def _balance(
    plan: Plan,
    name: str,
    over: Iterable[str],
    under: Iterable[str],
    bounds: tuple[float, float],
    muscles: Iterable[str],
) -> Iterator[Check]:
    told = any(plan.emphasis(muscle) != "normal" for muscle in muscles)
    if told or not plan.can(over) or not plan.can(under):
        return
    top, bottom = _main_sets(plan.last, over), _main_sets(plan.last, under)
    low, high = bounds
    kept = bottom > 0 and low <= top / bottom <= high
    yield Check(13, kept, f"{name} {top} to {bottom} sets", plan.last.number)


def _main_sets(week: Week, patterns: Iterable[str]) -> int:
    wanted = tuple(patterns)
    return sum(e.count for e in week.entries if e.lift.main and e.lift.pattern in wanted)


# ------------------------------------------------------------------------------------ rule 14


def check_small(plan: Plan) -> Iterator[Check]:
    last = plan.last
    for muscle, most in MOST_DIRECT.items():
        sets = last.muscle_sets[muscle]["direct"]
        if plan.emphasis(muscle) != "lead":
            yield Check(14, sets <= most, f"{sets} direct sets of {muscle}", last.number)
    yield from _days_apart(plan)
    mains = [e for e in last.entries if e.lift.main and e.lift.name not in plan.pinned]
    light = {e.lift.name for e in mains if e.reps[0] >= LIGHT_FROM and not _logged_light(plan, e)}
    words = f"main lifts from 12 repetitions up: {', '.join(sorted(light))}"
    yield Check(14, len(light) <= MOST_LIGHT_MAINS or not _loaded(plan), words, last.number)
    many = sum(e.count for e in last.entries if _is_light(plan, e))
    words = f"{many} of {last.set_count} sets in 12-20 and above"
    yield Check(14, many <= MOST_LIGHT_SHARE * last.set_count or not _loaded(plan), words,
                last.number)  # fmt: skip


def _logged_light(plan: Plan, entry: Entry) -> bool:
    """Rule 15 beats rule 14: the log has the lift at twelve repetitions or more."""
    name = entry.lift.name
    return name in plan.logged_lifts and plan.usual_reps(name) >= LIGHT_FROM


def _loaded(plan: Plan) -> bool:
    """Whether the kit loads anything in steps: with bands and the floor alone, reps are high."""
    return any(lift.main and lift.loadable for lift in plan.available)


def _is_light(plan: Plan, entry: Entry) -> bool:
    low, high = entry.reps
    if low < LIGHT_FROM or high < 20:
        return False
    return not (entry.lift.pattern in RAISES and plan.is_leads(entry.lift))


def _days_apart(plan: Plan) -> Iterator[Check]:
    sessions = plan.last.sessions
    if len({s.day for s in sessions}) > 5:
        return
    at: dict[str, list[Session]] = defaultdict(list)
    for session in sessions:
        for pattern in {e.lift.pattern for e in session.entries
                        if not e.lift.main and e.lift.name not in plan.pinned}:  # fmt: skip
            at[pattern].append(session)
    for pattern, found in at.items():
        if len(found) in (2, 3) and not _kept_by_log(plan, pattern, found):
            close = any(neighbours(a, b) for a, b in combinations(found, 2))
            yield Check(14, not close, f"{pattern} on neighbouring days", plan.last.number)


def _kept_by_log(plan: Plan, pattern: str, found: list[Session]) -> bool:
    """Rule 15 beats rule 14: the log has the pattern on these days."""
    names = {lift.name for lift in plan.catalogue.values() if lift.pattern == pattern}
    days = {row.day.weekday() for row in plan.recent if row.lift in names}
    return {s.day.weekday() for s in found} <= days


# ------------------------------------------------------------------------------------ rule 16


def check_minutes(plan: Plan) -> Iterator[Check]:
    sessions = plan.last.sessions
    if len(sessions) < 4:
        return
    used, there = sum(s.planned for s in sessions), sum(s.available for s in sessions)
    least = TIME_USED[0] * there
    logged = logged_minutes(plan)
    if logged:
        least = min(least, TIME_OF_LOG * logged)
    words = f"{used:.0f} of {there:.0f} min used"
    yield Check(16, least - 0.5 <= used <= TIME_USED[1] * there + 0.5, words, plan.last.number)
    shares = [s.planned / s.available for s in sessions]
    words = f"fullest {max(shares):.0%}, emptiest {min(shares):.0%} of its slot"
    yield Check(16, min(shares) >= ALIKE * max(shares), words, plan.last.number)


def logged_minutes(plan: Plan) -> float:
    """Minutes a week: as checked in, or three a set (judgement)."""
    if not plan.recent:
        return 0.0
    first, last = min(r.day for r in plan.recent), max(r.day for r in plan.recent)
    said = sum(minutes for day, minutes in plan.minutes_logged if first <= day <= last)
    return (said or MINUTES_A_LOGGED_SET * len(plan.recent)) / plan.log_weeks
