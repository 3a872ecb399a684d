"""A block while a coach types into it: the page with every change in it and, beside the cell, what
each clashes with; the rest solved around what was typed. Nothing is a revision before it is kept.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from threading import Lock

from django.db import IntegrityError, transaction
from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine.editing import Broken, Place, margin_reason
from blockwright.engine.errors import BadInput, Clash, Problem
from blockwright.engine.training import Block
from blockwright.files.block_json import block_to_json
from blockwright.files.clash_json import clash_to_json
from blockwright.files.json_text import plain
from blockwright.files.words import reason_says
from blockwright.store.composings import add_search, end_search
from blockwright.store.models import Composing, Lifter
from blockwright.verbs.block_page import BlockPage, Cell, Head, block_page
from blockwright.verbs.block_setting import StoredBlock
from blockwright.verbs.edit_block import (
    ChangeQuestion,
    Preview,
    Several,
    TakeRest,
    current_block,
    preview,
)
from blockwright.verbs.search_block import rest_of

_TURN = Lock()
_PATIENCE_S = 10.0
"""How long a second *Solve the rest* waits for the first one in the same process."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedBlock:
    """What a coach typed, seen in the block."""

    page: BlockPage
    told: tuple[str, ...]
    """Each change in a sentence."""
    refused: tuple[str, ...]
    to_insist: tuple[str, ...]
    becomes_pin: bool


def typed_block(shown: Preview, steps: Several) -> TypedBlock:
    """The page of a preview, clashes beside their cells."""
    stored = replace(shown.stored, block=shown.after)
    page = block_page(stored)
    _mark_typed(page, shown.stored.block)
    typed = [step.place for step in steps.steps if not isinstance(step, TakeRest)]
    for broken in shown.broken:
        says = reason_says(broken.reason)
        place = _place_of(broken, page, stored, typed)
        if place is not None:
            week = "" if place.week == broken.week else f"Week {broken.week}: "
            place.clashes.append(f"{week}{says}")
    return TypedBlock(
        page=page,
        told=tuple(_told(shown.stored.block, shown.after)),
        refused=tuple(_ruled(one) for one in shown.refused),
        to_insist=tuple(_ruled(one) for one in shown.to_insist),
        becomes_pin=any(one.force == "pin" for one in shown.broken),
    )


def _mark_typed(page: BlockPage, kept: Block) -> None:
    """The cells that are other than in the block as it is kept."""
    was = {
        (week.week, session.session, entry.lift): entry.sets
        for week in kept.weeks
        for session in week.sessions
        for entry in session.entries
    }
    for group in page.groups:
        for row in group.lifts:
            for cell in row.cells:
                now = cell.entry and cell.entry.sets
                cell.typed = now is not None and was.get((cell.week, cell.session, row.lift)) != now


def _told(before: Block, after: Block) -> Iterator[str]:
    for decision in after.decisions[len(before.decisions) :]:
        reason = margin_reason(decision)
        if reason is not None:
            yield reason_says(reason)


def _ruled(broken: Broken) -> str:
    return f"Week {broken.week}: {reason_says(broken.reason)}"


def _place_of(
    broken: Broken, page: BlockPage, stored: StoredBlock, typed: Sequence[Place]
) -> Cell | Head | None:
    """The cell of the rule's lift, the head of its session, or the cell last typed into that the
    rule's muscle is trained by."""
    facts = broken.reason.facts
    lift, session = facts.get("lift"), facts.get("session")
    muscle = str(facts.get("muscle", "")).replace(" ", "_")
    if lift is not None:
        wanted = [place for place in reversed(typed) if place.lift == lift]
        return _cell(page, broken.week, str(lift), session or (wanted and wanted[0].session))
    for place in reversed(typed):
        known = stored.catalogue.find(place.lift)
        trains = known is not None and known.muscles.get(muscle, 0.0) > 0
        if (trains or not muscle) and session in (None, place.session):
            return _cell(page, place.week, place.lift, place.session) or _head(page, place)
    for group in page.groups:
        for head in group.heads:
            if (head.week, head.session) == (broken.week, session):
                return head
    return None


def _cell(page: BlockPage, week: int, lift: str, session: object) -> Cell | None:
    found = [
        cell
        for group in page.groups
        for row in group.lifts
        for cell in row.cells
        if row.lift == lift and cell.week == week and cell.session
    ]
    return next((cell for cell in found if cell.session == session), found[0] if found else None)


def _head(page: BlockPage, place: Place) -> Head | None:
    heads = (head for group in page.groups for head in group.heads)
    return next((h for h in heads if (h.week, h.session) == (place.week, place.session)), None)


# ------------------------------------------------------------------------------ the rest


def solved_rest(person: User, row: Lifter, question: ChangeQuestion, today: date) -> TakeRest:
    """Composes the open weeks around what was typed, at once, and remembers what it made: the step
    that takes it. BadInput when no week is left, or another search is on its way."""
    stored = current_block(row, question, today)
    drafted = stored
    if isinstance(question.change, Several) and question.change.steps:
        after = preview(row, question, today).after
        drafted = replace(stored, block=replace(after, revision=stored.block.revision))
    if not _TURN.acquire(timeout=_PATIENCE_S):
        says = "another block is being solved"
        raise BadInput(Problem(says=says, mend="try again in a moment"))
    try:
        made = rest_of(drafted, "quick")
    except Clash as clash:
        told = clash_to_json(clash)
        mend = "take a lock off, or change a number"
        raise BadInput(
            [Problem(says=str(rule.get("says", rule)), mend=mend) for rule in told["rules"]]
        ) from clash
    finally:
        _TURN.release()
    return TakeRest(_remembered(person, row, stored, made))


def _remembered(person: User, row: Lifter, stored: StoredBlock, made: Block) -> int:
    asked = {"revision": stored.block.revision, "typed": True}
    try:
        with transaction.atomic():
            search = add_search(
                row, Composing.REST, stored.block.start, asked, person, timezone.now()
            )
            end_search(search.pk, Composing.MADE, {}, dict(plain(block_to_json(made))))
    except IntegrityError as error:
        says = "a search for this lifter is on its way"
        raise BadInput(Problem(says=says, mend="wait for it, or stop it")) from error
    return int(search.pk)
