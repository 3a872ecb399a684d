"""A session as a sentence names it: by its day, and its time where the day has two."""

from collections.abc import Iterable

from blockwright.engine.training import DAYS, Session


def day_of(session: Session, others: Iterable[Session] = ()) -> str:
    """ "thu", or "thu 18:30" where one of the week's `others` with lifts is on the same day."""
    twin = any(o.day == session.day and o.session != session.session and o.entries for o in others)
    return day_and_time(session) if twin else DAYS[session.day.weekday()]


def day_and_time(session: Session) -> str:
    """ "thu 18:30"."""
    return f"{DAYS[session.day.weekday()]} {session.start_time}"
