"""What each muscle's ceiling is believed to be, replayed from recovered and other weeks."""

from collections.abc import Mapping
from datetime import date, timedelta

from blockwright.engine.policy import Policy
from blockwright.engine.review.recovery import History, RecoveryLaw
from blockwright.engine.training import MUSCLES, Lifter
from blockwright.engine.volume import CeilingBelief, WeekRecovery, ceiling_after, ceiling_prior


def ceilings_after(
    history: History, lifter: Lifter, policy: Policy, *, through: date
) -> Mapping[str, CeilingBelief]:
    """Every muscle's belief on `through`: one soft observation for each week with evidence.

    A week without anything to compare and without an answer about soreness teaches nothing.
    """
    rule = RecoveryLaw.of(policy)
    priors = {
        muscle: ceiling_prior(muscle, lifter.experience, lifter.energy, policy)
        for muscle in MUSCLES
    }
    return {
        muscle: ceiling_after(
            priors[muscle], _observed(muscle, history, rule), policy, through=through
        )
        for muscle in MUSCLES
    }


def _observed(muscle: str, history: History, rule: RecoveryLaw) -> list[WeekRecovery]:
    found = []
    for start, muscles in history.weeks.items():
        week = muscles.get(muscle)
        if week is None or week.sets <= 0 or week.change is None:
            continue
        found.append(
            WeekRecovery(
                day=start + timedelta(days=6),
                sets=week.sets,
                p_recovered=rule.p_recovered(rule.p_matched(week.change), week.sore),
            )
        )
    return found
