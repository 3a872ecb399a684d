"""The roster: people in the order of who needs attention, with the reason in words.

What the log says of a lifter is looked at when it has changed and kept until it changes again; what
depends on the date is made anew each time."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from importlib.metadata import version
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine.review import attention
from blockwright.engine.signs import Warning, signs_in_checkins, signs_in_sets
from blockwright.engine.training import Block
from blockwright.files.codec import from_json, to_json
from blockwright.files.policy_files import default_policy
from blockwright.files.signs.grammar import signs_found
from blockwright.files.words import reason_says
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import days_with_sets, facts_of, words_since
from blockwright.store.models import Fact, Lifter, RosterLook
from blockwright.store.roster import RosterRow, coached_by, keep_looks, roster_rows
from .amend_fact import days_explained, told_plainly
from .stored_case import block_case, cleared_of, stored_case
from .stored_values import KnownLifter, block_value, load_lifter
from .told import signs_told

WAY_OF = {
    "sign": ("sets", "See what was written"),
    **dict.fromkeys(
        ("roster_sign_no_block", "roster_sign_in_doubt_no_block"),
        ("lifter_file", "Write down the day it was cleared"),
    ),
    "not_screened": ("lifter_file", "Ask the questions"),
    **dict.fromkeys(("refer", "pain_stop", "pain"), ("review", "Open the review")),
    "clearance": ("lifter_file", "Record the clearance"),
    "letter": ("review", "Read the letter"),
    "roster_letter_due": ("review", "Write the letter"),
    "roster_letter_overtaken": ("review", "Write the letter"),
    "dispute": ("lifter", "Say which is true"),
    "watch": ("strength", "See the strength"),
    "missed": ("block", "See the block"),
    "quiet": ("sets", "See the last sets"),
    "block_end": ("compose", "Compose the next block"),
    "no_block": ("compose", "Compose a block"),
}
"""By need, or by code where that differs: the page where a coach sees to it, and the words of the
way there."""
_RECENT = timedelta(days=28)
"""Beyond the memory for pain: so far back its reports in a row are counted."""
_VERSION = version("blockwright")
_FORM = 5  # Of a look as JSON: one of another form is looked at anew
_NO_WATCH = attention.WatchSeen(all_lifts=False, lifts=(), sounded_on=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterReason:
    """One reason, or what a lifter's page says comes next, in words."""

    says: str
    need: str = ""  # What it is about (`engine.review.attention.Need`)
    code: str = ""
    page: str = ""  # Where it is seen to; "" where no page is for it
    link: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterLine:
    lifter: Lifter
    block_start: date | None
    letter: int | None
    reasons: tuple[RosterReason, ...]  # The most urgent first; never empty
    rank: int
    since: date  # The longer, the sooner, within a rank
    trains: tuple[attention.PlannedDay, ...]  # Today, where nothing is logged of it yet

    @property
    def first(self) -> RosterReason:
        return self.reasons[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Roster:
    lines: tuple[RosterLine, ...]
    waiting: int  # People for whom something waits
    unwatched: int  # People whose watch has not been looked at since their last set came in

    @property
    def today(self) -> list[tuple[attention.PlannedDay, RosterLine]]:
        """Who trains today and has not yet, by the hour."""
        coming = [(planned, line) for line in self.lines for planned in line.trains]
        return sorted(coming, key=lambda one: one[0].starts)


def roster(person: User, today: date) -> Roster:
    rows = roster_rows(coached_by(person), today)
    most = default_policy().whole("roster.looks_at_once")
    looks = _looked(rows, today, most)
    lines = [_line(row, looks[row.lifter.key], today) for row in rows]
    lines.sort(key=lambda line: (line.rank, line.since, line.lifter.name))
    return Roster(
        lines=tuple(lines),
        waiting=sum(line.first.need != "nothing" for line in lines),
        unwatched=sum(looks[row.lifter.key].watch_key != _key(row) for row in rows),
    )


def roster_line(row: Lifter, today: date) -> RosterLine:
    """One lifter as the roster has them. What the watch says is as the roster saw it last: it
    reads the whole log, and a lifter's page does not wait for that."""
    (found,) = roster_rows(Lifter.objects.filter(pk=row.pk), today)
    looks = _looked([found], today, most=0)
    return _line(found, looks[found.lifter.key], today)


def _line(row: RosterRow, look: RosterLook, today: date) -> RosterLine:
    there = timezone.now().astimezone(ZoneInfo(row.zone)).date() if row.zone else today
    today = there if there == today - timedelta(days=1) else today  # Not over there yet
    known, block = load_lifter(row.lifter), _block_from(look.seen["block"], row)
    at = attention.LifterAtHand(
        lifter=known.value,
        policy=known.policy,
        standing=from_json(attention.Standing, look.seen),
        watch=_NO_WATCH if look.watch is None else from_json(attention.WatchSeen, look.watch),
        block=block,
        letter=row.letter_state,
    )
    needs = attention.attention(at, today)
    trained = today in at.standing.trained
    days = () if block is None or block.waits or trained else block.days
    return RosterLine(
        lifter=row.lifter,
        block_start=row.block.start if row.block is not None else None,
        letter=row.letter.pk if row.letter is not None else None,
        reasons=tuple(map(_reason, needs)),
        rank=needs[0].rank,
        since=needs[0].since or date.max,
        trains=tuple(one for one in days if one.day == today and not one.missed),
    )


def _reason(one: attention.Attention) -> RosterReason:
    code, says = one.why.code, reason_says(one.why)
    page, link = WAY_OF.get(code) or WAY_OF.get(one.need, ("", ""))
    return RosterReason(need=one.need, code=code, says=says, page=page, link=link)


def _key(row: RosterRow) -> str:
    """What a look depends on; the same key, the same look."""
    block = row.block.pk if row.block is not None else 0
    return f"{row.facts_seq}.{block}.{row.lifter.version}.{_VERSION}.{_FORM}"


def _looked(rows: Iterable[RosterRow], today: date, most: int) -> dict[Any, RosterLook]:
    """The looks by lifter. Whatever has changed is looked at anew, the watch (which reads the
    whole log) of `most` lifters at a time: first of those never watched, then by name."""
    looks: dict[Any, RosterLook] = {}
    changed: list[RosterLook] = []
    rows = list(rows)
    for row in rows:
        look = row.look
        if look is None or look.key != _key(row):
            look = _look_anew(row, today)
            changed.append(look)
        looks[row.lifter.key] = look
    unwatched = [row for row in rows if looks[row.lifter.key].watch_key != _key(row)]
    unwatched.sort(key=lambda row: looks[row.lifter.key].watch is not None)
    for row in unwatched[:most]:
        look = looks[row.lifter.key]
        who = row.lifter
        case = stored_case(who) if row.block is None else block_case(who, row.block)
        seen = attention.watch_seen(case)
        look.watch, look.watch_key = to_json(seen), _key(row)
        if look not in changed:
            changed.append(look)
    if changed:
        keep_looks(changed)
    return looks


def _look_anew(row: RosterRow, today: date) -> RosterLook:
    """The last weeks' facts and the block's days; the watch stays as it was seen last."""
    known = load_lifter(row.lifter)
    block = None if row.block is None else block_value(row.block)
    memory = known.policy.days("safety.pain_memory_days")
    first = min(today - memory - _RECENT, today if block is None else block.start)
    facts = facts_of(row.lifter, first=first)
    start, cleared = cleared_of(row.lifter)
    since = first if start is None else min(first, start - memory)
    worded = words_since(row.lifter, since)
    standing = attention.standing_of(
        sets_done(facts),
        checkins(facts),
        known.catalogue,
        known.policy,
        cleared,
        _signs(known, worded),
    )
    trained = standing.trained or tuple(days_with_sets(row.lifter, date.min)[-1:])
    standing = replace(
        standing,
        trained=trained,
        disputes=tuple(sorted(one.day for one in told_plainly(worded))),
        explained=days_explained(worded),
    )
    seen = {**to_json(standing), "block": to_json(_days(block))}
    before = row.look
    return RosterLook(
        lifter=row.lifter,
        key=_key(row),
        seen=seen,
        watch_key="" if before is None else before.watch_key,
        watch=None if before is None else before.watch,
    )


def _signs(known: KnownLifter, facts: list[Fact]) -> tuple[Warning, ...]:
    said = signs_in_checkins(checkins(facts), known.catalogue, known.policy, signs_found)
    return (*signs_in_sets(sets_done(facts), signs_found), *said, *signs_told(facts))


def _days(block: Block | None) -> tuple[attention.PlannedDay, ...]:
    return tuple(
        attention.PlannedDay(
            week=week.week,
            session=session.session,
            day=session.day,
            starts=session.start_time,
            missed=session.missed,
        )
        for week in (() if block is None else block.weeks)
        for session in week.sessions
        if session.entries
    )


def _block_from(days: list[Any], row: RosterRow) -> attention.BlockAtHand | None:
    if row.block is None or row.block_made is None:
        return None
    return attention.BlockAtHand(
        start=row.block.start,
        ends=row.block.ends,
        made=row.block_made,
        waits=row.block.status == "refer",
        days=from_json(tuple[attention.PlannedDay, ...], days),
        another_follows=row.another_follows,
    )
