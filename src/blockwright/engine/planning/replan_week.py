"""One week of a block as the composer sees it, about to change: what happened to one session, what
may still carry sets, and the lifts that may stand in for what cannot be done.

Of stand-ins the likest come first: the same pattern and zone, on kit that is not what is missing,
as well suited. What two lifts that are gone have in common, and nothing that stays uses, is taken
to be missing."""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    DAYS,
    MUSCLES,
    Block,
    Catalogue,
    Entry,
    Lifter,
    Session,
    Week,
)
from .baseline import reaching
from .benefit import muscle_points
from .disruption import Disruption
from .likeness import unlike
from .make_problem import make_problem
from .problem import Option, Place, Plan, Problem, plan_of
from .spared import Carried
from .supersets import Pair, best_pairs
from .time_model import pair_time
from .week_figures import option_of, sets_of


@dataclass(frozen=True, slots=True)
class StandIn:
    """An option that may come in."""

    price: int  # Points against it
    counts: Mapping[str, int]
    """Quarter sets by muscle that a set is held against the plan: no more than what it replaces
    gives, so that a stand-in set for set is never too much."""


@dataclass(frozen=True, kw_only=True, eq=False)
class WeekAtHand:
    """A week about to change."""

    block: Block
    week: Week
    session: Session
    trouble: Disruption
    problem: Problem
    entries: Mapping[Place, Entry]
    later: tuple[int, ...]  # Slots of the week's sessions still to come
    catalogue: Catalogue
    policy: Policy

    @property
    def is_easy(self) -> bool:
        """Deload, and a gentle first week: what is dropped is let go, no lift takes it over."""
        gentle = any(reason.code.startswith("gentle_") for reason in self.block.reasons)
        return self.week.kind == "deload" or (self.week.week == 1 and gentle)

    @cached_property
    def plan(self) -> Plan:
        """As it was planned."""
        return plan_of({place: sets_of(entry) for place, entry in self.entries.items()})

    @cached_property
    def slot(self) -> int:
        """Of the session."""
        return slot_index(self.block, self.session)

    @cached_property
    def today(self) -> tuple[Place, ...]:
        """The session's places in the order of the sheet."""
        here = [place for place in self.entries if place.slot == self.slot]
        return tuple(sorted(here, key=lambda place: self.entries[place].order))

    def option(self, place: Place) -> Option:
        return self.problem.options[place.option]

    @cached_property
    def pinned(self) -> frozenset[int]:
        """Options of the session's lifts that the coach pinned, on this day or on any."""
        names = pinned_on(self.block.lifter, self.session, self.catalogue)
        return frozenset(p.option for p in self.today if self.option(p).lift.name in names)

    @property
    def opener(self) -> int | None:
        """The option of the main lift that opens the session; None where a small one does."""
        mains = [place.option for place in self.today[:1] if self.option(place).is_main]
        return mains[0] if mains else None

    @property
    def largest(self) -> int | None:
        """The option of the session's main lift with most sets, the first of several."""
        mains = [place for place in self.today if self.option(place).is_main]
        return max(mains, key=lambda place: self.plan[place]).option if mains else None

    def is_gone(self, place: Place) -> bool:
        """Whether a lift of today cannot be done, or one of a later day hurts."""
        name = self.option(place).lift.name
        if place.slot == self.slot:
            return self.trouble.takes(name)
        return place.slot in self.later and self.trouble.pains(name)

    def grown(self, place: Place, sets: int) -> int:
        """The most sets an entry of so many may grow to: no more than the composer would give, and
        a small lift no further than the main lift that opens its session."""
        most = self.problem.most_sets(self.option(place))
        mains = [
            entry
            for other, entry in self.entries.items()
            if other.slot == place.slot and self.option(other).is_main
        ]
        if mains and not self.option(place).is_main:
            most = min(most, sets_of(min(mains, key=lambda entry: entry.order)))
        return max(most, sets)

    def may_carry(self, place: Place, slot: int) -> bool:
        """Whether a lift of the session may be moved to a later slot: not onto a sore muscle
        before it had its time; from its pinned day only where that day is missed."""
        option = self.option(place)
        pinned = self.problem.pin_slots(option.lift.name)
        if pinned is not None and slot not in pinned and not self.trouble.missed:
            return False
        close = self.problem.gap_h(self.slot, slot) < self.problem.limits.hours_between
        return not (close and any(muscle in option.direct for muscle in self.trouble.sore))

    def sore_most(self, muscle: str) -> int:
        """Direct sets a sore muscle may still have in the session."""
        direct = sum(self.plan[p] for p in self.today if muscle in self.option(p).direct)
        return math.ceil(direct * self.policy.number("replan.sore_share") - 1e-9)

    @cached_property
    def points(self) -> Mapping[str, tuple[int, ...]]:
        """By muscle: points of 0, 1, 2, ... quarter sets a week."""
        return muscle_points(self.block.lifter, self.problem.aims, self.problem.limits)

    # ------------------------------------------------------------------------------- time

    def kept_pairs(self, plan: Plan, slot: int) -> list[Pair]:
        """The pairs of a slot's entries that both are still there with equal sets."""
        by_label: dict[str, list[Place]] = {}
        for place, entry in self.entries.items():
            if place.slot == slot and entry.pair is not None and place in plan:
                by_label.setdefault(entry.pair, []).append(place)
        found = []
        for _, places in sorted(by_label.items()):
            if len(places) == 2 and plan[places[0]] == plan[places[1]]:
                first, second = (self.option(place).time for place in places)
                found.append((places[0], places[1], pair_time(first, second, self.policy)))
        return found

    def new_pairs(self, plan: Plan) -> list[Pair]:
        """The session's best pairs, when minutes are short and pairs are allowed."""
        if not self.block.lifter.allow.supersets:
            return []
        return best_pairs(in_slot(plan, self.slot), self.problem.options, self.policy)

    def straight_s(self, plan: Plan) -> int:
        """Seconds of a session of these, none in turn."""
        start_s = self.policy.whole("time.session_start")
        return start_s + sum(self.option(p).time.seconds(sets) for p, sets in plan.items())

    def seconds(self, today: Plan, *, anew: bool = False) -> int:
        """How long the session takes with these; `anew` pairs them anew."""
        pairs = self.new_pairs(today) if anew else self.kept_pairs(today, self.slot)
        return self.straight_s(today) - saved_s(pairs, today)

    def budget_s(self, *, more_s: int = 0) -> tuple[int, ...]:
        """Seconds for straight work in every slot, the session's own cut to what minutes are left
        and what pairs give back."""
        start_s, budgets = self.policy.whole("time.session_start"), list(self.problem.budget_s)
        for session in self.week.sessions:
            slot = slot_index(self.block, session)
            available = session.minutes_available
            saved = saved_s(self.kept_pairs(self.plan, slot), self.plan)
            if slot == self.slot and self.trouble.minutes is not None:
                available, saved = min(self.trouble.minutes, available), more_s
            budgets[slot] = 60 * available - start_s + saved
        return tuple(budgets)

    # -------------------------------------------------------------------------- stand-ins

    @cached_property
    def swaps(self) -> Mapping[int, StandIn]:
        """By option, what may come into the session; empty where no lift is missing or hurts."""
        trouble, problem = self.trouble, self.problem
        here = {self.option(place).lift.name for place in self.today}
        lost = {*trouble.without, *trouble.hurts}
        missing = self._missing_kit()
        found: dict[int, StandIn] = {}
        for left in (self.option(place) for place in self.today):
            if left.lift.name not in lost:
                continue
            fit = [
                (index, option)
                for index, option in enumerate(problem.options)
                if option.lift.name not in here
                and self._may_replace(option, left)
                and not missing & set(option.lift.kit)
            ]
            suits = [problem.scores.get(option.lift.name, 0) for _, option in fit]
            for (index, option), score in zip(fit, suits, strict=True):
                far = self._far(option, left, max(suits) - score)
                found[index] = _nearer(found.get(index), far, option, left)
        return found

    def _may_replace(self, other: Option, gone: Option) -> bool:
        """For a lift that hurts only those that may stand in for it."""
        if not self.trouble.spares(other.lift, self.catalogue):
            return False
        if gone.lift.name in self.trouble.hurts:
            return other.lift.name in self.trouble.stand_ins and gone.muscle in other.direct
        alike = other.muscle == gone.muscle or (gone.basic and other.basic == gone.basic)
        return bool(alike) and other.is_main == gone.is_main

    def _missing_kit(self) -> set[str]:
        """Kit of at least two lifts that are gone and of none that stays."""
        lifts = [self.option(place).lift for place in self.today]
        gone = [set(lift.kit) for lift in lifts if lift.name in self.trouble.without]
        shared = {word for kit in gone for word in kit if sum(word in one for one in gone) > 1}
        return shared - {w for x in lifts if x.name not in self.trouble.without for w in x.kit}

    def _far(self, other: Option, gone: Option, less_suited: int) -> int:
        """Points against a lift that is unlike, in another zone, less suited by so many points, or
        new to the week."""
        differs = {
            "other_zone": other.zone != gone.zone,
            "less_suited": less_suited,
            "swapped": all(self.option(place).lift != other.lift for place in self.plan),
        }
        number = self.policy.number
        points = sum(number(f"replan.price.{key}") * much for key, much in differs.items())
        return round(points + unlike(gone.lift, other.lift, self.policy, taken=True))


def _nearer(known: StandIn | None, far: int, option: Option, left: Option) -> StandIn:
    counts = {m: min(q, left.quarters.get(m, 0)) for m, q in option.quarters.items()}
    if known is None:
        return StandIn(far, counts)
    return StandIn(min(far, known.price), {m: max(q, counts[m]) for m, q in known.counts.items()})


def in_slot(plan: Plan, slot: int) -> Plan:
    """What of a plan stands in one slot."""
    return {place: sets for place, sets in plan.items() if place.slot == slot}


def saved_s(pairs: Collection[Pair], plan: Plan) -> int:
    """Seconds that pairs give back."""
    return sum(time.saved_in(plan[first]) for first, _, time in pairs)


def slot_index(block: Block, session: Session) -> int:
    for index, slot in enumerate(block.lifter.slots):
        if slot.day_index == session.day.weekday() and slot.start_time == session.start_time:
            return index
    raise ValueError(f"the session on {session.day} has no slot")


def pinned_on(lifter: Lifter, session: Session, catalogue: Catalogue) -> frozenset[str]:
    """Canonical names of the lifts pinned to the session's day, or to no day."""
    day = DAYS[session.day.weekday()]
    pins = (pin.lift for pin in lifter.pins if not pin.days or day in pin.days)
    return frozenset(lift.name for lift in catalogue.known(pins))


def week_at_hand(
    block: Block,
    week: Week,
    trouble: Disruption,
    catalogue: Catalogue,
    policy: Policy,
    *,
    over: Collection[int] = (),
) -> WeekAtHand:
    """The week of a block with the session of `trouble` in hand; sessions that are `over` stay."""
    session = next(s for s in week.sessions if s.session == trouble.session)
    lifts = frozenset(entry.lift for entry in week.entries)
    base = make_problem(block.lifter, catalogue, policy, carried=Carried(kept=lifts), wide=True)
    options = list(base.options)
    entries: dict[Place, Entry] = {}
    for planned in week.sessions:
        slot = slot_index(block, planned)
        for entry in planned.entries:
            wanted = option_of(entry, catalogue, policy)
            if wanted not in options:
                options.append(wanted)
            entries[Place(slot, options.index(wanted))] = entry
    gives = [(sets_of(entry), options[place.option].quarters) for place, entry in entries.items()]
    has = {m: sum(sets * quarters.get(m, 0) for sets, quarters in gives) for m in MUSCLES}
    when = (session.day, session.start_time)
    later = [
        slot_index(block, s)
        for s in week.sessions
        if (s.day, s.start_time) > when and not s.missed and s.session not in over
    ]
    return WeekAtHand(
        block=block,
        week=week,
        session=session,
        trouble=trouble,
        problem=replace(base, options=tuple(options), aims=reaching(base.aims, has)),
        entries=entries,
        later=tuple(sorted(later)),
        catalogue=catalogue,
        policy=policy,
    )
