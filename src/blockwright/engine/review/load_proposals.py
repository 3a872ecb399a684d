"""Next week's loads against the print: what rises beyond it, what comes down, what stays.

The printed climb stands. A load leaves the print where another lands better in its range by more
than `review.load.lower_gain` (the load rule of `strength.landing`), and comes down to what was
lifted where something holds the lift."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from blockwright.engine.rack import SAME_LOAD_KG, rack_for
from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.training import Entry, Lift, Session, effective_load_kg
from blockwright.engine.units import load_text
from .case import WeekCase
from .exposures import Exposure, day_of, planned_entries
from .load_holds import (
    FELL,
    HURTS,
    WATCH,
    LoadHolds,
    a_week_late,
    as_tolerated,
    back_to_what_gave,
    failed_once,
    first_set_failed,
    held_and_waiting,
    lands_as_well,
    lighter_lift,
    lightest_too_heavy,
    no_leap,
    on_bad_days,
    one_step,
    within_reach,
)
from .loads import LoadChoice, LoadQuestion, chosen_load
from .missed_days import missed_there
from .proposals import Kind, Proposal, RunnerUp, Stay, To, load_facts, proposal_id, sure
from .safety_proposals import pain_caution
from .short_sets import SHORT, not_past_short

NOT_YET = ("fill_the_range", "fell_short_before", "kit_ends", "band_too_strong")
"""Why the kit's next step waits, which is more than one change may be or is not there."""
SPARED = (*HURTS, "range_cut")
"""Why no load is proposed where none is printed; near pain, none that rises."""
NO_LESS = (FELL, "near_pain", "pain_no_progress_reason", "muscle_holds_load")
"""What holds a load where it is: no reason to go below what gave its range."""
MILD = ("one_bad_day", "near_pain_a_little", "pain_eased")
"""What was too light on a bad day is too light, and what is too heavy is so beside any pain."""
PROPOSED = {"raise_load": "propose_raise_load", "lower_load": "propose_lower_load"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """One entry of the next week and what is decided about its load."""

    session: Session
    question: LoadQuestion
    choice: LoadChoice
    held: tuple[Reason, ...]  # What takes the printed climb back
    waits: tuple[Reason, ...]  # What forbids more than the print, and nothing else
    lost: bool  # Whether the load is so far too light that it is looked for again
    calm: bool
    """Whether nothing goes beyond the print: a weak week or a cut, and no repetition to spare."""

    @property
    def printed_kg(self) -> float | None:
        return self.question.entry.sets[0].load_kg


def loads_read(case: WeekCase) -> tuple[list[Proposal], list[Stay]]:
    """What changes against the print, and what a coach may have expected to change.

    Every entry of the next week with something to go by, in order of session and entry; never
    two directions for one lift, and one load for one range of a lift unless the print has two."""
    if case.window.next_week is None:
        return [], []
    changes: list[tuple[int, int, Proposal]] = []
    stays: list[Stay] = []
    for name, entries in planned_entries(case.window.next_week, case.catalogue).items():
        lift = case.catalogue.find(name)
        if lift is None or case.stopped(name):
            continue
        places = _one_load_a_range(case, _never_both(_places(case, lift, entries)))
        quiet = [p for p in places if not (p.waits or _kind(p) or
                 any(one.code != "first_set_failed" for one in p.held))]  # fmt: skip
        if swap := next((s for p in quiet if (s := lighter_lift(case, p.question))), None):
            changes.append((places[0].session.session, places[0].question.entry.order, swap))
            continue
        for place in places:
            kind = _kind(place)
            if kind is not None:
                made = _proposal(case, place, kind, several=len(entries) > 1)
                changes.append((place.session.session, place.question.entry.order, made))
        stays += _stays(places)
    stays.sort(key=lambda stay: stay.why.code != "far_too_light")  # tries are seldom expected
    ordered = sorted(changes, key=lambda item: item[:2])
    return [proposal for _, _, proposal in ordered], stays


def _places(case: WeekCase, lift: Lift, entries: Sequence[tuple[Session, Entry]]) -> list[_Place]:
    week = held_and_waiting(case, lift)
    asked = ((session, _question(case, lift, session, entry)) for session, entry in entries)
    return [_place(case, one, session, week) for session, one in asked if one is not None]


def _place(case: WeekCase, question: LoadQuestion, session: Session, week: LoadHolds) -> _Place:
    """By the policy's rule, then no lower and no harder than what the week showed allows."""
    lift, done = question.lift, question.done
    waits = week.waits or on_bad_days(case, lift.name, done[-1:])
    bad_day = any(reason.code == "one_bad_day" for reason in waits)
    failed = None if bad_day else first_set_failed(case, done)
    once = failed is not None and failed_once(case, done[-1])
    held = tuple(reason for reason in week.held if not (once and reason.code in WATCH))
    held = held if failed is None else (failed, *held)
    weighed = tuple(reason for reason in week.waits if reason.code not in MILD)
    choice = chosen_load(
        question, (*held, *weighed), too_hard=week.too_hard and not question.gave_asked
    )
    kept_on = all(reason.code in NO_LESS for reason in held)
    # a bad day takes nothing off, nor does what gave the range asked
    if once or (kept_on and (bad_day or (held and question.gave_asked))):
        choice = one_step(question, choice, down=once)
    if not held and any(reason.code == "not_done_this_week" for reason in weighed):
        if not done or question.gave_asked:
            choice = one_step(question, choice, down=False)
        choice = a_week_late(case, question, choice)
    for no_harder in (not_past_short, no_leap, within_reach, as_tolerated, back_to_what_gave):
        choice = no_harder(case, question, choice)
    return _Place(
        session=session,
        question=question,
        choice=choice,
        held=held,
        waits=waits or missed_there(case, lift, session, done),
        lost=not held and question.landing.is_lost(case.facts.sets, choice.load_kg),
        calm=(case.lower or case.lifter.energy == "deficit") and not (done and done[-1].spare),
    )


def _never_both(places: Sequence[_Place]) -> list[_Place]:
    if not any(_kind(place) == "lower_load" for place in places):
        return list(places)
    made = []
    for place in places:
        if _kind(place) == "raise_load":
            lowered = because("lowered_elsewhere", lift=place.question.lift.name)
            choice = chosen_load(place.question, (lowered,), too_hard=False)
            place = replace(place, choice=choice, waits=(*place.waits, lowered))
        made.append(place)
    return made


def _one_load_a_range(case: WeekCase, places: Sequence[_Place]) -> list[_Place]:
    """One load for a range, wherever the week prints that range at one load: what its latest day
    says where that was no bad one and gave what is asked, else, and of first loads, the easiest."""
    made = []
    for place in places:
        alike = [other for other in places if _printed_alike(place, other)]
        last = max(alike, key=lambda one: [done.day for done in one.question.done[-1:]])
        gave = last.question.gave_asked and last.question.done[-1].day not in case.bad_days
        if place.printed_kg is not None and gave:
            mine = replace(last.question, entry=place.question.entry)
            made.append(replace(last, session=place.session, question=mine))
            continue
        easiest = min(alike, key=lambda other: place.question.effective(other.choice.load_kg))
        made.append(replace(place, choice=easiest.choice))
    return made


def _printed_alike(one: _Place, other: _Place) -> bool:
    mine, its = one.question.entry.sets[0], other.question.entry.sets[0]
    if (mine.reps_low, mine.reps_high) != (its.reps_low, its.reps_high):
        return False
    if mine.load_kg is None or its.load_kg is None:
        return mine.load_kg == its.load_kg
    return abs(mine.load_kg - its.load_kg) < SAME_LOAD_KG


def _kind(place: _Place) -> Kind | None:
    """Which way the load leaves the print, or None where it stands."""
    printed, question, wanted = place.printed_kg, place.question, place.choice.load_kg
    beside = (question.rack.next_easier(wanted), question.rack.next_harder(wanted))
    if question.lift.load_kind == "assisted" and beside == (None, None):
        return None  # bands, which nobody weighed
    waits = {reason.code for reason in place.waits}
    if printed is None:
        # the sheet fills it from the log, and the letter says with what
        lower = question.effective(wanted) < question.effective(question.before_kg) - SAME_LOAD_KG
        still = waits - {"one_bad_day", "lowered_elsewhere", *(MILD if lower else ())}
        spared = any(reason.code in SPARED[lower:] for reason in place.held)
        if still or spared or lightest_too_heavy(question):
            return None
        return "lower_load" if lower else "raise_load"
    told = (load_text(kg, question.lifter.units) for kg in (printed, wanted))
    if len(set(told)) == 1 or abs(printed - wanted) < SAME_LOAD_KG:
        return None
    lands = lands_as_well(question, printed, wanted)
    if question.effective(wanted) > question.effective(printed):
        was_lifted = question.effective(wanted) <= question.effective(question.before_kg)
        waits -= {*MILD} if was_lifted else {"one_bad_day"}
        calm = place.calm and not was_lifted
        return None if place.held or waits or lands or calm else "raise_load"
    if not place.held and "one_bad_day" in waits:
        return None
    lands = lands or (waits <= {*MILD, "missed_that_day"} and _was_given(question, printed))
    small = question.is_one_change(question.before_kg, printed)
    small = small and place.choice.reasons[0].code != SHORT
    return None if not place.held and lands and small else "lower_load"


def _was_given(question: LoadQuestion, printed_kg: float) -> bool:
    """Whether the last first set gave what is asked next, at the printed load or a harder one, or
    at one from which the printed step is likely enough: that never lowers a load."""
    if not question.gave_asked:
        return False
    lifted, printed = (
        question.effective(kg) for kg in (question.done[-1].first.load_kg, printed_kg)
    )
    likely = question.policy.number("review.load.climb_probability")
    return lifted >= printed - SAME_LOAD_KG or question.landing.p_reaches(printed_kg) >= likely


def _stays(places: Sequence[_Place]) -> list[Stay]:
    """A line for a lift that keeps its printed load for a reason a coach should hear, once."""
    for place in (one for one in places if _kind(one) is None):
        not_yet = (reason for reason in place.choice.reasons if reason.code in NOT_YET)
        reasons = (*place.held, *place.waits, *not_yet)
        if place.lost and place.printed_kg is not None:
            reasons = (_tries_from(place.question, place.printed_kg),)
        if not place.waits and (too_heavy := lightest_too_heavy(place.question)):
            reasons = (too_heavy,)
        if reasons:
            return [Stay(
                lift=place.question.lift.name,
                session=place.session.session if len(places) == 1 else None,
                load_kg=_kept_kg(places) if reasons[0] in place.held else None,
                why=reasons[0],
            )]  # fmt: skip
    return []


def _kept_kg(places: Sequence[_Place]) -> float | None:
    """The load that all of a lift's places keep; None where they differ, or lose some."""
    loads = {p.choice.load_kg if p.printed_kg is None else p.printed_kg for p in places}
    return _rounded(loads.pop()) if len(loads) == 1 and not any(map(_kind, places)) else None


def _question(case: WeekCase, lift: Lift, session: Session, entry: Entry) -> LoadQuestion | None:
    belief = case.facts.beliefs().own(lift.name)
    if belief is None:
        return None
    done = comparable(case, lift.name, session, entry)
    before_kg, bodyweight = _present_load(case, lift, session, done), case.bodyweight_kg
    if before_kg is None:
        return None
    rack = rack_for(lift, case.lifter.gym, case.policy)
    made = rack.exactly(before_kg)
    # What was typed as 22.68 kg is the kit's 50 lb, and compared as that.
    before_kg = before_kg if made is None else made.load_kg
    again = made or rack.not_harder_than(before_kg)
    loads = (before_kg, again.load_kg if again is not None else None)
    effective = [
        effective_load_kg(lift, load, bodyweight) if load is not None else None for load in loads
    ]
    if again is None or any(kg is None or kg <= 0 for kg in effective):
        return None
    return LoadQuestion(
        lifter=case.lifter,
        lift=lift,
        entry=entry,
        day=session.day,
        week=case.next_number or 0,
        before_kg=before_kg,
        again_kg=again.load_kg,
        done=done,
        ever=tuple(
            e for e in case.evidence.exposures if e.lift == lift.name and not case.was_off(e.day)
        ),
        tries=tuple(s for s in case.facts.sets if s.lift == lift.name and s.method == "try"),
        belief=belief,
        rack=rack,
        bodyweight_kg=bodyweight,
        policy=case.policy,
    )


def comparable(case: WeekCase, lift: str, session: Session, entry: Entry) -> tuple[Exposure, ...]:
    """Exposures of this block done for the same entry of their week, oldest first; those in its
    zone where there are none, or none of the week just done, or where what failed in this week was
    done since."""
    mine = [e for e in case.evidence.exposures if e.lift == lift and e.planned is not None]
    same = [e for e in mine if e.session == session.session]
    zone = [e for e in mine if e.planned is not None and e.planned.zone == entry.zone]
    here = [bool(found) and case.window.holds(found[-1].day) for found in (same, zone)]
    if here == [True, True] and same[-1].failed and not zone[-1].failed:
        harder = zone[-1].work_load_kg >= same[-1].work_load_kg
        return tuple(zone if harder and zone[-1].day > same[-1].day else same)
    return tuple(zone if not same or here == [False, True] else same)


def _present_load(
    case: WeekCase, lift: Lift, session: Session, done: Sequence[Exposure]
) -> float | None:
    """What the lifter uses now: what was done, else what the block had, else the last of all."""
    if done:
        return _shown_load(lift, done[-1], case.bodyweight_kg)
    for week in (case.window.week, case.window.next_week):
        planned_here = planned_entries(week, case.catalogue).get(lift.name, []) if week else []
        for number, planned in planned_here:
            if number.session == session.session and planned.sets[0].load_kg is not None:
                return planned.sets[0].load_kg
    found = case.evidence.lifts.get(lift.name)
    return found.latest.work_load_kg if found is not None and found.latest is not None else None


def _shown_load(lift: Lift, exposure: Exposure, bodyweight_kg: float | None) -> float:
    """The load of most sets, or a harder one that gave what was asked: who then goes lighter has
    shown it all the same."""
    asked = exposure.target
    shown = [exposure.work_load_kg]
    if asked is not None:
        shown += [
            done.load_kg
            for done in exposure.sound
            if done.rir is not None and done.rir >= asked.rir and done.first_reps >= asked.reps_low
        ]
    return max(shown, key=lambda load: effective_load_kg(lift, load, bodyweight_kg) or 0.0)


def _proposal(case: WeekCase, place: _Place, kind: Kind, *, several: bool) -> Proposal:
    question, choice, session = place.question, place.choice, place.session
    lift = question.lift.name
    first = question.entry.sets[0]
    facts: dict[str, FactValue] = {
        "lift": lift,
        "session": session.session,
        "day": day_of(session, case.next_sessions),
        "date": session.day.isoformat(),
        "reps_low": first.reps_low,
        "reps_high": first.reps_high,
        "rir": first.rir,
        "p_far_above": question.p_far_above(choice.load_kg),
        **load_facts(place.printed_kg, case.lifter, "before", question.lift),
        **load_facts(choice.load_kg, case.lifter, "after", question.lift),
    }
    if place.printed_kg is None:
        facts["lifted_kg"] = _rounded(question.before_kg)
    pain = case.pain.get(lift)
    tries = [_tries_from(question, choice.load_kg)] if place.lost and kind == "raise_load" else []
    return Proposal(
        id=proposal_id(case.next_number, kind, lift, session.session if several else None),
        kind=kind,
        week=case.next_number,
        session=session.session,
        lift=lift,
        before=To("load_kg", _rounded(place.printed_kg)),
        after=To("load_kg", _rounded(choice.load_kg)),
        says=Reason(
            code="propose_first_load" if place.printed_kg is None else PROPOSED[kind], facts=facts
        ),
        claim=Reason(code="claim_load_fits", facts=facts),
        reasons=(*tries, *choice.reasons),
        confidence=sure(question.p_first(choice.load_kg)),
        runner_up=_runner_up(place),
        cautions=() if pain is None else (pain_caution(pain, lift),),
    )


def _tries_from(question: LoadQuestion, load_kg: float) -> Reason:
    """That tries begin at a load, as the sheet has it too (`Landing.is_lost`)."""
    return because(
        "far_too_light",
        "load.find_after",
        "load.most_up",
        lift=question.lift.name,
        **load_facts(question.before_kg, question.lifter, "before", question.lift),
        **load_facts(load_kg, question.lifter, "after", question.lift),
    )


def _rounded(load_kg: float | None) -> float | None:
    return None if load_kg is None else round(load_kg, 6)


def _runner_up(place: _Place) -> RunnerUp | None:
    """The load that lost, where it is not the print itself (declining leaves that), nor more than
    the print of a lift that is spared."""
    printed, question = place.printed_kg, place.question
    if place.choice.lost is None:
        return None
    load, why = place.choice.lost
    if printed is not None and abs(load - printed) < SAME_LOAD_KG:
        return None
    harder = printed is None or question.effective(load) > question.effective(printed)
    if harder and any(reason.code in SPARED for reason in place.held):
        return None
    kind: Kind = "raise_load" if harder else "lower_load"
    return RunnerUp(kind=kind, after=To("load_kg", _rounded(load)), why=why)
