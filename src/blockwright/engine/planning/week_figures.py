"""What follows from a week's entries: the composer's view of each, minutes, sets per muscle."""

from dataclasses import replace

from blockwright.engine.policy import Policy
from blockwright.engine.training import DAYS, Catalogue, Entry, Session, Slot, Week
from blockwright.engine.volume import planned_week
from .problem import Option
from .time_model import lift_time, minutes_of, pair_time


def option_of(entry: Entry, catalogue: Catalogue, policy: Policy) -> Option:
    """The entry's lift as the composer sees it."""
    first, lift = entry.sets[0], catalogue.lifts[entry.lift]
    time = lift_time(lift, entry.zone, first.reps, policy)
    return Option(lift=lift, zone=entry.zone, reps=first.reps, time=time)


def sets_of(entry: Entry) -> int:
    """Sets of an entry as the composer counts them: a special set as what it counts for."""
    return round(entry.counted)


def slot_of(session: Session) -> Slot:
    """The slot of its own that a session fills."""
    hours, minutes = map(int, session.start_time.split(":"))
    day = DAYS[session.day.weekday()]
    return Slot(day=day, start_minute=60 * hours + minutes, minutes=session.minutes_available)


def session_minutes(session: Session, catalogue: Catalogue, policy: Policy) -> float:
    """Minutes of a session, coming in, pairs and special sets included."""
    seconds = policy.whole("time.session_start")
    pairs: dict[str, list[Entry]] = {}
    for entry in session.entries:
        time = option_of(entry, catalogue, policy).time
        seconds += time.seconds(len(entry.sets))
        if entry.in_parts:
            # the further parts, a third of a set each
            parts = policy.whole("method.parts") - 1
            seconds += parts * (policy.whole("time.mini_pause") + time.work_s // 3)
        if entry.pair is not None:
            pairs.setdefault(entry.pair, []).append(entry)
    for entries in pairs.values():
        if len(entries) == 2:
            one, two = (option_of(entry, catalogue, policy).time for entry in entries)
            rounds = min(len(entry.sets) for entry in entries)
            seconds -= pair_time(one, two, policy).saved_in(rounds)
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


def settled(week: Week, before: Week, catalogue: Catalogue, policy: Policy) -> Week:
    """The week with minutes and sets per muscle anew, where entries differ from `before`."""
    return counted(timed(week, before, catalogue, policy), catalogue)


def counted(week: Week, catalogue: Catalogue) -> Week:
    """The week with its sets per muscle counted anew; floor and ceiling stay the block's."""
    counts = planned_week(week, catalogue)
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
