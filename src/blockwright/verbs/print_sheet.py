"""Prints a sheet: a block, one of its sessions and what was logged so far, to a document."""

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

from blockwright.engine.case import BlockCase
from blockwright.engine.day_sheet import (
    DaySheet,
    Partner,
    PlannedSession,
    day_sheet,
    session_in_week,
    session_on,
    sessions_of,
)
from blockwright.engine.errors import BadInput
from blockwright.engine.review.case import cleared_days, open_signs
from blockwright.engine.review.holds import held_session
from blockwright.engine.training import Block, SetDone
from blockwright.files.block_json import read_block
from blockwright.files.case_files import case_of_block, with_facts
from blockwright.files.codec import document
from blockwright.files.policy_files import under_coach
from blockwright.files.reading import CommandAnswer
from blockwright.sheets.pdf import Paper, sheets_pdf
from blockwright.sheets.workbook import block_workbook


def print_sheet(
    block_file: Path,
    facts: Path | None = None,
    checkins: Path | None = None,
    *,
    day: date | None = None,
    week: int | None = None,
    session: int | None = None,
    partner: Path | None = None,
    coach: Path | None = None,
) -> tuple[CommandAnswer, Block]:
    """The sheet of the session asked for, and the block it is of. Raises BadInput when a file
    cannot be used or no single session is meant."""
    block = under_coach(read_block(block_file), coach)
    chosen = _chosen(block, day, week, session)
    read = with_facts(case_of_block(block), facts, checkins)
    beside = _partner(partner, chosen.session.day)
    sheet = sheet_of(before_session(read.value, chosen), chosen, partner=beside)
    return CommandAnswer(document("sheet", sheet), warnings=read.warnings), block


def sheet_of(
    case: BlockCase,
    chosen: PlannedSession,
    *,
    with_advice: bool = True,
    partner: Partner | None = None,
) -> DaySheet:
    held = held_session(case, chosen.week, chosen.session)
    return day_sheet(
        case.block,
        replace(chosen, session=held.session),
        case.catalogue,
        case.policy,
        case.beliefs() if case.taught else None,
        partner=partner,
        with_advice=with_advice,
        signs=open_signs(case, chosen.session.day),
        most=held.most,
        cleared=cleared_days(case),
        steady=held.steady,
    )


def _chosen(
    block: Block, day: date | None, week: int | None, session: int | None
) -> PlannedSession:
    if day is not None and week is not None:
        raise BadInput.of("stands beside a week", "give one of the two", column="date")
    if day is not None:
        return session_on(block, day, session)
    if week is not None:
        return session_in_week(block, week, session)
    raise BadInput.of("which session?", f"give --date {block.start}, or --week 1 --session 1")


def before_session(case: BlockCase, chosen: PlannedSession) -> BlockCase:
    starts = datetime.combine(chosen.session.day, time.fromisoformat(chosen.session.start_time))
    known = case.until(chosen.session.day)
    return replace(known, sets=tuple(done for done in known.sets if _is_before(done, starts)))


def _is_before(done: SetDone, starts: datetime) -> bool:
    """Sets of earlier days, and of the same day where they say that they were earlier."""
    if done.moment.day != starts.date():
        return done.moment.day < starts.date()
    return done.moment.at is not None and done.moment.at < starts


def _partner(file: Path | None, day: date) -> Partner | None:
    """The partner's first session of that day."""
    if file is None:
        return None
    block = read_block(file)
    for planned in sessions_of(block):
        if planned.session.day == day:
            return Partner(block.lifter.name, planned.session)
    says = f"{block.lifter.name} has no session on {day}"
    mend = "give a block with a session that day, or leave the partner out"
    raise BadInput.of(says, mend, column="partner")


def first_week_pdf(case: BlockCase, paper: Paper = "a4") -> bytes:
    """The sheets of the block's first week, a session to a page; BadInput when it has none."""
    first = case.block.weeks[0]
    week = [planned for planned in sessions_of(case.block) if planned.week is first]
    if not week:
        raise BadInput.of("the first week has no session", "add a slot to it")
    known = before_session(case, week[0])
    sheets = (sheet_of(known, planned) for planned in week)
    return sheets_pdf([document("sheet", sheet) for sheet in sheets], paper)


def workbook_of(block: Block) -> bytes:
    """The whole block as a workbook, one tab a week."""
    case = case_of_block(block)
    sessions = (planned for planned in sessions_of(block) if planned.session.entries)
    sheets = (sheet_of(case, planned, with_advice=False) for planned in sessions)
    return block_workbook([document("sheet", sheet) for sheet in sheets])
