"""What one lifter's page shows: what comes next, the sheets, what is stored, who has access.

The roster is the one source of what waits for a coach, so that the two pages cannot disagree."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.db.models import Count, Max, Q

from blockwright.engine.day_sheet import PlannedSession, sessions_of
from blockwright.engine.errors import BadInput
from blockwright.engine.screening import When, screening_cautions, status_of
from blockwright.engine.training import Block, Week
from blockwright.files.lifter_file import require_for_plan
from blockwright.files.words import caution_says
from blockwright.store.access import Right
from blockwright.store.blocks import block_on
from blockwright.store.facts import days_with_sets, families
from blockwright.store.letters import latest_letter
from blockwright.store.models import BlockRevision, Fact, Lifter, Share
from blockwright.store.standing import standing
from .amend_fact import disputes_of
from .decide_letter import all_open, obstacle
from .desk_log import aside_sets
from .invitations import CHOICES, shares_of
from .phone_home import coming_session
from .roster import RosterReason, roster_line
from .stored_values import block_value, load_lifter
from .told import told_lately


@dataclass(frozen=True, slots=True)
class Screened:
    """`refers` while an answer needs a clearance that nobody has recorded; the cautions stay."""

    refers: bool
    says: tuple[str, ...]


def screened(row: Lifter, today: date) -> Screened:
    """By the answers, the readings and the year of birth, as they stand today."""
    lifter, policy = load_lifter(row).value, load_lifter(row).policy
    when = When.at(lifter, today)
    return Screened(
        refers=status_of(lifter, when, policy) == "refer",
        says=tuple(caution_says(one) for one in screening_cautions(lifter, when, policy)),
    )


@dataclass(frozen=True, slots=True)
class WeekOfSheets:
    """The sessions of a week that have a sheet; `is_past` once the last of them is. Open, on the
    page, stand the first week that is not past and the one after it."""

    week: Week
    sessions: list[PlannedSession]
    is_past: bool
    is_open: bool


@dataclass(frozen=True, slots=True)
class LogCount:
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
    at = PageState(
        today=today,
        reasons=roster_line(row, today).reasons if is_theirs else (),
        lacks=_lacks(row),
        has_block=revision is not None,
        says_why=is_theirs,
        refers=revision is not None and (revision.status == "refer" or screened(row, today).refers),
        next_session=None if block is None else coming_session(row, block, today),
    )
    return {
        "current": revision,
        "plan": block,
        "week": None if block is None else _week_on(block, today),
        "weeks": [] if block is None else list(_weeks(block, today)),
        "next_session": at.next_session,
        "logged_days": days_with_sets(row, revision.start) if revision else [],
        "logged": _logged(row) if reads else None,
        "open_lines": _open_lines(row, revision) if reads else 0,
        "screened": screened(row, today) if is_theirs else None,
        "next": next_steps(at, may_change="change" in rights, may_read=reads),
        "told": told_lately(row, today) if is_theirs else (),
        "disputes": disputes_of(row) if is_theirs else (),
        "aside": aside_sets(row) if is_theirs else (),
        "shares": shares_of(row) if is_theirs else [],
        "seen_choices": list(CHOICES.items()),
        "partner": Share.PARTNER,
    }


def _weeks(block: Block, today: date) -> Iterator[WeekOfSheets]:
    still_open = 2
    planned = [one for one in sessions_of(block) if one.session.entries]
    for week in block.weeks:
        if sessions := [one for one in planned if one.week.week == week.week]:
            past = all(one.session.day < today for one in sessions)
            is_open = not past and still_open > 0
            still_open -= is_open
            yield WeekOfSheets(week, sessions, past, is_open)


def _lacks(row: Lifter) -> tuple[str, ...]:
    """What the lifter file still needs before anything can be composed."""
    try:
        require_for_plan(load_lifter(row).value)
    except BadInput as error:
        # The first Monday is asked when a block is composed.
        return tuple(str(one.key) for one in error.problems if one.key != "start")
    return ()


def _open_lines(row: Lifter, revision: BlockRevision | None) -> int:
    """How many lines of the block's last letter wait for a word."""
    letter = None if revision is None else latest_letter(row, revision.start)
    stands = letter is not None and revision is not None and obstacle(letter, revision) is None
    return len(all_open(row, letter.pk)) if letter is not None and stands else 0


def _week_on(block: Block, day: date) -> Week | None:
    number = (day - block.start).days // 7
    return block.weeks[number] if 0 <= number < len(block.weeks) else None


def _logged(row: Lifter) -> LogCount:
    """Sets and check-ins that stand: those that nothing amends, and the last word on others."""
    amended = families(row)
    alone = Fact.objects.filter(lifter=row, withdrawn=False).exclude(
        seq__in=[fact.seq for fact in amended]
    )
    counted = alone.aggregate(
        sets=Count("seq", filter=Q(kind=Fact.SET)),
        checkins=Count("seq", filter=Q(kind=Fact.CHECKIN)),
        last_day=Max("day", filter=Q(kind=Fact.SET)),
    )
    said = standing(amended)
    days = [fact.day for fact in said if fact.kind == Fact.SET]
    return LogCount(
        sets=counted["sets"] + len(days),
        checkins=counted["checkins"] + sum(fact.kind == Fact.CHECKIN for fact in said),
        last_day=max(filter(None, [counted["last_day"], *days]), default=None),
    )


_LACKING = {"bodyweight": "the bodyweight", "slot": "a training time"}
_A_PROFESSIONAL_FIRST = ("sign", "refer", "clearance")


@dataclass(frozen=True, slots=True, kw_only=True)
class PageState:
    today: date
    reasons: Sequence[RosterReason]
    """Of the roster, the most urgent first; of a partner's view, none."""
    lacks: Sequence[str] = ()  # Keys of the lifter file without which nothing can be composed
    has_block: bool = False
    refers: bool = False
    says_why: bool = True  # Whether whoever looks may know that it is a clearance
    next_session: PlannedSession | None = None


def next_steps(at: PageState, *, may_change: bool, may_read: bool) -> tuple[RosterReason, ...]:
    """What waits, the most urgent first, for somebody with these rights, each without its full
    stop; never empty."""
    if may_change:
        return tuple(_at_the_desk(at)) or (RosterReason(says="Nothing waits"),)
    first = [one for one in at.reasons if one.need in _A_PROFESSIONAL_FIRST]
    told = tuple(replace(one, page="") for one in first if one.need != "clearance")
    if at.next_session is not None:
        return (*told, _session(at, at.next_session))
    if not at.has_block:
        return (*told, RosterReason(says="There is no block yet: the coach composes one"))
    over = "The block has ended: the coach composes the next"
    page = "report" if may_read else ""
    return (*told, RosterReason(says=over, page=page, link="Read its report"))


def _at_the_desk(at: PageState) -> list[RosterReason]:
    steps = []
    for one in at.reasons:
        if one.page == "compose" and at.lacks:
            missing = " and ".join(_LACKING.get(key, key) for key in at.lacks)
            says = f"{one.says}. It still needs {missing}"
            link = "Fill in the lifter file"
            steps.append(RosterReason(says=says, page="lifter_file", link=link))
        elif one.need != "nothing":
            steps.append(one)
    if at.next_session is not None:
        steps.append(_session(at, at.next_session))
    return steps


def _session(at: PageState, planned: PlannedSession) -> RosterReason:
    session = planned.session
    day = session.day
    when = "Today" if day == at.today else f"{day:%A}, {day.day} {day:%B}"
    when = f"{when} at {session.start_time}"
    if at.refers and at.says_why:
        says = "The block waits for medical clearance; no session before that"
    elif at.refers:
        says = "The block waits; no session before the coach says so"
    elif any(one.need in _A_PROFESSIONAL_FIRST for one in at.reasons):
        says = f"{when} is the next session; read its cautions first"
    else:
        return RosterReason(says=f"{when}: train", page="sheet", link="Open the sheet")
    return RosterReason(says=says, page="sheet", link="See the next sheet")
