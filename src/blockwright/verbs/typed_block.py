"""A block while a coach types into it: the page with every change in it and, beside the cell, what
each clashes with; the rest solved around what was typed. Nothing is a revision before it is kept.
Beside it the lifts a coach may mean by part of a name: the next three, and what each costs."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from threading import Lock

from django.db import IntegrityError, transaction
from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine import editing
from blockwright.engine.errors import BadInput, Clash, Problem
from blockwright.engine.planning.candidates import usable_lifts
from blockwright.engine.training import Block, Lift, Session, Week
from blockwright.engine.units import load_text, number_text
from blockwright.files.answer_documents import clash_to_json
from blockwright.files.block_json import block_to_json
from blockwright.files.words import reason_says
from blockwright.store.blocks import add_search, end_search
from blockwright.store.models import Composing, Lifter
from . import edit_block
from .block_page import BlockPage, Cell, Head, block_page
from .search_block import rest_of
from .stored_case import StoredBlock

_TURN = Lock()
_PATIENCE_S = 10.0  # How long a second *Solve the rest* waits for the first one in the same process


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedBlock:
    page: BlockPage
    told: tuple[str, ...]  # Each change in a sentence
    refused: tuple[str, ...]
    to_insist: tuple[str, ...]
    becomes_pin: bool


def typed_block(shown: edit_block.EditPreview, steps: edit_block.Several) -> TypedBlock:
    """The page of a preview, clashes in the margin of their cells."""
    stored = replace(shown.stored, block=shown.after)
    page = block_page(stored)
    _mark_typed(page, shown.stored.block)
    typed = [step.place for step in steps.steps if not isinstance(step, edit_block.TakeRest)]
    for broken in shown.broken:
        place = _place_of(broken, page, stored, typed)
        if place is not None and (said := edit_block.rule_says(broken)) not in place.clashes:
            place.clashes.append(said)
    return TypedBlock(
        page=page,
        told=tuple(_told(shown.stored.block, shown.after)),
        refused=tuple(edit_block.rule_says(one) for one in shown.refused),
        to_insist=tuple(edit_block.rule_says(one) for one in shown.to_insist),
        becomes_pin=shown.becomes_pin,
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
        reason = editing.margin_reason(decision)
        if reason is not None:
            yield reason_says(reason)


def _place_of(
    broken: editing.Broken, page: BlockPage, stored: StoredBlock, typed: Sequence[editing.Place]
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
        known = stored.case.catalogue.find(place.lift)
        trains = known is not None and known.muscles.get(muscle, 0.0) > 0
        if (trains or not muscle) and session in (None, place.session):
            cell = _cell(page, place.week, place.lift, place.session)
            return cell or _head(page, place.week, place.session)
    return _head(page, broken.week, session)


def _cell(page: BlockPage, week: int, lift: str, session: object) -> Cell | None:
    found = [
        cell
        for group in page.groups
        for row in group.lifts
        for cell in row.cells
        if row.lift == lift and cell.week == week and cell.session
    ]
    return next((cell for cell in found if cell.session == session), found[0] if found else None)


def _head(page: BlockPage, week: int, session: object) -> Head | None:
    heads = (head for group in page.groups for head in group.heads)
    return next((h for h in heads if (h.week, h.session) == (week, session)), None)


def solved_rest(
    person: User, row: Lifter, question: edit_block.ChangeQuestion, today: date
) -> edit_block.TakeRest:
    """Composes the open weeks around what was typed, at once, and remembers what it made: the step
    that takes it. BadInput when no week is left, or another search is on its way."""
    stored = edit_block.current_block(row, question, today)
    drafted = stored
    if isinstance(question.change, edit_block.Several) and question.change.steps:
        after = edit_block.preview(row, question, today).after
        drafted = replace(stored, block=replace(after, revision=stored.block.revision))
    if not _TURN.acquire(timeout=_PATIENCE_S):
        raise BadInput.of("another block is being solved", "try again in a moment")
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
    return edit_block.TakeRest(_remembered(person, row, stored, made))


def _remembered(person: User, row: Lifter, stored: StoredBlock, made: Block) -> int:
    asked = {"revision": stored.block.revision, "typed": True}
    try:
        with transaction.atomic():
            search = add_search(
                row, Composing.REST, stored.block.start, asked, person, timezone.now()
            )
            end_search(search.pk, Composing.MADE, {}, block_to_json(made))
    except IntegrityError as error:
        says = "a search for this lifter is on its way"
        raise BadInput.of(says, "wait for it, or stop it") from error
    return int(search.pk)


# ------------------------------------------------------------------------- lifts by part of a name
MOST = 3
_FELT = 0.25  # Sets of a muscle in the week from which on a difference is said
_NAMED = 3  # Muscles named of a choice, those that change most


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftChoice:
    lift: str
    costs: str  # "4 minutes longer; quads +2 sets; 60 kg"
    clashes: tuple[str, ...]


def lift_choices(stored: StoredBlock, place: editing.Place, typed: str) -> tuple[LiftChoice, ...]:
    """The three likeliest of the lifts whose names hold what was typed. `place.lift` is the lift
    to stand in for, or "" for one more in the session. BadInput where the place is not there."""
    context = stored.context(with_loads=True)
    choices = []
    for lift in _named(_candidates(stored, place), typed):
        edit: editing.Edit = (
            editing.SwapLift(place=place, other=lift.name)
            if place.lift
            else editing.AddLift(place=replace(place, lift=lift.name))
        )
        try:
            after = editing.edited(stored.block, edit, context)
        except BadInput:
            continue
        broken = editing.broken_rules(stored.block, after, context)
        choices.append(
            LiftChoice(
                lift=lift.name,
                costs=_costs(stored.block, after, place, lift),
                clashes=tuple(dict.fromkeys(reason_says(one.reason) for one in broken)),
            )
        )
        if len(choices) == MOST:
            break
    return tuple(choices)


def _candidates(stored: StoredBlock, place: editing.Place) -> tuple[Lift, ...]:
    """Every lift the kit allows that is not there yet; likest first where one is replaced."""
    block, catalogue = stored.block, stored.case.catalogue
    likest: tuple[Lift, ...] = ()
    if place.lift:
        same, others = editing.swap_candidates(block, place, catalogue, stored.case.policy)
        likest = (*same, *others)
    _, session = editing.session_at(block, place.week, place.session)
    taken = {entry.lift for entry in session.entries} | {lift.name for lift in likest}
    rest = (one for one in usable_lifts(block.lifter, catalogue) if one.name not in taken)
    return (*likest, *rest)


def _named(lifts: tuple[Lift, ...], typed: str) -> list[Lift]:
    """Lifts with every word typed in a name of theirs: whole names first, then where words begin
    so. The order given decides among equals."""
    words = typed.lower().split()
    ranked = []
    for lift in lifts:
        ranks = [_rank(name.lower(), words) for name in (lift.name, *lift.aliases)]
        best = min((rank for rank in ranks if rank is not None), default=None)
        if best is not None:
            ranked.append((best, lift))
    return [lift for _, lift in sorted(ranked, key=lambda pair: pair[0])]


def _rank(name: str, words: list[str]) -> int | None:
    if not all(word in name for word in words):
        return None
    if name == " ".join(words):
        return 0
    parts = name.replace("-", " ").split()
    return 1 if all(any(part.startswith(word) for part in parts) for word in words) else 2


def _costs(before: Block, after: Block, place: editing.Place, lift: Lift) -> str:
    old, was = editing.session_at(before, place.week, place.session)
    new, now = editing.session_at(after, place.week, place.session)
    said = [_minutes(was, now), *_muscles(old, new)]
    entry = next(e for e in now.entries if e.lift == lift.name)
    load = entry.sets[0].load_kg
    said.append("load to be found" if load is None else load_text(load, after.lifter.units))
    return "; ".join(part for part in said if part)


def _minutes(was: Session, now: Session) -> str:
    change = round(now.minutes_planned) - round(was.minutes_planned)
    if not change:
        return "as long"
    unit = "minute" if abs(change) == 1 else "minutes"
    return f"{abs(change)} {unit} {'longer' if change > 0 else 'shorter'}"


def _muscles(old: Week, new: Week) -> list[str]:
    changes = [
        (muscle.replace("_", " "), sets.fractional - old.muscle_sets[muscle].fractional)
        for muscle, sets in new.muscle_sets.items()
    ]
    felt = sorted((one for one in changes if abs(one[1]) >= _FELT), key=lambda one: -abs(one[1]))
    return [f"{name} {'+' if by > 0 else '−'}{number_text(abs(by))}" for name, by in felt[:_NAMED]]
