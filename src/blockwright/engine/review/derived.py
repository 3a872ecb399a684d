"""What follows from a week's entries: minutes, sets per muscle, and the deload week."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from blockwright.engine.planning.deload import deload_week
from blockwright.engine.planning.deload_rules import DeloadRules
from blockwright.engine.planning.draft import lead_names, parts_seconds
from blockwright.engine.planning.judged_week import option_of
from blockwright.engine.planning.time_model import LiftTime, minutes_of, pair_time
from blockwright.engine.policy import Policy
from blockwright.engine.training import Block, Catalogue, Entry, Lifter, Session, Week
from blockwright.engine.volume import planned_sets


def counted(week: Week, catalogue: Catalogue) -> Week:
    """The week with its sets per muscle counted anew; floor and ceiling stay the block's."""
    counts = planned_sets((e for s in week.sessions for e in s.entries), catalogue)
    return replace(
        week,
        muscle_sets={
            muscle: replace(
                old,
                direct=counts[muscle].direct,
                indirect=counts[muscle].indirect,
                fractional=counts[muscle].fractional,
            )
            for muscle, old in week.muscle_sets.items()
        },
    )


def time_of(entry: Entry, catalogue: Catalogue, policy: Policy) -> LiftTime:
    """The planner's seconds for an entry's lift, zone and range."""
    return option_of(entry, catalogue, policy).time


def session_minutes(session: Session, catalogue: Catalogue, policy: Policy) -> float:
    """Minutes of a session by the planner's time model, pairs and special sets included."""
    seconds = policy.whole("time.session_start")
    pairs: dict[str, list[Entry]] = {}
    for entry in session.entries:
        time = time_of(entry, catalogue, policy)
        seconds += time.seconds(len(entry.sets))
        if entry.method in ("rest-pause", "drop"):
            seconds += parts_seconds(time, policy)
        if entry.pair is not None:
            pairs.setdefault(entry.pair, []).append(entry)
    for entries in pairs.values():
        if len(entries) == 2:
            times = [time_of(entry, catalogue, policy) for entry in entries]
            rounds = min(len(entry.sets) for entry in entries)
            seconds -= pair_time(times[0], times[1], policy).saved_in(rounds)
    return minutes_of(seconds)


def timed(week: Week, before: Week, catalogue: Catalogue, policy: Policy) -> Week:
    """The week with minutes anew for sessions whose entries differ from `before`."""
    old = {session.session: session for session in before.sessions}
    return replace(
        week,
        sessions=tuple(
            session
            if session.session in old and old[session.session].entries == session.entries
            else replace(session, minutes_planned=session_minutes(session, catalogue, policy))
            for session in week.sessions
        ),
    )


def deload_after(
    block: Block, last: Week, deload: Week, catalogue: Catalogue, policy: Policy
) -> Week:
    """The deload that follows build week `last`, in the place of the block's `deload` week."""
    lifter = block.lifter
    options = {
        (entry.lift, entry.zone): option_of(entry, catalogue, policy)
        for session in last.sessions
        for entry in session.entries
        if entry.sets
    }
    rules = DeloadRules(
        option_of=lambda entry: options[entry.lift, entry.zone],
        leads=lead_names(lifter),
        gym=lifter.gym,
        bodyweight_kg=lifter.bodyweight_kg,
        policy=policy,
        most_lifts=most_lifts(lifter, policy),
        first=next(w for w in (*block.weeks, last) if w.kind == "build").sessions,
        last=last.sessions,
    )
    sessions, _ = deload_week(last.sessions, rules, lifter.deload_style)
    week = replace(
        deload,
        week=last.week + 1,
        kind="deload",
        rir=policy.number("deload.rir"),
        sessions=sessions,
    )
    return counted(week, catalogue)


def most_lifts(lifter: Lifter, policy: Policy) -> int:
    """Lifts a session may have."""
    own = lifter.limits.max_lifts_per_session
    return policy.whole("planning.lifts_most") if own is None else own


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
