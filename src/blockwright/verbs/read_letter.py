"""What the pages of letters show: a letter, what was decided on it, and what came of that."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, NamedTuple

from blockwright.engine.day_sheet import PlannedSession
from blockwright.engine.editing import differences
from blockwright.engine.errors import Problem
from blockwright.engine.review import KEY_OF
from blockwright.engine.review.proposals import Kind
from blockwright.engine.training import Block
from blockwright.engine.units import Unit
from blockwright.files.catalogue import catalogue_for
from blockwright.files.words import reason_says
from blockwright.sheets.letter import Letter, change_text, letter_of
from blockwright.sheets.letter_changes import Change, Line
from blockwright.sheets.report_shapes import day_words
from blockwright.store.access import or_404
from blockwright.store.blocks import block_of
from blockwright.store.letters import decisions_on, facts_since, latest_letter, letter_with
from blockwright.store.models import BlockRevision, Decision, Lifter, Proposals
from .decide_letter import changed_to, obstacle
from .letter_questions import AskedLine, letter_questions
from .phone_home import coming_session
from .stored_values import block_value

VERDICT_WORDS = {
    "accepted": "Accepted", "changed": "Changed", "declined": "Declined", "undone": "Undone",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterField:
    key: str  # As `blockwright revise --change` names it
    label: str
    unit: str
    proposed: str  # As the letter proposes it, for the field's hint; "" where nothing is


@dataclass(frozen=True, slots=True, kw_only=True)
class DecidedLine:
    verdict: str
    to: str
    words: str
    by: str
    decision: Decision


class TypedLine(NamedTuple):
    """What was typed into the form of one line, shown again when it could not be stored."""

    verdict: str = ""
    value: str = ""
    unit: str = ""
    words: str = ""
    problem: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineToDecide:
    line: Line
    field: LetterField | None
    typed: TypedLine
    decided: tuple[DecidedLine, ...]  # In the order of time

    @property
    def standing(self) -> DecidedLine | None:
        """The decision that stands; None where there is none, or where it was undone."""
        last = self.decided[-1] if self.decided else None
        return None if last is None or last.decision.verdict == Decision.UNDONE else last


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterChange:
    """One line of the face: a proposal, or several of one kind."""

    change: Change
    lines: tuple[LineToDecide, ...]

    @property
    def open_names(self) -> tuple[str, ...]:
        return tuple(at.line.id for at in self.lines if at.standing is None)

    @property
    def decided_names(self) -> tuple[str, ...]:
        return tuple(at.line.id for at in self.lines if at.standing is not None)

    @property
    def opened(self) -> bool:
        """Whether it stands unfolded: something was typed that is not stored."""
        return any(o.typed.problem or o.typed.verdict or o.typed.words for o in self.lines)

    @property
    def verdict(self) -> str:
        """What was decided, in words: "Accepted", "Changed: 62.5 kg", "3 of 5 decided"."""
        standing = [at.standing for at in self.lines if at.standing is not None]
        if not standing:
            return ""
        if self.open_names:
            return f"{len(standing)} of {len(self.lines)} decided"
        said = {f"{one.verdict}: {one.to}" if one.to else one.verdict for one in standing}
        return said.pop() if len(said) == 1 else "Decided one by one"


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterFace:
    """One letter as it is read and decided on, alone or among the evening's."""

    row: Proposals
    block: BlockRevision  # The last revision, without which nothing can be decided
    letter: Letter
    changes: tuple[LetterChange, ...]
    obstacle: Problem | None  # Why it cannot be decided on (any more)
    late_facts: int  # Facts of its weeks that came in after it was written
    lifts: tuple[str, ...]  # Names for the field of a swap
    questions: tuple[AskedLine, ...]

    @property
    def lines(self) -> tuple[LineToDecide, ...]:
        return tuple(at for change in self.changes for at in change.lines)

    def with_typed(self, typed: Mapping[str, TypedLine]) -> "LetterFace":
        changes = (
            replace(one, lines=tuple(replace(at, typed=typed[at.line.id]) for at in one.lines))
            for one in self.changes
        )
        return replace(self, changes=tuple(changes))

    @property
    def open_count(self) -> int:
        return sum(at.standing is None for at in self.lines)

    @property
    def is_decided(self) -> bool:
        return any(at.standing is not None for at in self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterPage:
    face: LetterFace
    changed: tuple[str, ...]  # What the decisions changed in the week the letter is about
    next_session: PlannedSession | None


def letter_page(row: Lifter, number: int | None, today: date) -> LetterPage | None:
    """The page of a letter (of the latest if None); None when there is none yet. Http404 for a
    number that is no letter of this lifter."""
    if number is None:
        newest = latest_letter(row)
        if newest is None:
            return None
        number = newest.pk
    stored = or_404(letter_with(row, number), "letter")
    face = letter_face(stored)
    week = stored.document["week"]
    return LetterPage(
        face=face,
        changed=_changed(stored, decisions_on(stored), block_value(stored.block)),
        next_session=coming_session(row, block_value(face.block), today, from_week=week or 1),
    )


def letter_face(stored: Proposals) -> LetterFace:
    """A stored letter with what was decided on it. Http404 where its block is gone."""
    current = or_404(block_of(stored.lifter, stored.block.start), "block")
    letter, base = letter_of(stored.document), block_value(stored.block)
    decisions, unit = decisions_on(stored), base.lifter.units
    items = {item["id"]: item for item in stored.document["proposals"]}

    def read(line: Line) -> LineToDecide:
        mine = [decision for decision in decisions if decision.proposal == line.id]
        decided = tuple(decided_line(one, items[line.id], unit) for one in mine)
        field = field_of(items[line.id], unit)
        blank = TypedLine(unit="" if field is None else field.unit)
        return LineToDecide(line=line, field=field, typed=blank, decided=decided)

    return LetterFace(
        row=stored,
        block=current,
        letter=letter,
        changes=tuple(
            LetterChange(change=change, lines=tuple(read(line) for line in change.lines))
            for change in letter.changes
        ),
        obstacle=obstacle(stored, current),
        late_facts=facts_since(stored),
        lifts=_lifts(stored, base),
        questions=letter_questions(stored),
    )


def field_of(item: Mapping[str, Any], unit: Unit) -> LetterField | None:
    """What may be changed of a proposal; None where it can be accepted or declined only."""
    kind: Kind = item["kind"]
    if kind == "refer":
        label = "Asked or cleared on" if _in_doubt(item) else "Cleared on"
        return LetterField(key="cleared_on", label=label, unit="", proposed="")
    key = KEY_OF[kind]
    if key is None:
        return None
    labels = {
        "load_kg": "Load", "sets": "Sets", "weeks": "Build weeks", "lift": "Lift",
        "week_kind": "Week",
    }  # fmt: skip
    return LetterField(
        key=key,
        label=labels[key],
        unit=unit if key == "load_kg" else "",
        proposed=change_text(item["after"], unit),
    )


def decided_line(decision: Decision, item: Mapping[str, Any], unit: Unit) -> DecidedLine:
    """A decision in words: "Changed", "62.5 kg"."""
    cleared = decision.change.get("cleared_on")
    to = ""
    if cleared is not None:
        how = "asked about or cleared" if _in_doubt(item) else "cleared by a professional"
        to = f"{how} on {day_words(cleared)}"
    elif decision.verdict == Decision.CHANGED:
        side = changed_to(item["kind"], decision.change)
        to = "" if side is None else change_text({side.key: side.value, "then": side.then}, unit)
    return DecidedLine(
        verdict=VERDICT_WORDS[decision.verdict],
        to=to,
        words=decision.words,
        by=decision.by.name if decision.by is not None else "the coach",
        decision=decision,
    )


def _in_doubt(item: Mapping[str, Any]) -> bool:
    """Whether a referral is for words that may be no sign at all: then asking settles it."""
    return any(reason["code"] == "sign_in_doubt" for reason in item["reasons"])


def _changed(stored: Proposals, decisions: Sequence[Decision], base: Block) -> tuple[str, ...]:
    """Between the letter's revision and the last one its decisions led to, in its week."""
    week = stored.document["week"]
    if not decisions or week is None or decisions[-1].led_to is None:
        return ()
    last = block_value(decisions[-1].led_to)
    found = differences(_only(base, week), _only(last, week), catalogue_for(last.lifter))
    return tuple(reason_says(reason) for reason in found)


def _only(block: Block, week: int) -> Block:
    return replace(block, weeks=tuple(one for one in block.weeks if one.week == week))


def _lifts(stored: Proposals, block: Block) -> tuple[str, ...]:
    if not any(item["kind"] == "swap_lift" for item in stored.document["proposals"]):
        return ()
    kit = block.lifter.gym.kit
    lifts = catalogue_for(block.lifter).lifts.values()
    return tuple(sorted(lift.name for lift in lifts if set(lift.kit) <= kit))
