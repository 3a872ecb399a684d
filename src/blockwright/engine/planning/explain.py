"""Why the block is as it is: the reasons a coach would ask for, strongest first, no flood."""

from collections.abc import Sequence

from blockwright.engine.planning.board import board_of
from blockwright.engine.planning.clash import why_unusable
from blockwright.engine.planning.explain_places import Composed, place_reasons, said
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.screening import begins_gently, has_pressure, inactive_reason, is_new
from blockwright.engine.sources import COMMON_PRACTICE, JUDGEMENT
from blockwright.engine.training import MUSCLES

_MOST_NAMED = 8
"""Muscles named one by one."""


def block_reasons(made: Composed) -> tuple[Reason, ...]:
    """Every reason of the block."""
    return (
        *_start_reasons(made),
        *_pin_reasons(made),
        *_muscle_reasons(made),
        *place_reasons(made),
        *_slot_reasons(made),
        *_house_reasons(made),
        *_method_reasons(made),
        *_like_reasons(made),
        *_load_reasons(made),
        *_path_reasons(made),
    )


def _start_reasons(made: Composed) -> list[Reason]:
    if not made.gentle:
        return []
    code = "gentle_novice" if made.lifter.experience == "novice" else "gentle_return"
    return [
        Reason(
            code="gentle_inactive" if begins_gently(made.lifter) else code,
            facts={
                "sets_per_lift": made.request.numbers.first_week_sets,
                "sets_per_muscle": made.request.numbers.first_week_q / 4,
                "rir": made.builds[0].rir,
                "days": made.policy.whole("first_week.days_without_log"),
            },
            policy=("first_week.sets_per_lift", "first_week.sets_per_muscle", "first_week.rir"),
            source="RACGP AFP Dec 2016; Honda 2017",
        )
    ]


def _pin_reasons(made: Composed) -> list[Reason]:
    reasons = []
    for pin in made.lifter.pins:
        lift = made.catalogue.find(pin.lift)
        if lift is None:
            continue
        days = _days_of(made, lift.name)
        reasons.append(Reason(code="pinned", facts={"lift": lift.name, "days": days}))
    return reasons


def _days_of(made: Composed, lift: str) -> str:
    days = [
        made.request.slots[item.slot].day
        for item in made.week.plan
        if made.request.options[item.option].lift.name == lift
    ]
    return _listed(list(dict.fromkeys(days)))


def _listed(words: Sequence[str]) -> str:
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def _muscle_reasons(made: Composed) -> list[Reason]:
    first, last = made.builds[0].muscle_sets, made.builds[-1].muscle_sets
    reasons = []
    for index, muscle in enumerate(MUSCLES):
        emphasis = made.lifter.emphasis_of(muscle)
        facts: dict[str, FactValue] = {
            "muscle": said(muscle),
            "first_week_sets": first[muscle].fractional,
            "last_week_sets": last[muscle].fractional,
            "ceiling_sets": last[muscle].ceiling,
            "days": _direct_days(made, index),
        }
        if emphasis == "lead":
            known = made.request.leads
            reasons.append(
                Reason(
                    code="lead_muscle" if index in known else "lead_muscle_once",
                    facts=facts,
                    policy=("ramp.start.lead", "planning.weight.lead"),
                    source=JUDGEMENT,
                )
            )
        elif emphasis == "hold":
            reasons.append(Reason(code="hold_muscle", facts=facts, policy=("ramp.start.hold",)))
        elif emphasis == "skip":
            reasons.append(Reason(code="skip_muscle", facts=facts))
    return [*reasons, *_floor_reasons(made), *_short_reasons(made)]


def _direct_days(made: Composed, muscle: int) -> str:
    days = [
        made.request.slots[item.slot].day
        for item in made.week.plan
        if made.request.direct[item.option, muscle]
    ]
    return _listed(list(dict.fromkeys(days))) or "no day"


def _floor_reasons(made: Composed) -> list[Reason]:
    """One reason for every muscle below the floor in any build week."""
    reasons = []
    for index, muscle in enumerate(MUSCLES):
        if made.lifter.emphasis_of(muscle) == "skip":
            continue
        counts = [week.muscle_sets[muscle] for week in made.builds]
        least = min(count.fractional for count in counts)
        if least >= counts[0].floor:
            continue
        reasons.append(
            Reason(
                code=_floor_code(made, index, counts[-1].fractional),
                facts={
                    "muscle": said(muscle),
                    "sets": least,
                    "last_week_sets": counts[-1].fractional,
                    "floor_sets": counts[0].floor,
                },
                policy=("volume.floor_sets",),
                source="Iversen et al. 2021, about 4 weekly sets",
            )
        )
    return reasons


def _floor_code(made: Composed, muscle: int, last_sets: float) -> str:
    request = made.request
    if not request.share_q[:, muscle].any():
        return "below_floor_no_lift"
    if last_sets * 4 >= request.floor_q[muscle]:
        return "below_floor_early"
    return "below_floor_no_time" if _time_is_short(made) else "below_floor_rules"


def _time_is_short(made: Composed) -> bool:
    """Whether the slots are so full that a further lift fits hardly anywhere."""
    board = board_of(made.request, made.week.plan, made.week.budget_s)
    left = board.budget_s - board.seconds
    return bool((left < 0.15 * board.budget_s).mean() >= 0.5)


def _short_reasons(made: Composed) -> list[Reason]:
    """Lead and normal muscles that stop short of what the last week reaches for."""
    last = made.builds[-1].muscle_sets
    short = []
    for index, muscle in enumerate(MUSCLES):
        emphasis = made.lifter.emphasis_of(muscle)
        target = int(made.request.target_q[index]) / 4
        reachable = bool(made.request.share_q[:, index].any())
        if not reachable or emphasis not in ("lead", "normal"):
            continue
        if last[muscle].fractional < 0.85 * target:
            short.append(said(muscle))
    if not short:
        return []
    named = _listed(short) if len(short) <= _MOST_NAMED else "most muscles"
    code = "short_of_target_time" if _time_is_short(made) else "short_of_target_rules"
    return [Reason(code=code, facts={"muscles": named, "count": len(short)})]


def _slot_reasons(made: Composed) -> list[Reason]:
    used = {item.slot for item in made.week.plan}
    return [
        Reason(
            code="slot_unused",
            facts={"day": slot.day, "start": slot.start_time, "minutes": slot.minutes},
            policy=("planning.sessions_wanted",),
        )
        for index, slot in enumerate(made.request.slots)
        if index not in used
    ]


def _house_reasons(made: Composed) -> list[Reason]:
    """House rules that could not be asked for, or had to give way."""
    reasons = []
    if made.request.low_share is None:
        novice = is_new(made.lifter)
        reasons.append(
            Reason(
                code="no_low_novice" if novice else "no_low_kit",
                policy=("planning.low_share_least", "planning.novice_low"),
                source="RACGP AFP Dec 2016" if novice else None,
            )
        )
    gave_way = made.week.broken - made.week.unused
    if gave_way > 0:
        reasons.append(Reason(code="house_rule_gave_way", facts={"by": gave_way}))
    return reasons


def _method_reasons(made: Composed) -> list[Reason]:
    reasons = []
    if made.week.pairs:
        request = made.request
        days = [request.slots[p.first.slot].day for p in made.week.pairs]
        saved = sum(p.total_saved_s for p in made.week.pairs)
        reasons.append(
            Reason(
                code="pairs",
                facts={
                    "pairs": len(made.week.pairs),
                    "days": _listed(list(dict.fromkeys(days))),
                    "minutes": round(saved / 60),
                },
                policy=("time.pair_change", "time.pair_rest_least", "time.pair_from_share"),
                source="Iversen et al. 2021",
            )
        )
    for method in ("rest-pause", "drop"):
        weeks = [
            week.week
            for week in made.builds
            if any(e.method == method for s in week.sessions for e in s.entries)
        ]
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
    placed = {made.request.options[i.option].lift.name for i in made.week.plan}
    reasons = []
    for name in made.lifter.likes:
        lift = made.catalogue.find(name)
        if lift is not None and lift.name in placed:
            days = _days_of(made, lift.name)
            reasons.append(Reason(code="liked", facts={"lift": lift.name, "days": days}))
            continue
        against = why_unusable(name, made.lifter, made.catalogue)
        code = "like_left_out" if not against else "like_not_usable"
        if against == ("unknown",):
            code = "like_unknown"
        reasons.append(Reason(code=code, facts={"lift": name, "why": _listed(against)}))
    return reasons


def _load_reasons(made: Composed) -> list[Reason]:
    entries = [e for s in made.builds[0].sessions for e in s.entries]
    without = sorted({e.lift for e in entries if e.sets[0].load_kg is None})
    total = len({e.lift for e in entries})
    reasons = []
    if without:
        code = "loads_none" if len(without) == total else "loads_some"
        counted: dict[str, FactValue] = {
            "count": len(without),
            "total": total,
            "lifts": _listed(without),
        }
        reasons.append(Reason(code=code, facts=counted))
    # a lift stands in two sessions at times; each of its big steps is told, once a week
    seen: set[tuple[object, ...]] = set()
    for reason in made.load_reasons:
        key = (reason.code, *(reason.facts.get(name) for name in ("lift", "week", "before_kg")))
        if key not in seen:
            seen.add(key)
            reasons.append(reason)
    return reasons


def _kept_reasons(made: Composed) -> list[Reason]:
    """Where a caution keeps more in reserve than the effort path asks."""
    reasons = []
    if has_pressure(made.lifter.screening, made.policy):
        key = "ramp.least_rir_high_blood_pressure"
        facts: dict[str, FactValue] = {"rir": made.policy.number(key)}
        reasons.append(Reason(code="rir_kept_for_pressure", facts=facts, policy=(key,)))
    if begins_gently(made.lifter):
        reasons.append(inactive_reason(made.policy))
    last = made.builds[-1]
    kept = sorted({e.lift for s in last.sessions for e in s.entries if e.sets[0].rir > last.rir})
    if kept:
        named: dict[str, FactValue] = {"lifts": _listed(kept), "count": len(kept)}
        reasons.append(Reason(code="rir_kept", facts=named))
    return reasons


def _path_reasons(made: Composed) -> list[Reason]:
    path = [f"{week.rir:g}" for week in made.builds]
    deload = made.weeks[-1]
    reasons = [
        Reason(
            code="effort_path",
            facts={"path": ", ".join(path)},
            policy=("ramp.first_rir", "ramp.last_rir"),
            source=COMMON_PRACTICE,
        ),
        Reason(
            code="deload_merged",
            facts={
                "sessions_before": len(made.builds[-1].sessions),
                "sessions": len(deload.sessions),
            },
            policy=("deload.share", "deload.direct_sets"),
            source=COMMON_PRACTICE,
        ),
    ]
    reasons += _kept_reasons(made)
    if made.deload_left_out:
        reasons.append(
            Reason(
                code="deload_left_out",
                facts={
                    "lifts": _listed(made.deload_left_out),
                    "count": len(made.deload_left_out),
                },
            )
        )
    return reasons
