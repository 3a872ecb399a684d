"""What ended under its printed range last time: no load and no set climbs past it."""

from dataclasses import replace

from blockwright.engine.rack import SAME_LOAD_KG
from blockwright.engine.reasons import Reason
from blockwright.engine.strength.landing import FAR_REPS
from blockwright.engine.training import Lift
from .case import WeekCase
from .loads import LoadChoice, LoadQuestion
from .training_facts import each_set

SHORT = "later_sets_short"


def not_past_short(case: WeekCase, question: LoadQuestion, choice: LoadChoice) -> LoadChoice:
    """The choice no harder than what was lifted, nor the printed climb, where the session's first
    set ended under the printed range or most of those after it did, what they left counted in, and
    the first not far above it."""
    last = question.done[-1] if question.done and case.window.week.kind == "build" else None
    if last is None or last.target is None or not case.window.holds(last.day):
        return choice
    effective, printed_kg = question.effective, question.entry.sets[0].load_kg
    before, wanted = effective(question.before_kg), effective(choice.load_kg)
    harder = max(wanted, effective(choice.load_kg if printed_kg is None else printed_kg))
    far = min(last.spare or 0.0, last.first.first_reps - last.target.reps_high) > FAR_REPS
    short = last.later_short > 0.5 or (last.short >= 1 and harder > wanted)
    if far or not short or wanted < before - SAME_LOAD_KG or harder <= before + SAME_LOAD_KG:
        return choice
    told = {"lift": last.lift, "done": each_set(last, case.lifter.units)}
    why = Reason(code=SHORT, facts=told)
    return replace(choice, load_kg=question.again_kg, reasons=(why,), lost=None)


def ended_short(case: WeekCase, lift: Lift, session: int) -> Reason | None:
    """Why a main lift gains no set in a session, printed or not: at a printed load the first set of
    the last one, or half of those after it, ended under the range. A bad day says nothing."""
    found = case.evidence.lifts.get(lift.name)
    here = [e for e in (found.done if found else ()) if e.session == session]
    known = here and here[-1].target is not None and here[-1].target.load_kg is not None
    week = case.window.week
    if not (known and lift.compound) or week.kind != "build" or week.ease == "light":
        return None
    if here[-1].day in case.bad_days or (here[-1].later_short < 0.5 and here[-1].short < 1):
        return None
    told = {"lift": lift.name, "done": each_set(here[-1], case.lifter.units)}
    return Reason(code="sets_ended_short", facts=told)
