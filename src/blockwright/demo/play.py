"""Plays one person through a block with the product's own verbs: plan, sheet, log, review,
revise, report, and the next block planned from this one."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np

from blockwright.engine.planning import Budget
from blockwright.engine.review import review
from blockwright.engine.training import Block, CheckIn, Session, SetDone, Week
from blockwright.engine.volume import done_sets
from blockwright.files.block_json import read_block
from blockwright.files.case_files import case_of_block, read_case, with_facts
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import dumps
from blockwright.files.policy_files import default_policy
from blockwright.files.proposals_json import read_proposals
from blockwright.sheets.letter import letter_of
from blockwright.sheets.letter_text import letter_text
from blockwright.sheets.pdf import sheets_pdf
from blockwright.sheets.report_pdf import report_pdf
from blockwright.sheets.workbook import block_calendar
from blockwright.verbs.compose_block import plan_block
from blockwright.verbs.print_sheet import first_week_pdf, print_sheet, workbook_of
from blockwright.verbs.report_block import report_block
from blockwright.verbs.revise_block import block_revised, letter_document, verdicts_for
from .body import Body
from .cast import Person
from .coach import answers_to, lived_before
from .folder import Folder, copy_lifter, monday, write_next_lifter
from .training import (
    DayLog,
    Trainee,
    asked_by,
    do_session,
    pain_check_in,
    said,
    session_answers,
    weigh_in,
    wellness,
)

Tell = Callable[[str], None]
MOST_SHEETS_OF = 2
"""Build weeks, the first and so many, whose sheets are printed beside the deload's."""


@dataclass(slots=True)
class Played:
    person: Person
    folder: Folder
    last: Block
    weeks: list[Week] = field(default_factory=list)
    following: Block | None = None


def play(
    person: Person,
    root: Path,
    *,
    tell: Tell,
    today: date | None = None,
    weeks: int | None = None,
    budget: Budget | None = None,
) -> Played:
    """Plays `person` in the folder `root / person.key`, up to the morning of `today` (None: to the
    block's end); `weeks` shortens the block, `budget` the search. The same arguments leave the same
    bytes."""
    folder = Folder(root / person.key)
    who = trainee(person, folder, weeks, today)
    start = who.lifter.start
    if start is None:
        raise ValueError(f"{person.key} has no start")
    tell(f"{who.lifter.name}: {person.history_weeks} weeks before the block")
    typed = lived_before(who, start)
    folder.write_facts(typed)
    tell(f"{who.lifter.name}: plan")
    block = plan_block(folder.lifter, folder.sets, folder.checkins, budget=budget).value
    folder.write_block(folder.block(1), block)
    played = Played(person, folder, block)
    until = today or date.max
    for week in _weeks(played):
        if not _play_and_review(who, played, week, typed, until, tell):
            return played
    _finish(who, played, tell, budget)
    _begin_next(who, played, typed, until)
    return played


def _play_and_review(
    who: Trainee, played: Played, week: Week, typed: DayLog, until: date, tell: Tell
) -> bool:
    """One week, as far as it is over; whether the next is played too."""
    folder, block = played.folder, played.last
    tell(f"{who.lifter.name}: week {week.week}")
    played.weeks.append(week)
    if not _play_week(who, folder, folder.block(block.revision), block, week, typed, until):
        return False
    next_monday = monday(block, week.week + 1)
    waits = who.person.letter_waits and next_monday + timedelta(days=7) > until
    played.last = _reviewed(who, folder, played, week, waits=waits)
    return True


def _begin_next(who: Trainee, played: Played, typed: DayLog, until: date) -> None:
    """What was done of the next block before the day played for."""
    block = played.following
    if block is None or until == date.max:
        return
    for week in block.weeks:
        if monday(block, week.week) >= until:
            return
        _play_week(who, played.folder, played.folder.next_block, block, week, typed, until)


def trainee(
    person: Person, folder: Folder, weeks: int | None, today: date | None = None
) -> Trainee:
    start = None
    if today is not None:
        start = today - timedelta(days=today.weekday() + 7 * person.weeks_behind)
    lifter = copy_lifter(person.key, folder, weeks, start)
    catalogue = catalogue_for(lifter)
    return Trainee(
        person=person,
        lifter=lifter,
        catalogue=catalogue,
        policy=default_policy().overridden(lifter.policy, "lifter"),
        body=Body(person.body, catalogue, np.random.default_rng(person.seed)),
    )


def _weeks(played: Played) -> Iterator[Week]:
    """The weeks in order; a revision may shorten or lengthen the block on the way."""
    number = 1
    while number <= len(played.last.weeks):
        yield played.last.weeks[number - 1]
        number += 1


def _play_week(
    who: Trainee, folder: Folder, file: Path, block: Block, week: Week, typed: DayLog, until: date
) -> bool:
    """Every session before the day `until`; the week's end too, where that has come, and whether
    it has."""
    _into_trouble(who, week)
    before = len(typed.sets)
    documents = []
    for session in sorted(week.sessions, key=lambda s: (s.day, s.start_time)):
        if session.day >= until:
            break
        answer, _ = print_sheet(
            file, folder.sets, folder.checkins, week=week.week, session=session.session
        )
        document = answer.document
        documents.append(document)
        if week.kind == "deload" or (week.week, session.session) not in who.person.missed:
            _do_session(who, document, session, week, typed)
            folder.write_facts(typed)
    printed = [document for document in documents if document["entries"]]
    if printed and (week.week <= MOST_SHEETS_OF or week.kind == "deload"):
        folder.write(folder.sheets(week.week), sheets_pdf(printed))
    done = [s for s in typed.sets[before:] if s.method != "warmup"]
    sunday = monday(block, week.week) + timedelta(days=6)
    if sunday < until:
        _end_week(who, folder, week, sunday, typed, done)
    else:
        # what hurts is asked on the morning of the day played for
        typed.checkins += pain_check_in(who.person.pain, until, week.week)
        folder.write_facts(typed)
    return sunday < until


def _end_week(
    who: Trainee, folder: Folder, week: Week, sunday: date, typed: DayLog, done: list[SetDone]
) -> None:
    typed.checkins += pain_check_in(who.person.pain, sunday, week.week)
    typed.checkins.append(weigh_in(who, sunday))
    folder.write_facts(typed)
    counts = done_sets(done, who.catalogue, who.policy)
    who.body.end_week({muscle: count.fractional for muscle, count in counts.items()})


def _do_session(
    who: Trainee, document: Mapping[str, Any], session: Session, week: Week, typed: DayLog
) -> None:
    trouble = who.person.trouble
    tired = trouble.tired if trouble is not None and who.body.trouble else 0
    if not any(c.moment.day == session.day and c.measure == "sleep" for c in typed.checkins):
        typed.checkins += wellness(who, session.day, tired)
        typed.checkins += _sore(who, session, week)
    asked = [asked_by(entry, who.catalogue) for entry in document["entries"] if entry["sets"]]
    day, start = session.day, session.start_time
    minutes = do_session(who, day, start, asked, typed, week.week)
    typed.checkins += session_answers(who, day, start, minutes, week.rir)


def _sore(who: Trainee, session: Session, week: Week) -> list[CheckIn]:
    """Soreness of the session's main muscles, as it is before the session."""
    trained = {m for e in session.entries for m in who.catalogue.lifts[e.lift].direct}
    counts = {m: week.muscle_sets[m].fractional for m in sorted(trained) if m in week.muscle_sets}
    return [
        said(session.day, "sore", who.body.soreness(muscle, sets), muscle)
        for muscle, sets in counts.items()
    ]


def _into_trouble(who: Trainee, week: Week) -> None:
    """Trouble comes in its week and goes with the deload."""
    trouble = who.person.trouble
    if trouble is not None and week.kind == "deload":
        who.body.trouble = 0.0
    elif trouble is not None and week.week >= trouble.first_week:
        who.body.trouble = trouble.ln_fall


def _reviewed(who: Trainee, folder: Folder, played: Played, week: Week, *, waits: bool) -> Block:
    """Reviews the week and, unless the letter waits, decides and revises; the block as it stands
    afterwards."""
    block = played.last
    at = folder.block(block.revision)
    through = monday(block, week.week) + timedelta(days=6)
    found = review(read_case(at, folder.sets, folder.checkins).value, through)
    document = letter_document(found)
    folder.write(folder.proposals(week.week), dumps(document))
    folder.write(folder.letter(week.week), letter_text(letter_of(document)))
    answers = () if waits else answers_to(who, document)
    if not answers:
        return block
    file = read_proposals(folder.proposals(week.week))
    new = block_revised(read_block(at), verdicts_for(answers, file), file.cautions)
    folder.write_block(folder.block(new.revision), new)
    return new


def _finish(who: Trainee, played: Played, tell: Tell, budget: Budget | None) -> None:
    folder, block = played.folder, played.last
    tell(f"{who.lifter.name}: report")
    last, letters = folder.block(block.revision), folder.all_proposals()
    answer = report_block(last, folder.sets, folder.checkins, proposals=letters)
    folder.write(folder.root / "report.json", dumps(answer.document))
    folder.write(folder.root / "report.pdf", report_pdf(answer.document))
    folder.write(folder.root / "block.ics", block_calendar(block))
    folder.write(folder.root / "block.xlsx", workbook_of(block))
    tell(f"{who.lifter.name}: the next block")
    write_next_lifter(folder, who.lifter, monday(block, len(block.weeks) + 1))
    following = plan_block(
        folder.next_lifter,
        folder.sets,
        folder.checkins,
        previous=folder.block(block.revision),
        budget=budget,
    ).value
    folder.write_block(folder.next_block, following)
    known = with_facts(case_of_block(following), folder.sets, folder.checkins).value
    folder.write(folder.root / "sheets" / "next-week-1.pdf", first_week_pdf(known))
    played.following = following
