"""One week of a block as the composer sees it, and back: items from entries, entries from
items, with everything that did not change left as it was."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from blockwright.engine.planning.baseline import reaching
from blockwright.engine.planning.benefit import muscle_points
from blockwright.engine.planning.make_problem import make_problem
from blockwright.engine.planning.order import ordered
from blockwright.engine.planning.problem import Item, Problem, WeekPlan, week_plan
from blockwright.engine.planning.spared import Carried
from blockwright.engine.planning.supersets import Pairing, best_pairs, pair_labels
from blockwright.engine.planning.time_model import pair_time
from blockwright.engine.planning.week_figures import option_of, session_minutes, sets_of
from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    DAYS,
    MUSCLES,
    Block,
    Catalogue,
    Entry,
    Lifter,
    Session,
    SetPlan,
    Week,
)


@dataclass(frozen=True, kw_only=True, eq=False)
class WeekAtHand:
    """A week about to change."""

    block: Block
    week: Week
    session: Session
    slot: int
    """Index of the session's slot."""
    problem: Problem
    plan: WeekPlan
    entries: Mapping[tuple[int, int], Entry]
    """By (slot, option)."""
    in_order: tuple[Item, ...]
    """The session's items in the order of the sheet."""
    later: tuple[int, ...]
    """Slots of the week's sessions still to come."""
    catalogue: Catalogue
    policy: Policy
    is_easy: bool
    """Deload and a gentle first week: what is dropped is let go, no other lift takes it over."""
    missed: bool = False
    """Whether the session did not happen: main lifts find a place before small ones stay."""

    @cached_property
    def pinned(self) -> frozenset[int]:
        """Options of the session's lifts that the coach pinned, on this day or on any."""
        names = pinned_on(self.block.lifter, self.session, self.catalogue)
        options = self.problem.options
        return frozenset(i.option for i in self.in_order if options[i.option].lift.name in names)

    @property
    def opener(self) -> int | None:
        """The option of the main lift that opens the session; None where a small one does."""
        first = self.in_order[0].option if self.in_order else None
        return None if first is None or not self.problem.options[first].is_main else first

    @property
    def largest(self) -> int | None:
        """The option of the session's main lift with most sets, the first of several."""
        mains = [item for item in self.in_order if self.problem.options[item.option].is_main]
        return max(mains, key=lambda item: item.sets).option if mains else None

    def grown(self, slot: int, option: int, sets: int) -> int:
        """The most sets an entry of so many may grow to: no more than the composer would give, and
        a small lift no further than the main lift that opens its session."""
        options = self.problem.options
        most = self.problem.most_sets(options[option])
        mains = [
            entry
            for (at, place), entry in self.entries.items()
            if at == slot and options[place].is_main
        ]
        if mains and not options[option].is_main:
            most = min(most, sets_of(min(mains, key=lambda entry: entry.order)))
        return max(most, sets)

    @cached_property
    def points(self) -> Mapping[str, tuple[int, ...]]:
        """By muscle: points of 0, 1, 2, ... quarter sets a week."""
        problem = self.problem
        return muscle_points(self.block.lifter, problem.aims, problem.limits)

    @cached_property
    def paired(self) -> frozenset[tuple[int, int]]:
        """(slot, option) of entries done in pairs."""
        return frozenset(pair for pair, entry in self.entries.items() if entry.pair is not None)

    def budget_s(self, minutes: int | None, *, more_s: int = 0) -> tuple[int, ...]:
        """Seconds for straight work in every slot, the session's own cut to `minutes`."""
        start_s = self.policy.whole("time.session_start")
        budgets = list(self.problem.budget_s)
        for slot, session in self._by_slot.items():
            available, saved = session.minutes_available, self._saved_s(slot)
            if slot == self.slot and minutes is not None:
                available, saved = min(minutes, available), more_s
            budgets[slot] = 60 * available - start_s + saved
        return tuple(budgets)

    @cached_property
    def _by_slot(self) -> dict[int, Session]:
        return {_slot_of(self.block, s): s for s in self.week.sessions}

    def _saved_s(self, slot: int) -> int:
        return sum(p.total_saved_s for p in self.kept_pairs(self.plan, slot))

    def kept_pairs(self, plan: WeekPlan, slot: int) -> tuple[Pairing, ...]:
        """The pairs of a slot's entries that both are still there with equal sets."""
        now = {(i.slot, i.option): i for i in plan}
        by_label: dict[str, list[Item]] = {}
        for (at, option), entry in self.entries.items():
            item = now.get((at, option))
            if at == slot and entry.pair is not None and item is not None:
                by_label.setdefault(entry.pair, []).append(item)
        found = []
        for _, items in sorted(by_label.items()):
            if len(items) == 2 and items[0].sets == items[1].sets:
                first, second = (self.problem.options[item.option].time for item in items)
                time = pair_time(first, second, self.policy)
                found.append(Pairing(first=items[0], second=items[1], time=time))
        return tuple(found)

    def new_pairs(self, plan: WeekPlan) -> tuple[Pairing, ...]:
        """The session's best pairs, when minutes are short and pairs are allowed."""
        if not self.block.lifter.allow.supersets:
            return ()
        today = [item for item in plan if item.slot == self.slot]
        return best_pairs(self.problem.options, today, self.policy)

    def minutes_back(self, plan: WeekPlan) -> int:
        """Seconds that pairing what is left of the session gives back."""
        return sum(p.total_saved_s for p in self.new_pairs(plan))

    def paired_today(self, plan: WeekPlan) -> list[tuple[int, int]]:
        """(slot, option) of the session's items in new pairs."""
        return [(i.slot, i.option) for p in self.new_pairs(plan) for i in (p.first, p.second)]

    def sore_most(self, muscle: str) -> int:
        """Direct sets a sore muscle may still have in the session."""
        options = self.problem.options
        direct = sum(i.sets for i in self.in_order if muscle in options[i.option].direct)
        return math.ceil(direct * self.policy.number("replan.sore_share") - 1e-9)

    def may_carry(self, item: Item, slot: int, sore: Collection[str], *, missed: bool) -> bool:
        """Whether a lift of the session may be moved to a later slot: not onto a sore muscle
        before it had its time; from its pinned day only where that day is `missed`."""
        option = self.problem.options[item.option]
        pinned = self.problem.pin_slots(option.lift.name)
        if pinned is not None and slot not in pinned and not missed:
            return False
        close = self.problem.gap_h(self.slot, slot) < self.problem.limits.hours_between
        return not (close and any(muscle in option.direct for muscle in sore))


def week_at_hand(
    block: Block,
    week: Week,
    number: int,
    catalogue: Catalogue,
    policy: Policy,
    *,
    over: Collection[int] = (),
) -> WeekAtHand:
    """The week of a block with session `number` in hand; sessions that are `over` stay."""
    session = next(s for s in week.sessions if s.session == number)
    lifts = frozenset(entry.lift for planned in week.sessions for entry in planned.entries)
    carried = Carried(kept=lifts)
    base = make_problem(block.lifter, catalogue, policy, carried=carried, wide=True)
    problem, places = _with_entries(block, week, base, catalogue, policy)
    plan = week_plan({pair: sets_of(entry) for pair, entry in places.items()})
    planned = {
        muscle: sum(i.sets * problem.options[i.option].quarters.get(muscle, 0) for i in plan)
        for muscle in MUSCLES
    }
    problem = replace(problem, aims=reaching(problem.aims, planned))
    slot = _slot_of(block, session)
    in_order = tuple(
        Item(slot=slot, option=option, sets=sets_of(entry))
        for (at, option), entry in sorted(places.items(), key=lambda p: p[1].order)
        if at == slot
    )
    when = (session.day, session.start_time)
    later = tuple(
        sorted(
            _slot_of(block, s)
            for s in week.sessions
            if (s.day, s.start_time) > when and not s.missed and s.session not in over
        )
    )
    first = week.week == 1 and any(r.code.startswith("gentle_") for r in block.reasons)
    return WeekAtHand(
        block=block,
        week=week,
        session=session,
        slot=slot,
        problem=problem,
        plan=plan,
        entries=places,
        in_order=in_order,
        later=later,
        catalogue=catalogue,
        policy=policy,
        is_easy=week.kind == "deload" or first,
    )


def pinned_on(lifter: Lifter, session: Session, catalogue: Catalogue) -> frozenset[str]:
    """Canonical names of the lifts pinned to the session's day, or to no day."""
    day = DAYS[session.day.weekday()]
    pins = (pin.lift for pin in lifter.pins if not pin.days or day in pin.days)
    return frozenset(lift.name for lift in catalogue.known(pins))


def _slot_of(block: Block, session: Session) -> int:
    for index, slot in enumerate(block.lifter.slots):
        if slot.day_index == session.day.weekday() and slot.start_time == session.start_time:
            return index
    raise ValueError(f"the session on {session.day} has no slot")


def _with_entries(
    block: Block, week: Week, base: Problem, catalogue: Catalogue, policy: Policy
) -> tuple[Problem, dict[tuple[int, int], Entry]]:
    """The problem with an option for every entry of the week, and where each entry stands."""
    options = list(base.options)
    places: dict[tuple[int, int], Entry] = {}
    for session in week.sessions:
        slot = _slot_of(block, session)
        for entry in session.entries:
            wanted = option_of(entry, catalogue, policy)
            if wanted not in options:
                options.append(wanted)
            places[slot, options.index(wanted)] = entry
    return replace(base, options=tuple(options)), places


def seconds_of(hand: WeekAtHand, today: Sequence[Item], *, repair: bool = False) -> int:
    """How long the session takes with these items; `repair` pairs them anew."""
    plan = tuple(today)
    pairs = hand.new_pairs(plan) if repair else hand.kept_pairs(plan, hand.slot)
    return _straight_s(hand, plan) - _saved(pairs)


def rebuilt_week(hand: WeekAtHand, plan: WeekPlan, minutes: int | None, *, missed: bool) -> Week:
    """The week with `plan` in place of what was planned; unchanged sessions stay as they are."""
    before = _by_slot(hand.plan)
    after = _by_slot(plan)
    sessions = []
    for session in hand.week.sessions:
        slot = _slot_of(hand.block, session)
        ours = slot == hand.slot
        if ours and missed:
            session = replace(session, entries=(), missed=True, minutes_planned=0.0)
        elif before.get(slot) != after.get(slot) or (ours and minutes is not None):
            session = _session(hand, session, after.get(slot, ()), minutes if ours else None)
        sessions.append(session)
    return replace(hand.week, sessions=tuple(sessions))


def _by_slot(plan: WeekPlan) -> dict[int, WeekPlan]:
    return {
        slot: tuple(item for item in plan if item.slot == slot)
        for slot in sorted({item.slot for item in plan})
    }


def _session(hand: WeekAtHand, session: Session, items: WeekPlan, minutes: int | None) -> Session:
    slot = _slot_of(hand.block, session)
    pairs = hand.kept_pairs(items, slot)
    straight = _straight_s(hand, items)
    if minutes is not None and straight - _saved(pairs) > 60 * minutes:
        pairs = hand.new_pairs(items)
    order = ordered(
        items,
        {item: hand.problem.options[item.option] for item in items},
        [(p.first, p.second) for p in pairs],
        hand.block.lifter.leads,
        pre_exhaust=hand.block.lifter.allow.pre_exhaust,
    )
    entries = _entries(
        hand, order if slot == hand.slot else _carried_last(hand, order, pairs), pairs
    )
    made = replace(session, entries=entries)
    if minutes is not None:
        made = replace(made, minutes_available=minutes)
    planned = session_minutes(made, hand.catalogue, hand.policy)
    return replace(made, minutes_planned=planned)


def _carried_last(hand: WeekAtHand, order: list[Item], pairs: Sequence[Pairing]) -> list[Item]:
    """A later session's own main lifts in their order, then those carried into it; a pinned one
    keeps its rank, and so does a squat or a hinge that loads the spine."""
    options = hand.problem.options
    mains = [item for item in order if hand.problem.options[item.option].is_main]
    known = {*hand.entries, *((item.slot, option) for item in mains for option in hand.pinned)}
    first = [i for i in mains if options[i.option].opens_early]
    carried = [i for i in mains if (i.slot, i.option) not in known and i not in first]
    own = [item for item in order if item not in carried]
    paired = {p.second for p in pairs}
    at = max((n + 1 for n, item in enumerate(own) if item in mains), default=0)
    while at < len(own) and own[at] in paired:
        at += 1
    return [*own[:at], *carried, *own[at:]]


def _straight_s(hand: WeekAtHand, items: WeekPlan) -> int:
    seconds = hand.policy.whole("time.session_start")
    return seconds + sum(hand.problem.options[i.option].time.seconds(i.sets) for i in items)


def _saved(pairs: Sequence[Pairing]) -> int:
    return sum(pairing.total_saved_s for pairing in pairs)


def _entries(
    hand: WeekAtHand, order: Sequence[Item], pairs: Sequence[Pairing]
) -> tuple[Entry, ...]:
    turns = pair_labels([(p.first, p.second, p.time) for p in pairs], order)
    entries = []
    for number, item in enumerate(order, start=1):
        entry = _entry(hand, item)
        alone = hand.problem.options[item.option].time.rest_s
        pair, rest_s = turns.get(item, (None, alone))
        method = entry.method
        if pair is not None:
            method = "superset"
        elif method == "superset":
            method = "straight"
        entries.append(replace(entry, order=number, pair=pair, rest_s=rest_s, method=method))
    return tuple(entries)


def _entry(hand: WeekAtHand, item: Item) -> Entry:
    """The entry of an item: as planned, shortened, lengthened, moved from today, or new."""
    here = hand.entries.get((item.slot, item.option))
    if here is not None and sets_of(here) == item.sets:
        return here
    alike = (entry for (_, same), entry in hand.entries.items() if same == item.option)
    known, option = here or next(alike, None), hand.problem.options[item.option]
    if known is not None:
        row = replace(known.sets[0], counts_as=1.0)
        return replace(known, method="straight", pair=None, sets=(row,) * item.sets)
    row = SetPlan.of(option.reps, option.lift.rir_for(hand.week.rir))
    return Entry(
        order=1,
        lift=option.lift.name,
        method="straight",
        rest_s=option.time.rest_s,
        sets=(row,) * item.sets,
        zone=option.zone,
    )
