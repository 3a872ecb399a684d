"""Rules 3, 8 and 10: repetitions that suit the lift, special sets, rests and warm-ups."""

from collections.abc import Iterator

from coach_rules.plan import MOST_MAIN_REPS, RAISES, Check, Document, Entry, Plan, range_of

FROM_EIGHT, RAISES_FROM = 8, 10
HIGH_REPS = 20
MOST_SPECIAL = 4
REST_STEP_S = 15
MOST_WARM_UPS, LAST_STEP_SHARE = 3, 0.9


def check_reps(plan: Plan) -> Iterator[Check]:
    for session in plan.last.sessions:
        free = [e for e in session.entries if e.lift.name not in plan.pinned]
        wrong = [words for entry in free if (words := _wrong_range(plan, entry))]
        yield Check(3, not wrong, "; ".join(wrong), plan.last.number, session.number)
    if plan.allows("high_reps") and len(plan.slots) >= 3:
        reaches = any(e.reps[1] >= HIGH_REPS for e in plan.last.entries)
        yield Check(3, reaches, "no set reaches 15-20 repetitions", plan.last.number)


def _wrong_range(plan: Plan, entry: Entry) -> str:
    """What is wrong with a lift's range, or nothing."""
    lift, (low, high) = entry.lift, entry.reps
    said = f"{lift.name} {low}-{high}"
    liked = _liked(plan, lift.name, lift.pattern)
    if liked:
        inside = liked[0] <= low and high <= liked[1]
        return "" if inside else f"{said}, {liked[0]}-{liked[1]} is liked"
    least, most = min(r[0] for r in lift.reps), max(r[1] for r in lift.reps)
    if low < least or high > most:
        return f"{said}, usable {least}-{most}"
    if lift.main:
        # nothing loads it, and it is done so
        done = lift.name in plan.logged_lifts and plan.reps_to_plan(lift) > MOST_MAIN_REPS
        fine = done or high <= MOST_MAIN_REPS or least >= MOST_MAIN_REPS
        return "" if fine else f"{said}, a main lift"
    if low < (RAISES_FROM if lift.pattern in RAISES else FROM_EIGHT):
        return f"{said}, too few for a {lift.pattern}"
    return ""


def _liked(plan: Plan, name: str, pattern: str) -> tuple[int, int] | None:
    liked = plan.lifter.get("habits", {}).get("reps", {})
    text = liked.get(name) or liked.get(pattern)
    return range_of(text) if text else None


def check_special_sets(plan: Plan) -> Iterator[Check]:
    late_from = len(plan.builds) * 2 / 3
    for week in plan.builds:
        special = [e for e in week.entries if e.method in ("rest-pause", "drop")]
        if not special:
            continue
        names = {e.lift.name for e in special}
        yield Check(8, len(names) <= MOST_SPECIAL, f"{len(names)} lifts end in special sets",
                    week.number)  # fmt: skip
        yield Check(8, week.number > late_from, "special sets before the last third", week.number)
        wrong = [e.lift.name for e in special if e.lift.main or e.lift.stability == "free"]
        yield Check(8, not wrong, f"special sets on {', '.join(wrong)}", week.number)


def check_rests(plan: Plan) -> Iterator[Check]:
    odd = {f"{e.lift.name} {e.rest_s} s" for week in plan.weeks for e in week.entries
           if e.rest_s % REST_STEP_S}  # fmt: skip
    yield Check(10, not odd, f"rests off the 15 s steps: {', '.join(sorted(odd))}")


def check_warm_ups(plan: Plan, sheet: Document) -> Iterator[Check]:
    """One session's sheet: its warm-up ladders."""
    warm: set[str] = set()
    session: int = sheet["session"]
    for entry in sheet["entries"]:
        lift = plan.catalogue[plan.names[entry["lift"].lower()]]
        steps = entry.get("warmup") or []
        words = ""
        work = entry["sets"][0]["load_kg"]
        if steps and not lift.main and warm & set(lift.direct):
            words = f"{lift.name} is warmed up, its muscle is warm"
        elif len(steps) > MOST_WARM_UPS:
            words = f"{lift.name}: {len(steps)} warm-ups"
        elif steps and work and lift.load_kind in ("external", "per_hand"):
            last = steps[-1]["load_kg"]
            if last is not None and last > LAST_STEP_SHARE * work:
                words = f"{lift.name}: {last:g} before {work:g} kg"
        yield Check(10, not words, words, 1, session)
        warm |= {muscle for muscle, share in lift.muscles.items() if share >= 0.5}
