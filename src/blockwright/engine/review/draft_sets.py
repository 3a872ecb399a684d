"""Next week's sets on a board: every entry that could change, and how things stand meanwhile."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.block_weeks import as_many, remade, with_sets
from blockwright.engine.review.case import WeekCase
from blockwright.engine.training import Catalogue, Entry, Lift, Session, Week

Place = tuple[int, str]
"""Number of the session in its week, and the lift."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One entry of the next week that could gain or lose a set."""

    session: Session
    entry: Entry
    lift: Lift
    was: int
    """Sets that count as much as those of the week just done."""
    printed: int
    """Sets the block has for the next week; the starting point."""

    @property
    def place(self) -> Place:
        return (self.session.session, self.entry.lift)

    @property
    def usable(self) -> bool:
        """Rest-pause and drop sets are left as they are."""
        return self.entry.method in ("straight", "superset")


@dataclass
class Board:
    """Next week's sets as they stand while muscles are decided one after another."""

    spots: Sequence[Spot]
    upcoming: Week
    catalogue: Catalogue
    policy: Policy
    sets: dict[Place, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.sets = {spot.place: spot.printed for spot in self.spots}

    def fractional(self, muscle: str) -> float:
        """Weekly fractional sets of a muscle as things stand."""
        return sum(
            _credit(spot, self.sets[spot.place]) * spot.lift.muscles.get(muscle, 0.0)
            for spot in self.spots
        )

    def was(self, muscle: str) -> float:
        """The same in the week just done."""
        return sum(_credit(s, s.was) * s.lift.muscles.get(muscle, 0.0) for s in self.spots)

    def printed(self, muscle: str) -> float:
        """The same as the next week is printed."""
        return sum(_credit(s, s.printed) * s.lift.muscles.get(muscle, 0.0) for s in self.spots)

    def direct(self, muscle: str) -> int:
        """Direct sets of a muscle in the week as things stand."""
        return sum(self.sets[s.place] for s in self.spots if muscle in s.lift.direct)

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


def board_for(done: Week, upcoming: Week, catalogue: Catalogue, policy: Policy) -> Board:
    """The board with the next week as printed, beside what the week just done had."""
    before = {
        (session.session, entry.lift): entry
        for session in done.sessions
        for entry in session.entries
        if entry.sets
    }
    spots = []
    for session in upcoming.sessions:
        for entry in session.entries:
            lift = catalogue.find(entry.lift)
            if lift is not None and entry.sets:
                was = before.get((session.session, entry.lift), entry)
                spots.append(
                    Spot(
                        session=session,
                        entry=entry,
                        lift=lift,
                        was=as_many(was, entry),
                        printed=len(entry.sets),
                    )
                )
    return Board(spots=spots, upcoming=upcoming, catalogue=catalogue, policy=policy)


@dataclass
class SetsQuestion:
    """Everything the decision looks at."""

    case: WeekCase
    board: Board
    frozen_lifts: frozenset[str]
    """Lifts that may not gain a set: pain, partial range, a watch, a bad day."""
    moved_lifts: frozenset[str]
    """Lifts whose load changes: one change a lift and week, a lead's apart."""
    no_gain: Reason | None
    """A reason that forbids any set more this week, the printed climb too."""
    nothing_beyond: Reason | None
    """A reason that adds nothing beyond the print."""


def because(code: str, facts: Mapping[str, FactValue], *policy: str) -> Reason:
    """A reason with the policy keys that took part."""
    return Reason(code=code, facts=facts, policy=policy)
