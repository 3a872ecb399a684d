"""Rules 6 and 15: with a log, the block starts from the lifter's own week."""

from collections.abc import Iterator

from coach_rules.climb import TIME_USED, logged_minutes
from coach_rules.plan import Check, Entry, Lift, LogSet, Plan
from coach_rules.shape import PATTERNS

KEPT_MAINS, KNOWN_LIFTS = 0.6, 0.7
START_SHARE = {"hold": 0.6}
USUAL_START_SHARE = 0.7
TOLERANCE_SHARE, TOLERANCE_SETS = 0.15, 1.5
MOST_ABOVE_SETS = 2.0
COUNTED_FROM_SETS = 4
NO_LIFTS_OF_THEIR_OWN = ("adductors", "forearms", "spinal_erectors", "front_delts")
MOST_STARTING, MOST_ENDING = 4, 5
FULL = 0.85
"""Visits with more minutes to spare have time for what was logged."""
LOAD_BELOW, LOAD_ABOVE = 0.65, 1.15


def check_log(plan: Plan) -> Iterator[Check]:
    if not plan.logged_lifts:
        return
    yield from _continuity(plan)
    yield from _weekly_sets(plan)
    yield from _loads(plan)
    yield from _main_sets(plan)
    yield from _new_lifts(plan)


def _logged_mains(plan: Plan) -> list[Lift]:
    """Logged main lifts that the lifter may and can still do, without pain."""
    fits = {lift.name: lift for lift in plan.available if lift.main and not plan.hurts(lift)}
    hurt = {row.lift for row in plan.recent if row.pain >= 3}
    return [fits[name] for name in plan.logged_lifts if name in fits and name not in hurt]


def _continuity(plan: Plan) -> Iterator[Check]:
    planned = {entry.lift.name for entry in plan.last.entries}
    mains = [lift.name for lift in _logged_mains(plan)]
    gone = [name for name in mains if name not in planned]
    if mains:
        share = 1 - len(gone) / len(mains)
        words = f"{len(gone)} of {len(mains)} logged main lifts go: {', '.join(gone)}"
        yield Check(6, share >= KEPT_MAINS, words)
    for name in gone:
        yield Check(6, plan.says(name), f"{name} goes and no reason names it")
    ever = {row.lift for row in plan.log if row.day < plan.start}
    ever |= {plan.known_name(known["lift"]) for known in plan.lifter.get("known", [])}
    known = planned & ever
    words = f"{len(known)} of {len(planned)} lifts are known"
    possible = min(len(planned), sum(lift.name in ever for lift in plan.available))
    enough = len(known) >= KNOWN_LIFTS * len(planned) or len(known) >= possible
    yield Check(6, enough, words)


def _weekly_sets(plan: Plan) -> Iterator[Check]:
    time = _time_share(plan)
    for muscle, done in plan.logged_sets.items():
        emphasis = plan.emphasis(muscle)
        logged = time * done if emphasis == "normal" else done
        if emphasis == "skip" or logged < COUNTED_FROM_SETS:
            continue
        if emphasis == "normal" and muscle in NO_LIFTS_OF_THEIR_OWN:
            continue
        first, last = plan.first.muscle_sets[muscle], plan.last.muscle_sets[muscle]
        wanted = max(first["floor"], START_SHARE.get(emphasis, USUAL_START_SHARE) * logged)
        near = max(TOLERANCE_SETS, TOLERANCE_SHARE * logged)
        said = f"{muscle}: {logged:.1f} logged sets"
        start = first["fractional"]
        yield Check(6, start >= wanted - near, f"{said}, starts at {start:g}", 1)
        if emphasis != "hold":
            over = max(logged, wanted) + max(near, MOST_ABOVE_SETS)
            yield Check(6, start <= over, f"{said}, starts above them at {start:g}", 1)
            least = min(logged, last["ceiling"]) - near
            end = last["fractional"]
            yield Check(6, end >= least, f"{said}, ends at {end:g}", plan.last.number)


def _time_share(plan: Plan) -> float:
    """How much of the log's week the slots have minutes for: six days do not fit into three, and
    what does not fit is no finding, where the visits are full. Leads keep their sets."""
    sessions = plan.last.sessions
    full = FULL * sum(s.available for s in sessions)
    if sum(s.planned for s in sessions) < full:
        return 1.0
    longest = sorted((slot["minutes"] for slot in plan.slots), reverse=True)
    there = TIME_USED[1] * sum(longest[: plan.lifter.get("visits")])
    minutes = logged_minutes(plan)
    return min(1.0, there / minutes) if minutes else 1.0


# -------------------------------------------------------------------------------------- loads


def _loads(plan: Plan) -> Iterator[Check]:
    """Week one's loads of logged lifts against what the logged sets make plausible."""
    wrong = [words for entry in plan.first.entries if (words := _implausible(plan, entry))]
    yield Check(6, not wrong, "; ".join(wrong), 1)


def _implausible(plan: Plan, entry: Entry) -> str:
    lift, days = entry.lift, plan.logged_lifts.get(entry.lift.name)
    if not days or entry.load_kg is None:
        return ""
    bodyweight = plan.lifter["bodyweight"] * (1 if plan.lifter["units"] == "kg" else 0.45359237)
    now = moved_kg(lift, entry.load_kg, bodyweight)
    able = [one_rep_kg(lift, row, bodyweight) for day in days for row in day]
    (low, high), rir = entry.reps, entry.sets[0]["rir"]
    most = LOAD_ABOVE * max(able) / (1 + (low + rir) / 30)
    least = LOAD_BELOW * max(able) / (1 + (high + rir) / 30)
    same = any(row.load_kg == entry.load_kg for day in days for row in day)
    best = max(row.load_kg for day in days for row in day)
    words = f"{lift.name} {entry.load_kg:g} kg x {low}-{high}, logged up to {best:g} kg"
    return "" if same or least <= now <= most else words


def moved_kg(lift: Lift, load_kg: float, bodyweight_kg: float) -> float:
    if lift.load_kind == "bodyweight_plus":
        return lift.share * bodyweight_kg + load_kg
    return lift.share * bodyweight_kg - load_kg if lift.load_kind == "assisted" else load_kg


def one_rep_kg(lift: Lift, row: LogSet, bodyweight_kg: float) -> float:
    """Epley (1985), (1 + reps / 30), with the repetitions left counted as done."""
    left = 2.0 if row.rir is None else row.rir
    return moved_kg(lift, row.load_kg, bodyweight_kg) * (1 + (row.reps + left) / 30)


# ------------------------------------------------------------------------------------ rule 15


def _main_sets(plan: Plan) -> Iterator[Check]:
    for lift in _logged_mains(plan):
        if plan.on_hold(lift) or lift.name in plan.pinned:
            continue
        mine = [(a, b) for _, a, b in plan.pairs() if a.lift.name == lift.name]
        if not mine:
            continue
        logged, reps = plan.usual_sets(lift.name), plan.reps_to_plan(lift)
        start, end = max(a.count for a, _ in mine), max(b.count for _, b in mine)
        inside = any(a.reps[0] - 1 <= reps <= a.reps[1] + 1 for a, _ in mine)
        kept = start >= min(logged, MOST_STARTING) - 1 and end >= min(logged, MOST_ENDING)
        ranges = ", ".join(f"{a.reps[0]}-{a.reps[1]}" for a, _ in mine)
        words = f"{lift.name} logged {logged:g} x {reps:g}, planned {start} to {end} x {ranges}"
        yield Check(15, kept and inside, words)


def _new_lifts(plan: Plan) -> Iterator[Check]:
    """New lifts are for leads, for a hole in the log's week, asked for, or told."""
    liked = {plan.known_name(name) for name in plan.lifter.get("likes", {}).get("lifts", [])}
    logged = [plan.catalogue[n] for n in plan.logged_lifts if n in plan.catalogue]
    patterns = {lift.pattern for lift in logged}
    trained = {muscle for lift in logged for muscle in lift.direct}
    for name in sorted({entry.lift.name for entry in plan.last.entries}):
        lift = plan.catalogue[name]
        if name in plan.logged_lifts or name in liked or name in plan.pinned:
            continue
        group = next((g for g in PATTERNS.values() if lift.pattern in g), (lift.pattern,))
        hole = patterns.isdisjoint(group) or not trained.issuperset(lift.direct)
        fine = hole or plan.is_leads(lift) or plan.says(name)
        yield Check(15, fine, f"{name} is new, for no lead and no reason")
