"""Another lift in place of one: for one that hurts, and for one that makes way; and the one that
stands in next week, which spares what hurts and fits the week."""

from collections.abc import Collection, Iterable

from blockwright.engine.lifts import Zone
from blockwright.engine.pain import (
    MUCH,
    grade_in,
    joints_loaded,
    joints_much,
    loads_place,
    place_in,
)
from blockwright.engine.planning.candidates import usable_lifts
from blockwright.engine.planning.likeness import likest
from blockwright.engine.planning.loads import open_load_kg, start_from_kin
from blockwright.engine.policy import Policy
from blockwright.engine.rack import FindingWay, rack_for
from blockwright.engine.reasons import Caution
from blockwright.engine.training import Catalogue, Entry, Lift, Lifter, effective_load_kg
from .block_weeks import BlockWeeks, with_entry
from .case import WeekCase
from .exposures import planned_entries
from .lift_and_week_changes import on_other, zone_on
from .proposals import load_facts
from .safety import PainState
from .week_constraints import newly_broken, overfull, week_sets


def sparing_joint(
    lift: Lift,
    joint: str,
    catalogue: Catalogue,
    lifter: Lifter,
    policy: Policy,
    *,
    avoid: Collection[str] = (),
    zone: Zone | None = None,
) -> tuple[Lift, ...]:
    """Of `_no_harder` those that load `joint` less than `lift` does, for a back no hinge; those of
    several joints where `lift` is, then those that train no muscle in place of its own and most of
    these, then the least loading, then those of the `zone`, then the likest. A near twin by pattern
    may be among them: where the joint is known, it is the joint that is spared."""
    fit = [
        other
        for other in _no_harder(lift, catalogue, lifter)
        if other.name not in avoid and grade_in(other, joint) < grade_in(lift, joint)
        if "back" not in joint or other.pattern != "hinge"
    ]

    def order(other: Lift) -> tuple[bool, int, float, int, bool]:
        strange = set(other.direct) - set(lift.direct)
        kept = sum(other.muscles.get(muscle, 0.0) for muscle in lift.direct)
        apart = zone is not None and zone not in other.reps
        return other.compound != lift.compound, len(strange), -kept, grade_in(other, joint), apart

    return tuple(sorted(likest(lift, fit, policy), key=order))


def trains_alike(lift: Lift, catalogue: Catalogue, lifter: Lifter) -> tuple[Lift, ...]:
    """Of `_no_harder` those of another family and pattern."""
    return tuple(
        other
        for other in _no_harder(lift, catalogue, lifter)
        if other.family != lift.family and other.pattern != lift.pattern
    )


def _no_harder(lift: Lift, catalogue: Catalogue, lifter: Lifter) -> list[Lift]:
    """Usable lifts that train a direct muscle of `lift` directly and ask no more skill than it:
    nobody who hurts learns a harder one."""
    return [
        other
        for other in usable_lifts(lifter, catalogue)
        if other.name != lift.name
        and other.skill <= lift.skill
        and not set(lift.direct).isdisjoint(other.direct)
    ]


def alternatives_for_pain(
    lift: Lift,
    alike: Iterable[Lift],
    policy: Policy,
    *,
    places: Iterable[str] = (),
    avoid: Collection[str] = (),
) -> tuple[Lift, ...]:
    """Lifts to offer when `lift` hurts, best first and often none: none is better than a near twin.

    Each is of those that `trains_alike` found, and not in `avoid`. `places` are the words of
    whoever says where it hurts ("left knee", "lower back", a muscle); a lift that loads one of them
    is left out. Where no place is said, or none that `lift` loads, nobody knows what hurts: only
    lifts that load at most `safety.pain_swap_shared_joints` of its joints are left, and none that
    loads much all that `lift` loads much."""
    said = {place for words in places if (place := place_in(words)) is not None}
    at_most = policy.number("safety.pain_swap_shared_joints")
    unknown = not any(loads_place(lift, place) for place in said)
    fit = [
        other
        for other in alike
        if other.name not in avoid
        and not any(loads_place(other, place) for place in said)
        and (not unknown or _shared_joints(lift, other) <= at_most)
        and not (unknown and _spares_nothing(lift, other))
    ]
    ranked = likest(lift, fit, policy)
    if unknown:
        ranked.sort(key=lambda other: _shared_joints(lift, other))
    return tuple(ranked)


def pain_swap_caution(lift: Lift, *, referred: bool = False) -> Caution:
    """What belongs beside every lift offered in place of a painful one; a referral beside it sends
    to a professional already."""
    lasting = "" if referred else "; pain that lasts goes to a professional"
    return Caution(code="pain_swap", facts={"lift": lift.name, "lasting": lasting})


def has_stand_in(lift: Lift, catalogue: Catalogue, lifter: Lifter) -> bool:
    """Whether a usable lift of another family trains all its direct muscles directly."""
    return any(
        other.family != lift.family and set(lift.direct) <= set(other.direct)
        for other in usable_lifts(lifter, catalogue)
    )


def _shared_joints(lift: Lift, other: Lift) -> float:
    """The share of the joints of `lift` that `other` loads too, the back as one; 1 where none are
    known."""
    joints = joints_loaded(lift) - {"lower back"}
    return len(joints & joints_loaded(other)) / len(joints) if joints else 1.0


def _spares_nothing(lift: Lift, other: Lift) -> bool:
    """Whether `other` loads much every region that `lift` loads much."""
    much = [region for region, grade in lift.regions.items() if grade >= MUCH]
    return bool(much) and all(other.regions.get(region, 0) >= MUCH for region in much)


# ----------------------------------------------------------------------------- in next week's place


def stand_in(
    case: WeekCase, lift: Lift, state: PainState, taken: Collection[str] = ()
) -> Lift | None:
    """The best lift to offer: it suits the repetitions, is not in the way next week, loads no
    other joint much that hurts, and does not stand in (`taken`) for another lift already."""
    avoid = {*case.pain, *taken}
    places = (state.about, *case.pain_elsewhere)
    joint = _joint(lift, places)
    entry = _entry(case, lift.name)
    offered = () if joint is None else sparing_joint(
        lift, joint, case.catalogue, case.lifter, case.policy,
        avoid=avoid, zone=None if entry is None else entry.zone,
    )  # fmt: skip
    if joint not in places:
        alike = trains_alike(lift, case.catalogue, case.lifter)
        found = alternatives_for_pain(lift, alike, case.policy, places=places, avoid=avoid)
        offered = (*offered, *found)
    sore = case.sore_joints
    spares = [
        one
        for one in offered
        if all(grade_in(one, place) < MUCH for place in sore) and _in_class(case, lift, one)
    ]
    return _first_that_fits(case, lift, spares)


def _in_class(case: WeekCase, lift: Lift, other: Lift) -> bool:
    """Whether the kit loads `other`, where it is of several joints, with a fair share of what
    `lift` was last done with: a dumbbell is no squat for who squats with three times it."""
    found = case.evidence.lifts.get(lift.name)
    loaded = other.compound and lift.compound and not other.moves_body
    if found is None or found.latest is None or not loaded:
        return True
    done = effective_load_kg(lift, found.latest.work_load_kg, case.bodyweight_kg) or 0.0
    least = case.policy.number("safety.pain_swap_least_load") * done * lift.hands
    rack = rack_for(other, case.lifter.gym, case.policy)
    return rack.at_least(least / other.hands) is not None


def lighter_stand_in(case: WeekCase, lift: Lift, most_kg: float) -> Lift | None:
    """The likest lift for one that is too heavy at its lightest: it trains the same muscles, and
    its own lightest load is no more than `most_kg` (effective), which the lifter can do."""
    direct, bodyweight_kg = set(lift.direct), case.bodyweight_kg

    def is_light(other: Lift) -> bool:
        least = rack_for(other, case.lifter.gym, case.policy).easiest.load_kg
        kg = effective_load_kg(other, least, bodyweight_kg)
        return kg is not None and 0 < kg * other.hands <= most_kg * lift.hands

    fit = [
        other
        for other in usable_lifts(case.lifter, case.catalogue)
        if other.name not in case.pain and direct <= set(other.direct) and is_light(other)
        if not any(loads_place(other, place) for place in case.pain_elsewhere)
    ]
    return _first_that_fits(case, lift, likest(lift, fit, case.policy))


def opening(case: WeekCase, lift: Lift, other: Lift) -> str:
    """What the sheet opens `other` with in the place of `lift`: " at 28 kg" where it was logged,
    ", tries from 40 kg" where its kin say; "" where nobody knows."""
    entry, sessions = _entry(case, lift.name), case.next_sessions
    if entry is None or not sessions:
        return ""
    made = on_other(BlockWeeks(case.block, case.catalogue, case.policy), entry, other)
    beliefs, day = case.facts.beliefs(), sessions[0].day
    load_kg = open_load_kg(beliefs, case.lifter, other, made, day, case.policy)
    if load_kg is not None:
        return f" at {load_facts(load_kg, case.lifter, lift=other)['load']}"
    rack = rack_for(other, case.lifter.gym, case.policy)
    way = FindingWay(rack, other, made.sets[0], case.policy, case.bodyweight_kg)
    start, kin, *_ = start_from_kin(beliefs, way, day)
    if not (start and kin):
        return ""
    return f", tries from {load_facts(start.load_kg, case.lifter, lift=other)['load']}"


def _first_that_fits(case: WeekCase, lift: Lift, offered: Iterable[Lift]) -> Lift | None:
    """The first that next week has room for: it is not there yet, has no near twin in the session,
    suits the repetitions and keeps the week's rules."""
    week, entry = case.window.next_week or case.window.week, _entry(case, lift.name)
    sessions = week.sessions if week is not None else ()
    in_week = {e.lift for s in sessions for e in s.entries}
    families = {
        known.family
        for s in sessions
        if entry is not None and entry in s.entries
        for e in s.entries
        if e.lift != lift.name and (known := case.catalogue.find(e.lift)) is not None
    }
    return next(
        (
            other
            for other in offered
            if other.name not in in_week
            and other.family not in families
            and (entry is None or zone_on(other, entry) in other.reps)
            and _fits(case, lift, other)
        ),
        None,
    )


def _joint(lift: Lift, places: Collection[str]) -> str | None:
    """The joint that hurts: one of the `places` that reports name which the lift loads much, or the
    only one that it does, where they name nothing that it loads."""
    much = joints_much(lift) if lift.regions else []
    named = next((joint for joint in much if joint in places), None)
    if named is not None or len(much) != 1 or any(loads_place(lift, place) for place in places):
        return named
    return much[0]


def _fits(case: WeekCase, lift: Lift, other: Lift) -> bool:
    """Whether next week keeps its rules with `other` in every place of `lift`: minutes, ceilings,
    the session's and the week's limits, the ramp, and no more for a muscle that is held."""
    week, done = case.window.next_week, case.window.week
    if week is None or week.kind != "build":
        return True
    weeks = BlockWeeks(case.block, case.catalogue, case.policy)
    trial = week
    for number, session, entry in weeks.entries(week.week, None, lift.name):
        if number == week.week:
            made = on_other(weeks, entry, other)
            trial = with_entry(trial, session.session, made, entry.lift)
    if newly_broken(week, trial, case.lifter, case.catalogue, case.policy) is not None:
        return False
    changed = [s for s, old in zip(trial.sessions, week.sessions, strict=True) if s != old]
    if any(overfull(session, case.catalogue, case.policy) is not None for session in changed):
        return False
    before, after, now = (week_sets(each, case.catalogue) for each in (done, trial, week))
    most = case.policy.number("ramp.sets_per_week")
    for muscle, sets in after.items():
        held = case.lifter.emphasis_of(muscle) == "hold"
        room = 0.0 if held else max(before.get(muscle, 0.0) + most - now.get(muscle, 0.0), 0.0)
        if sets > now.get(muscle, 0.0) + room + 1e-9:
            return False
    return True


def _entry(case: WeekCase, lift: str) -> Entry | None:
    week = case.window.next_week or case.window.week
    found = planned_entries(week, case.catalogue).get(lift)
    return found[0][1] if found else None
