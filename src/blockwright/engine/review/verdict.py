"""How the week went, one sentence in the trade's words."""

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.recovery import RecoveryLaw
from blockwright.engine.review.week_state import overreached

MOST_NAMED = 3
"""More names than these make no sentence; they are counted instead."""


def verdict_of(case: WeekCase) -> Reason:
    """The sentence of the week just done."""
    done, planned = sessions_of(case)
    facts: dict[str, FactValue] = {
        "week": case.window.week.week,
        "done": done,
        "planned": planned,
        "but": _but(case),
    }
    if not done:
        return Reason(code="verdict_empty", facts=facts)
    if case.awaits_clearance is not None:
        return Reason(code="verdict_refer", facts=facts)
    named = _state(case)
    if named is not None:
        return Reason(code=named[0], facts=facts | named[1])
    judged = [found for found in case.evidence.lifts.values() if found.matched is not None]
    down = [found.lift for found in judged if found.matched is not None and found.matched < 0.5]
    if not judged:
        return Reason(code="verdict_first", facts=facts)
    if not down:
        return Reason(code="verdict_held", facts=facts)
    if len(down) <= MOST_NAMED:
        return Reason(code="verdict_held_but", facts=facts | {"down": _listed(down)})
    counts: dict[str, FactValue] = {"down": len(down), "lifts": len(judged)}
    return Reason(code="verdict_down", facts=facts | counts)


def _state(case: WeekCase) -> tuple[str, dict[str, FactValue]] | None:
    """A week or a day that explains itself: code and facts, or None."""
    state = case.state
    if state is None:
        return None
    line = case.policy.number("review.read.act_from")
    tired = sorted(m.replace("_", " ") for m in overreached(state, case.policy))
    if state.everything >= line or state.expected >= case.policy.number("review.read.light_from"):
        return "verdict_too_much", {}
    if state.bad_week >= line:
        return "verdict_bad_week", {}
    if tired:
        return "verdict_muscles", {"muscles": _listed(tired[:MOST_NAMED])}
    days = [day for day, p in state.bad_days.items() if p >= line]
    if days:
        return "verdict_bad_day", {"days": ", ".join(day.isoformat() for day in days)}
    return None


def sessions_of(case: WeekCase) -> tuple[int, int]:
    """Sessions done and planned in the week, up to `through`; two sessions of one day are two, a
    day with nothing of the plan is one."""
    window = case.window
    planned = [s for s in window.week.sessions if s.entries and s.day <= window.end]
    here = [e for e in case.evidence.exposures if window.holds(e.day)]
    by_plan = {(e.day, e.session) for e in here if e.session is not None}
    others = {e.day for e in here} - {day for day, _ in by_plan}
    return len(by_plan) + len(others), len(planned)


def _but(case: WeekCase) -> str:
    """What a coach hears in the same breath: pain first, then muscles slow to recover."""
    if case.pain or case.pain_elsewhere:
        about = dict.fromkeys(
            state.about for state in (*case.pain.values(), *case.pain_elsewhere.values())
        )
        return f"; {_listed(list(about)[:MOST_NAMED])} {'hurts' if len(about) == 1 else 'hurt'}"
    law = RecoveryLaw.of(case.policy)
    sore = [
        muscle.replace("_", " ")
        for muscle, found in case.evidence.muscles.items()
        if found.sore is not None and found.sore >= law.not_from
    ]
    if not sore:
        return ""
    named = sore[:MOST_NAMED] if len(sore) <= MOST_NAMED else [f"{len(sore)} muscles"]
    return f"; {_listed(named)} slow to recover"


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + f" and {names[-1]}"
