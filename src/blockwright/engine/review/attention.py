"""Who needs the coach, and why: reasons in the order of their force.

Signs, referrals and pain that stops a lift come first; then clearance, letters, other pain, the
watch, missed sessions, silence, and the block's end. Pain and signs stay until they are quiet or
cleared, whatever the coach decided."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from blockwright.engine.case import CoachCase
from blockwright.engine.change import Watches, watch_lifter
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.screening import When, status_of, unanswered
from blockwright.engine.signs import Warning, latest_of_each, uncleared_signs
from blockwright.engine.training import Catalogue, CheckIn, Lifter, SetDone
from .evidence import watches_of
from .recovery import monday_of
from .safety import PainState, pain_reports, pain_state


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What the sets and check-ins of the last weeks say."""

    trained: tuple[date, ...]  # Days with sets, in order
    pains: tuple[PainState, ...]
    """Whatever hurt above the carry-on line when it was last spoken of, however long ago."""
    signs: tuple[Warning, ...]
    """Warning signs written in notes and not cleared since, the latest of each kind, in order."""
    disputes: tuple[date, ...] = ()  # Days with a fact that was corrected in two ways, in order
    explained: tuple[date, ...] = ()  # Missed days of which a letter was told why, in order


@dataclass(frozen=True, slots=True, kw_only=True)
class WatchSeen:
    """The watch as of the last set."""

    all_lifts: bool  # Whether the pooled chart stands above its limit
    lifts: tuple[str, ...]  # Lifts whose own chart does
    sounded_on: date | None
    """The last day on which one of these sounded; None while none stands above its limit."""


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
    session: int
    starts: str
    missed: bool  # Whether the coach knows already that it was missed


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockAtHand:
    """What the roster wants to know of a lifter's block."""

    start: date
    ends: date
    made: date  # The day it was made; nothing is due of it before
    waits: bool  # Whether it waits for clearance
    days: tuple[PlannedDay, ...]
    another_follows: bool  # Whether a later block is made already


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterAtHand:
    """The last letter about the block."""

    through: date
    answered: bool  # Whether the coach decided on a line of it
    open_lines: int = 0  # Lines without a decision
    overtaken: bool = False
    """Whether the block was changed by something else than decisions on it since, so that nothing
    can be decided on it any more."""

    @property
    def decided(self) -> bool:
        """Lines left open on a letter that was answered, and overtaken since, wait no more. One
        without a line can neither wait nor be answered."""
        return self.answered and (self.open_lines == 0 or self.overtaken)


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
    rank: int  # The lower, the sooner (policy `roster.rank`)
    why: Reason
    since: date | None = None  # The longer, the sooner, within a rank


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


def _made(
    at: LifterAtHand, need: Need, code: str, since: date | None = None, **facts: FactValue
) -> Attention:
    why = Reason(code=code, facts=facts)
    return Attention(need=need, rank=at.policy.whole(f"roster.rank.{need}"), why=why, since=since)


_HURTS: Mapping[str, tuple[Need, str]] = {
    "refer": ("refer", "roster_refer"),
    "stop": ("pain_stop", "roster_pain_stop"),
    "watchful": ("pain", "roster_pain"),
}


def _hurts(at: LifterAtHand, today: date) -> Iterator[Attention]:
    memory = at.policy.days("safety.pain_memory_days")
    for sign in at.standing.signs:
        code = "roster_sign" if sign.sure else "roster_sign_in_doubt"
        # without a block there is no letter whose referral could be answered
        code += "" if at.block is not None else "_no_block"
        told = {"sign": sign.sign, "date": sign.day.isoformat(), "lift": sign.lift}
        yield _made(at, "sign", code, sign.day, **told)
    for state in at.standing.pains:
        day = state.latest.day
        if today - day > memory and not state.refer:
            continue
        need, code = _HURTS["refer" if state.refer else state.band]
        facts = {"about": state.about, "pain": f"{state.latest.pain:g}", "date": day.isoformat()}
        yield _made(at, need, code, day, **facts, reports_in_a_row=str(state.in_a_row))


def _not_screened(at: LifterAtHand) -> Iterator[Attention]:
    missing = unanswered(at.lifter)
    if missing:
        yield _made(at, "not_screened", "roster_not_screened", count=len(missing))


def _clearance(at: LifterAtHand, today: date) -> Iterator[Attention]:
    lifter = at.lifter
    waits = at.block is not None and at.block.waits
    if waits or status_of(lifter, When.at(lifter, today), at.policy) == "refer":
        yield _made(at, "clearance", "roster_clearance")


def _disputes(at: LifterAtHand) -> Iterator[Attention]:
    days = at.standing.disputes
    if days:
        said = ", ".join(dict.fromkeys(day.isoformat() for day in days))
        yield _made(at, "dispute", "roster_dispute", days[0], dates=said)


def _watch(at: LifterAtHand) -> Iterator[Attention]:
    day = at.watch.sounded_on
    if day is None or (at.letter is not None and at.letter.decided and at.letter.through >= day):
        return
    if at.watch.all_lifts:
        yield _made(at, "watch", "roster_watch_all", day, date=day.isoformat())
    else:
        lifts = ", ".join(at.watch.lifts)
        yield _made(at, "watch", "roster_watch_lifts", day, lifts=lifts, date=day.isoformat())


def _letter(at: LifterAtHand, today: date) -> Iterator[Attention]:
    letter, block = at.letter, at.block
    if letter is not None and letter.open_lines and not letter.decided:
        lines = "1 change" if letter.open_lines == 1 else f"{letter.open_lines} changes"
        code = "roster_letter_overtaken" if letter.overtaken else "roster_letter_waits"
        day = letter.through
        yield _made(at, "letter", code, day, date=day.isoformat(), lines=lines)
        return
    if block is None:
        return
    over = [
        day
        for day in at.standing.trained
        if block.start <= day and monday_of(day, block.start) + _SIX_DAYS < min(today, block.ends)
    ]
    if over and (letter is None or letter.through < over[-1]):
        week = (over[-1] - block.start).days // 7 + 1
        sunday = monday_of(over[-1], block.start) + _SIX_DAYS
        yield _made(at, "letter", "roster_letter_due", sunday, week=week, date=sunday.isoformat())


def _sessions(at: LifterAtHand, today: date) -> Iterator[Attention]:
    block, policy = at.block, at.policy
    runs = block is not None and block.start <= today <= block.ends
    if runs and block is not None:
        first = today - policy.days("roster.missed_days")
        left = set(missed_days(block, at.standing.trained, today)) - set(at.standing.explained)
        missed = sorted(day for day in left if day >= first)
        if missed:
            dates = ", ".join(day.isoformat() for day in missed)
            yield _made(at, "missed", "roster_missed", missed[0], dates=dates)
    if block is not None and not runs:
        return
    last = at.standing.trained[-1] if at.standing.trained else None
    silent_since = last or (None if block is None else max(block.start, block.made))
    if silent_since is None:
        return
    days = (today - silent_since).days
    unexplained = today - max((silent_since, *at.standing.explained))
    if unexplained.days >= policy.number("roster.quiet_days"):
        code = "roster_nothing_yet" if last is None else "roster_quiet"
        since = silent_since.isoformat()
        yield _made(at, "quiet", code, silent_since, days=days, date=since)


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
        yield _made(at, "no_block", "roster_no_block")
    elif not block.another_follows:
        code = "roster_block_over" if today > block.ends else "roster_block_ends"
        soon = (block.ends - today).days < at.policy.number("roster.block_end_days")
        if soon:
            yield _made(at, "block_end", code, block.ends, date=block.ends.isoformat())


def _nothing(at: LifterAtHand, today: date) -> Attention:
    days = () if at.block is None else at.block.days
    coming = (p.day for p in days if p.day >= today and not p.missed)
    following = next((day for day in coming if day not in at.standing.trained), None)
    if following is None or following == today:
        code = "roster_nothing" if following is None else "roster_trains_today"
        return _made(at, "nothing", code)
    return _made(at, "nothing", "roster_next_session", date=following.isoformat())


# -------------------------------------------------------------------------- where a lifter stands


def standing_of(
    sets: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    catalogue: Catalogue,
    policy: Policy,
    cleared: Mapping[str, date],
    signs: Sequence[Warning] = (),
) -> Standing:
    """Reads one lifter's facts. `cleared`: by what was referred, the day a professional cleared
    it (`case.cleared_by`). `signs`: what was found in words, older ones too."""
    work = [done for done in sets if done.method != "warmup"]
    of_lifts = [(done.lift, done.moment.day, done.pain) for done in work if done.pain is not None]
    reports = pain_reports(of_lifts, checkins, catalogue, date.max)
    states = (
        pain_state(about, [r for r in found if r.day > cleared.get(about, date.min)], policy)
        for about, found in reports.items()
    )
    return Standing(
        trained=tuple(sorted({done.moment.day for done in work})),
        pains=tuple(state for state in states if state is not None),
        signs=latest_of_each(uncleared_signs(signs, cleared, date.min, date.max)),
    )


def watch_seen(case: CoachCase) -> WatchSeen:
    """The charts after the lifter's last set, begun anew where the review begins them anew."""
    if not case.sets:
        return WatchSeen(all_lifts=False, lifts=(), sounded_on=None)
    last = max(done.moment.day for done in case.sets)
    watches: Watches = (
        watch_lifter(case.capacities, case.policy, through=last)
        if case.block is None
        else watches_of(case.block, case.capacities, case.policy, last)
    )
    standing = {lift: watch for lift, watch in watches.lifts.items() if watch.alarm}
    charts = [*standing.values(), *([watches.pooled] if watches.pooled.alarm else [])]
    return WatchSeen(
        all_lifts=watches.pooled.alarm,
        lifts=tuple(sorted(standing)),
        sounded_on=max((watch.alarms[-1] for watch in charts if watch.alarms), default=None),
    )
