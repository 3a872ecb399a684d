"""The composer's inputs: a lifter, a catalogue and a policy turned into plain arrays.

An *option* is a lift in one zone of repetitions. Axes: S slots, O options, M muscles, L lifts,
F families. Sets of a muscle are in quarter sets.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.planning.familiar import FAMILIAR, is_on_the_arms
from blockwright.engine.planning.numbers import QUARTERS, Numbers
from blockwright.engine.planning.time_model import LiftTime
from blockwright.engine.training import MUSCLES, Lift, RepRange, Slot, Zone

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

HOURS_OF_WEEK = 168.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One lift in one zone of repetitions."""

    lift: Lift
    zone: Zone
    reps: RepRange
    time: LiftTime


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A lift placed in a slot: indices into the request, and how many sets."""

    slot: int
    option: int
    sets: int


WeekPlan = tuple[Item, ...]
"""Items in order of slot and option; at most one item a slot and option."""


def main_muscle(lift: Lift) -> str:
    """The muscle a lift is mostly for: the first with the largest share."""
    most = max(lift.muscles.values())
    return next(muscle for muscle, share in lift.muscles.items() if share == most)


def week_plan(items: Mapping[tuple[int, int], int]) -> WeekPlan:
    """A plan from sets by (slot, option); zeros are left out."""
    return tuple(
        Item(slot=slot, option=option, sets=sets)
        for (slot, option), sets in sorted(items.items())
        if sets > 0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PinRule:
    """A coach's pin on this request: the lift's options, and the slots it must be in."""

    lift: str
    options: tuple[int, ...]
    wanted: tuple[tuple[int, ...], ...]
    """Groups of slots; at least one slot of every group carries the lift."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Request:
    """Everything a week is composed from. Arrays are not to be changed."""

    slots: tuple[Slot, ...]
    options: tuple[Option, ...]
    numbers: Numbers
    allowed: Bools
    """(S, O): whether the option may stand in the slot."""
    budget_s: tuple[int, ...]
    """Seconds for lifts in each slot."""
    least_lifts: tuple[int, ...]
    """Lifts a used slot has at least."""
    most_lifts: int
    target_q: Ints
    """(M,): what the last build week reaches for."""
    cap_q: Ints
    """(M,): the planning ceiling, never passed."""
    weight: NDArray[np.float64]
    """(M,): what growth of the muscle is worth; 0 for a skipped one."""
    leads: tuple[int, ...]
    """Muscles that need their exposures."""
    holds: tuple[int, ...]
    pins: tuple[PinRule, ...]
    gentle: bool
    """Whether week one is a novice's or a returner's."""
    low_share: tuple[float, float] | None
    """Bounds of the heavy share, or None where it is not asked for."""
    liked: frozenset[str] = frozenset()
    kept: frozenset[str] = frozenset()
    known: frozenset[str] = frozenset()
    """Lifts of the lifter's own recent log; empty when nothing is logged."""

    # ------------------------------------------------------------------ arrays over options

    @cached_property
    def share_q(self) -> Ints:
        """(O, M): quarter sets that one set gives."""
        table = np.zeros((len(self.options), len(MUSCLES)), dtype=np.int64)
        for row, option in enumerate(self.options):
            for muscle, share in option.lift.muscles.items():
                table[row, MUSCLES.index(muscle)] = round(share * QUARTERS)
        return table

    @cached_property
    def direct(self) -> Ints:
        """(O, M): 1 where the lift is direct."""
        return (self.share_q >= QUARTERS).astype(np.int64)

    @cached_property
    def fixed_s(self) -> Ints:
        return np.array([option.time.fixed_s for option in self.options], dtype=np.int64)

    @cached_property
    def per_set_s(self) -> Ints:
        return np.array([option.time.per_set_s for option in self.options], dtype=np.int64)

    @cached_property
    def axial(self) -> Ints:
        return np.array([option.lift.axial for option in self.options], dtype=np.int64)

    @cached_property
    def unloadable(self) -> Ints:
        """(O,): 1 for bodyweight lifts that need nothing at hand and so take no load."""
        return np.array(
            [not o.lift.kit and o.lift.bodyweight_share > 0 for o in self.options], dtype=np.int64
        )

    @cached_property
    def unfamiliar(self) -> Ints:
        """(O,): 1 for lifts that are neither plain nor the lifter's own, liked or pinned; nothing
        that hangs or rests on the arms alone is plain while no log shows that it can be done."""
        wanted = self.known | self.liked | self.kept | {pin.lift for pin in self.pins}

        def is_plain(lift: Lift) -> bool:
            return lift.name in FAMILIAR and not (self.gentle and is_on_the_arms(lift))

        return np.array(
            [not (o.lift.own or o.lift.name in wanted or is_plain(o.lift)) for o in self.options],
            dtype=np.int64,
        )

    @cached_property
    def unlogged(self) -> Ints:
        """(O,): 1 for lifts that would need their load found, where the lifter has others."""
        if not self.known:
            return np.zeros(len(self.options), dtype=np.int64)
        wanted = self.known | self.liked | self.kept | {pin.lift for pin in self.pins}
        return np.array([o.lift.name not in wanted for o in self.options], dtype=np.int64)

    @cached_property
    def zone(self) -> Ints:
        """(O,): 0 low, 1 mid, 2 high."""
        return np.array(
            [("low", "mid", "high").index(o.zone) for o in self.options], dtype=np.int64
        )

    @cached_property
    def compound(self) -> Bools:
        return np.array([option.lift.compound for option in self.options], dtype=np.bool_)

    @cached_property
    def lift_names(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(option.lift.name for option in self.options))

    @cached_property
    def lift_of(self) -> Ints:
        at = {name: index for index, name in enumerate(self.lift_names)}
        return np.array([at[option.lift.name] for option in self.options], dtype=np.int64)

    @cached_property
    def families(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(option.lift.family for option in self.options))

    @cached_property
    def family_of(self) -> Ints:
        at = {name: index for index, name in enumerate(self.families)}
        return np.array([at[option.lift.family] for option in self.options], dtype=np.int64)

    @cached_property
    def main_of(self) -> Ints:
        """(O,): the muscle the lift is mostly for."""
        mains = [MUSCLES.index(main_muscle(option.lift)) for option in self.options]
        return np.array(mains, dtype=np.int64)

    @cached_property
    def most_sets(self) -> Ints:
        """(O,): sets in one session; lifts aimed at a lead muscle may have one more."""
        numbers = self.numbers
        leads = self.direct[:, list(self.leads)].any(axis=1)
        return np.where(leads, max(numbers.sets_most_lead, numbers.sets_most), numbers.sets_most)

    @cached_property
    def set_points(self) -> Ints:
        """(O,): what one more set costs."""
        numbers = self.numbers
        points = (
            numbers.price.set * self.share_q.sum(axis=1) / QUARTERS
            + numbers.price.unfamiliar * self.unfamiliar
            + numbers.price.unlogged * self.unlogged
            + numbers.price.axial * self.axial
            + numbers.price.unloadable * self.unloadable
            + numbers.price.minute * self.per_set_s / 60
        )
        return np.asarray(np.rint(points), dtype=np.int64)

    @cached_property
    def item_points(self) -> Ints:
        """(O,): what placing the option in one more slot costs."""
        minutes = self.numbers.price.minute * self.fixed_s / 60
        return np.rint(self.numbers.price.entry + minutes).astype(np.int64)

    @cached_property
    def lift_points(self) -> Ints:
        """(L,): what having the lift in the week at all brings (negative: costs)."""
        numbers = self.numbers
        return np.array(
            [
                numbers.price.like * (name in self.liked)
                + numbers.price.kept * (name in self.kept)
                - numbers.price.lift
                for name in self.lift_names
            ],
            dtype=np.int64,
        )

    # -------------------------------------------------------------------- time of the week

    @cached_property
    def gap_h(self) -> NDArray[np.float64]:
        """(S, S): hours between starts, the short way round the week."""
        starts = np.array([slot.start_hour_of_week for slot in self.slots])
        apart = np.abs(starts[:, None] - starts[None, :])
        return np.asarray(np.minimum(apart, HOURS_OF_WEEK - apart))

    @cached_property
    def two_days(self) -> tuple[tuple[int, ...], ...]:
        """Groups of slots that start within 48 h of each other, the widest ones only."""
        return self.windows(48.0)

    @cached_property
    def day_groups(self) -> tuple[tuple[int, ...], ...]:
        """Slots of each day that has any."""
        days = sorted({slot.day_index for slot in self.slots})
        return tuple(
            tuple(i for i, slot in enumerate(self.slots) if slot.day_index == day) for day in days
        )

    @cached_property
    def adjacent_days(self) -> tuple[tuple[int, ...], ...]:
        """Slots of each two days in a row (Sunday and Monday too)."""
        groups = []
        for day in range(7):
            pair = (day, (day + 1) % 7)
            group = tuple(i for i, slot in enumerate(self.slots) if slot.day_index in pair)
            if group:
                groups.append(group)
        return tuple(dict.fromkeys(groups))

    def windows(self, hours: float) -> tuple[tuple[int, ...], ...]:
        """Groups of slots whose starts all lie within less than `hours` of the first one."""
        groups: list[tuple[int, ...]] = []
        for first in self.slots:
            start = first.start_hour_of_week
            group = tuple(
                i
                for i, slot in enumerate(self.slots)
                if (slot.start_hour_of_week - start) % HOURS_OF_WEEK < hours
            )
            groups.append(group)
        distinct = list(dict.fromkeys(groups))
        return tuple(g for g in distinct if not any(set(g) < set(other) for other in distinct))

    def recovery_h(self, lift: Lift) -> float:
        """Hours between two exposures of the lift."""
        axial_h, compound_h, single_h = self.numbers.recovery_h
        if lift.axial >= 2:
            return axial_h
        return compound_h if lift.compound else single_h

    @cached_property
    def lift_gap_h(self) -> NDArray[np.float64]:
        """(L,): hours between two exposures; for a lift pinned to days, one a day will do."""
        by_name = {option.lift.name: option.lift for option in self.options}
        hours = {name: self.recovery_h(lift) for name, lift in by_name.items()}
        for pin in self.pins:
            if len(pin.wanted) > 1 and pin.lift in hours:
                hours[pin.lift] = min(hours[pin.lift], 12.0)
        return np.array([hours[name] for name in self.lift_names])

    @cached_property
    def zone_limited(self) -> Bools:
        """(L,): compound lifts with at most one low and one higher exposure a week."""
        by_name = {option.lift.name: option.lift for option in self.options}
        often = {pin.lift for pin in self.pins if len(pin.wanted) > 1}
        return np.array([by_name[n].compound and n not in often for n in self.lift_names])

    @cached_property
    def family_most(self) -> Ints:
        """(F,): exposures a week of each family; pins may ask for more."""
        pinned: dict[str, int] = {}
        by_name = {option.lift.name: option.lift for option in self.options}
        for pin in self.pins:
            if pin.lift in by_name:
                family = by_name[pin.lift].family
                pinned[family] = pinned.get(family, 0) + len(pin.wanted)
        most = [max(self.numbers.family_week, pinned.get(name, 0)) for name in self.families]
        return np.array(most, dtype=np.int64)

    @cached_property
    def family_session_most(self) -> Ints:
        """(S, F): lifts of a family in one session; one, unless pins ask for more."""
        most = np.ones((len(self.slots), len(self.families)), dtype=np.int64)
        pinned = np.zeros_like(most)
        for pin in self.pins:
            if pin.options:
                family = int(self.family_of[pin.options[0]])
                for slot in sorted({s for group in pin.wanted for s in group if len(group) == 1}):
                    pinned[slot, family] += 1
        return np.maximum(most, pinned)

    @cached_property
    def pinned_direct(self) -> Ints:
        """(S, M): direct sets that pins force on a slot."""
        forced = np.zeros((len(self.slots), len(MUSCLES)), dtype=np.int64)
        for pin in self.pins:
            for group in pin.wanted:
                if len(group) == 1 and pin.options:
                    forced[group[0]] += self.numbers.sets_least * self.direct[pin.options[0]]
        return forced

    @cached_property
    def too_close(self) -> Bools:
        """(M, S, S): slots that may not both be hard for the muscle."""
        close = (self.gap_h < self.numbers.hours_between) & ~np.eye(len(self.slots), dtype=bool)
        forced = self.pinned_direct >= self.numbers.hard_direct
        both = forced.T[:, :, None] & forced.T[:, None, :]
        return np.asarray(close[None, :, :] & ~both)

    # --------------------------------------------------------------------------- benefit

    @cached_property
    def floor_q(self) -> Ints:
        """(M,): the floor where it is asked for; 0 for skipped muscles and low ceilings."""
        floor = np.where(self.weight > 0, self.numbers.floor_q, 0)
        return np.minimum(floor, self.cap_q).astype(np.int64)

    @cached_property
    def slopes(self) -> tuple[tuple[tuple[int, int], ...], ...]:
        """By muscle: (width in eighths of a set, points per eighth), falling, up to the target."""
        return tuple(
            _slopes(float(self.weight[m]), int(self.target_q[m])) for m in range(len(MUSCLES))
        )

    @cached_property
    def floor_points(self) -> Ints:
        """(M,): points per quarter set missing to the floor."""
        return np.asarray(np.rint(self.numbers.price.floor * self.weight), dtype=np.int64)

    @cached_property
    def start_q(self) -> Ints:
        """(M,): where week one of each muscle should start."""
        starts = np.full(len(MUSCLES), self.numbers.start_q["normal"], dtype=np.int64)
        starts[list(self.leads)] = self.numbers.start_q["lead"]
        starts[list(self.holds)] = self.numbers.start_q["hold"]
        return starts

    @cached_property
    def start_points(self) -> Ints:
        """(M,): points per quarter set by which the smallest week passes the start."""
        priced = self.numbers.price.start * (self.weight > 0)
        return np.asarray(np.rint(priced), dtype=np.int64)

    @cached_property
    def sessions_wanted(self) -> int:
        """Slots that should be used: all that hold a lift, up to the policy's number."""
        usable = int(self.allowed.any(axis=1).sum())
        return min(usable, self.numbers.sessions_wanted)

    @cached_property
    def excess_points(self) -> Ints:
        """(M,): points per quarter set above the target."""
        price = np.full(len(MUSCLES), self.numbers.price.excess)
        price[list(self.holds)] = self.numbers.price.excess_hold
        return np.asarray(np.rint(price * (self.weight > 0)), dtype=np.int64)


def _slopes(weight: float, target_q: int) -> tuple[tuple[int, int], ...]:
    """Square root of sets, 1000 points at one set, linear between knots of two sets."""
    parts: list[tuple[int, int]] = []
    before = 0
    last = None
    while before < 2 * target_q:
        width = min(16, 2 * target_q - before)
        rise = 1000 * weight * (((before + 16) / 8) ** 0.5 - (before / 8) ** 0.5)
        slope = round(rise / 16)
        last = slope if last is None else min(slope, last)
        parts.append((width, last))
        before += width
    return tuple(parts)
