"""What one lifter's page shows."""

from datetime import date, datetime
from typing import Any

from blockwright.accounts.models import User
from blockwright.actions.phone_home import today_of
from blockwright.actions.phone_sheet import block_value
from blockwright.actions.shares import shares_of
from blockwright.engine.day_sheet import sessions_of
from blockwright.store.access import rights_for
from blockwright.store.blocks import block_on, revisions_of
from blockwright.store.models import Fact, Lifter


def lifter_page(person: User, row: Lifter, now: datetime) -> dict[str, Any]:
    """Names for the template: lifter, rights, current block and sessions, shares, counts."""
    today = today_of(person, now)
    rights = rights_for(person, row)
    revision = block_on(row, today)
    return {
        "lifter": row,
        "may_change": "change" in rights,
        "may_export": "export" in rights,
        "today": today,
        "current": revision,
        "sessions": []
        if revision is None
        else [one for one in sessions_of(block_value(revision)) if one.session.entries],
        "revisions": revisions_of(row),
        "shares": shares_of(row) if "change" in rights else [],
        "sets": Fact.objects.filter(lifter=row, kind=Fact.SET).count(),
        "checkins": Fact.objects.filter(lifter=row, kind=Fact.CHECKIN).count(),
    }


def block_start_on(row: Lifter, day: date) -> date | None:
    """The start of the block in hand on `day`; None before the first block is made."""
    revision = block_on(row, day)
    return None if revision is None else revision.start
