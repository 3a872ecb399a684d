"""Carries decided sets and loads into the next week and the build weeks after it.

Loads of later weeks are forecasts, recomputed from the decided load:

    ln L(later) = ln L(decided) + kappa (psi(m decided) - psi(m later)) + growth * weeks
    m = bottom of the range + (1 + RIR bias) * RIR

with the endurance usual for the lift (no facts are at hand when a block is revised). Each step
keeps the limits of a raise; where the kit's step is too large the load stays."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.loads import smallest_step
from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, hardest_moving, rack_for
from blockwright.engine.reasons import Reason
from blockwright.engine.strength import most_effective
from blockwright.engine.strength.curve import psi
from blockwright.engine.strength.law import lift_prior, strength_law
from blockwright.engine.training import Entry, Lift, Lifter, SetPlan, Week, effective_load_kg
from .block_weeks import FULL, BlockWeeks, Found, as_many, no_more, trim, with_sets
from .decisions import Verdict
from .load_steps import step_limit_kg
from .proposals import number_of


def set_load(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """The decided load in its week; later build weeks are forecast from it. The reason is that
    of a step of the kit larger than one change may be."""
    offered, value = verdict.offered, number_of(verdict.to)
    if offered.week is None or offered.lift is None or value is None:
        return None
    lift = weeks.lift(offered.lift)
    places = weeks.entries(offered.week, offered.session, lift.name)
    if not places:
        return None
    put_load(weeks, lift, _held_places(weeks, verdict, places), value)
    return _large_step(weeks, verdict, lift, value, places[0][2])


def _held_places(weeks: BlockWeeks, verdict: Verdict, places: list[Found]) -> list[Found]:
    """The places that a change is for: of a hold its own week, and the later ones wait."""
    if not verdict.offered.holds:
        return places
    weeks.wait(places[1:])
    return places[:1]


def put_load(weeks: BlockWeeks, lift: Lift, places: Sequence[Found], load_kg: float) -> None:
    """A decided load in the first of an entry's places, and what follows from it in the later."""
    rack = rack_for(lift, weeks.block.lifter.gym, weeks.policy)
    (week, session, entry), later = places[0], places[1:]
    decided = with_load(entry, load_kg, rack, decided=True)
    weeks.put(week, session.session, decided)
    entries = [found for _, _, found in later]
    loads = later_loads(lift, weeks.block.lifter, rack, weeks.policy, decided.sets[0], entries)
    for (number, planned, _), made in zip(later, loads, strict=True):
        weeks.put(number, planned.session, made)


def _large_step(
    weeks: BlockWeeks, verdict: Verdict, lift: Lift, load_kg: float, entry: Entry
) -> Reason | None:
    before, bodyweight = number_of(verdict.offered.before), weeks.block.lifter.bodyweight_kg
    if before is None:
        return None
    now, then = (effective_load_kg(lift, load, bodyweight) for load in (before, load_kg))
    if now is None or then is None or now <= 0 or then <= most_effective(now, weeks.policy):
        return None
    kg, asked = (before, load_kg), entry.sets[0]
    return smallest_step(lift, weeks.block.lifter.units, verdict.offered.week, kg, asked)


def set_sets(weeks: BlockWeeks, verdict: Verdict) -> None:
    """The decided number of sets of an entry, later build weeks gaining or losing as many; or of
    a muscle.

    Raises BadInput when the coach's own number does not fit the session."""
    offered, value = verdict.offered, number_of(verdict.to)
    if offered.week is None or value is None:
        return
    if offered.lift is None:
        _trim_muscle(weeks, offered.week, offered.muscle or "", int(value))
        return
    places = weeks.entries(offered.week, offered.session, weeks.lift(offered.lift).name)
    if not places:
        return
    places = _held_places(weeks, verdict, places)
    week, session, entry = places[0]
    made = with_sets(entry, int(value))
    if verdict.verdict == "changed":
        obstacle = weeks.obstacle(week, session.session, made, coach=True)
        if obstacle is not None:
            raise BadInput(_problem(offered.id, obstacle))
    _shift(weeks, places, int(value) - len(entry.sets))


def _trim_muscle(weeks: BlockWeeks, number: int, muscle: str, target: int) -> None:
    """The muscle's direct sets down to `target` in week `number`; in later weeks back to the print
    no faster than a muscle may climb."""
    before = weeks.week(number - 1)
    step = weeks.policy.whole("ramp.sets_per_week")
    for index, (_, week) in enumerate(weeks.builds_from(number)):
        mine = {
            (session.session, entry.order): (session.session, entry)
            for session in week.sessions
            for entry in session.entries
            if entry.sets and muscle in weeks.lift(entry.lift).direct
        }
        counts = {}
        for key, (session, entry) in mine.items():
            was = None if before is None or index else entry_of(before, session, entry.lift)
            counts[key] = (len(entry.sets), len(entry.sets) if was is None else as_many(was, entry))
        left = trim(counts, target)
        for key, (session, entry) in mine.items():
            if left[key] != len(entry.sets):
                weeks.put(week.week, session, with_sets(entry, left[key]))
        target = sum(left.values()) + step


def no_climb(weeks: BlockWeeks, lift: str, week: int) -> None:
    """In `week` no load, set or repetition more than the week before had on this lift; the weeks
    after it wait."""
    before, known = weeks.week(week - 1), weeks.lift(lift)
    for number, planned, entry in weeks.entries(week, None, known.name):
        was = None if before is None else entry_of(before, planned.session, known.name)
        if number > week:
            weeks.wait([(number, planned, entry)])
        elif was is not None and was.sets:
            held = replace(no_more(entry, was, known), waits=False)
            weeks.put(number, planned.session, held)


def entry_of(week: Week, session: int, lift: str) -> Entry | None:
    """A lift's entry in a session, or None where it is not planned."""
    for planned in week.sessions:
        for entry in planned.entries:
            if planned.session == session and entry.lift == lift:
                return entry
    return None


def _shift(weeks: BlockWeeks, places: Sequence[Found], change: int) -> None:
    """The same change of sets in every place; in later weeks only as far as one lift may have
    so many sets or so few, the week's limits hold and no ceiling is passed, and no climb that the
    week after has no room for: what is added stays."""
    least = weeks.policy.whole("planning.sets_least")
    most, counts = weeks.policy.whole("planning.sets_most"), list[int]()
    for number, (week, session, entry) in enumerate(places):
        now = len(entry.sets)
        wanted = now + change
        if number:
            wanted = min(max(wanted, min(least, now)), max(most, now))
        while number and wanted > now:
            against = weeks.obstacle(week, session.session, with_sets(entry, wanted))
            keeps = wanted <= counts[-1] and against is not None and against.code not in FULL
            if against is None or keeps:
                break
            wanted -= 1
        counts.append(wanted)
    for at in range(len(counts) - 2, 0, -1):
        counts[at] = min(counts[at], max(len(places[at][2].sets), counts[at - 1], counts[at + 1]))
    for (week, session, entry), sets in zip(places, counts, strict=True):
        weeks.put(week, session.session, with_sets(entry, sets))


def _problem(proposal: str, obstacle: Reason) -> Problem:
    """A session's limit as something a coach can mend."""
    if obstacle.code == "no_minutes":
        says = "session {session} would take {minutes} minutes, over its {minutes_available}"
        mend = "give it fewer sets, or lengthen the slot and plan again"
    else:
        says = "session {session} would train {muscle} with {sets:g} sets, more than {limit:g}"
        mend = "put the set in another session"
    return Problem(key=proposal, says=says.format(**obstacle.facts), mend=mend)


# ------------------------------------------------------------------------- the build weeks after it


def later_loads(
    lift: Lift,
    lifter: Lifter,
    rack: Rack,
    policy: Policy,
    decided: SetPlan,
    later: Sequence[Entry],
) -> list[Entry]:
    """The entries of the build weeks after the decided one, with their loads recomputed."""
    made: list[Entry] = []
    before = decided
    for number, entry in enumerate(later, start=1):
        first = entry.sets[0]
        load = _next_load(lift, lifter, rack, policy, decided, before, first, number)
        made.append(with_load(entry, load, rack))
        before = made[-1].sets[0]
    return made


def with_load(entry: Entry, load_kg: float | None, rack: Rack, *, decided: bool = False) -> Entry:
    """The entry at another load; the range of a forecast moves with it, a decided load has none."""
    return replace(
        entry,
        sets=tuple(
            replace(
                planned,
                load_kg=load_kg,
                aim_low=None,
                aim_high=None,
                forecast_kg=None if decided else _moved(planned, load_kg, rack),
            )
            for planned in entry.sets
        ),
    )


def _moved(planned: SetPlan, load_kg: float | None, rack: Rack) -> tuple[float, float] | None:
    if planned.forecast_kg is None or not planned.load_kg or load_kg is None:
        return None
    ends = []
    for end in planned.forecast_kg:
        setting = rack.not_harder_than(max(load_kg * end / planned.load_kg, 0.0)) or rack.easiest
        ends.append(setting.load_kg)
    return min(*ends, load_kg), max(*ends, load_kg)


def _next_load(
    lift: Lift,
    lifter: Lifter,
    rack: Rack,
    policy: Policy,
    decided: SetPlan,
    before: SetPlan,
    asked: SetPlan,
    weeks: int,
) -> float | None:
    """The load of one later week: never below the week before, never past the limits."""
    if decided.load_kg is None or before.load_kg is None:
        return asked.load_kg
    start = effective_load_kg(lift, decided.load_kg, lifter.bodyweight_kg)
    last = effective_load_kg(lift, before.load_kg, lifter.bodyweight_kg)
    if start is None or last is None or start <= 0 or last <= 0:
        return before.load_kg
    wanted = start * math.exp(_ln_ease(lift, policy, decided, asked))
    wanted *= (1 + policy.number("load.growth_per_week")) ** weeks
    limit = min(most_effective(last, policy), last + step_limit_kg(lift, lifter, policy))
    setting = hardest_moving(rack, lift, min(wanted, limit), lifter.bodyweight_kg)
    made_kg = before.load_kg if setting is None else setting.load_kg
    effective = effective_load_kg(lift, made_kg, lifter.bodyweight_kg) or 0.0
    return made_kg if effective > last else before.load_kg


def _ln_ease(lift: Lift, policy: Policy, decided: SetPlan, asked: SetPlan) -> float:
    """How much more ln(load) the later set allows: fewer repetitions, less in reserve."""
    law = strength_law(policy)
    kappa = law.kappa * math.exp(lift_prior(lift, policy).endurance_mean)
    reps = np.array([decided.reps_low, asked.reps_low], dtype=float)
    rirs = np.array([decided.rir, asked.rir])
    m = reps + (1.0 + law.bias_mean) * rirs
    now, then = psi(m, law.curve_power).tolist()
    return kappa * float(now - then)
