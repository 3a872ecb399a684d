"""A block's weeks on their way to a new revision: looking up, putting, and what follows."""

from dataclasses import replace

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy
from blockwright.engine.review.derived import counted, deload_after, session_minutes, timed
from blockwright.engine.training import Block, Catalogue, Entry, Lift, Session, Week

Found = tuple[int, Session, Entry]
"""Week number, session, entry."""


class BlockWeeks:
    """The weeks while verdicts are carried out one after another."""

    def __init__(self, block: Block, catalogue: Catalogue, policy: Policy) -> None:
        self.block, self.catalogue, self.policy = block, catalogue, policy
        self.weeks: list[Week] = list(block.weeks)

    def finished(self) -> tuple[Week, ...]:
        """The weeks with minutes and counts anew where entries changed, and the deload that
        follows from the last build week."""
        old = {week.week: week for week in self.block.weeks}
        weeks = [
            week if old.get(week.week) == week else self._settled(week, old.get(week.week))
            for week in self.weeks
        ]
        builds = [week for week in weeks if week.kind == "build"]
        before = [week for week in self.block.weeks if week.kind == "build"]
        if builds and weeks[-1].kind == "deload" and builds[-1:] != before[-1:]:
            weeks[-1] = deload_after(self.block, builds[-1], weeks[-1], self.catalogue, self.policy)
        return tuple(weeks)

    def _settled(self, week: Week, before: Week | None) -> Week:
        if week.kind == "build" and before is not None and before.kind == "build":
            week = timed(week, before, self.catalogue, self.policy)
        return counted(week, self.catalogue)

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
            raise BadInput(Problem(says=f'no lift is called "{name}"', mend="review anew"))
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

    def put(self, week: int, session: int, entry: Entry) -> None:
        """Puts `entry` in the place of its lift's entry."""
        index = next(i for i, found in enumerate(self.weeks) if found.week == week)
        self.weeks[index] = with_entry(self.weeks[index], session, entry)

    def obstacle(self, week: int, session: int, entry: Entry) -> tuple[str, str] | None:
        """What a session would have too much of with `entry` in it, and the mend, or None."""
        found = self.week(week)
        trial = () if found is None else with_entry(found, session, entry).sessions
        return next((self._overfull(s) for s in trial if s.session == session), None)

    def _overfull(self, session: Session) -> tuple[str, str] | None:
        """What a session has too much of, and the mend; None when it fits."""
        minutes = session_minutes(session, self.catalogue, self.policy)
        if minutes > session.minutes_available:
            return (
                f"session {session.session} would take {minutes:g} of its "
                f"{session.minutes_available} minutes",
                "give it fewer sets, or lengthen the slot and plan again",
            )
        limit = self.policy.number("review.sets.session_limit")
        for muscle, total in self._fractional(session).items():
            if total > limit + 1e-9:
                return (
                    f"session {session.session} would train {muscle.replace('_', ' ')} with "
                    f"{total:g} sets, more than {limit:g}",
                    "put the set in another session",
                )
        return None

    def _fractional(self, session: Session) -> dict[str, float]:
        sums: dict[str, float] = {}
        for entry in session.entries:
            credit = sum(planned.counts_as for planned in entry.sets)
            for muscle, share in self.lift(entry.lift).muscles.items():
                sums[muscle] = sums.get(muscle, 0.0) + share * credit
        return sums


def with_entry(week: Week, session: int, entry: Entry) -> Week:
    """The week with `entry` in the place of its lift's entry in that session."""
    return replace(
        week,
        sessions=tuple(
            replace(
                planned,
                entries=tuple(
                    entry if old.lift == entry.lift and old.order == entry.order else old
                    for old in planned.entries
                ),
            )
            if planned.session == session
            else planned
            for planned in week.sessions
        ),
    )


def with_sets(entry: Entry, count: int) -> Entry:
    """The entry with so many sets (at least one); rows come off before the last, which may be a
    special one, and are added as the first."""
    rows = entry.sets
    count = max(count, 1)
    if count <= len(rows):
        return replace(entry, sets=(*rows[: count - 1], rows[-1]))
    return replace(entry, sets=(*[rows[0]] * (count - len(rows)), *rows))
