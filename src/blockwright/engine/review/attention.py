"""Who needs the coach, and why: reasons in the order of their force.

Signs, referrals and pain that stops a lift come first; then clearance, letters, other pain, the
watch, missed sessions, silence, and the block's end. Pain and signs stay until they are quiet or
cleared, whatever the coach decided.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.standing import Standing, WatchSeen
from blockwright.engine.screening import When, status_of, unanswered
from blockwright.engine.training import Lifter

Need = Literal[
    "sign", "not_screened", "refer", "pain_stop", "pain", "clearance", "dispute", "watch", "letter",
    "missed", "quiet", "block_end", "no_block", "nothing",
]  # fmt: skip

_DAY, _SIX_DAYS = timedelta(days=1), timedelta(days=6)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedDay:
    """A session of the block that has lifts."""

    week: int
    day: date
    missed: bool
    """Whether the coach knows already that it was missed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockAtHand:
    """What the roster wants to know of a lifter's block."""

    start: date
    ends: date
    made: date
    """The day it was made; nothing is due of it before."""
    waits: bool
    """Whether it waits for clearance."""
    days: tuple[PlannedDay, ...]
    another_follows: bool
    """Whether a later block is made already."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterAtHand:
    """The last letter about the block."""

    through: date
    decided: bool
    """Whether the coach answered it. One without a line can neither wait nor be answered."""
    open_lines: int = 0
    """Lines without a word; a letter that was answered and overtaken since may have some."""
    overtaken: bool = False
    """Whether the block was changed since, so that nothing can be decided on it any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LifterAtHand:
    """Everything that is looked at to say what a lifter needs."""

    lifter: Lifter
    policy: Policy
    standing: Standing
    watch: WatchSeen
    block: BlockAtHand | None
    letter: LetterAtHand | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Attention:
    """One reason to look at a lifter."""

    need: Need
    rank: int
    """The lower, the sooner (policy `roster.rank`)."""
    why: Reason
    since: date | None = None
    """The longer, the sooner, within a rank."""


def attention(at: LifterAtHand, today: date) -> tuple[Attention, ...]:
    """Every reason, the most urgent first; never empty."""
    found = [
        *_hurts(at, today),
        *_not_screened(at),
        *_clearance(at, today),
        *_disputes(at),
        *_watch(at),
        *_letter(at, today),
        *_sessions(at, today),
        *_block(at, today),
    ]
    return tuple(sorted(found or [_nothing(at, today)], key=_order))


def _order(one: Attention) -> tuple[int, date]:
    return one.rank, one.since or date.max


def _made(at: LifterAtHand, need: Need, why: Reason, since: date | None = None) -> Attention:
    return Attention(need=need, rank=at.policy.whole(f"roster.rank.{need}"), why=why, since=since)


def _hurts(at: LifterAtHand, today: date) -> Iterator[Attention]:
    memory = timedelta(days=at.policy.number("safety.pain_memory_days"))
    for sign in at.standing.signs:
        facts = {"sign": sign.sign, "date": sign.day.isoformat(), "lift": sign.lift}
        code = "roster_sign" if sign.sure else "roster_sign_in_doubt"
        # without a block there is no letter whose referral could be answered
        code += "" if at.block is not None else "_no_block"
        yield _made(at, "sign", Reason(code=code, facts=facts), sign.day)
    for state in at.standing.pains:
        day = state.latest.day
        if today - day > memory and not state.refer:
            continue
        facts = {
            "about": state.about,
            "pain": f"{state.latest.pain:g}",
            "date": day.isoformat(),
            "reports_in_a_row": str(state.in_a_row),
        }
        if state.refer:
            yield _made(at, "refer", Reason(code="roster_refer", facts=facts), day)
        elif state.band == "stop":
            yield _made(at, "pain_stop", Reason(code="roster_pain_stop", facts=facts), day)
        else:
            yield _made(at, "pain", Reason(code="roster_pain", facts=facts), day)


def _not_screened(at: LifterAtHand) -> Iterator[Attention]:
    missing = unanswered(at.lifter)
    if missing:
        facts: dict[str, FactValue] = {"count": len(missing)}
        yield _made(at, "not_screened", Reason(code="roster_not_screened", facts=facts))


def _clearance(at: LifterAtHand, today: date) -> Iterator[Attention]:
    lifter = at.lifter
    waits = at.block is not None and at.block.waits
    if waits or status_of(lifter, When.at(lifter, today), at.policy) == "refer":
        yield _made(at, "clearance", Reason(code="roster_clearance"))


def _disputes(at: LifterAtHand) -> Iterator[Attention]:
    days = at.standing.disputes
    if days:
        told = {"dates": ", ".join(dict.fromkeys(day.isoformat() for day in days))}
        yield _made(at, "dispute", Reason(code="roster_dispute", facts=told), days[0])


def _watch(at: LifterAtHand) -> Iterator[Attention]:
    day = at.watch.sounded_on
    if day is None or (at.letter is not None and at.letter.decided and at.letter.through >= day):
        return
    if at.watch.all_lifts:
        facts = {"date": day.isoformat()}
        yield _made(at, "watch", Reason(code="roster_watch_all", facts=facts), day)
    else:
        told = {"lifts": ", ".join(at.watch.lifts), "date": day.isoformat()}
        yield _made(at, "watch", Reason(code="roster_watch_lifts", facts=told), day)


def _letter(at: LifterAtHand, today: date) -> Iterator[Attention]:
    letter, block = at.letter, at.block
    if letter is not None and letter.open_lines and not letter.decided:
        lines = "1 change" if letter.open_lines == 1 else f"{letter.open_lines} changes"
        facts = {"date": letter.through.isoformat(), "lines": lines}
        code = "roster_letter_overtaken" if letter.overtaken else "roster_letter_waits"
        yield _made(at, "letter", Reason(code=code, facts=facts), letter.through)
        return
    if block is None:
        return
    over = [
        day
        for day in at.standing.trained
        if block.start <= day and _monday(block, day) + _SIX_DAYS < min(today, block.ends)
    ]
    if over and (letter is None or letter.through < over[-1]):
        week = (over[-1] - block.start).days // 7 + 1
        sunday = _monday(block, over[-1]) + _SIX_DAYS
        due = Reason(code="roster_letter_due", facts={"week": week, "date": sunday.isoformat()})
        yield _made(at, "letter", due, sunday)


def _sessions(at: LifterAtHand, today: date) -> Iterator[Attention]:
    block, policy = at.block, at.policy
    runs = block is not None and block.start <= today <= block.ends
    if runs and block is not None:
        first = today - timedelta(days=policy.number("roster.missed_days"))
        missed = [day for day in missed_days(block, at.standing.trained, today) if day >= first]
        if missed:
            facts = {"dates": ", ".join(day.isoformat() for day in missed)}
            yield _made(at, "missed", Reason(code="roster_missed", facts=facts), missed[0])
    if block is not None and not runs:
        return
    last = at.standing.trained[-1] if at.standing.trained else None
    silent_since = last or (None if block is None else max(block.start, block.made))
    if silent_since is None:
        return
    days = (today - silent_since).days
    if days >= policy.number("roster.quiet_days"):
        told: dict[str, FactValue] = {"days": days, "date": silent_since.isoformat()}
        said = Reason(code="roster_quiet", facts=told)
        if last is None:
            said = Reason(code="roster_nothing_yet", facts=told)
        yield _made(at, "quiet", said, silent_since)


def missed_days(block: BlockAtHand, trained: Sequence[date], today: date) -> tuple[date, ...]:
    """Planned days before `today` on which nothing was done, those known to be missed left out,
    and those before the block was made. Training on another day of the same week stands in for the
    first of them."""
    found: list[date] = []
    due = due_from(block.start, block.made, trained)
    for week in sorted({planned.week for planned in block.days}):
        monday = block.start + timedelta(days=7 * (week - 1))
        planned = [p for p in block.days if p.week == week]
        here = {day for day in trained if monday <= day <= monday + _SIX_DAYS}
        spare = len(here - {p.day for p in planned})
        for one in planned:
            if one.missed or not due <= one.day < today or one.day in here:
                continue
            if spare:
                spare -= 1
            else:
                found.append(one.day)
    return tuple(found)


def due_from(start: date, made: date, trained: Sequence[date]) -> date:
    """From which day on a block's sessions were due: from when it was made, or trained by, which
    may be sooner where it came in as a file. `trained` are days in order."""
    first = next((day for day in trained if day >= start), made)
    return max(start, min(made, first))


def _block(at: LifterAtHand, today: date) -> Iterator[Attention]:
    block = at.block
    if block is None:
        yield _made(at, "no_block", Reason(code="roster_no_block"))
    elif not block.another_follows:
        facts = {"date": block.ends.isoformat()}
        if today > block.ends:
            yield _made(at, "block_end", Reason(code="roster_block_over", facts=facts), block.ends)
        elif (block.ends - today).days < at.policy.number("roster.block_end_days"):
            ends = Reason(code="roster_block_ends", facts=facts)
            yield _made(at, "block_end", ends, block.ends)


def _nothing(at: LifterAtHand, today: date) -> Attention:
    days = () if at.block is None else at.block.days
    following = next((p.day for p in days if p.day >= today and not p.missed), None)
    if following is None:
        return _made(at, "nothing", Reason(code="roster_nothing"))
    facts = {"date": following.isoformat()}
    return _made(at, "nothing", Reason(code="roster_next_session", facts=facts))


def _monday(block: BlockAtHand, day: date) -> date:
    return block.start + timedelta(days=(day - block.start).days // 7 * 7)
