"""The ways of running a block that the study of policies compares."""

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace

from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.review.block_weeks import with_sets
from blockwright.engine.review.set_and_load_changes import later_loads
from blockwright.engine.training import MUSCLES, Block, Catalogue, Entry, Week
from studies.simulate_block import Person

LOADS = ("raise_load", "lower_load")
Place = tuple[int, str]
"""Number of a session, and a lift."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way of running a block."""

    name: str
    accepts: Collection[str] | None = ()
    """Kinds of proposals that are carried out; None: all of them; empty: no review is held."""
    rule: str | None = None
    """The policy's `review.load.rule`, where it is not the usual one."""
    changes: Callable[[Block, Catalogue], Block] | None = None
    """What is done to the block before it begins."""

    @property
    def reviews(self) -> bool:
        """Whether anything is ever proposed."""
        return self.accepts is None or bool(self.accepts)


def plus_one(block: Block, catalogue: Catalogue) -> Block:
    """Week one as composed; after it every trained muscle gains a direct set a week, on its entry
    with the fewest sets, whatever the session's limits; the deload stays where it was."""
    weeks = [block.weeks[0]]
    for week in block.weeks[1:]:
        more = _one_more(week, weeks[-1], catalogue) if week.kind == "build" else week
        weeks.append(more)
    return replace(block, weeks=tuple(weeks))


def _one_more(week: Week, before: Week, catalogue: Catalogue) -> Week:
    counts = {(s.session, e.lift): len(e.sets) for s in before.sessions for e in s.entries}

    def muscles_reached(place: Place) -> int:
        return len(catalogue.lifts[place[1]].direct)

    mine = {m: [p for p in counts if m in catalogue.lifts[p[1]].direct] for m in MUSCLES}
    trained_ones = [muscle for muscle in MUSCLES if mine[muscle]]
    gained: set[str] = set()
    # muscles that only shared lifts reach come first, so that no set is added twice for a muscle
    for muscle in sorted(trained_ones, key=lambda m: -min(map(muscles_reached, mine[m]))):
        if muscle not in gained:
            place = min(mine[muscle], key=lambda p: (muscles_reached(p), counts[p], p))
            counts[place] += 1
            gained |= set(catalogue.lifts[place[1]].direct)
    return _with_entries(week, lambda session, entry: with_sets(entry, counts[session, entry.lift]))


def loads_written(person: Person, catalogue: Catalogue, policy: Policy) -> Block:
    """The loads found in week one, carried into the later weeks by the planner's own forecast."""
    block = person.block
    builds = [week for week in block.weeks if week.kind == "build"]
    made: dict[tuple[int, int, str], Entry] = {}
    for session in builds[0].sessions:
        for entry in session.entries:
            lift = catalogue.lifts[entry.lift]
            places = [(week.week, _entry_at(week, session.session, lift.name)) for week in builds]
            found = replace(entry.sets[0], load_kg=person.found[session.session, lift.name])
            later = [(number, e) for number, e in places[1:] if e is not None]
            rack = rack_for(lift, block.lifter.gym, policy)
            loaded = later_loads(lift, block.lifter, rack, policy, found, [e for _, e in later])
            for (number, _), one in zip(later, loaded, strict=True):
                made[number, session.session, lift.name] = one

    def with_loads(week: Week) -> Week:
        return _with_entries(week, lambda s, entry: made.get((week.week, s, entry.lift), entry))

    return replace(block, weeks=tuple(with_loads(week) for week in block.weeks))


def _entry_at(week: Week, session: int, lift: str) -> Entry | None:
    entries = [e for s in week.sessions if s.session == session for e in s.entries]
    return next((entry for entry in entries if entry.lift == lift), None)


def _with_entries(week: Week, made: Callable[[int, Entry], Entry]) -> Week:
    return replace(
        week,
        sessions=tuple(
            replace(s, entries=tuple(made(s.session, entry) for entry in s.entries))
            for s in week.sessions
        ),
    )


WAYS = (
    Way(name="our review", accepts=None),
    Way(name="fixed plan"),
    Way(name="plus one set a week", changes=plus_one),
    Way(name="two-for-two", accepts=LOADS, rule="two_for_two"),
)
