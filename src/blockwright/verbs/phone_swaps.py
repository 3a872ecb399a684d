"""Lifts that can stand in for one of the session: where the machine is taken, and where it hurts.

For a taken machine near twins are what is wanted. For pain they are what is not: the engine's
`engine/review/swaps.py` says what spares the place that hurts, often nothing.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from blockwright.engine.day_sheet import SheetEntry
from blockwright.engine.pain import JOINT_MUSCLES, joints_loaded, loads_place, place_in
from blockwright.engine.planning.candidates import usable_lifts
from blockwright.engine.reasons import Caution
from blockwright.engine.review import sparing, trains_alike
from blockwright.engine.training import Entry, Lift

if TYPE_CHECKING:
    from blockwright.verbs.phone_sheet import Prepared

MOST_SWAPS = 4
MOST_FOR_PAIN = 2
"""By place: a phone without signal holds them all."""
NOT_SAID = ""


@dataclass(frozen=True, slots=True)
class SparesPain:
    """What an entry could become when its lift hurts."""

    caution: Caution
    by_place: dict[str, list[str]]
    """Lifts by the place that hurts; the empty place where nobody says which."""
    entries: list[SheetEntry]
    """All of them, each as the entry it would be."""


@dataclass(frozen=True)
class Swaps:
    """Stand-ins for the entries of one session."""

    prepared: "Prepared"

    def near(self, entry: SheetEntry) -> list[SheetEntry]:
        """Lifts for the same muscles, the nearest first. The kit allows them, the lifter does not
        avoid them, the session does not hold them, and they are not what hurt lately. Nearest: most
        of the same muscles' sets, then the same pattern."""
        direct = set(entry.lift.direct)
        ranked = sorted(
            (-_likeness(entry.lift, lift), lift.name)
            for lift in self._allowed
            if direct.intersection(lift.direct)
        )
        return [self._as_entry(entry, name) for _, name in ranked[:MOST_SWAPS]]

    def for_pain(self, entry: SheetEntry) -> SparesPain:
        """For each place the lift loads, and for pain nobody placed."""
        at = self.prepared
        alike = trains_alike(entry.lift, at.catalogue, at.block.lifter)
        found = {
            place: sparing(
                entry.lift,
                alike,
                at.policy,
                places=(place, *self._sore_places),
                avoid=self._here | self._sore_lifts,
            )
            for place in (NOT_SAID, *places_of(entry.lift))
        }
        by_place = {
            place: [lift.name for lift in swaps.lifts[:MOST_FOR_PAIN]]
            for place, swaps in found.items()
        }
        names = dict.fromkeys(name for names in by_place.values() for name in names)
        return SparesPain(
            caution=found[NOT_SAID].caution,
            by_place=by_place,
            entries=[self._as_entry(entry, name) for name in names],
        )

    @cached_property
    def _allowed(self) -> tuple[Lift, ...]:
        usable = usable_lifts(self.prepared.block.lifter, self.prepared.catalogue)
        return tuple(
            lift
            for lift in usable
            if lift.name not in self._here | self._sore_lifts
            and not any(loads_place(lift, place) for place in self._sore_places)
        )

    @cached_property
    def _here(self) -> frozenset[str]:
        names = (entry.lift for entry in self.prepared.chosen.session.entries)
        found = (self.prepared.catalogue.find(name) for name in names)
        return frozenset(lift.name for lift in found if lift is not None)

    @cached_property
    def _sore(self) -> frozenset[str]:
        """What hurt above the carry-on line when it was last spoken of, not too long ago."""
        at = self.prepared
        said: list[tuple[str | None, date, float | None]] = [
            (done.lift, done.moment.day, done.pain) for done in at.case.sets
        ]
        said += [(c.about, c.moment.day, c.value) for c in at.case.checkins if c.measure == "pain"]
        worst: dict[str, tuple[date, float]] = {}
        for about, day, pain in said:
            if about and pain is not None:
                lift = at.catalogue.find(about)
                name = about if lift is None else lift.name
                # the last day counts, and of that day the worst
                worst[name] = max(worst.get(name, (day, pain)), (day, pain))
        since = at.chosen.session.day - timedelta(at.policy.number("safety.pain_memory_days"))
        carry_on = at.policy.number("safety.pain_carry_on")
        return frozenset(
            name for name, (day, pain) in worst.items() if day >= since and pain > carry_on
        )

    @cached_property
    def _sore_lifts(self) -> frozenset[str]:
        return frozenset(name for name in self._sore if self.prepared.catalogue.find(name))

    @cached_property
    def _sore_places(self) -> tuple[str, ...]:
        places = (place_in(words) for words in self._sore - self._sore_lifts)
        return tuple(sorted({place for place in places if place is not None}))

    def _as_entry(self, entry: SheetEntry, name: str) -> SheetEntry:
        """The entry with another lift: same sets and effort, the load left to what was logged."""
        at = self.prepared
        session = at.chosen.session
        planned = next(one for one in session.entries if one.order == entry.entry.order)
        alone = replace(session, entries=(_swapped(planned, at.catalogue.lifts[name]),))
        made = replace(at, chosen=replace(at.chosen, session=alone))
        return made.sheet(with_advice=False).entries[0]


def places_of(lift: Lift) -> tuple[str, ...]:
    """Joints and muscles a lift loads, as a person may name them: joints first."""
    joints = joints_loaded(lift)
    return (*(joint for joint in JOINT_MUSCLES if joint in joints), *lift.direct)


def _swapped(entry: Entry, lift: Lift) -> Entry:
    sets = tuple(
        replace(planned, load_kg=None, rir=lift.rir_for(planned.rir)) for planned in entry.sets
    )
    return replace(entry, lift=lift.name, sets=sets)


def _likeness(one: Lift, other: Lift) -> float:
    """Share of the sets' credit by muscle that both lifts give, and a little for the pattern."""
    muscles = set(one.muscles) | set(other.muscles)
    both = sum(min(one.muscles.get(m, 0.0), other.muscles.get(m, 0.0)) for m in muscles)
    either = sum(max(one.muscles.get(m, 0.0), other.muscles.get(m, 0.0)) for m in muscles)
    same_kind = 0.1 * (one.pattern == other.pattern) + 0.05 * (one.compound == other.compound)
    return both / either + same_kind
