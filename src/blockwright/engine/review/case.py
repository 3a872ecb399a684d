"""Everything one review looks at, gathered once; and the few questions that many parts ask."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from blockwright.engine.case import CoachCase
from blockwright.engine.pain import (
    JOINT_MUSCLES,
    MUCH,
    grade_in,
    joints_much,
    place_in,
    works_joint,
)
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Reason, because
from blockwright.engine.signs import (
    WHOLE_BODY_SIGNS,
    Warning,
    latest_of_each,
    signs_in_checkins,
    signs_in_sets,
    uncleared_signs,
)
from blockwright.engine.training import Block, Catalogue, Lift, Lifter, Session
from blockwright.engine.volume import CeilingBelief
from .evidence import Evidence
from .exposures import DAYS_OF_WEEK, Exposure, Window
from .proposals import Change
from .safety import PainEased, PainState, Reports, pain_eased, pain_reports, unplaced
from .week_state import (
    SEVERAL,
    WeekState,
    bad_days,
    below_usual,
    nearly_all_fell,
    overreached,
    state_of,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekCase:
    """A coach's case at the end of a week: what its facts say of the week."""

    facts: CoachCase
    block: Block
    window: Window
    evidence: Evidence
    ceilings: Mapping[str, CeilingBelief]
    pain: Mapping[str, PainState]  # By lift
    pain_elsewhere: Mapping[str, PainState]
    warnings: tuple[Warning, ...]
    """Signs of the week, after those of earlier weeks that nobody has cleared."""
    states: tuple[WeekState, ...]
    """What the last weeks were, in order; the last is the week just done where it was trained."""

    @property
    def lifter(self) -> Lifter:
        return self.block.lifter

    @property
    def catalogue(self) -> Catalogue:
        return self.facts.catalogue

    @property
    def policy(self) -> Policy:
        return self.facts.policy

    @property
    def bodyweight_kg(self) -> float | None:
        """As last weighed."""
        return self.facts.weights.on(self.facts.name, self.window.through)

    @property
    def next_number(self) -> int | None:
        return self.window.next_week.week if self.window.next_week is not None else None

    @property
    def next_sessions(self) -> tuple[Session, ...]:
        return self.window.next_week.sessions if self.window.next_week is not None else ()

    @property
    def done(self) -> list[Exposure]:
        """The exposures of the week just done."""
        return [e for e in self.evidence.exposures if self.window.holds(e.day)]

    @property
    def known_before(self) -> bool:
        """Whether anything was logged before the week."""
        return any(e.day < self.window.start for e in self.evidence.exposures)

    @property
    def awaits_clearance(self) -> Reason | None:
        """Why nothing may progress at all, or None."""
        if self.block.status == "refer":
            return Reason(code="awaits_clearance")
        signs = [w.sign for w in self.warnings if w.sign in WHOLE_BODY_SIGNS]
        signs += [f"pain in {state.about}" for state in self.pain_unplaced]
        if signs:
            return because("sign_stops_progress", signs=", ".join(dict.fromkeys(signs)))
        return None

    @property
    def pain_unplaced(self) -> tuple[PainState, ...]:
        """Pain above the stopping line in words that name nothing that could be spared."""
        return unplaced(self.pain_elsewhere.values(), {e.lift for e in self.evidence.exposures})

    @property
    def state(self) -> WeekState | None:
        """What the week just done was; None where nothing was trained in it."""
        return state_of(self.states, self.window.start)

    @property
    def overreached(self) -> frozenset[str]:
        """Muscles that probably had too much."""
        return overreached(self.state, self.policy)

    @property
    def hurting(self) -> frozenset[str]:
        """Muscles of lifts that are stopped."""
        lifts = self.catalogue.known(name for name in self.pain if self.stopped(name))
        return frozenset(m for lift in lifts for m in lift.direct)

    @property
    def pain_referred(self) -> bool:
        """Whether some pain goes to a licensed professional."""
        return any(one.refer for one in (*self.pain.values(), *self.pain_elsewhere.values()))

    @property
    def sore_joints(self) -> Mapping[str, PainState]:
        """Joints that hurt: those named, and the one that a painful lift loads much, where its
        regions are known and it is the only one; which part of the back, a row does not say."""
        found: dict[str, PainState] = {}
        for state in (*self.pain.values(), *self.pain_elsewhere.values()):
            lift = self.catalogue.find(state.about)
            much = [state.about] if lift is None else joints_much(lift) if lift.regions else []
            if len(much) == 1 and much[0] in JOINT_MUSCLES and (lift is None or much != ["back"]):
                found.setdefault(much[0], state)
        return found

    def near_pain(self, lift: Lift) -> tuple[str, PainState] | None:
        """A joint that hurts, which the lift loads too, by its regions, and whose muscles it
        trains, though it hurts nobody itself; where no report names the joint, one that it loads
        much."""
        if lift.name in self.pain or not lift.regions:
            return None
        near = (
            (joint, state) for joint, state in self.sore_joints.items()
            if works_joint(lift, joint)
            and (state.about == joint or self.held_with(lift, joint, state))
        )  # fmt: skip
        return next(near, None)

    def held_with(self, lift: Lift, joint: str, state: PainState) -> bool:
        """Whether a lift loads a joint much, or stands in for one of its muscles that goes to a
        professional for what `state` is about."""
        sent = (name for name, one in self.pain.items()
                if one.refer and one.own and one.about == state.about)  # fmt: skip
        kin = any(set(lift.direct) & set(one.direct) for one in self.catalogue.known(sent))
        return kin or grade_in(lift, joint) >= MUCH

    @property
    def pain_eased(self) -> list[PainEased]:
        """What hurts less by its last report of the week."""
        window, said = self.window, pain_said(self.facts)
        return pain_eased(said, self.catalogue, self.policy, window.start, window.end)

    @property
    def bad_days(self) -> frozenset[date]:
        """Days of the week that probably were bad ones, and say nothing of the weeks to come."""
        return bad_days(self.state, self.policy)

    def hurts_lighter_too(self, lift: Lift) -> bool:
        """Whether a lift that hurt hurt again in a later week, with less load: less is no mend."""
        line, known = self.policy.number("safety.pain_carry_on"), self.facts.beliefs().sets
        hurt = [s for s in known if s.lift == lift.name and (s.pain or 0.0) > line]
        now = [s.load_kg for s in hurt if self.window.holds(s.moment.day)]
        before = [s.load_kg for s in hurt if s.moment.day < self.window.start]
        return bool(now and before) and max(now) < max(before)

    def was_off(self, day: date) -> bool:
        """Whether a day was a bad one, or of a week with several lifts below their usual."""
        here = [s for s in self.states if 0 <= (day - s.start).days < DAYS_OF_WEEK]
        weak = any(s.fell >= SEVERAL and below_usual(s, self.policy) for s in here)
        return weak or any(day in bad_days(s, self.policy) for s in here)

    @property
    def half_done(self) -> float | None:
        """The share of the week's sets that were logged, where it is so small that the week counts
        as not done; None else, and before the week is over."""
        logged, planned = self.sets_of_week
        least = self.policy.number("review.week.done_share") * planned
        over = planned > 0 and not self.evidence.to_come
        return logged / planned if over and logged < least else None

    @property
    def sets_of_week(self) -> tuple[int, int]:
        """The week's sets that were logged, and those printed."""
        printed = sum(len(entry.sets) for entry in self.window.week.entries)
        return sum(len(e.sets) for e in self.done), printed

    @property
    def first_back(self) -> bool:
        """Whether nothing at all was done in the week before, by somebody who trains."""
        start = self.window.start
        lately = any(0 < (start - e.day).days <= DAYS_OF_WEEK for e in self.evidence.exposures)
        return self.known_before and not lately and self.window.week.week > 1

    @property
    def weak(self) -> bool:
        """Whether the week lay below the usual level and most first sets fell short of range or
        reserve."""
        short = [e.short > 0 for e in self._asked]
        return self.lower and (not short or 2 * sum(short) > len(short))

    @property
    def lower(self) -> bool:
        """Whether the week lay below the usual level: where nearly every first set reached the
        middle of its range, what came before was overrated."""
        given = [-e.short >= (e.target.reps_high - e.target.reps_low) / 2
                 for e in self._asked if e.target is not None]  # fmt: skip
        enough = sum(given) >= self.policy.number("review.read.given_share") * len(given)
        return below_usual(self.state, self.policy) and not (given and enough)

    @property
    def down(self) -> bool:
        """Whether nearly every lift fell, and the week lay far below the usual level."""
        state, line = self.state, self.policy.number("review.read.weak_two_weeks")
        if state is None or state.mean is None or state.mean > line:
            return False
        return self.lower and nearly_all_fell(state, self.policy)

    @property
    def _asked(self) -> list[Exposure]:
        """The week's exposures that were printed."""
        return [e for e in self.done if e.target is not None]

    def stopped(self, lift: str) -> bool:
        """Whether pain, or a sign of its own that leaves no doubt, stops the lift."""
        hurts = lift in self.pain and self.pain[lift].band == "stop"
        return hurts or self.sign_of(lift) is not None

    def sign_of(self, lift: str) -> Warning | None:
        """The last open sign of one lift alone that leaves no doubt."""
        return next((sign for sign in reversed(self.warnings) if sign.sure
                     and sign.sign not in WHOLE_BODY_SIGNS
                     and self.catalogue.canonical(sign.lift) == lift), None)  # fmt: skip

    def declined(self, change: Change) -> bool:
        """Whether the coach has declined this very proposal in this block; a set, or the load of a
        lift that was not done since, in the last weeks."""
        kinds = ["add_set"]
        if all(e.lift != change.lift for e in self.done):
            kinds += ["raise_load", "lower_load"]
        since = (change.week or 0) - self.policy.whole("review.declined_weeks")
        same = [
            d
            for d in self.block.decisions
            if d.proposal == change.id
            or (
                d.kind == change.kind in kinds
                and d.change.get("lift") == change.lift
                and float(d.change.get("week") or 0) >= since
            )
        ]
        return any(d.verdict == "declined" for d in same)


def cleared_by(decided: Iterable[tuple[str, Mapping[str, object]]]) -> dict[str, date]:
    """By lift, joint or sign: the last day it was cleared. `decided`: the kind and change of each
    decision, as a block keeps them."""
    found: dict[str, date] = {}
    for kind, change in decided:
        about, day = change.get("about"), change.get("cleared_on")
        if kind == "refer" and about and day:
            cleared = date.fromisoformat(str(day))
            found[str(about)] = max(cleared, found.get(str(about), cleared))
    return found


def cleared_days(case: CoachCase) -> Mapping[str, date]:
    """What was cleared in the case's block, in the lifter's file and, as far as the case knows, in
    other blocks."""
    here = () if case.block is None else case.block.decisions
    known = (
        cleared_by((one.kind, one.change) for one in here),
        case.cleared,
        {} if case.lifter is None else case.lifter.signs_cleared,
    )
    return {
        about: max(found[about] for found in known if about in found)
        for about in {about for found in known for about in found}
    }


def open_signs(case: CoachCase, day: date) -> tuple[Warning, ...]:
    """The signs that nobody has cleared by `day`, the latest of each kind."""
    return latest_of_each(all_open_signs(case, day))


def all_open_signs(case: CoachCase, day: date) -> tuple[Warning, ...]:
    """Every sign that nobody has cleared by `day`, in order: written down since the lifter's first
    block began, or within `safety.pain_memory_days` (what was imported from years before has been
    told by the import)."""
    memory = case.policy.days("safety.pain_memory_days")
    start = day if case.block is None else case.block.start
    first = min(case.first_start or day, start, day - memory)
    return uncleared_signs(signs_of(case), cleared_days(case), first, day)


def pain_said(case: CoachCase) -> Reports:
    """Every report of pain in the case's work sets and check-ins: of the lift, and of the place
    that the set's note names where it hurt more than a little. What a sign of the whole body names
    is no sore place, whose stand-ins would be looked for: the sign itself holds everything."""
    little = case.policy.number("safety.pain_carry_on")
    of_lifts = []
    for done in case.sets:
        if done.is_work and done.pain is not None:
            signed = any(one.sign in WHOLE_BODY_SIGNS for one in case.read_note(done.note))
            place = place_in(done.note) if done.pain > little and not signed else None
            names = (case.catalogue.canonical(done.lift), *([place] if place else []))
            of_lifts += [(name, done.moment.day, done.pain) for name in names]
    return pain_reports(of_lifts, case.checkins, case.catalogue, case.through or date.max)


def signs_of(case: CoachCase) -> tuple[Warning, ...]:
    """Every sign in the case's notes, and what was told besides."""
    said = signs_in_checkins(case.checkins, case.catalogue, case.policy, case.read_note)
    return (*signs_in_sets(case.sets, case.read_note), *said, *case.signs)


def waits_for_a_sign(block: Block) -> bool:
    """Whether an accepted referral for a sign of the whole body is not cleared yet."""
    last = {
        str(one.change.get("about")): one
        for one in block.decisions
        if one.kind == "refer" and one.change.get("about") in WHOLE_BODY_SIGNS
    }
    return block.status == "refer" and any(
        one.verdict != "declined" and "cleared_on" not in one.change for one in last.values()
    )
