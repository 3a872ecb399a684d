"""Composing from the site: a row says what is wanted, a process of its own searches, the row says
how it ended. The page may be closed meanwhile; a second click finds the first search."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine.editing import (
    CoachWords,
    decision_of,
    first_open_week,
    margin_reason,
    rest_solved,
)
from blockwright.engine.errors import BadInput, BlockwrightError, Clash, Problem
from blockwright.engine.review import week_case
from blockwright.engine.review.exposures import window_of
from blockwright.engine.training import Block
from blockwright.files.answer_documents import clash_to_json
from blockwright.files.block_json import block_to_json
from blockwright.files.lifter_file import require_for_plan
from blockwright.sheets.report_shapes import day_words
from blockwright.store.blocks import (
    add_search,
    beat,
    block_of,
    end_search,
    is_silent,
    last_block,
    open_search,
    searches_before,
)
from blockwright.store.facts import locked
from blockwright.store.models import BlockRevision, Composing, Lifter
from .compose_block import Search, budget_called, composed
from .house_templates import frame_of_visits, template_called
from .stored_case import StoredBlock, stored_block, stored_case
from .stored_values import block_value, keep_block, load_lifter

AT_ONCE = max(1, (os.cpu_count() or 2) // 2)
"""Searches that run at the same time; the others wait their turn (the site must answer too)."""
SEARCH = "BLOCKWRIGHT_SEARCH"  # How long searches look: quick or usual (the default)

_STEPS = (
    ("week: parts", "looking for a better week"),
    ("week: pairs", "trying lifts in turn to save minutes"),
    ("weeks", "laying out the weeks up to the deload, with loads"),
)


class StoppedError(Exception):
    """The search is not wanted any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComposeQuestion:
    """Which block is wanted: its first Monday, and the block before (its start) to learn from."""

    start: date
    previous: date | None = None
    template: str = ""  # Name of the house's template whose frame to keep; "" for none


def default_start(row: Lifter, today: date) -> date:
    """The Monday after the last block, the lifter file's start where no block was made yet and
    that day has not passed, or the next Monday."""
    last = last_block(row)
    if last is not None and last.ends >= today:
        return last.ends + timedelta(days=1)
    own = load_lifter(row).value.start
    if last is None and own is not None and own >= today:
        return own
    return next_monday(today)


def next_monday(today: date) -> date:
    """Today, where it is one."""
    return today + timedelta(days=-today.weekday() % 7)


def begin_composing(
    person: User, row: Lifter, question: ComposeQuestion, today: date, now: datetime
) -> Composing:
    """The search for a block: a new one, or the one that is on its way. Raises BadInput with
    what is missing or in the way."""
    _check(row, question, today)
    there = block_of(row, question.start)
    asked: dict[str, Any] = {
        "previous": None if question.previous is None else question.previous.isoformat(),
        "revision": 0 if there is None else there.revision,
        "today": today.isoformat(),
    }
    if question.template:
        asked["frame"] = template_called(question.template)
    return _begin(person, row, Composing.BLOCK, question.start, asked, now)


def begin_rest(
    person: User,
    row: Lifter,
    start: date,
    revision: int,
    today: date,
    now: datetime,
    *,
    other_lifts: bool = False,
) -> Composing:
    """The search for the weeks of a block that have not begun, among the lifts it has unless
    `other_lifts` may come in."""
    stored = _as_seen(row, start, revision, today)
    if first_open_week(stored.block, stored.closed) is None:
        raise BadInput.of("every build week of this block has begun", "compose the next block")
    asked = {"revision": revision, "today": today.isoformat(), "other_lifts": other_lifts}
    return _begin(person, row, Composing.REST, start, asked, now)


def _as_seen(row: Lifter, start: date, revision: int, today: date) -> StoredBlock:
    there = block_of(row, start)
    if there is None or there.revision != revision:
        raise BadInput.of("the block was changed meanwhile", "look at it, then solve the rest")
    return stored_block(row, there, today)


def _begin(
    person: User, row: Lifter, kind: str, start: date, asked: dict[str, Any], now: datetime
) -> Composing:
    with locked(row.key):
        going = settled(open_search(row), now)
        if going is not None:
            return going
        try:
            with transaction.atomic():
                search = add_search(row, kind, start, asked, person, now)
            transaction.on_commit(lambda: launch(search))
            return search
        except IntegrityError:
            found = open_search(row)
            if found is None:
                raise
            return found


def settled(search: Composing | None, now: datetime) -> Composing | None:
    """The search while it is open; one that fell silent is ended, and None comes back."""
    if search is None or not is_silent(search, now):
        return search
    says = "The search fell silent: the site was stopped, or its process was."
    end_search(search.pk, Composing.FAILED, {"problems": [says]})
    return None


def is_waiting(search: Composing, latest: BlockRevision) -> bool:
    """Whether a search for the rest has made what could follow this revision, not kept yet."""
    made = search.document if search.state == Composing.MADE else None
    return (
        made is not None
        and not search.asked.get("typed")
        and made["revision"] == latest.revision + 1
    )


def stop_search(search: Composing) -> None:
    """Ends a search that is not wanted any more; its process stops at its next step."""
    end_search(search.pk, Composing.FAILED, {"problems": ["The search was stopped."]})


def _check(row: Lifter, question: ComposeQuestion, today: date) -> None:
    problems: list[Problem] = []
    lifter = replace(load_lifter(row).value, start=question.start)
    start = day_words(question.start.isoformat())
    try:
        require_for_plan(lifter)
    except BadInput as error:
        problems += error.problems
    if question.start.weekday() != 0:
        says = f"{start} is no Monday"
        problems.append(Problem(column="start", says=says, mend="a block starts on a Monday"))
    there = block_of(row, question.start)
    if there is not None and _has_begun(row, there.start, today):
        says = f"the block of {start} has begun"
        mend = "solve the rest of it, or compose the next one"
        problems.append(Problem(column="start", says=says, mend=mend))
    if question.start < today:
        says = f"{start} has passed, and nothing can be due before today"
        mend = f"begin on the next Monday, {day_words(next_monday(today).isoformat())}"
        problems.append(Problem(column="start", says=says, mend=mend))
    previous = question.previous
    if previous is not None and (block_of(row, previous) is None or previous >= question.start):
        says = f"no block before it started on {day_words(previous.isoformat())}"
        problems.append(Problem(column="previous", says=says, mend="choose one of the list"))
    BadInput.raise_any(problems)


def _has_begun(row: Lifter, start: date, today: date) -> bool:
    logged = row.facts.filter(kind="set", day__gte=start, day__lte=today).exists()
    return logged or start < today


def launch(search: Composing) -> None:
    """Starts the process that searches, and does not wait for it. A terminal's Ctrl-C passes it
    by: it hears of it from its parent's end, once it can write down what became of the search."""
    numbers = [str(search.pk), str(os.getpid())]
    command = [sys.executable, "-m", "blockwright.server.composer", *numbers]
    null = subprocess.DEVNULL
    try:
        subprocess.Popen(command, stdin=null, stdout=null, process_group=0)
    except OSError as error:
        says = f"No process could be started for the search: {error.strerror or error}."
        end_search(search.pk, Composing.FAILED, {"problems": [says]})


def run_search(pk: int) -> None:
    """Searches, and writes down how it ended; in words, whatever happened."""
    search = Composing.objects.select_related("lifter", "by").get(pk=pk)
    tell = _teller(pk)
    try:
        _wait_for_turn(search, tell)
        if search.kind == Composing.REST:
            document = _rest(search, tell)
            end_search(pk, Composing.MADE, {}, document)
        else:
            _store(search, _block(search, tell))
    except StoppedError:
        return
    except Clash as clash:
        end_search(pk, Composing.CLASH, clash_to_json(clash))
    except BlockwrightError as error:
        end_search(pk, Composing.FAILED, {"problems": [str(one) for one in error.problems]})
    except KeyboardInterrupt:
        says = "The site was stopped while it searched. Nothing was changed."
        end_search(pk, Composing.FAILED, {"problems": [says]})
    except BaseException:
        says = "Our fault, not yours: the search broke off. Nothing was changed."
        end_search(pk, Composing.FAILED, {"problems": [says]})
        raise


def _teller(pk: int) -> Callable[[str], None]:
    def tell(step: str) -> None:
        said = next((words for start, words in _STEPS if step.startswith(start)), step)
        if not beat(pk, said, timezone.now()):
            raise StoppedError

    return tell


def _wait_for_turn(search: Composing, tell: Callable[[str], None]) -> None:
    while searches_before(search, timezone.now()) >= AT_ONCE:
        tell("waiting for another search to end")
        time.sleep(1)
    tell("reading the log")


def _search_words() -> Search:
    return "quick" if os.environ.get(SEARCH) == "quick" else "usual"


def _block(search: Composing, tell: Callable[[str], None]) -> Block:
    row, start = search.lifter, search.start
    before = search.asked.get("previous")
    previous = None if before is None else block_of(row, date.fromisoformat(before))
    earlier = None if previous is None else block_value(previous)
    case = stored_case(row).until(start - timedelta(days=1))
    lifter = replace(load_lifter(row).value, start=start)
    frame = search.asked.get("frame")
    return composed(
        lifter,
        case.sets,
        case.checkins,
        previous=earlier,
        frame=None if frame is None else frame_of_visits(frame),
        coach_policy={} if earlier is None else earlier.coach_policy,
        budget=budget_called(_search_words()),
        tell=tell,
    )


def _store(search: Composing, block: Block) -> None:
    """The block as the next revision of its start, if nobody made one meanwhile."""
    with locked(search.lifter_id):
        there = block_of(search.lifter, search.start)
        now = 0 if there is None else there.revision
        if now != search.asked["revision"]:
            says = f"a block of {search.start} was made meanwhile"
            raise BadInput.of(says, "look at it, then compose again if need be")
        if not end_search(search.pk, Composing.MADE, {}):
            raise StoppedError
        keep_block(search.lifter, _numbered(block, now), search.by)


def _numbered(block: Block, revisions: int) -> Block:
    """The block as revision 1; where there are some, as the next, which says so."""
    if not revisions:
        return block
    before = replace(block, revision=revisions)
    decision = decision_of(before, "coach_composed", {}, CoachWords())
    told = margin_reason(decision)
    return replace(
        block,
        revision=revisions + 1,
        decisions=(decision,),
        reasons=(*block.reasons, *([told] if told else [])),
    )


def _rest(search: Composing, tell: Callable[[str], None]) -> dict[str, Any]:
    asked = search.asked
    today = date.fromisoformat(asked["today"])
    stored = _as_seen(search.lifter, search.start, asked["revision"], today)
    other_lifts = bool(asked.get("other_lifts"))
    return block_to_json(rest_of(stored, _search_words(), tell=tell, other_lifts=other_lifts))


def rest_of(
    stored: StoredBlock,
    search: Search,
    *,
    other_lifts: bool = False,
    tell: Callable[[str], None] | None = None,
) -> Block:
    """The open weeks of a block composed anew, from all that is known of its lifter. BadInput and
    Clash as `rest_solved`."""
    ceilings = None
    if window_of(stored.block, stored.case.sets, stored.today) is not None:
        ceilings = week_case(stored.case.until(stored.today)).ceilings
    return rest_solved(
        stored.block,
        stored.context(with_loads=True),
        facts=stored.case.sets,
        beliefs=stored.beliefs(),
        ceilings=ceilings,
        other_lifts=other_lifts,
        budget=budget_called(search),
        tell=tell,
    )
