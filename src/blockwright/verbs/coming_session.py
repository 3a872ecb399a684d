"""The session that comes next for a lifter: planned, not missed, and not ended on a phone."""

from datetime import date
from typing import Any

from blockwright.engine.day_sheet import PlannedSession, sessions_of
from blockwright.engine.training import Block
from blockwright.store.models import Fact, Lifter


def coming_session(
    row: Lifter, block: Block, today: date, *, from_week: int = 1
) -> PlannedSession | None:
    """The first session from today on, in that week or a later one, not ended on a phone."""
    ended = _ended(row, block, today)
    coming = (
        one
        for one in sessions_of(block)
        if one.session.entries
        and not one.session.missed
        and one.session.day >= today
        and one.week.week >= from_week
        and (one.week.week, one.session.session) not in ended
    )
    return min(coming, key=lambda one: (one.session.day, one.session.session), default=None)


def _ended(row: Lifter, block: Block, today: date) -> set[tuple[Any, Any]]:
    facts = Fact.objects.filter(lifter=row, kind=Fact.SESSION, day=today, body__what="ended")
    plans = [(fact.event or {}).get("plan") or {} for fact in facts]
    start = block.start.isoformat()
    return {(one.get("week"), one.get("session")) for one in plans if one.get("block") == start}
