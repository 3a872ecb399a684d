"""What happened in the week, behind the face: the lifter, lift by lift, muscle by muscle."""

from blockwright.engine.published.safety import SESSION_LOAD
from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.evidence import LiftEvidence
from blockwright.engine.review.proposals import load_facts, percent
from blockwright.engine.review.sets import muscle_facts
from blockwright.engine.review.wellness import SessionLoad


def week_notes(case: WeekCase) -> tuple[Reason, ...]:
    """The lifter, then lift by lift and muscle by muscle; of the sessions the verdict speaks."""
    return (*_lifter(case), *_lifts(case), *_muscles(case))


def _lifter(case: WeekCase) -> list[Reason]:
    found = case.evidence.lifter
    notes = []
    if found.load is not None:
        notes.append(_load_note(case, found.load))
    if found.wellness is not None:
        wellness = found.wellness
        facts: dict[str, FactValue] = {
            "hooper_total": wellness.total,
            "usual": round(wellness.usual, 1),
            "check_ins": wellness.in_a_row,
        }
        code = "wellness_low" if wellness.tired else "wellness_usual"
        notes.append(Reason(code=code, facts=facts, policy=("review.wellness.sds",)))
    if found.bodyweight is not None:
        facts = {
            "pct_per_week": round(found.bodyweight.pct_per_week, 2),
            "weigh_ins": found.bodyweight.weigh_ins,
        }
        notes.append(Reason(code="bodyweight_trend", facts=facts))
    if found.short_of_energy:
        notes.append(Reason(code="energy_is_short"))
    if case.evidence.watches.pooled.alarm and case.lower:
        notes.append(
            because(
                "pooled_watch_note", statistic_sd=round(case.evidence.watches.pooled.statistic, 2)
            )
        )
    return notes


def _load_note(case: WeekCase, load: SessionLoad) -> Reason:
    flag = case.policy.number("review.monotony_flag")
    high = load.monotony is not None and load.monotony >= flag
    facts: dict[str, FactValue] = {
        "days": load.days_known,
        "total_au": round(load.total),
        "monotony": "none" if load.monotony is None else round(load.monotony, 2),
        "monotony_sample_sd": None
        if load.monotony_sample_sd is None
        else round(load.monotony_sample_sd, 2),
        "strain_au": None if load.strain is None else round(load.strain),
        "flag": flag,
    }
    return Reason(
        code="session_load_monotonous" if high else "session_load",
        facts=facts,
        policy=("review.monotony_flag",),
        source=str(SESSION_LOAD),
    )


def _lifts(case: WeekCase) -> list[Reason]:
    notes, first, unknown, unplanned = [], [], [], []
    for lift, found in case.evidence.lifts.items():
        if not found.done:
            continue
        if found.reps_at is not None:
            notes.append(reps_reason(case, found))
        elif case.catalogue.find(lift) is None:
            unknown.append(lift)
        else:
            first.append(lift)
        if any(exposure.planned is None for exposure in found.done):
            unplanned.append(lift)
    for code, lifts in (
        ("lifts_first_time", first),
        ("lifts_unknown", unknown),
        ("lifts_not_planned", unplanned),
    ):
        if lifts:
            notes.append(Reason(code=code, facts={"lifts": ", ".join(lifts)}))
    return notes


def _muscles(case: WeekCase) -> list[Reason]:
    """Muscles with lifts of their own this week, and any that somebody called sore."""
    planned = {e.lift for s in case.window.week.sessions for e in s.entries}
    lifts = planned | {e.lift for e in case.evidence.exposures if case.window.holds(e.day)}
    direct = {muscle for lift in case.catalogue.known(lifts) for muscle in lift.direct}
    return [
        Reason(code="muscle_week", facts=muscle_facts(found))
        for found in case.evidence.muscles.values()
        if found.muscle in direct or found.sore is not None
    ]


def reps_reason(case: WeekCase, found: LiftEvidence) -> Reason:
    """ "at 100 kg: 12 -> 13 to failure"; the caller has checked that both are known."""
    at = found.reps_at
    if at is None:
        raise ValueError(f"nothing is known of {found.lift} at a load")
    return because(
        "reps_at_load",
        "review.meaningful_fall",
        lift=found.lift,
        **load_facts(at.load_kg, case.lifter),
        reps_before=round(at.before, 1),
        reps_after=round(at.after, 1),
        matched="too little to compare it with"
        if found.matched is None
        else f"performance held with probability {percent(found.matched)}",
    )
