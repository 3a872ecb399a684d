"""What was lifted, beside a proposal: "12 at 80 with 2 left", the reason a coach would give.

Also the printed climb: how many loads and sets go up next week without anybody's proposal.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from blockwright.engine.rack import SAME_LOAD_KG
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.exposures import Exposure, planned_entries
from blockwright.engine.review.proposals import Proposal
from blockwright.engine.training import Entry, effective_load_kg
from blockwright.engine.units import in_unit, number_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Climb:
    """What next week's print asks beyond this week's, proposals apart."""

    loads: int
    """Entries whose first load is harder."""
    sets: int
    """Sets more, over all entries."""
    into: Literal["build", "full", "deload"] = "build"
    """`full`: back to a whole week after an easier one, which is no climb."""


def with_training_facts(case: WeekCase, proposals: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """The proposals, those about a logged lift with what was lifted last as their last reason."""
    return tuple(
        proposal
        if (fact := _lifted_last(case, proposal)) is None
        else replace(proposal, reasons=(*proposal.reasons, fact))
        for proposal in proposals
    )


def _lifted_last(case: WeekCase, proposal: Proposal) -> Reason | None:
    if proposal.lift is None or proposal.kind in ("refer", "stop_lift", "swap_lift"):
        return None
    mine = [e for e in case.evidence.exposures if e.lift == proposal.lift and e.sound]
    same = [e for e in mine if e.session == proposal.session] or mine
    if not same:
        return None
    last = same[-1]
    unit = case.lifter.units
    load = number_text(in_unit(last.work_load_kg, unit))
    facts: dict[str, FactValue] = {
        "lift": proposal.lift,
        "date": last.day.isoformat(),
        "load_kg": round(last.work_load_kg, 4),
        "sets": len(last.sound),
        "reps": last.first.first_reps,
        "rir": last.first.rir,
        "done": _done(last, load) + (", two weeks running" if _repeated(same) else ""),
    }
    return Reason(code="lifted_last", facts=facts)


def _done(exposure: Exposure, load: str) -> str:
    """ "3 x 8 at 80 with 2 left" where all sets agree, else of the first: "12 at 80, 2 left"."""
    first = exposure.first
    alike = {(done.load_kg, done.first_reps) for done in exposure.sound}
    reps = str(first.first_reps)
    if len(alike) == 1 and len(exposure.sound) > 1:
        reps = f"{len(exposure.sound)} × {reps}"
    at = f" at {load}" if first.load_kg > 0 else ""
    left = "" if first.rir is None else f" with {number_text(first.rir)} left"
    return f"{reps}{at}{left}"


def _repeated(exposures: Sequence[Exposure]) -> bool:
    """Whether the last two came to the same load and repetitions."""
    if len(exposures) < 2:
        return False
    before, last = exposures[-2], exposures[-1]
    return (
        abs(before.work_load_kg - last.work_load_kg) < SAME_LOAD_KG
        and before.first.first_reps == last.first.first_reps
    )


def printed_climb(case: WeekCase, proposals: Sequence[Proposal]) -> Climb:
    """What goes up as printed where no proposal says otherwise and nothing hurts; nothing where a
    proposal answers for the whole week, and nothing into or out of an easier one."""
    this, following = case.window.week, case.window.next_week
    if case.awaits_clearance is not None:
        return Climb(loads=0, sets=0)
    if following is None or any(p.kind in ("light_week", "deload_now") for p in proposals):
        return Climb(loads=0, sets=0)
    if following.kind != "build":
        return Climb(loads=0, sets=0, into="deload")
    if this.kind != "build" or this.ease == "light":
        return Climb(loads=0, sets=0, into="full")
    now = planned_entries(this, case.catalogue)
    moved = {(p.lift, p.session, p.after.key) for p in proposals if p.after is not None}
    out = {*case.pain, *(p.lift for p in proposals if p.kind in ("stop_lift", "swap_lift"))}
    loads = sets = 0
    for lift, entries in planned_entries(following, case.catalogue).items():
        before = {session.session: entry for session, entry in now.get(lift, [])}
        for session, entry in entries:
            old = before.get(session.session)
            if old is None or lift in out:
                continue
            if (lift, session.session, "load_kg") not in moved:
                loads += _is_harder(case, lift, old, entry)
            if (lift, session.session, "sets") not in moved:
                sets += max(0, len(entry.sets) - len(old.sets))
    return Climb(loads=loads, sets=sets)


def _is_harder(case: WeekCase, name: str, old: Entry, new: Entry) -> bool:
    lift = case.catalogue.find(name)
    load, harder = old.sets[0].load_kg, new.sets[0].load_kg
    if lift is None or load is None or harder is None:
        return False
    bodyweight = case.lifter.bodyweight_kg
    before, after = (effective_load_kg(lift, kg, bodyweight) for kg in (load, harder))
    return before is not None and after is not None and after > before + SAME_LOAD_KG
