"""What the review's page shows: a letter, what was decided on it, and what came of that."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.http import Http404

from blockwright.engine.day_sheet import PlannedSession
from blockwright.engine.editing import differences
from blockwright.engine.errors import Problem
from blockwright.engine.review import KEY_OF
from blockwright.engine.review.proposals import Kind
from blockwright.engine.training import Block
from blockwright.engine.units import Unit, load_text, number_text
from blockwright.files.catalogue import catalogue_for
from blockwright.files.words import reason_says
from blockwright.sheets.letter import Letter, Line, letter_of
from blockwright.store.blocks import block_of
from blockwright.store.letters import decisions_on, facts_since, latest_letter, letter_with
from blockwright.store.models import BlockRevision, Decision, Lifter, Proposals
from blockwright.verbs.block_value import block_value
from blockwright.verbs.coming_session import coming_session
from blockwright.verbs.decide_letter import changed_to, obstacle

VERDICT_WORDS = {"accepted": "Accepted", "changed": "Changed", "declined": "Declined"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """What a coach may write in place of what is proposed."""

    key: str
    """As `blockwright revise --change` names it."""
    label: str
    unit: str
    proposed: str
    """As the letter proposes it, for the field's hint; "" where nothing is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DecidedLine:
    """One decision on a line, in words."""

    verdict: str
    to: str
    words: str
    by: str
    decision: Decision


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterLine:
    """A line of the letter with what may be written on it and what was decided."""

    line: Line
    field: Field | None
    decided: tuple[DecidedLine, ...]
    """In the order of time: the last one stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterPage:
    """Everything the page of one letter shows."""

    row: Proposals
    block: BlockRevision
    """The last revision, without which nothing can be decided."""
    letter: Letter
    changes: tuple[LetterLine, ...]
    obstacle: Problem | None
    """Why it cannot be decided on (any more)."""
    late_facts: int
    """Facts of its weeks that came in after it was written."""
    changed: tuple[str, ...]
    """What the decisions changed in the week the letter is about."""
    next_session: PlannedSession | None
    lifts: tuple[str, ...]
    """Names for the field of a swap."""

    @property
    def open_count(self) -> int:
        """Lines on which nothing was decided."""
        return sum(not line.decided for line in self.changes)

    @property
    def is_decided(self) -> bool:
        return any(line.decided for line in self.changes)


def letter_page(row: Lifter, number: int | None, today: date) -> LetterPage | None:
    """The page of a letter (of the latest if None); None when there is none yet. Http404 for a
    number that is no letter of this lifter."""
    if number is None:
        newest = latest_letter(row)
        if newest is None:
            return None
        number = newest.pk
    stored = letter_with(row, number)
    if stored is None:
        raise Http404("no such letter")
    current = block_of(row, stored.block.start)
    if current is None:
        raise Http404("no such block")
    letter = letter_of(stored.document)
    base, last = block_value(stored.block), block_value(current)
    decisions = decisions_on(stored)
    lines = _Lines(stored, decisions, base)
    return LetterPage(
        row=stored,
        block=current,
        letter=letter,
        changes=lines.of(letter.changes),
        obstacle=obstacle(stored, current),
        late_facts=facts_since(stored),
        changed=_changed(stored, decisions, base),
        next_session=coming_session(row, last, today, from_week=stored.document["week"] or 1),
        lifts=_lifts(stored, base),
    )


@dataclass(frozen=True)
class _Lines:
    stored: Proposals
    decisions: Sequence[Decision]
    block: Block

    def of(self, lines: Sequence[Line]) -> tuple[LetterLine, ...]:
        items = {item["id"]: item for item in self.stored.document["proposals"]}
        unit = self.block.lifter.units
        return tuple(
            LetterLine(
                line=line,
                field=field_of(items[line.id], unit),
                decided=tuple(
                    decided_line(decision, items[line.id], unit)
                    for decision in self.decisions
                    if decision.proposal == line.id
                ),
            )
            for line in lines
        )


def field_of(item: Mapping[str, Any], unit: Unit) -> Field | None:
    """What may be changed of a proposal; None where it can be accepted or declined only."""
    kind: Kind = item["kind"]
    if kind == "refer":
        return Field(key="cleared_on", label="Cleared on", unit="", proposed="")
    key = KEY_OF[kind]
    if key is None:
        return None
    labels = {
        "load_kg": "Load", "sets": "Sets", "weeks": "Build weeks", "lift": "Lift",
        "week_kind": "Week",
    }  # fmt: skip
    return Field(
        key=key,
        label=labels[key],
        unit=unit if key == "load_kg" else "",
        proposed=value_text(item["after"], unit),
    )


def decided_line(decision: Decision, item: Mapping[str, Any], unit: Unit) -> DecidedLine:
    """A decision in words: "Changed", "62.5 kg"."""
    cleared = decision.change.get("cleared_on")
    to = ""
    if cleared is not None:
        to = f"cleared by a professional on {cleared}"
    elif decision.verdict == Decision.CHANGED:
        side = changed_to(item["kind"], decision.change)
        to = "" if side is None else value_text({side.key: side.value, "then": side.then}, unit)
    return DecidedLine(
        verdict=VERDICT_WORDS[decision.verdict],
        to=to,
        words=decision.words,
        by=decision.by.name if decision.by is not None else "the coach",
        decision=decision,
    )


def value_text(side: Mapping[Any, Any] | None, unit: Unit) -> str:
    """One side of a change as a person reads it: "62.5 kg", "4 sets", "leg press"."""
    if not side:
        return ""
    key, value = next(iter(side.items()))
    if value is None:
        return ""
    if key == "load_kg":
        return load_text(value, unit)
    if key == "sets":
        return f"{number_text(value)} sets"
    if key == "weeks":
        return f"{number_text(value)} build weeks"
    if key == "week_kind" and side.get("then") == "end":
        return "deload, then the end"
    return str(value)


def _changed(stored: Proposals, decisions: Sequence[Decision], base: Block) -> tuple[str, ...]:
    """Between the letter's revision and the last one its decisions led to, in its week."""
    week = stored.document["week"]
    if not decisions or week is None or decisions[-1].led_to is None:
        return ()
    last = block_value(decisions[-1].led_to)
    found = differences(_only(base, week), _only(last, week))
    return tuple(reason_says(reason) for reason in found)


def _only(block: Block, week: int) -> Block:
    return replace(block, weeks=tuple(one for one in block.weeks if one.week == week))


def _lifts(stored: Proposals, block: Block) -> tuple[str, ...]:
    if not any(item["kind"] == "swap_lift" for item in stored.document["proposals"]):
        return ()
    kit = block.lifter.gym.kit
    lifts = catalogue_for(block.lifter).lifts.values()
    return tuple(sorted(lift.name for lift in lifts if set(lift.kit) <= kit))
