"""Prints a sheet: a block, one of its sessions and what was logged so far, to a document."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blockwright.engine.day_sheet import (
    Partner,
    PlannedSession,
    day_sheet,
    session_in_week,
    session_on,
    sessions_of,
)
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.strength import Beliefs, Bodyweights, replay
from blockwright.engine.training import Block, SetDone
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import plain
from blockwright.files.policy_files import block_policy, under_coach
from blockwright.files.sheet_json import sheet_to_json
from blockwright.verbs.filter_lifter import filter_lifter
from blockwright.verbs.sheet_signs import sheet_signs

if TYPE_CHECKING:
    from blockwright.sheets.pdf import Paper


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetQuestion:
    """What was typed at `blockwright sheet`."""

    block_file: Path
    day: date | None = None
    week: int | None = None
    session: int | None = None
    facts_file: Path | None = None
    partner_file: Path | None = None
    coach: Path | None = None


@dataclass(frozen=True, slots=True)
class SheetAnswer:
    """The `blockwright/sheet/1` document, the block it came from, and what was assumed."""

    document: dict[str, Any]
    block: Block
    warnings: tuple[Problem, ...]


def print_sheet(question: SheetQuestion) -> SheetAnswer:
    """The sheet of the session asked for.

    Raises BadInput when a file cannot be used or no single session is meant.
    """
    block = under_coach(read_block(question.block_file), question.coach)
    chosen = _chosen(block, question)
    beliefs, warnings = _beliefs(block, chosen, question.facts_file)
    partner = _partner(question.partner_file, chosen.session.day)
    catalogue, policy = catalogue_for(block.lifter), block_policy(block)
    done = () if beliefs is None else beliefs.sets
    signs = sheet_signs(block, done, (), (), catalogue, policy, chosen.session.day)
    sheet = day_sheet(block, chosen, catalogue, policy, beliefs, partner=partner, signs=signs)
    return SheetAnswer(plain(sheet_to_json(sheet)), block, warnings)


def _chosen(block: Block, question: SheetQuestion) -> PlannedSession:
    if question.day is not None and question.week is not None:
        raise BadInput(
            Problem(column="--date", says="stands beside --week", mend="give one of the two")
        )
    if question.day is not None:
        return session_on(block, question.day, question.session)
    if question.week is not None:
        return session_in_week(block, question.week, question.session)
    raise BadInput(
        Problem(
            says="which session?",
            mend=f"give --date {block.start}, or --week 1 --session 1",
        )
    )


# ------------------------------------------------------------------------------------- facts


def _beliefs(
    block: Block, chosen: PlannedSession, file: Path | None
) -> tuple[Beliefs | None, tuple[Problem, ...]]:
    """What the sets before the session say; None without a file."""
    if file is None:
        return None, ()
    from blockwright.files.sets_file import read_sets

    catalogue = catalogue_for(block.lifter)
    reading = read_sets(file, catalogue, block.lifter)
    starts = datetime.combine(chosen.session.day, time.fromisoformat(chosen.session.start_time))
    own = filter_lifter(reading.value, block.lifter, file.name)
    beliefs = replay(
        [done for done in own if _is_before(done, starts)],
        catalogue,
        block_policy(block),
        bodyweights=Bodyweights(usual_kg=block.lifter.bodyweight_kg),
        hindsight=True,
    )
    return beliefs, reading.warnings


def _is_before(done: SetDone, starts: datetime) -> bool:
    """Sets of earlier days, and of the same day where they say that they were earlier."""
    if done.moment.day != starts.date():
        return done.moment.day < starts.date()
    return done.moment.at is not None and done.moment.at < starts


# ----------------------------------------------------------------------------------- partner


def _partner(file: Path | None, day: date) -> Partner | None:
    """The partner's first session of that day."""
    if file is None:
        return None
    block = read_block(file)
    for planned in sessions_of(block):
        if planned.session.day == day:
            return Partner(block.lifter.name, planned.session)
    raise BadInput(
        Problem(
            file=file.name,
            column="--partner",
            says=f"{block.lifter.name} has no session on {day}",
            mend="give a block with a session that day, or leave --partner out",
        )
    )


# ------------------------------------------------------------------------- paper and workbook


def first_week_pdf(block: Block, facts_file: Path | None = None, paper: "Paper" = "a4") -> bytes:
    """The sheets of the block's first week, a session to a page; BadInput when it has none."""
    from blockwright.sheets.pdf import sheets_pdf

    week = [planned for planned in sessions_of(block) if planned.week is block.weeks[0]]
    if not week:
        raise BadInput(Problem(says="the first week has no session", mend="add a slot to it"))
    beliefs, _ = _beliefs(block, week[0], facts_file)
    return sheets_pdf(_documents(block, week, beliefs, with_advice=True), paper)


def workbook_of(block: Block) -> bytes:
    """The whole block as a workbook, one tab a week."""
    from blockwright.sheets.workbook import block_workbook

    sessions = [planned for planned in sessions_of(block) if planned.session.entries]
    return block_workbook(_documents(block, sessions, None, with_advice=False))


def _documents(
    block: Block,
    sessions: Sequence[PlannedSession],
    beliefs: Beliefs | None,
    *,
    with_advice: bool,
) -> list[dict[str, Any]]:
    catalogue, policy = catalogue_for(block.lifter), block_policy(block)
    sheets = (
        day_sheet(block, planned, catalogue, policy, beliefs, with_advice=with_advice)
        for planned in sessions
    )
    return [plain(sheet_to_json(sheet)) for sheet in sheets]
