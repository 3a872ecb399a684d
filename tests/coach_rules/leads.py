"""Rules 7, 12 and 17: leads, holds, main lifts that climb, machines and stand-ins."""

from collections.abc import Iterator

from coach_rules.plan import HIP, KNEE, PRESS, Check, Entry, Plan, Session

TWO_LIFTS_FROM = 4
LEAST_MAIN_SETS, NO_CLIMB_FROM = 3, 4
MAIN_GROWTH_SHARE = 0.4
FIRST_CHOICE = 3


def check_leads(plan: Plan) -> Iterator[Check]:
    for muscle in plan.leads():
        yield from _two_lifts(plan, muscle)
        yield from _machine(plan, muscle)
    for session in plan.last.sessions:
        flies = session.of(("fly",), main=False)
        presses = [e for e in session.of(PRESS) if "chest" in e.lift.direct]
        if flies and presses and not plan.allows("pre_exhaust"):
            first = presses[0].order < flies[0].order
            yield Check(7, first, f"{flies[0].lift.name} before {presses[0].lift.name}",
                        plan.last.number, session.number)  # fmt: skip
    if any(e.lift.pattern == "fly" for e in plan.last.entries) and plan.can(PRESS):
        pressed = any(e.lift.pattern in PRESS for e in plan.last.entries)
        yield Check(7, pressed, "the chest is flown and never pressed", plan.last.number)
    for muscle in plan.last.muscle_sets:
        if plan.emphasis(muscle) == "hold":
            sets = [week.muscle_sets[muscle]["direct"] for week in plan.builds]
            yield Check(7, max(sets) - min(sets) <= 1, f"{muscle} on hold moves: {sets}")


def _two_lifts(plan: Plan, muscle: str) -> Iterator[Check]:
    mine = {e.lift.name: e.lift for e in plan.last.entries if muscle in e.lift.direct}
    angles = {lift.angle for lift in plan.available if muscle in lift.direct}
    if plan.last.muscle_sets[muscle]["direct"] < TWO_LIFTS_FROM or len(angles) < 2:
        return
    kept = len({lift.angle for lift in mine.values()}) >= 2
    words = f"{muscle} leads with {', '.join(mine) or 'nothing'}"
    yield Check(7, kept, f"{words}: not two lifts of different angles", plan.last.number)


def check_mains(plan: Plan) -> Iterator[Check]:
    pairs = [(start, end) for _, start, end in plan.pairs()]
    mains = [(start, end) for start, end in pairs if end.lift.main]
    held = [(start, end) for start, end in mains
            if not plan.on_hold(end.lift) and end.lift.name not in plan.pinned]  # fmt: skip
    few = [f"{end.lift.name} {end.count}" for _, end in held if end.count < LEAST_MAIN_SETS]
    words = f"main lifts that end under three sets: {', '.join(few)}"
    yield Check(12, not few, words, plan.last.number)
    flat = [f"{end.lift.name} {end.count}" for start, end in held
            if plan.is_leads(end.lift) and end.count <= start.count < NO_CLIMB_FROM]  # fmt: skip
    words = f"a lead's main lifts that do not climb: {', '.join(flat)}"
    yield Check(12, not flat, words, plan.last.number)
    growth, main_growth = _growth(pairs), _growth(mains)
    if growth:
        words = f"{main_growth} of {growth} added sets go to main lifts"
        yield Check(12, main_growth >= MAIN_GROWTH_SHARE * growth, words)
    yield from _openers(plan)
    for session in plan.last.sessions:
        yield from _before_leads(plan, session)


def _growth(pairs: list[tuple[Entry, Entry]]) -> int:
    return sum(max(end.count - start.count, 0) for start, end in pairs)


def _openers(plan: Plan) -> Iterator[Check]:
    holding = [s for s in plan.last.sessions
               if any(e.lift.main and plan.is_leads(e.lift) for e in s.entries)]  # fmt: skip
    if holding:
        opened = sum(plan.is_leads(s.entries[0].lift) and s.entries[0].lift.main for s in holding)
        words = f"a lead's main lift opens {opened} of {len(holding)} sessions that hold one"
        yield Check(12, opened >= len(holding) / 2, words, plan.last.number)


def _before_leads(plan: Plan, session: Session) -> Iterator[Check]:
    for late, early in ((("squat",), ("hinge",)), (("horizontal press",), ("overhead press",))):
        mine = [e for e in session.of(late) if plan.is_leads(e.lift)]
        others = [e for e in session.of(early) if not plan.is_leads(e.lift)]
        if mine and others:
            kept = mine[0].order < others[0].order or others[0].lift.name in plan.pinned
            yield Check(12, kept, f"{others[0].lift.name} before the lead's {mine[0].lift.name}",
                        plan.last.number, session.number)  # fmt: skip


# ------------------------------------------------------------------------------------ rule 17


def _machine(plan: Plan, muscle: str) -> Iterator[Check]:
    best = {lift.name for lift in plan.available
            if muscle in lift.direct and lift.stability != "free"
            and lift.plainness == FIRST_CHOICE and not plan.hurts(lift)}  # fmt: skip
    if best and not plan.logged_lifts:
        used = best & {entry.lift.name for entry in plan.last.entries}
        words = f"{muscle} leads without any of {', '.join(sorted(best))}"
        yield Check(17, bool(used), words, plan.last.number)


def check_stand_ins(plan: Plan) -> Iterator[Check]:
    limits = plan.lifter.get("limits", {})
    used = {entry.lift.name: entry.lift for entry in plan.last.entries}
    if limits.get("avoid_lifts"):
        twins = [lift.name for lift in used.values()
                 if plan.is_avoided_again(lift) and lift.name not in plan.pinned]  # fmt: skip
        words = f"{', '.join(twins)} in place of an avoided lift"
        yield Check(17, not twins, words, plan.last.number)
    for place in plan.painful & {"shoulder", "knee", "lower_back", "elbow", "wrist", "hip"}:
        new = [lift for lift in used.values() if lift.name not in plan.logged_lifts]
        loading = [lift.name for lift in new if lift.regions.get(place) == 2]
        words = f"the {place} hurts, and new lifts load it much: {', '.join(loading)}"
        yield Check(17, not loading, words, plan.last.number)
    if "hinge" in limits.get("avoid_patterns", []):
        loading = [lift.name for lift in used.values()
                   if lift.pattern in (*KNEE, *HIP) and lift.axial >= 2]  # fmt: skip
        words = f"hinges are avoided, and {', '.join(loading)} load the back as much"
        yield Check(17, not loading, words, plan.last.number)
    for session in plan.first.sessions:
        yield from _too_light(plan, session)


def _too_light(plan: Plan, session: Session) -> Iterator[Check]:
    """A session that opens with the heaviest dumbbell or bell there is, in week one already."""
    opener: Entry = session.entries[0]
    for word, table in (("dumbbells", "dumbbells"), ("kettlebells", "kettlebells")):
        top = _heaviest(plan, table)
        if word in opener.lift.kit and top and opener.load_kg and opener.lift.main:
            words = f"{opener.lift.name} opens at {opener.load_kg:g} kg, the heaviest there is"
            yield Check(17, opener.load_kg < top - 0.01, words, 1, session.number)


def _heaviest(plan: Plan, table: str) -> float | None:
    sizes = plan.lifter["gym"].get(table)
    if isinstance(sizes, dict) and "to" in sizes:
        pound = plan.lifter["units"] == "lb" or sizes.get("unit") == "lb"
        return float(sizes["to"]) * (0.45359237 if pound else 1)
    return None
