"""What happened in the week, behind the face: the lifter, lift by lift, muscle by muscle."""

from blockwright.engine.published.safety import SESSION_LOAD
from blockwright.engine.reasons import FactValue, Reason, because
from .case import WeekCase
from .evidence import LiftEvidence, RepsAtLoad
from .proposals import load_facts, percent
from .sets import muscle_facts
from .wellness import SessionLoad, session_load


def week_notes(case: WeekCase) -> tuple[Reason, ...]:
    """The lifter, then lift by lift and muscle by muscle; of the sessions the verdict speaks."""
    return (*_lifter(case), *_lifts(case), *_muscles(case))


def _lifter(case: WeekCase) -> list[Reason]:
    found = case.evidence.lifter
    notes = []
    if (load := session_load(case.facts.checkins, case.window.start)) is not None:
        notes.append(_load_note(case, load))
    if found.bodyweight is not None:
        facts: dict[str, FactValue] = {
            "pct_per_week": round(found.bodyweight.pct_per_week, 2),
            "weigh_ins": found.bodyweight.weigh_ins,
        }
        notes.append(Reason(code="bodyweight_trend", facts=facts))
    if found.short_of_energy:
        notes.append(Reason(code="energy_is_short"))
    return notes


def _load_note(case: WeekCase, load: SessionLoad) -> Reason:
    """Shown, never decisive; by both SDs, which stand on either side of the usual flag."""
    flag = case.policy.number("review.monotony_flag")
    high = load.monotony is not None and load.monotony >= flag
    facts: dict[str, FactValue] = {
        "days": load.days_known,
        "total_au": round(load.total),
        "monotony": "none" if load.monotony is None else round(load.monotony, 2),
        "monotony_sample_sd": round(load.monotony_sample_sd or 0.0, 2),
        "strain_au": round(load.strain or 0.0),
        "flag": flag,
    }
    code = "session_load_monotonous" if high else "session_load"
    policy = ("review.monotony_flag",)
    return Reason(code=code, facts=facts, policy=policy, source=str(SESSION_LOAD))


def _lifts(case: WeekCase) -> list[Reason]:
    notes, first, unknown, unplanned = [], [], [], []
    for lift, found in case.evidence.lifts.items():
        if not found.done:
            continue
        if found.reps_at is not None:
            notes.append(_reps_at_load(case, found, found.reps_at))
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
    planned = {e.lift for e in case.window.week.entries}
    lifts = planned | {e.lift for e in case.done}
    direct = {muscle for lift in case.catalogue.known(lifts) for muscle in lift.direct}
    return [
        Reason(code="muscle_week", facts=muscle_facts(found))
        for found in case.evidence.muscles.values()
        if found.muscle in direct or found.sore is not None
    ]


def _reps_at_load(case: WeekCase, found: LiftEvidence, at: RepsAtLoad) -> Reason:
    """ "at 100 kg: 12 -> 13 to failure"."""
    return because(
        "reps_at_load",
        "review.meaningful_fall",
        lift=found.lift,
        **load_facts(at.load_kg, case.lifter, lift=case.catalogue.find(found.lift)),
        reps_before=round(at.before, 1),
        reps_after=round(at.after, 1),
        matched="too little to compare it with"
        if found.matched is None
        else f"performance held with probability {percent(found.matched)}",
    )
