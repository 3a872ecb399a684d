"""A block's weeks on their way to a new revision: looking up, putting, and what follows."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from math import floor
from typing import TypeVar

from blockwright.engine.errors import BadInput
from blockwright.engine.planning.deload import deload_after
from blockwright.engine.planning.week_figures import counted, option_of, timed
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Reason
from blockwright.engine.tolerated_load import easier
from blockwright.engine.training import Block, Catalogue, Entry, Lift, Session, Week
from .week_constraints import newly_broken, overfull

Key = TypeVar("Key")

Found = tuple[int, Session, Entry]  # Week number, session, entry

FULL = ("no_minutes", "session_full", "at_the_ceiling")
"""Limits for which a later week takes off again what was added."""


class BlockWeeks:
    """The weeks while verdicts are carried out one after another."""

    def __init__(self, block: Block, catalogue: Catalogue, policy: Policy) -> None:
        self.block, self.catalogue, self.policy = block, catalogue, policy
        self.weeks: list[Week] = list(block.weeks)

    def finished(self, decided: int) -> tuple[Week, ...]:
        """The weeks with minutes and counts anew where entries changed, and the deload that
        follows from the last build week. In weeks after the one decided on, which are forecasts,
        the two lifts of a pair have equally many sets."""
        old = {week.week: week for week in self.block.weeks}
        self.weeks = [
            with_even_pairs(week) if week.week > decided and week.kind == "build" else week
            for week in self.weeks
        ]
        weeks = [
            week if old.get(week.week) == week else self._settled(week, old.get(week.week))
            for week in self.weeks
        ]
        builds = tuple(week for week in weeks if week.kind == "build")
        before = self.block.builds
        if builds and weeks[-1].kind == "deload" and builds[-1:] != before[-1:]:
            weeks[-1] = self.deload_after(builds[-1])
        return tuple(weeks)

    def _settled(self, week: Week, before: Week | None) -> Week:
        if week.kind == "build" and before is not None and before.kind == "build":
            week = timed(week, before, self.catalogue, self.policy)
        return counted(week, self.catalogue)

    def deload_after(self, last: Week) -> Week:
        """The deload that follows build week `last`."""
        first, lifter = self.block.weeks[0], self.block.lifter
        return deload_after(first, last, lifter, self.catalogue, self.policy)[0]

    def week(self, number: int) -> Week | None:
        """The week of that number, or None."""
        return next((week for week in self.weeks if week.week == number), None)

    def builds_from(self, number: int) -> list[tuple[int, Week]]:
        """Build weeks from `number` on, with their places in `weeks`."""
        return [
            (index, week)
            for index, week in enumerate(self.weeks)
            if week.week >= number and week.kind == "build"
        ]

    def lift(self, name: str) -> Lift:
        """The lift of that name; BadInput when there is none."""
        lift = self.catalogue.find(name)
        if lift is None:
            raise BadInput.of(f'no lift is called "{name}"', "review anew")
        return lift

    def entries(self, week: int, session: int | None, lift: str) -> list[Found]:
        """The same entry in build week `week` and in those after it."""
        return [
            (found.week, planned, entry)
            for _, found in self.builds_from(week)
            for planned in found.sessions
            if session is None or planned.session == session
            for entry in planned.entries
            if entry.lift == lift and entry.sets
        ]

    def put(self, week: int, session: int, entry: Entry, was: str | None = None) -> None:
        """Puts `entry` in the place of its lift's entry, or of that of the lift `was`."""
        self.weeks = [
            with_entry(found, session, entry, was) if found.week == week else found
            for found in self.weeks
        ]

    def wait(self, places: Sequence[Found]) -> None:
        """Leaves later places of a lift that is held as printed, but in straight sets, and marks
        them: what comes of them the next letter says."""
        for week, session, entry in places:
            self.put(week, session.session, replace(as_straight(entry), waits=True))

    def obstacle(
        self, week: int, session: int, *entries: Entry, coach: bool = False
    ) -> Reason | None:
        """The first limit the week would break with the entries in their places, or None. A coach's
        own word is held to the session's limits only."""
        found = self.week(week)
        if found is None:
            return None
        trial = found
        for entry in entries:
            trial = with_entry(trial, session, entry)
        for planned in trial.sessions:
            if planned.session == session:
                full = overfull(planned, self.catalogue, self.policy)
                if full is not None or coach:
                    return full
        return newly_broken(found, trial, self.block.lifter, self.catalogue, self.policy)


def remade(week: Week, made: Callable[[Session, Entry], Sequence[Entry]]) -> Week:
    """The week with what `made` gives in the place of each entry."""
    return replace(
        week,
        sessions=tuple(
            replace(one, entries=tuple(new for old in one.entries for new in made(one, old)))
            for one in week.sessions
        ),
    )


def with_entry(week: Week, session: int, entry: Entry, was: str | None = None) -> Week:
    """The week with `entry` in the place of its lift's entry in that session, or of the lift's that
    was there."""
    place = (session, was or entry.lift, entry.order)
    return remade(
        week, lambda one, old: [entry if (one.session, old.lift, old.order) == place else old]
    )


def with_even_pairs(week: Week) -> Week:
    """The week with as many sets in both lifts of a pair as the one with fewer has."""
    return replace(week, sessions=tuple(_with_even_pairs(s) for s in week.sessions))


def _with_even_pairs(session: Session) -> Session:
    fewest: dict[str, int] = {}
    for entry in session.entries:
        if entry.pair is not None:
            fewest[entry.pair] = min(fewest.get(entry.pair, len(entry.sets)), len(entry.sets))
    return replace(
        session,
        entries=tuple(
            entry if entry.pair is None else with_sets(entry, fewest[entry.pair])
            for entry in session.entries
        ),
    )


def as_many(before: Entry, entry: Entry) -> int:
    """How many sets of `entry` count as much as those of `before` did, never more: where the last
    set becomes a rest-pause or drop set that counts for two, it stands for the one it replaces."""
    extra = sum(s.counts_as - 1.0 for s in before.sets) - sum(s.counts_as - 1.0 for s in entry.sets)
    return max(floor(len(before.sets) + extra + 1e-9), 1)


def with_sets(entry: Entry, count: int) -> Entry:
    """The entry with so many sets (at least one); rows come off before the last, which may be a
    special one, and are added as the first."""
    rows = entry.sets
    count = max(count, 1)
    if count <= len(rows):
        return replace(entry, sets=(*rows[: count - 1], rows[-1]))
    return replace(entry, sets=(*[rows[0]] * (count - len(rows)), *rows))


def straight(entry: Entry) -> Entry:
    """The entry without a rest-pause or drop set: each of its rows is one set."""
    return replace(
        entry,
        method="straight" if entry.in_parts else entry.method,
        sets=tuple(replace(row, counts_as=min(row.counts_as, 1.0)) for row in entry.sets),
    )


def as_straight(entry: Entry) -> Entry:
    """The entry in straight sets, as many as its special ones count for."""
    count = max(floor(entry.counted), len(entry.sets))
    return straight(with_sets(entry, count))


def no_more(entry: Entry, before: Entry, lift: Lift) -> Entry:
    """The entry with no set, repetition or load more than `before` had, and no less in reserve;
    in straight sets, as many as its special ones count for and `before` had."""
    first = before.sets[0]
    loads = (first.load_kg,) if first.load_kg is not None else ()
    special = entry.in_parts
    most = len(before.sets) if special else as_many(before, entry)
    entry = as_straight(entry)
    made = with_sets(entry, min(len(entry.sets), most))
    return replace(
        made,
        sets=tuple(
            replace(
                one,
                load_kg=None if one.load_kg is None else easier(lift, (one.load_kg, *loads)),
                forecast_kg=None,
                reps_low=min(one.reps_low, first.reps_low),
                reps_high=min(one.reps_high, first.reps_high),
                aim_low=None,
                aim_high=None,
                rir=max(one.rir, first.rir),
            )
            for one in made.sets
        ),
    )


def trim(sets: Mapping[Key, tuple[int, int]], target: int) -> dict[Key, int]:
    """Sets by entry after trimming to `target` in all, at least one each.

    `sets` holds each entry's sets now and those of the week before. One set at a time: from an
    entry above its week before, else from the one with most; the last of those that tie."""
    left = {key: now for key, (now, _) in sets.items()}
    while sum(left.values()) > target:
        spare = [key for key, now in left.items() if now > 1]
        if not spare:
            break
        spare.reverse()
        most = max(spare, key=lambda key: (left[key] - sets[key][1] > 0, left[key]))
        left[most] -= 1
    return left


def a_week_later(week: Week, weeks: int = 1) -> Week:
    """The same week seven days on, one number up; or so many weeks."""
    days = timedelta(days=7 * weeks)
    return replace(
        week,
        week=week.week + weeks,
        sessions=tuple(replace(session, day=session.day + days) for session in week.sessions),
    )


def renumbered(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """Entries in order from 1; half a pair is no pair any more."""
    labels = [entry.pair for entry in entries]
    return tuple(
        replace(
            entry,
            order=number,
            pair=entry.pair if labels.count(entry.pair) == 2 else None,
            method="straight"
            if entry.method == "superset" and labels.count(entry.pair) != 2
            else entry.method,
        )
        for number, entry in enumerate(entries, start=1)
    )


def without_entry(
    entries: Sequence[Entry], gone: Entry, catalogue: Catalogue, policy: Policy
) -> tuple[Entry, ...]:
    """The entries without one; what was its partner in a pair gets its own rest back."""
    left = [entry for entry in entries if entry is not gone]
    return renumbered(
        [
            with_own_rest(entry, catalogue, policy)
            if gone.pair is not None and entry.pair == gone.pair
            else entry
            for entry in left
        ]
    )


def with_own_rest(entry: Entry, catalogue: Catalogue, policy: Policy) -> Entry:
    """The entry on its own: no pair, straight, the rest of its zone."""
    method = "straight" if entry.method == "superset" else entry.method
    rest_s = option_of(entry, catalogue, policy).time.rest_s
    return replace(entry, pair=None, method=method, rest_s=rest_s)
