"""Why the block is as it is: three lines for the coach, then a reason behind each of them."""

from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.screening import begins_gently, has_pressure, inactive_reason
from blockwright.engine.sources import COMMON_PRACTICE, JUDGEMENT
from blockwright.engine.training import DAY_NAMES, MUSCLES
from blockwright.engine.units import spoken
from .candidates import is_careful, rules_against, usable_lifts
from .composed import Composed, kept_out_by_pain, what_binds
from .deload import deload_reason
from .explain_changes import change_reasons
from .explain_lines import missing_reasons, three_lines
from .hard_rules import logged_axial
from .standing import hold_code, lead_code, muscle_facts, without_load
from .visits import why_free


def block_reasons(made: Composed) -> tuple[Reason, ...]:
    """Every reason of the block, the three lines first."""
    return (
        *three_lines(made),
        *_start_reasons(made),
        *_frame_reasons(made),
        *_pin_reasons(made),
        *_muscle_reasons(made),
        *missing_reasons(made),
        *change_reasons(made),
        *_slot_reasons(made),
        *_heavy_reasons(made),
        *_spine_reasons(made),
        *_method_reasons(made),
        *_like_reasons(made),
        *_load_reasons(made),
        *_path_reasons(made),
    )


def _start_reasons(made: Composed) -> list[Reason]:
    if not made.problem.gentle:
        return []
    code = "gentle_novice" if made.lifter.experience == "novice" else "gentle_return"
    return [
        Reason(
            code="gentle_inactive" if begins_gently(made.lifter) else code,
            facts={
                "sets_per_lift": made.limits.first_week_sets,
                "sets_per_muscle": made.limits.first_week_q / 4,
                "rir": made.builds[0].rir,
                "days": made.limits.policy.whole("first_week.days_without_log"),
            },
            policy=("first_week.sets_per_lift", "first_week.sets_per_muscle", "first_week.rir"),
            source="RACGP AFP Dec 2016; Honda 2017",
        )
    ]


def _frame_reasons(made: Composed) -> list[Reason]:
    """What of a coach's frame the block does without."""
    given = made.given
    if given is None or not given.fixed:
        return []
    slots = made.problem.slots
    has = {(slots[s].day, slots[s].start_time, o.basic): o for s, o in made.placed() if o.basic}
    heavy = {(slots[s].day, slots[s].start_time, o.basic) for s, o in made.placed() if o.heavy}
    lost = [f"a visit ({given.lost} without a slot)"] if given.lost else []
    for (day, start), basics in given.roles.items():
        for basic in sorted(basics):
            at = (day, start, basic)
            if at not in has:
                lost.append(f"{basic} on {DAY_NAMES[day]}")
            elif at in given.heavy - heavy:
                lost.append(f"heavy {basic} on {DAY_NAMES[day]}")
    if not lost:
        return [Reason(code="frame_kept")]
    return [Reason(code="frame_lost", facts={"what": and_listed(lost)})]


def _pin_reasons(made: Composed) -> list[Reason]:
    return [
        Reason(code="pinned", facts={"lift": lift.name, "days": made.days_of([lift.name])})
        for lift in made.catalogue.known(pin.lift for pin in made.lifter.pins)
    ]


def _muscle_reasons(made: Composed) -> list[Reason]:
    reasons = []
    for muscle in MUSCLES:
        emphasis = made.lifter.emphasis_of(muscle)
        facts = muscle_facts(muscle, made.builds, made.catalogue)
        if emphasis == "lead":
            code = lead_code(muscle, made.builds[-1], made.catalogue, made.limits.policy)
            policy = ("ramp.start.lead", "compose.start_share")
            reasons.append(Reason(code=code, facts=facts, policy=policy, source=JUDGEMENT))
        elif emphasis == "hold":
            code = hold_code(muscle, made.builds[-1])
            reasons.append(Reason(code=code, facts=facts, policy=("ramp.start.hold",)))
        elif emphasis == "skip":
            reasons.append(Reason(code="skip_muscle", facts=facts))
    return [*reasons, *_floor_reasons(made)]


def _floor_reasons(made: Composed) -> list[Reason]:
    """One reason for every muscle below the floor in any build week."""
    reasons = []
    for muscle in MUSCLES:
        counts = [week.muscle_sets[muscle] for week in made.builds]
        sets = [count.fractional for count in counts]
        least, most = min(sets), max(sets)
        if made.lifter.emphasis_of(muscle) == "skip" or least >= counts[0].floor:
            continue
        code, bounds = _below_floor(made, muscle)
        reasons.append(
            Reason(
                code=f"below_floor_{code}",
                facts={
                    **({"limits": bounds} if bounds else {}),
                    "muscle": spoken(muscle),
                    "sets": least,
                    "last_week_sets": counts[-1].fractional,
                    "at_most": f"no more than {most:g} sets" if most else "no sets at all",
                    "floor_sets": counts[0].floor,
                },
                policy=("volume.floor_sets",),
                source="Iversen et al. 2021, about 4 weekly sets",
            )
        )
    return reasons


def _below_floor(made: Composed, muscle: str) -> tuple[str, str]:
    """Why a muscle is below the floor: the end of the reason's code, and limits to name."""
    last = made.builds[-1].muscle_sets[muscle]
    if last.fractional >= last.floor:
        return "early", ""
    if made.problem.aims[muscle].floor < made.limits.floor_q and muscle in made.problem.holds:
        return "held", ""
    if not any(muscle in option.direct for option in made.problem.options):
        if kept_out_by_pain(made, lambda lift: muscle in lift.direct):
            return "pain", ""
        if not any(muscle in option.quarters for option in made.problem.options):
            usable = usable_lifts(made.lifter, made.catalogue)
            there = any(muscle in lift.muscles for lift in usable)
            return ("choice" if there else "no_lift"), ""
    return what_binds(made, muscle)


def _slot_reasons(made: Composed) -> list[Reason]:
    problem, visits = made.problem, made.filled.frame.visits
    free = [slot for index, slot in enumerate(problem.slots) if index not in visits]
    if not free:
        return []
    fixed = made.given is not None and made.given.fixed
    return [
        Reason(
            code=f"slot_unused_{'framed' if fixed else why_free(problem, visits)}",
            facts={
                "day": slot.day, "start": slot.start_time, "minutes": slot.minutes,
                "visits": len(visits), "logged": len(made.problem.log.days),
                "least": made.limits.count("visit_minutes_least"),
            },
            policy=("compose.visit_minutes_least",),
        )
        for slot in free
    ]  # fmt: skip


def _heavy_reasons(made: Composed) -> list[Reason]:
    if any(option.heavy for _, option in made.placed()):
        return []
    novice = is_careful(made.lifter, made.problem.log, made.limits)
    code = "no_low_time" if any(o.heavy for o in made.problem.options) else "no_low_kit"
    if made.problem.log and not any(x.is_heavy for x in made.problem.log.lifts.values()):
        code = "no_low_logged"
    if has_pressure(made.lifter.screening, made.limits.policy):
        return [Reason(code="no_low_pressure", policy=("planning.pressure_low",))]
    return [
        Reason(
            code="no_low_novice" if novice else code,
            policy=("planning.low_share_least", "planning.novice_low"),
            source="RACGP AFP Dec 2016" if novice else None,
        )
    ]


def _spine_reasons(made: Composed) -> list[Reason]:
    """Where the log bore more on the spine than the limits allow, and the block keeps it."""
    logged, most = logged_axial(made.filled.week), made.limits.axial
    if all(one <= other for one, other in zip(logged, most, strict=True)):
        return []
    return [Reason(code="spine_as_logged", policy=("planning.axial_session",))]


def _method_reasons(made: Composed) -> list[Reason]:
    reasons = []
    pairs = made.filled.pairs
    if pairs:
        days = [made.problem.slots[pair.slot].day for pair in pairs]
        saved = sum(pair.time.saved_in(made.filled.sets[pair.first][1]) for pair in pairs)
        reasons.append(
            Reason(
                code="pairs",
                facts={
                    "pairs": len(pairs),
                    "days": and_listed(list(dict.fromkeys(days))),
                    "minutes": round(saved / 60),
                },
                policy=("time.pair_change", "time.pair_rest_least", "time.pair_from_share"),
                source="Iversen et al. 2021",
            )
        )
    for method in ("rest-pause", "drop"):
        weeks = [week.week for week in made.builds if any(e.method == method for e in week.entries)]
        if weeks:
            reasons.append(
                Reason(
                    code="method_drop" if method == "drop" else "method_rest_pause",
                    facts={"from_week": weeks[0]},
                    policy=("method.from_share", "method.parts", "volume.further_part"),
                    source="Sodal et al. 2023" if method == "drop" else "Prestes et al. 2019",
                )
            )
    if made.lifter.allow.to_failure:
        reasons.append(Reason(code="to_failure", facts={"week": made.builds[-1].week}))
    return reasons


def _like_reasons(made: Composed) -> list[Reason]:
    placed = {option.lift.name for _, option in made.placed()}
    reasons = []
    for name in made.lifter.likes:
        lift = made.catalogue.find(name)
        if lift is not None and lift.name in placed:
            facts: dict[str, FactValue] = {"lift": lift.name, "days": made.days_of([lift.name])}
            reasons.append(Reason(code="liked", facts=facts))
            continue
        if lift is not None and lift.name in made.problem.log.lifts:
            continue  # what goes of the log is told with what it goes for
        against = () if lift is None else rules_against(lift, made.lifter, made.catalogue)
        code = "like_unknown" if lift is None else "like_not_usable" if against else "like_left_out"
        reasons.append(Reason(code=code, facts={"lift": name, "why": and_listed(against)}))
    return reasons


def _load_reasons(made: Composed) -> list[Reason]:
    # a lift stands in two sessions at times; each of its big steps is told, once a week
    told: dict[tuple[object, ...], Reason] = {}
    for reason in made.load_reasons:
        key = (reason.code, *(reason.facts.get(name) for name in ("lift", "week", "before_kg")))
        told.setdefault(key, reason)
    return [*without_load(made.builds[0]), *told.values()]


def _kept_reasons(made: Composed) -> list[Reason]:
    """Where a caution keeps more in reserve than the effort path asks."""
    reasons = []
    if has_pressure(made.lifter.screening, made.limits.policy):
        key = "ramp.least_rir_high_blood_pressure"
        facts: dict[str, FactValue] = {"rir": made.limits.policy.number(key)}
        reasons.append(Reason(code="rir_kept_for_pressure", facts=facts, policy=(key,)))
    if begins_gently(made.lifter):
        reasons.append(inactive_reason(made.limits.policy))
    last = made.builds[-1]
    reserves = {e.lift: e.sets[0].rir for e in last.entries if e.sets[0].rir > last.rir}
    kept = sorted(reserves)
    by_caution = [x.name for x in made.catalogue.known(kept) if x.rir_least >= reserves[x.name]]
    hurt = [name for name in kept if name not in by_caution]
    for code, lifts in (("rir_kept", by_caution), ("held_as_it_hurts", hurt)):
        if lifts:
            named: dict[str, FactValue] = {"lifts": and_listed(lifts), "count": len(lifts)}
            reasons.append(Reason(code=code, facts=named))
    return reasons


def _path_reasons(made: Composed) -> list[Reason]:
    path = [f"{week.rir:g}" for week in made.builds]
    last = made.builds[-1].sessions
    reasons = [
        Reason(
            code="effort_path",
            facts={"path": ", ".join(path)},
            policy=("ramp.first_rir", "ramp.last_rir"),
            source=COMMON_PRACTICE,
        ),
        deload_reason(last, made.weeks[-1].sessions, made.lifter.deload_style, made.limits.policy),
    ]
    reasons += _kept_reasons(made)
    if made.deload_left_out:
        facts: dict[str, FactValue] = {
            "lifts": and_listed(made.deload_left_out),
            "count": len(made.deload_left_out),
        }
        reasons.append(Reason(code="deload_left_out", facts=facts))
    return reasons
