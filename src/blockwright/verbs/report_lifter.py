"""What a lifter's log came to, from what the site holds: a block's report; weekly sets per muscle,
done and planned, beside the floor and the ceiling; and the Strength page: the lifts, body weight
beside the block's energy phase, and girths.

Remembered until a fact comes or something else of it changes; a report of a usual log takes some
tenths of a second, the estimate of ten years (31,000 sets) about four seconds of a processor the
first time (docs/site.md)."""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from django.http import Http404

from blockwright.accounts.models import User
from blockwright.engine.case import CoachCase
from blockwright.engine.errors import BadInput
from blockwright.engine.policy import Policy
from blockwright.engine.report import (
    GIRTH_DAYS,
    MuscleDone,
    block_report,
    girth_finding,
    muscle_finding,
    muscles_done,
    muscles_seen,
    strength_finding,
    trend_of,
    weight_finding,
)
from blockwright.engine.review import week_case
from blockwright.engine.training import GIRTHS, MUSCLES, Block, CheckIn, Measure
from blockwright.engine.training import Lifter as LifterValue
from blockwright.engine.units import CM_PER_IN, Unit, capital, kg_from
from blockwright.engine.volume import CeilingBelief, ceiling_prior, done_by_week
from blockwright.files.codec import document, to_json
from blockwright.files.json_text import plain
from blockwright.files.words import reason_says
from blockwright.sheets.report_plots import trend_svg
from blockwright.sheets.strength_words import StrengthWords, strength_words
from blockwright.store.access import Right, or_404
from blockwright.store.blocks import block_of, block_on
from blockwright.store.facts import last_day, last_seq
from blockwright.store.letters import letters_of_block
from blockwright.store.models import BlockRevision, Lifter, Proposals
from blockwright.store.partner import told
from .estimate_strength import estimate_strength, histories
from .remembered import remembered
from .report_block import told_by
from .stored_case import block_case, stored_case
from .stored_values import block_value, load_lifter

_REMEMBERED = 32
"""Answers of a kind kept in memory; an estimate of ten years of four sessions a week is 2 MB."""


def report_lifter(row: Lifter, start: date, today: date) -> dict[str, Any] | None:
    """The `blockwright/report/1` document of the block of `start`, as of `today` or the last
    logged day; None when nothing of it is done yet. Http404 for no such block."""
    revision = or_404(block_of(row, start), "block")
    through = through_of(row, block_value(revision), today)
    try:
        return _reported(row, revision, letters_of_block(row, start), through)
    except BadInput:
        return None


def through_of(row: Lifter, block: Block, today: date) -> date:
    """The day up to which a block is looked at: today or, of a log that runs ahead of the
    calendar, its last day; never beyond the block."""
    ends = block.start + timedelta(days=7 * len(block.weeks) - 1)
    return min(max(today, last_day(row) or today), ends)


def _of_these(
    row: Lifter, revision: BlockRevision, letters: Sequence[Proposals], through: date
) -> Hashable:
    read = tuple(one.pk for one in letters)
    return row.key, row.reader, revision.pk, last_seq(row), read, through


@remembered(_REMEMBERED, _of_these)
def _reported(
    row: Lifter, revision: BlockRevision, letters: Sequence[Proposals], through: date
) -> dict[str, Any]:
    offered = told_by(letter.document for letter in letters)
    report = block_report(block_case(row, revision), told=offered, through=through)
    return told(row, document("report", report))


FORMAT = "blockwright/sets/1"
WEEKS_WITHOUT_BLOCK = 8

_DAY, _WEEK = timedelta(days=1), timedelta(days=7)


def count_sets(row: Lifter, start: date | None, today: date) -> dict[str, Any]:
    """The `blockwright/sets/1` document of the block of `start` (None: the one in hand; without
    a block, the last eight weeks with sets). Http404 for no such block."""
    revision = block_on(row, today) if start is None else block_of(row, start)
    if revision is None and start is not None:
        raise Http404("no such block")
    if revision is None:
        return _by_calendar(row, last_day(row) or today)
    return _of_block(row, revision, through_of(row, block_value(revision), today))


@remembered(_REMEMBERED, lambda row, revision, through: _of_these(row, revision, (), through))
def _of_block(row: Lifter, revision: BlockRevision, through: date) -> dict[str, Any]:
    block = block_value(revision)
    case = block_case(row, revision).until(through)
    begun = min(max((through - block.start).days // 7 + 1, 0), len(block.weeks))
    muscles = muscles_done(
        block,
        case.sets,
        _ceilings(block, _block_before(row, revision), case),
        case.catalogue,
        case.policy,
        begun,
        ahead=len(block.weeks) - begun,
    )
    weeks = [_week(week.week, week.kind, block.start, through) for week in block.weeks]
    builds = sum(week.kind == "build" for week in block.weeks[:begun])
    return _sets_document(row.name, revision, through, weeks, muscles, builds)


@remembered(
    _REMEMBERED, lambda row, through: (row.key, row.reader, row.version, last_seq(row), through)
)
def _by_calendar(row: Lifter, through: date) -> dict[str, Any]:
    known = load_lifter(row)
    case = stored_case(row).until(through)
    monday = through - timedelta(days=through.weekday())
    first = monday - (WEEKS_WITHOUT_BLOCK - 1) * _WEEK
    by_week = done_by_week(case.sets, case.catalogue, case.policy, start=first)
    numbers = range(1, WEEKS_WITHOUT_BLOCK + 1)
    done = [by_week.get(number, {}) for number in numbers]
    muscles = muscles_seen([], done, known.value, _priors(known.value, case.policy), case.policy)
    weeks = [_week(number, "build", first, through) for number in numbers]
    return _sets_document(row.name, None, through, weeks, muscles, len(weeks))


def _week(number: int, kind: str, first: date, through: date) -> dict[str, Any]:
    """A week counted from `first` on."""
    start = first + (number - 1) * _WEEK
    return {"week": number, "kind": kind, "start": start, "is_over": start + 6 * _DAY <= through}


def _sets_document(
    name: str,
    revision: BlockRevision | None,
    through: date,
    weeks: Sequence[Mapping[str, Any]],
    muscles: Sequence[MuscleDone],
    builds: int,
) -> dict[str, Any]:
    some = any(sum(muscle.done) for muscle in muscles)
    found: dict[str, Any] = {
        "format": FORMAT,
        "lifter": name,
        "start": None if revision is None else revision.start,
        "block_revision": None if revision is None else revision.revision,
        "through": through,
        "finding": reason_says(muscle_finding(muscles, builds)) if some else None,
        "weeks": list(weeks),
        "muscles": [
            to_json(muscle)
            | {
                "direct_planned": list(muscle.planned_direct),
                "direct_done": list(muscle.done_direct),
            }
            for muscle in muscles
        ],
    }
    return dict(plain(found))


def _block_before(row: Lifter, revision: BlockRevision) -> Block | None:
    before = block_on(row, revision.start - _DAY)
    return None if before is None or before.start >= revision.start else block_value(before)


def _ceilings(block: Block, before: Block | None, case: CoachCase) -> Mapping[str, CeilingBelief]:
    """As the review believes them; of a block that has not begun, as the one before left them."""
    for each in (block, before):
        if each is None:
            continue
        try:
            return week_case(replace(case, block=each)).ceilings
        except BadInput:
            continue
    return _priors(block.lifter, case.policy)


def _priors(lifter: LifterValue, policy: Policy) -> Mapping[str, CeilingBelief]:
    return {
        muscle: ceiling_prior(muscle, lifter.experience, lifter.energy, policy)
        for muscle in MUSCLES
    }


@dataclass(frozen=True, slots=True)
class LifterEstimate:
    """The `blockwright/estimate/1` document of one lifter, and the history of each lift."""

    document: dict[str, Any]
    history: dict[str, dict[str, Any]]  # As `histories` gives it
    unit: Unit


@remembered(
    _REMEMBERED, lambda row, unit=None: (row.key, row.reader, row.version, last_seq(row), unit)
)
def estimate_lifter(row: Lifter, unit: Unit | None = None) -> LifterEstimate:
    """The estimate as of each lift's last set; `unit` (the lifter's if None) rounds its loads.

    BadInput if the lifter's row was written by a newer version."""
    shown = unit or load_lifter(row).value.units
    case = stored_case(row)
    answer = estimate_strength([case], shown)
    return LifterEstimate(told(row, answer.document), histories(case), shown)


PERIODS = {"half-year": 183, "two-years": 731, "all": None}
"""Days the plots go back from the last session, by the word in the address."""


@dataclass(frozen=True, slots=True)
class StrengthPage:
    finding: str
    words: StrengthWords


def strength_page(person: User, row: Lifter, period: str, today: date) -> StrengthPage:
    """The page for `person`, in the unit they read; `period` is a key of `PERIODS`."""
    unit = shown_unit(person, load_lifter(row).value)
    found = estimate_lifter(row, unit)
    last = max((one["points"][-1]["date"] for one in found.history.values()), default=None)
    days = PERIODS[period]
    since = None if last is None or days is None else date.fromisoformat(last) - timedelta(days)
    block = block_on(row, today)
    start = None if block is None else block.start
    words = strength_words(found.document, found.history, unit, since, start)
    headings = [one["heading"] for one in found.history.values()]
    finding = reason_says(strength_finding(headings)) if headings else ""
    return StrengthPage(finding, words)


@dataclass(frozen=True, slots=True)
class MeasuredPage:
    finding: str
    svg: str


def weight_page(
    person: User, row: Lifter, rights: frozenset[Right], today: date
) -> MeasuredPage | None:
    """None where too few weigh-ins tell a trend, and for a training partner: weigh-ins are
    check-ins, for those who may have the lifter's file."""
    if "export" not in rights:
        return None
    unit = shown_unit(person, load_lifter(row).value)
    trend = trend_of(_measured(stored_case(row).checkins, "bodyweight"), today)
    if trend is None:
        return None
    block = block_on(row, today)
    lifter = load_lifter(row).value if block is None else block_value(block).lifter
    finding = reason_says(weight_finding(trend, lifter.energy, unit))
    return MeasuredPage(finding, trend_svg(trend, kg_from(1, unit), finding))


def girth_pages(
    person: User, row: Lifter, rights: frozenset[Right], today: date
) -> Iterator[MeasuredPage]:
    """One for each girth that was measured often enough; for whom as `weight_page`."""
    if "export" not in rights:
        return
    unit: Unit = shown_unit(person, load_lifter(row).value)
    checkins = stored_case(row).checkins
    for girth in GIRTHS:
        trend = trend_of(_measured(checkins, girth), today, GIRTH_DAYS)
        if trend is not None:
            finding = capital(reason_says(girth_finding(girth, trend, unit)))
            size = CM_PER_IN if unit == "lb" else 1.0
            yield MeasuredPage(finding, trend_svg(trend, size, finding))


def _measured(checkins: tuple[CheckIn, ...], measure: Measure) -> list[tuple[date, float]]:
    return [(one.moment.day, one.value) for one in checkins if one.measure == measure]


def shown_unit(person: User, lifter: LifterValue) -> Unit:
    """Pounds for a person who chose them, else the lifter's own (kg is what an account starts
    with, so it says nothing of a choice)."""
    return "lb" if person.units == "lb" else lifter.units
