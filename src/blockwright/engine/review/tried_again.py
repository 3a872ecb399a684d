"""A lift that hurt and was swapped, offered again once it has been quiet."""

from datetime import date

from blockwright.engine.pain import joints_much
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.training import Lift
from .case import WeekCase, pain_said
from .exposures import planned_entries, week_start
from .proposals import Proposal
from .safety_proposals import in_place_of
from .swaps import pain_swap_caution


def tried_again(case: WeekCase) -> list[Proposal]:
    """What hurt and was swapped, once its reports have ended for `safety.pain_memory_days`: back
    in the place of its stand-in, its load to be found anew from below."""
    week = case.window.next_week
    if week is None or week.kind != "build":
        return []
    planned = planned_entries(week, case.catalogue)
    quiet = case.policy.whole("safety.pain_memory_days")
    made = []
    for decision in case.block.decisions:
        old = case.catalogue.find(str(decision.change.get("lift_was", "")))
        new = case.catalogue.find(str(decision.change.get("lift", "")))
        hurt = decision.kind == "swap_lift" and "about" in decision.change  # else too heavy
        if not hurt or decision.verdict == "declined":
            continue
        if old is None or new is None or new.name not in planned or old.name in planned:
            continue
        start = week_start(case.block, int(float(decision.change["week"])))
        since = max((start, *_days_it_hurt(case, old)))
        days = (case.window.end - since).days
        signed = any(case.catalogue.canonical(sign.lift) == old.name for sign in case.warnings)
        if signed or old.name in case.pain or case.pain_elsewhere or days < quiet:
            continue
        facts: dict[str, FactValue] = {"lift": new.name, "other": old.name, "days": days}
        made.append(
            in_place_of(
                case,
                new,
                old,
                Reason(code="propose_try_again", facts=facts),
                Reason(code="quiet_for_days", facts=facts, policy=("safety.pain_memory_days",)),
                (pain_swap_caution(old),),
            )
        )
    return made


def _days_it_hurt(case: WeekCase, lift: Lift) -> list[date]:
    """Days on which more than a little was reported of a lift, of a joint that it loads much, or of
    another lift that does."""
    much, little = joints_much(lift), case.policy.number("safety.pain_carry_on")

    def concerns(name: str) -> bool:
        other = case.catalogue.find(name)
        places = (name,) if other is None else joints_much(other)
        return name == lift.name or not set(places).isdisjoint(much)

    return [
        report.day
        for name, reports in pain_said(case.facts).items()
        if concerns(name)
        for report in reports
        if report.pain > little
    ]
