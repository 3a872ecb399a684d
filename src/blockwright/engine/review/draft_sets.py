"""Next week's sets on a board: every entry that could change, and how things stand meanwhile."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from blockwright.engine.reasons import Reason
from blockwright.engine.training import Catalogue, Entry, Lift, Session, Week
from .block_weeks import as_many, remade, with_sets
from .case import WeekCase

Place = tuple[int, str]  # Number of the session in its week, and the lift


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One entry of the next week that could gain or lose a set."""

    session: Session
    entry: Entry
    lift: Lift
    was: int  # Sets that count as much as those of the week just done
    printed: int  # Sets the block has for the next week; the starting point

    @property
    def place(self) -> Place:
        return (self.session.session, self.entry.lift)

    @property
    def usable(self) -> bool:
        """Rest-pause and drop sets are left as they are."""
        return self.entry.method in ("straight", "superset")


@dataclass
class Board:
    """Next week's sets as they stand while muscles are decided one after another, and everything
    that the decisions look at."""

    case: WeekCase
    upcoming: Week
    frozen_lifts: Collection[str]
    """Lifts that may not gain a set: pain, partial range, a watch, a bad day."""
    moved_lifts: Collection[str]
    """Lifts whose load changes: one change a lift and week, a lead's apart."""
    no_gain: Reason | None  # A reason that forbids any set more this week, the printed climb too
    nothing_beyond: Reason | None  # A reason that adds nothing beyond the print
    spots: Sequence[Spot] = field(init=False)
    was: Mapping[Place, int] = field(init=False)  # Sets of the week just done
    printed: Mapping[Place, int] = field(init=False)
    sets: dict[Place, int] = field(init=False)

    def __post_init__(self) -> None:
        self.spots = _spots(self.case.window.week, self.upcoming, self.case.catalogue)
        self.was = {spot.place: spot.was for spot in self.spots}
        self.printed = {spot.place: spot.printed for spot in self.spots}
        self.sets = dict(self.printed)

    def fractional(self, muscle: str, sets: Mapping[Place, int] | None = None) -> float:
        """Weekly fractional sets of a muscle as things stand, or with `sets`."""
        sets = self.sets if sets is None else sets
        return sum(
            _credit(spot, sets[spot.place]) * spot.lift.muscles.get(muscle, 0.0)
            for spot in self.spots
        )

    def direct(self, muscle: str, sets: Mapping[Place, int] | None = None) -> int:
        """Direct sets of a muscle in the week as things stand, or with `sets`."""
        sets = self.sets if sets is None else sets
        return sum(sets[spot.place] for spot in self.spots if muscle in spot.lift.direct)

    def week(self) -> Week:
        """The week as things stand."""
        entries = {(spot.session.session, spot.entry.lift): spot.entry for spot in self.spots}

        def standing(one: Session, old: Entry) -> list[Entry]:
            entry = entries.get((one.session, old.lift))
            return [] if entry is None else [with_sets(entry, self.sets[one.session, old.lift])]

        return remade(self.upcoming, standing)

    def together(self, spot: Spot) -> list[Spot]:
        """A spot and its partner in a pair: the two gain and lose sets as one."""
        return [
            other
            for other in self.spots
            if other.place == spot.place
            or (
                spot.entry.pair is not None
                and other.entry.pair == spot.entry.pair
                and other.session.session == spot.session.session
            )
        ]


def _credit(spot: Spot, sets: int) -> float:
    """What so many sets of an entry count as; a rest-pause or drop set keeps its own credit."""
    extra = sum(planned.counts_as - 1.0 for planned in spot.entry.sets)
    return sets + extra


def _spots(done: Week, upcoming: Week, catalogue: Catalogue) -> list[Spot]:
    """The next week's entries as printed, beside what the week just done had."""
    before = {
        (session.session, entry.lift): entry
        for session in done.sessions
        for entry in session.entries
        if entry.sets
    }
    return [
        Spot(
            session=session,
            entry=entry,
            lift=lift,
            was=as_many(before.get((session.session, entry.lift), entry), entry),
            printed=len(entry.sets),
        )
        for session in upcoming.sessions
        for entry in session.entries
        if entry.sets and (lift := catalogue.find(entry.lift)) is not None
    ]
