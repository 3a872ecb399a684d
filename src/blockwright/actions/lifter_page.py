"""What one lifter's page shows: what comes next, the sheets, what is stored, who has access."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db.models import Count, Max

from blockwright.actions.coming_session import coming_session
from blockwright.actions.decide_letter import all_open, obstacle
from blockwright.actions.known_lifter import known_lifter
from blockwright.actions.next_step import NextStep, Standing, next_step
from blockwright.actions.phone_sheet import block_value
from blockwright.actions.screening_words import screened
from blockwright.actions.shares import CHOICES, shares_of
from blockwright.actions.told import told_lately
from blockwright.engine.day_sheet import PlannedSession, sessions_of
from blockwright.engine.errors import BadInput
from blockwright.engine.training import Block, Week
from blockwright.files.lifter_file import require_for_plan
from blockwright.store.access import Right
from blockwright.store.blocks import block_on
from blockwright.store.facts import days_with_sets
from blockwright.store.letters import latest_letter
from blockwright.store.models import BlockRevision, Fact, Lifter, Share


@dataclass(frozen=True, slots=True)
class WeekOfSheets:
    """The sessions of a week that have a sheet; `is_past` once the last of them is."""

    week: Week
    sessions: list[PlannedSession]
    is_past: bool


@dataclass(frozen=True, slots=True)
class Logged:
    """What the log holds."""

    sets: int
    checkins: int
    last_day: date | None


def lifter_page(row: Lifter, rights: frozenset[Right], today: date) -> dict[str, Any]:
    """Names for the template, beside those of `web.lifter_frame`. What a person may not read is
    None or empty."""
    revision = block_on(row, today)
    block = None if revision is None else block_value(revision)
    reads = "read" in rights
    # A partner need not know which answer of the screening it was.
    is_theirs = bool(rights & {"change", "export"})
    standing = _standing(row, revision, block, today)
    return {
        "current": revision,
        "plan": block,
        "week": standing.week,
        "weeks": [] if block is None else _weeks(block, today),
        "next_session": standing.next_session,
        "logged_days": days_with_sets(row, revision.start) if revision else [],
        "logged": _logged(row) if reads else None,
        "open_lines": standing.open_lines if reads else 0,
        "screened": screened(known_lifter(row).value, today) if is_theirs else None,
        "next": _next(standing, rights),
        "told": told_lately(row, today) if is_theirs else (),
        "shares": shares_of(row) if is_theirs else [],
        "seen_choices": list(CHOICES.items()),
        "partner": Share.PARTNER,
    }


def block_start_on(row: Lifter, day: date) -> date | None:
    """The start of the block in hand on `day`; None before the first block is made."""
    revision = block_on(row, day)
    return None if revision is None else revision.start


def _next(standing: Standing, rights: frozenset[Right]) -> NextStep:
    return next_step(standing, may_change="change" in rights, may_read="read" in rights)


def _weeks(block: Block, today: date) -> list[WeekOfSheets]:
    found: list[WeekOfSheets] = []
    for week in block.weeks:
        sessions = [
            one for one in sessions_of(block) if one.week.week == week.week and one.session.entries
        ]
        if sessions:
            past = all(one.session.day < today for one in sessions)
            found.append(WeekOfSheets(week, sessions, past))
    return found


def _standing(
    row: Lifter, revision: BlockRevision | None, block: Block | None, today: date
) -> Standing:
    lacks: tuple[str, ...] = ()
    try:
        require_for_plan(known_lifter(row).value)
    except BadInput as error:
        lacks = tuple(str(one.key) for one in error.problems)
    if revision is None or block is None:
        return Standing(today=today, lacks=lacks)
    through, open_lines = _letter(row, revision)
    return Standing(
        today=today,
        lacks=lacks,
        start=revision.start,
        ends=revision.ends,
        refers=revision.status == "refer" or screened(known_lifter(row).value, today).refers,
        week=_week_on(block, today),
        next_session=coming_session(row, block, today),
        letter_through=through,
        open_lines=open_lines,
        unreviewed_week=_unreviewed(row, block, through, today),
    )


def _letter(row: Lifter, revision: BlockRevision) -> tuple[date | None, int]:
    """The block's last letter: through which day, and how many lines wait for a word."""
    letter = latest_letter(row, revision.start)
    if letter is None:
        return None, 0
    waits = obstacle(letter, revision) is None
    return letter.through, len(all_open(row, letter.pk)) if waits else 0


def _week_on(block: Block, day: date) -> Week | None:
    number = (day - block.start).days // 7
    return block.weeks[number] if 0 <= number < len(block.weeks) else None


def _unreviewed(row: Lifter, block: Block, through: date | None, today: date) -> int | None:
    """The last week that is over, has sets in the log and no letter about it or a later one."""
    days: Sequence[date] = days_with_sets(row, block.start)
    for week in reversed(block.weeks[:-1]):
        monday = block.start + timedelta(days=7 * (week.week - 1))
        sunday = monday + timedelta(days=6)
        if sunday >= today or not any(monday <= day <= sunday for day in days):
            continue
        return week.week if through is None or through < monday else None
    return None


def _logged(row: Lifter) -> Logged:
    """Sets and check-ins that stand: neither undone nor replaced by a later fact."""
    replaced = Fact.objects.filter(lifter=row, amends__isnull=False).values("amends")
    standing = Fact.objects.filter(lifter=row, withdrawn=False).exclude(id__in=replaced)
    counted = {
        one["kind"]: one
        for one in standing.order_by().values("kind").annotate(n=Count("seq"), last=Max("day"))
    }
    sets = counted.get(Fact.SET, {"n": 0, "last": None})
    checkins = counted.get(Fact.CHECKIN, {"n": 0})
    return Logged(sets=sets["n"], checkins=checkins["n"], last_day=sets["last"])
