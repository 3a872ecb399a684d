"""A coach's own change to a block: shown first, then kept as a new revision.

`preview` and `keep` take the same question; `keep` does in one transaction what `preview` showed.
"""

from dataclasses import dataclass, replace
from datetime import date

from django.http import Http404

from blockwright.accounts.models import User
from blockwright.engine import editing
from blockwright.engine.errors import BadInput, ChangedMeanwhile, Problem
from blockwright.engine.planning.disruption import Disruption
from blockwright.engine.planning.replan import replan
from blockwright.engine.training import Block
from blockwright.files.block_json import block_from_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.words import reason_says
from blockwright.store.access import or_404
from blockwright.store.blocks import block_of, revision_of, search_of
from blockwright.store.facts import locked
from blockwright.store.models import BlockRevision, Lifter
from .replan_block import with_log
from .stored_case import StoredBlock, stored_block
from .stored_values import block_value, keep_block

MOST_WORDS = 1000
NEEDS_LOADS = (editing.SwapLift, editing.AddLift, editing.SetRange, editing.SetReserve)
"""Changes after which a lift's loads are read from the log anew."""


@dataclass(frozen=True, slots=True)
class GoBack:
    """The weeks of an earlier revision again."""

    revision: int


@dataclass(frozen=True, slots=True)
class TakeRest:
    """The weeks that a search for the rest has made (`search_block`)."""

    search: int


Steps = tuple[editing.Edit | TakeRest, ...]


@dataclass(frozen=True, slots=True)
class Several:
    """Changes one after another, kept together: what a coach typed into the grid."""

    steps: Steps


Change = editing.Edit | Disruption | GoBack | TakeRest | Several


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeQuestion:
    start: date  # Names the block
    revision: int  # The one the coach has seen
    change: Change
    words: str = ""
    insist: bool = False  # Whether the coach insists on what breaks a rule of the house


@dataclass(frozen=True, slots=True, kw_only=True)
class EditPreview:
    """What a change would do. Nothing is stored."""

    stored: StoredBlock  # As it stands
    after: Block
    lines: tuple[str, ...]  # What changes, in words
    broken: tuple[editing.Broken, ...]  # Rules it breaks

    @property
    def refused(self) -> tuple[editing.Broken, ...]:
        return tuple(one for one in self.broken if one.force == "refused")

    @property
    def to_insist(self) -> tuple[editing.Broken, ...]:
        return tuple(one for one in self.broken if one.force != "refused")

    @property
    def becomes_pin(self) -> bool:
        return any(one.force == "pin" for one in self.broken)


def rule_says(broken: editing.Broken) -> str:
    return f"Week {broken.week}: {reason_says(broken.reason)}"


class StaleRevision(ChangedMeanwhile):
    """Somebody made a newer revision meanwhile. `now` is its number, `changes` what it changed."""

    def __init__(self, seen: int, now: int, changes: tuple[str, ...]) -> None:
        self.now, self.changes = now, changes
        says = f"the block was changed meanwhile: you saw revision {seen}, it is at {now}"
        super().__init__(Problem(says=says, mend="look at what changed, then change it anew"))


def preview(row: Lifter, question: ChangeQuestion, today: date) -> EditPreview:
    """What the change would do. Raises Http404 without such a block, StaleRevision for an old
    revision, BadInput for what cannot be done at all."""
    return _previewed(current_block(row, question, today), question)


def keep(person: User, row: Lifter, question: ChangeQuestion, today: date) -> BlockRevision:
    """Stores the change as a new revision. Beside what `preview` raises: BadInput for a rule
    that is broken and not insisted on, or that nobody may insist on."""
    with locked(row.key):
        stored = current_block(row, question, today)
        shown = _previewed(stored, question)
        _require_allowed(shown, insist=question.insist)
        return keep_block(row, shown.after, person)


def current_block(row: Lifter, question: ChangeQuestion, today: date) -> StoredBlock:
    """The block as it stands; StaleRevision when that is not what the coach saw."""
    latest = or_404(block_of(row, question.start), "block")
    if latest.revision != question.revision:
        seen = revision_of(row, question.start, question.revision)
        changes = () if seen is None else changes_between(seen, latest)
        raise StaleRevision(question.revision, latest.revision, changes)
    return stored_block(row, latest, today)


def changes_between(old: BlockRevision, new: BlockRevision) -> tuple[str, ...]:
    before, after = block_value(old), block_value(new)
    found = editing.differences(before, after, catalogue_for(after.lifter))
    return tuple(map(reason_says, found))


def _previewed(stored: StoredBlock, question: ChangeQuestion) -> EditPreview:
    words = question.words.strip()
    if len(words) > MOST_WORDS:
        mend = f"keep it under {MOST_WORDS} characters"
        raise BadInput.of("your words are too long", mend, column="words")
    context = stored.context()
    after = _after(stored, question.change, editing.CoachWords(words=words))
    # A replan keeps to the rules by itself, and life comes before a pin.
    judged = not isinstance(question.change, Disruption)
    broken = editing.broken_rules(stored.block, after, context) if judged else ()
    if question.insist and broken:
        codes = tuple(dict.fromkeys(one.reason.code for one in broken if one.force != "refused"))
        after = _after(stored, question.change, editing.CoachWords(words=words, insisted=codes))
        broken = editing.broken_rules(stored.block, after, context)
    if isinstance(question.change, GoBack):  # what one may insist on stood there once
        broken = tuple(one for one in broken if one.force == "refused")
    changes = editing.differences(stored.block, after, stored.case.catalogue)
    if not changes and not isinstance(question.change, Several):
        raise BadInput.of("nothing would change", "choose something else")
    return EditPreview(
        stored=stored, after=after, lines=tuple(map(reason_says, changes)), broken=broken
    )


def _after(stored: StoredBlock, change: Change, said: editing.CoachWords) -> Block:
    match change:
        case Disruption():
            return _replanned(stored, change, said)
        case GoBack():
            old = or_404(revision_of(stored.row, stored.block.start, change.revision), "revision")
            return editing.gone_back(stored.block, block_value(old), stored.context(), said)
        case TakeRest():
            return _rest(stored, change, said)
        case Several():
            return _several(stored, change.steps, said)
        case _:
            context = stored.context(with_loads=isinstance(change, NEEDS_LOADS))
            return editing.edited(stored.block, change, context, said)


def _several(stored: StoredBlock, steps: Steps, said: editing.CoachWords) -> Block:
    """One revision for all steps. What is insisted on is said of the steps that break it, the
    coach's words are those of the last."""
    made, left = stored.block, _from_the_last_search(steps)
    context = stored.context(with_loads=any(isinstance(step, NEEDS_LOADS) for step in left))
    for number, step in enumerate(left, 1):
        words = said.words if number == len(left) else ""
        after = _next(stored, made, step, context, editing.CoachWords(words=words))
        if said.insisted:
            codes = {one.reason.code for one in editing.broken_rules(made, after, context)}
            own = tuple(code for code in said.insisted if code in codes)
            after = _next(
                stored, made, step, context, editing.CoachWords(words=words, insisted=own)
            )
        made = replace(after, revision=stored.block.revision)
    return replace(made, revision=stored.block.revision + 1)


def _next(
    stored: StoredBlock,
    block: Block,
    step: editing.Edit | TakeRest,
    context: editing.EditContext,
    said: editing.CoachWords,
) -> Block:
    if isinstance(step, TakeRest):
        return _rest(stored, step, said)
    paths = None if context.paths is None else replace(context.paths, reasons=[])
    if not isinstance(step, NEEDS_LOADS):
        paths = None
    return editing.edited(block, step, replace(context, paths=paths), said)


def _from_the_last_search(steps: Steps) -> Steps:
    """A search made its block from the steps before it: they are in it."""
    searches = [at for at, step in enumerate(steps) if isinstance(step, TakeRest)]
    return steps[searches[-1] :] if searches else steps


def _replanned(stored: StoredBlock, trouble: Disruption, said: editing.CoachWords) -> Block:
    week, session = editing.session_at(stored.block, trouble.week, trouble.session)
    if not trouble.missed and stored.closed.session(session):
        says = f"the session on {session.day} is over"
        raise BadInput.of(says, "say that it was missed, or choose a later one")
    if trouble.missed and session.day in stored.closed.trained:
        says = f"sets are logged on {session.day}"
        raise BadInput.of(says, "what was done counts; choose another session")
    trouble = with_log(trouble, stored.case.until(stored.today), session.day)
    over = {s.session for s in week.sessions if stored.closed.session(s)}
    new = replan(stored.block, trouble, stored.case.catalogue, stored.case.policy, over=over)
    code, facts = trouble.words
    about: dict[str, float | str] = {
        "week": week.week,
        "session": session.session,
        "day": f"{session.day:%A}",
        **facts,
    }
    decision = editing.decision_of(stored.block, f"coach_{code}", about, said)
    again = replace(new, revision=stored.block.revision)
    return editing.revision_after(again, new.weeks, decision, stored.context())


def _rest(stored: StoredBlock, change: TakeRest, said: editing.CoachWords) -> Block:
    """What the search made, if it was made for this very revision."""
    search = search_of(stored.row, change.search)
    if search is None or search.start != stored.block.start or search.document is None:
        raise Http404("no such search")
    made = block_from_json(search.document, "the search's block")
    if made.revision != stored.block.revision + 1:
        says = "the block was changed since this was searched for"
        raise BadInput.of(says, "solve the rest again")
    last = replace(made.decisions[-1], words=said.words)
    if said.insisted:
        last = replace(last, change={**last.change, "insisted": ", ".join(said.insisted)})
    return replace(made, decisions=(*made.decisions[:-1], last))


def _require_allowed(shown: EditPreview, *, insist: bool) -> None:
    problems = [
        Problem(says=reason_says(one.reason), mend="change something else, or the lifter's file")
        for one in shown.refused
    ]
    if not insist:
        problems += [
            Problem(says=reason_says(one.reason), mend="insist on it, or change something else")
            for one in shown.to_insist
        ]
    BadInput.raise_any(problems)
