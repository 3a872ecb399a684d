"""What holds a lift's load back, or makes its week say nothing, as reasons; and the lift to go
over to where the kit makes nothing light enough."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from blockwright.engine.pain import MUCH, grade_in
from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.strength import most_effective
from blockwright.engine.strength.landing import FAR_REPS
from blockwright.engine.training import Lift, effective_load_kg
from .case import WeekCase
from .evidence import LiftEvidence, load_cuts
from .exposures import Exposure, planned_entries
from .loads import LoadChoice, LoadQuestion
from .proposals import Proposal, load_facts
from .safety_proposals import in_place_of, kept_in_pain, pain_facts
from .sets import muscle_facts
from .swaps import lighter_stand_in
from .training_facts import done_text, load_up, short_of, shortfalls

FELL = "fell_this_week"
HURTS = ("near_pain", "pain_no_progress_reason", "sign_stops_progress", "sets_near_pain")
"""What holds a lift for what hurts."""
WATCH = ("lift_watch_sounded", "lift_down_again")
"""What a chart that stands above its limit says of a lift."""


@dataclass(frozen=True, slots=True)
class LoadHolds:
    """What the week holds against a lift's load."""

    held: tuple[Reason, ...]  # What takes a printed climb back
    waits: tuple[Reason, ...]  # What forbids more than the print
    too_hard: bool  # Whether the load is too high for the effort


def held_and_waiting(case: WeekCase, lift: Lift) -> LoadHolds:
    """A watch that may have sounded for a bad day says nothing of the load."""
    held, too_hard = held_back(case, lift)
    waits = waiting_reasons(case, lift)
    found = case.evidence.lifts.get(lift.name)
    if found is not None and any(exposure.day in case.bad_days for exposure in found.done):
        held = tuple(reason for reason in held if reason.code not in WATCH)
    near = _near_pain(case, lift, much=False) or _eased_pain(case, lift)
    return LoadHolds(held, waits if near is None else (*waits, near), too_hard)


def held_back(case: WeekCase, lift: Lift) -> tuple[tuple[Reason, ...], bool]:
    """Reasons to take a printed climb back, strongest first, and whether the load is too high for
    the effort."""
    found = case.evidence.lifts.get(lift.name)
    name: Mapping[str, FactValue] = {"lift": lift.name}
    reasons: list[Reason | None] = []
    if (state := case.pain.get(lift.name)) is not None:
        facts, policy = pain_facts(state, lift.name), ("safety.pain_carry_on",)
        reasons.append(Reason(code="pain_no_progress_reason", facts=facts, policy=policy))
    reasons += [_near_pain(case, lift, much=True), _sign_reason(case, lift)]
    too_hard = found is not None and found.beyond_effort >= 2
    if found is not None and found.range_cut:
        reasons.append(Reason(code="range_cut", facts=name))
    if found is not None and too_hard:
        told = {**name, "sessions": found.beyond_effort}
        policy = ("review.effort.beyond",)
        reasons.append(Reason(code="effort_beyond_target", facts=told, policy=policy))
    if found is not None and found.watch_sounded:
        limits = ("watch.limit", "watch.slack")
        again = any(day <= case.window.start for day in load_cuts(case.block).get(lift.name, ()))
        reasons.append(Reason(code=WATCH[again], facts=name, policy=limits))
    reasons += [_fell(case, lift, found), _recovery_reason(case, lift)]
    too_hard = too_hard and found is not None and not found.range_cut
    return tuple(reason for reason in reasons if reason is not None), too_hard


def _fell(case: WeekCase, lift: Lift, found: LiftEvidence | None) -> Reason | None:
    """That a main lift fell, in a week that did not and on no bad day, and gave clearly fewer
    repetitions than the session before, what was left counted in: it does not climb on that."""
    if found is None or not (lift.compound and found.done and found.fell) or case.lower:
        return None
    mine = [e for e in case.evidence.exposures if e.lift == lift.name and e.sound]
    for now in found.done:
        before = [e for e in mine if e.session == now.session and e.day < now.day]
        known = before and now.sound and now.day not in case.bad_days
        if known and short_of(now, before[-1]) >= case.policy.number("review.load.fell_reps"):
            done, was = (done_text(one, case.lifter.units) for one in (now, before[-1]))
            told = {"lift": lift.name, "done": done, "before": was}
            return Reason(code=FELL, facts=told, policy=("review.load.fell_reps",))
    return None


def _near_pain(case: WeekCase, lift: Lift, *, much: bool) -> Reason | None:
    """That a joint hurts which the lift loads too: loaded `much`, or of kin that are referred, what
    it does and gets stays until that is quiet; a little, it goes on as printed and no further."""
    joint, state = case.near_pain(lift) or ("", None)
    if state is None or case.held_with(lift, joint, state) is not much:
        return None
    what = "it" if state.about == joint else f"the {joint}"
    facts = {**pain_facts(state, lift.name), "joint": joint, "what": what}
    facts |= {"hurts": "hurts" if case.window.holds(state.latest.day) else "hurt lately"}
    facts |= {"so": _as_printed(case, lift.name, sets=lift.compound)}
    code = "near_pain" if much else "near_pain_a_little"
    return Reason(code=code, facts=facts, policy=("safety.pain_carry_on",))


def _as_printed(case: WeekCase, name: str, *, sets: bool = True, effort: bool = True) -> str:
    """ "no more than printed: 2 → 3 sets, 65 → 70 lb, reserve 3 → 2": what the print adds to the
    week just done; "as printed" where nothing. `sets`, `effort`: whether to tell of those."""
    window, lift, ups = case.window, case.catalogue.find(name), list[str]()
    weeks = [planned_entries(week, case.catalogue).get(name, []) if week else []
             for week in (window.week, window.next_week)]  # fmt: skip
    old, new = ({s.session: entry for s, entry in week} for week in weeks)
    for was, now in ((old[at], new[at]) for at in new if at in old):
        if sets and len(now.sets) > len(was.sets):
            ups.append(f"{len(was.sets)} → {len(now.sets)} sets")
        ups += load_up(case.lifter, lift, was, now) if lift else []
        if effort and now.sets[0].rir < was.sets[0].rir:
            ups.append(f"reserve {was.sets[0].rir:g} → {now.sets[0].rir:g}")
    return f"no more than printed: {', '.join(dict.fromkeys(ups))}" if ups else "as printed"


def _eased_pain(case: WeekCase, lift: Lift) -> Reason | None:
    """That the lift, or a joint it loads much, came down to the line since its last report alone:
    one such session is no reason to go beyond the print."""
    line = case.policy.number("safety.pain_carry_on")
    for eased in () if lift.name in case.pain else case.pain_eased:
        hurts = eased.once and eased.pain >= line
        if hurts and (eased.about == lift.name or grade_in(lift, eased.about) >= MUCH):
            so = _as_printed(case, lift.name)
            facts: dict[str, FactValue] = {"lift": lift.name, "so": so}
            facts |= {"about": eased.about, "pain": eased.pain, "before": eased.before}
            return Reason(code="pain_eased", facts=facts, policy=("safety.pain_carry_on",))
    return None


def sets_near_pain(case: WeekCase, lift: Lift) -> Reason | None:
    """Why a lift gains no set, printed or not: it loads a joint that hurts, a main lift much."""
    reason = _near_pain(case, lift, much=True)
    if reason is None and not lift.compound:
        reason = _near_pain(case, lift, much=False)
    return None if reason is None else replace(reason, code="sets_near_pain")


def _sign_reason(case: WeekCase, lift: Lift) -> Reason | None:
    for warning in case.warnings:
        if case.catalogue.canonical(warning.lift) == lift.name:
            return Reason(code="sign_stops_progress", facts={"signs": warning.sign})
    return None


def _recovery_reason(case: WeekCase, lift: Lift) -> Reason | None:
    """A muscle of the lift that probably has not recovered; soreness alone, short of the policy's
    "not recovered", holds no load."""
    if not case.known_before:
        return None  # what was said on the first day is no week to fall from
    number = case.policy.number
    low = [
        found
        for muscle in lift.direct
        if (found := case.evidence.muscles.get(muscle)) is not None
        and (p := found.p_recovered) is not None
        and (p < number("review.load.hold_below")
             or (found.sore or 0.0) >= number("review.sore.not_from"))
    ]  # fmt: skip
    for worst in sorted(low, key=lambda f: f.p_recovered or 0.0):
        # one repetition less is no fall, and a small lift's holds no main one that held
        fell = shortfalls(case, worst.muscle, least=1.0, main=lift.compound).removeprefix(": ")
        shown = fell.removeprefix(f"{lift.name} ")
        if worst.sore is not None and worst.sore >= number("review.sore.not_from"):
            shown = f"{worst.muscle.replace('_', ' ')} {worst.sore:g} of 10 sore"
        if shown:  # nobody holds a load for a fall that no set and no answer shows
            facts = muscle_facts(worst) | {"shown": shown}
            policy = ("review.load.hold_below",)
            return Reason(code="muscle_holds_load", facts=facts, policy=policy)
    return None


def waiting_reasons(case: WeekCase, lift: Lift) -> tuple[Reason, ...]:
    """Why the week says too little of a lift to go beyond its print; empty where it says enough."""
    found = case.evidence.lifts.get(lift.name)
    if found is None:
        return ()
    # of a load that nobody wrote nothing is asked
    if found.done and found.done[-1].is_in_doubt and found.done[-1].work_load_kg:
        return (Reason(code="asked_first", facts={"lift": lift.name}),)
    if found.done:
        return on_bad_days(case, found.lift, found.done)
    week = case.window.week
    # a deload leaves lifts out: what the weeks before it said of them stands
    left_out = week.kind == "deload" and lift.name not in planned_entries(week, case.catalogue)
    end = case.window.start if left_out else case.window.end
    days = 0 if found.latest is None else (end - found.latest.day).days
    if days <= case.policy.number("review.gap_days"):
        open_still = any(
            session.day in case.evidence.to_come
            for session, _ in planned_entries(week, case.catalogue).get(lift.name, [])
        )
        told: dict[str, FactValue] = {"lift": lift.name, "yet": " yet" if open_still else ""}
        return () if left_out else (Reason(code="not_done_this_week", facts=told),)
    return (because("back_after_a_gap", "review.gap_days", lift=found.lift, days=days),)


def a_week_late(case: WeekCase, question: LoadQuestion, choice: LoadChoice) -> LoadChoice:
    """The load the missed session had, where it is one change from the last one done and lands as
    well: a missed session costs a week of the climb, not the climb. Not after a week without."""
    if not any(found.done for found in case.evidence.lifts.values()):
        return choice
    name = question.lift.name
    for _, missed in planned_entries(case.window.week, case.catalogue).get(name, []):
        load_kg = missed.sets[0].load_kg
        if (
            load_kg is not None
            and question.effective(load_kg) > question.effective(choice.load_kg)
            and question.is_one_change(choice.load_kg, load_kg)
            and lands_as_well(question, load_kg, choice.load_kg)
        ):
            late = Reason(code="load_a_week_late", facts={"lift": name})
            choice = replace(choice, load_kg=load_kg, reasons=(late, *choice.reasons))
    return choice


def lands_as_well(question: LoadQuestion, printed_kg: float, wanted_kg: float) -> bool:
    """Whether the printed load lands in its range about as well as the one wanted; the named
    rules do not ask."""
    harder = question.effective(wanted_kg) > question.effective(printed_kg)
    if harder and question.is_far_light(printed_kg):
        return False  # all loads miss alike, and this one is nearer
    if question.policy.text("review.load.rule") != "belief":
        return False
    gain = question.landing.cost(printed_kg) - question.landing.cost(wanted_kg)
    return gain <= question.policy.number("review.load.lower_gain")


def first_set_failed(case: WeekCase, done: Sequence[Exposure]) -> Reason | None:
    """That the week's last first set ended clearly below its printed range: no load rises after
    it. In a deload a set ends where so much is left, and fails in nothing; what fails on a
    bad day says nothing of the load."""
    last = done[-1] if done and case.window.week.kind == "build" else None
    if last is None or last.target is None or not (last.failed and case.window.holds(last.day)):
        return None
    if last.day in case.bad_days and last.first.first_reps and not last.is_in_doubt:
        return None
    low, high = last.target.reps_low, last.target.reps_high
    told: dict[str, FactValue] = {
        "lift": last.lift,
        "done": done_text(last, case.lifter.units),
        "asked": f"{low}–{high}" if low != high else low,
    }
    return Reason(code="first_set_failed", facts=told)


def no_leap(case: WeekCase, question: LoadQuestion, choice: LoadChoice) -> LoadChoice:
    """The choice no further above the print than one change may be, or than what was lifted."""
    printed_kg, wanted_kg = question.entry.sets[0].load_kg, choice.load_kg
    harder = question.effective(wanted_kg) > question.effective(question.before_kg)
    if printed_kg is None or not harder or question.is_one_change(printed_kg, wanted_kg):
        return choice
    return replace(choice, load_kg=question.again_kg)


def failed_once(case: WeekCase, last: Exposure) -> bool:
    """Whether the session before one that failed gave the range at about its load: a bad set,
    until a second says otherwise."""
    before, near = _gave_before(case, last)
    return before is not None and near


def back_to_what_gave(case: WeekCase, question: LoadQuestion, choice: LoadChoice) -> LoadChoice:
    """The choice no harder than what gave its range the session before, where the step from there
    to a load whose first set failed was longer than one change may be."""
    failed = first_set_failed(case, question.done)
    before, near = _gave_before(case, question.done[-1]) if failed else (None, True)
    if before is None or near:
        return choice
    effective = question.effective
    is_harder = effective(before.work_load_kg) < effective(choice.load_kg)
    return replace(choice, load_kg=before.work_load_kg) if is_harder else choice


def _gave_before(case: WeekCase, last: Exposure) -> tuple[Exposure | None, bool]:
    """The session before one that failed, where it gave the range, and whether its load was near:
    no more than one change below."""
    lift, asked = case.catalogue.find(last.lift), last.target
    before = [e for e in case.evidence.exposures if e.lift == last.lift and e.day < last.day]
    if lift is None or asked is None or not (last.failed and before):
        return None, False
    then, now = (
        effective_load_kg(lift, e.work_load_kg, case.bodyweight_kg) or 0.0
        for e in (before[-1], last)
    )
    gave = before[-1].first.first_reps >= asked.reps_low and not before[-1].failed
    return before[-1] if gave else None, most_effective(then, case.policy) >= now


def one_step(question: LoadQuestion, choice: LoadChoice, *, down: bool) -> LoadChoice:
    """The choice no lower than what was lifted, or than one change below it: a step of the kit,
    and of small steps as many as one change upward may be."""
    least_kg = question.again_kg
    least = question.effective(question.before_kg) * (1 - question.policy.number("load.most_up"))
    for number, made in enumerate(question.rack.easier_than(question.before_kg) if down else ()):
        if number and question.effective(made.load_kg) < least * (1 - 1e-9):
            break
        least_kg = made.load_kg
    lower = question.effective(choice.load_kg) < question.effective(least_kg)
    return replace(choice, load_kg=least_kg) if lower else choice


def within_reach(case: WeekCase, question: LoadQuestion, choice: LoadChoice) -> LoadChoice:
    """Of an open load after a set that failed the choice, or the kit's next easier load where the
    range is probably out of reach at it: as the sheet fills it."""
    is_open = question.entry.sets[0].load_kg is None
    if not is_open or first_set_failed(case, question.done) is None:
        return choice
    least, easier = question.policy.number("load.reach_probability"), None
    if question.landing.p_reaches(choice.load_kg) < least:
        easier = question.rack.next_easier(choice.load_kg)
    if easier is None or question.effective(easier.load_kg) <= 0:
        return choice
    return replace(choice, load_kg=easier.load_kg)


def as_tolerated(case: WeekCase, question: LoadQuestion, choice: LoadChoice) -> LoadChoice:
    """The choice no harder than what the sheet prints of a lift that hurts."""
    _, kept = kept_in_pain(case, question.lift)
    if kept is None or question.effective(kept) >= question.effective(choice.load_kg):
        return choice
    return replace(choice, load_kg=kept)


def lightest_too_heavy(question: LoadQuestion) -> Reason | None:
    """That nothing the kit makes is light enough, as the last first set showed."""
    low, done = question.entry.sets[0].reps_low, question.done[-1:]
    if question.rack.next_easier(question.before_kg) or not done or done[0].first.first_reps >= low:
        return None
    facts: dict[str, FactValue] = {
        "lift": question.lift.name,
        "reps": done[0].first.first_reps,
        "reps_low": low,
        **load_facts(question.before_kg, question.lifter, lift=question.lift),
    }
    return Reason(code="band_too_weak" if question.by_bands else "lightest_too_heavy", facts=facts)


def lighter_lift(case: WeekCase, question: LoadQuestion) -> Proposal | None:
    """A lift that goes lighter in place of one far too heavy at its lightest, if there is one."""
    reason, first = lightest_too_heavy(question), question.entry.sets[0]
    expected = question.landing.median_reps(question.before_kg)
    if reason is None or question.by_bands or expected >= first.reps_low - FAR_REPS:
        return None
    if question.done[-1].day in case.bad_days:
        return None
    most_kg = question.belief.load_kg_for(first.reps_low, first.rir, on=question.day)
    other = lighter_stand_in(case, question.lift, most_kg)
    if other is None:
        return None
    facts = {**reason.facts, "other": other.name}
    made = in_place_of(
        case,
        question.lift,
        other,
        Reason(code="propose_lighter_lift", facts=facts),
        replace(reason, code="goes_lighter"),
        (),
    )
    return replace(made, claim=Reason(code="claim_goes_lighter", facts=facts))


def on_bad_days(case: WeekCase, lift: str, done: Sequence[Exposure]) -> tuple[Reason, ...]:
    """A lift done on a bad day only says nothing: its print stands."""
    days = sorted({exposure.day for exposure in done})
    if not (days and case.bad_days.issuperset(days)):
        return ()
    facts: dict[str, FactValue] = {
        "lift": lift,
        "dates": ", ".join(day.isoformat() for day in days),
        "so": _as_printed(case, lift, effort=False),
    }
    return (Reason(code="one_bad_day", facts=facts, policy=("review.read.act_from",)),)
