"""What the phone needs for one session, with or without signal: the sheet, lifts to swap to, and
what the advice starts from. docs/sync.md has the document."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Any

from django.http import Http404

from blockwright.actions.advice_inputs import advice_inputs, advice_law, advice_policy
from blockwright.actions.known_lifter import known_lifter
from blockwright.engine.day_sheet import (
    DaySheet,
    PlannedSession,
    SheetEntry,
    day_sheet,
    session_in_week,
)
from blockwright.engine.errors import BadInput
from blockwright.engine.policy import Policy
from blockwright.engine.strength import Beliefs, Bodyweights, replay
from blockwright.engine.training import Block, Catalogue, Entry, Lift, SetDone
from blockwright.files.block_json import block_from_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import plain
from blockwright.files.policy_files import block_policy
from blockwright.files.sheet_json import sheet_to_json
from blockwright.store.blocks import block_of
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import facts_of
from blockwright.store.models import BlockRevision, Lifter

FORMAT = "blockwright/phone-sheet/1"
MOST_SWAPS = 4


@dataclass(frozen=True, slots=True)
class SessionName:
    """Which session of a lifter's blocks."""

    block: date
    week: int
    session: int


@dataclass(frozen=True, slots=True)
class Prepared:
    """A session with everything the engine wants to know about it."""

    row: Lifter
    revision: int
    block: Block
    chosen: PlannedSession
    catalogue: Catalogue
    policy: Policy
    beliefs: Beliefs | None

    def sheet(self, *, with_advice: bool = True) -> DaySheet:
        return day_sheet(
            self.block,
            self.chosen,
            self.catalogue,
            self.policy,
            self.beliefs,
            with_advice=with_advice,
        )


def prepare(row: Lifter, name: SessionName) -> Prepared:
    """Loads the session and what was known the evening before. Http404 when there is none."""
    revision = block_of(row, name.block)
    if revision is None:
        raise Http404("no such block")
    block = block_value(revision)
    try:
        chosen = session_in_week(block, name.week, name.session)
    except BadInput as error:
        raise Http404("no such session") from error
    facts = facts_of(row, through=chosen.session.day - timedelta(days=1))
    catalogue = catalogue_for(block.lifter)
    policy = block_policy(block)
    sets = sets_done(facts)
    weights = Bodyweights(usual_kg=block.lifter.bodyweight_kg, weigh_ins=checkins(facts))
    return Prepared(
        row=row,
        revision=revision.revision,
        block=block,
        chosen=chosen,
        catalogue=catalogue,
        policy=policy,
        beliefs=_beliefs(sets, block, catalogue, policy, weights) if sets else None,
    )


def _beliefs(
    sets: tuple[SetDone, ...],
    block: Block,
    catalogue: Catalogue,
    policy: Policy,
    weights: Bodyweights,
) -> Beliefs:
    return replay(sets, catalogue, policy, bodyweights=weights, experience=block.lifter.experience)


def block_value(revision: BlockRevision) -> Block:
    """The block of a row; remembered, since a revision never changes."""
    return _block(revision.pk, _Document(revision.document))


class _Document:
    """A document that does not count in the cache's key: the row's number does."""

    def __init__(self, document: Mapping[str, Any]) -> None:
        self.document = document

    def __hash__(self) -> int:
        return 0

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Document) and self.document == other.document


@lru_cache(maxsize=64)
def _block(_pk: int, document: _Document) -> Block:
    return block_from_json(document.document, "the stored block")


# ------------------------------------------------------------------------------------ the answer


def sheet_document(prepared: Prepared) -> dict[str, Any]:
    """The `blockwright/sheet/1` document alone, as paper and page show it."""
    return dict(plain(sheet_to_json(prepared.sheet())))


def phone_sheet(prepared: Prepared) -> dict[str, Any]:
    """The `blockwright/phone-sheet/1` document."""
    sheet = prepared.sheet()
    swaps = {entry.entry.order: swaps_for(prepared, sheet, entry) for entry in sheet.entries}
    lifts = [*sheet.entries, *(other for found in swaps.values() for other in found)]
    row, week = prepared.row, prepared.chosen.week
    known = known_lifter(row)
    return {
        "format": FORMAT,
        "lifter": {
            "id": str(row.key),
            "name": row.name,
            "units": known.value.units,
            "bodyweight_kg": plain(prepared.block.lifter.bodyweight_kg),
        },
        "plan": {
            "block": prepared.block.start.isoformat(),
            "revision": prepared.revision,
            "week": week.week,
            "session": prepared.chosen.session.session,
        },
        "sheet": plain(sheet_to_json(sheet)),
        "swaps": {
            str(order): plain(_entries_json(sheet, found)) for order, found in swaps.items()
        },
        "advice": {
            "law": advice_law(prepared.policy),
            "policy": advice_policy(prepared.policy),
            "lifts": {
                entry.lift.name: advice_inputs(
                    entry, prepared.chosen.session, prepared.block, prepared.catalogue,
                    prepared.policy, prepared.beliefs,
                )
                for entry in lifts
            },
        },
    }  # fmt: skip


def _entries_json(sheet: DaySheet, entries: list[SheetEntry]) -> list[dict[str, Any]]:
    """Entries of other sheets in the words of this one's document."""
    found: list[dict[str, Any]] = []
    for entry in entries:
        session = replace(sheet.session, entries=(entry.entry,))
        alone = replace(sheet, session=session, entries=(entry,))
        found += sheet_to_json(alone)["entries"]
    return found


# ------------------------------------------------------------------------------------------ swaps


def swaps_for(prepared: Prepared, sheet: DaySheet, entry: SheetEntry) -> list[SheetEntry]:
    """Lifts that could stand in for an entry, the nearest first, each as the entry it would be.

    The kit allows them, the lifter does not avoid them, the session does not hold them. Nearest:
    most of the same muscles' sets, then the same pattern, then those logged before.
    """
    planned = sheet.session.entries
    taken = {other.lift.name for other in sheet.entries}
    ranked = sorted(
        (-_likeness(entry.lift, lift), lift.name)
        for lift in _allowed(prepared)
        if lift.name not in taken and _shares_direct(entry.lift, lift)
    )
    found: list[SheetEntry] = []
    for _, name in ranked[:MOST_SWAPS]:
        swapped = _swapped(next(e for e in planned if e.order == entry.entry.order), name)
        session = replace(prepared.chosen.session, entries=(swapped,))
        alone = replace(prepared, chosen=replace(prepared.chosen, session=session))
        found += alone.sheet(with_advice=False).entries
    return found


def _swapped(entry: Entry, lift: str) -> Entry:
    """The entry with another lift: same sets and effort, the load left to what was logged."""
    return replace(
        entry, lift=lift, sets=tuple(replace(planned, load_kg=None) for planned in entry.sets)
    )


def _allowed(prepared: Prepared) -> Iterator[Lift]:
    lifter = prepared.block.lifter
    for lift in prepared.catalogue.lifts.values():
        if (
            set(lift.kit) <= lifter.gym.kit
            and lift.name not in lifter.limits.avoid_lifts
            and lift.pattern not in lifter.limits.avoid_patterns
        ):
            yield lift


def _shares_direct(one: Lift, other: Lift) -> bool:
    return bool(set(one.direct) & set(other.direct))


def _likeness(one: Lift, other: Lift) -> float:
    """Share of the sets' credit by muscle that both lifts give, and a little for the pattern."""
    muscles = set(one.muscles) | set(other.muscles)
    both = sum(min(one.muscles.get(m, 0.0), other.muscles.get(m, 0.0)) for m in muscles)
    either = sum(max(one.muscles.get(m, 0.0), other.muscles.get(m, 0.0)) for m in muscles)
    same_kind = 0.1 * (one.pattern == other.pattern) + 0.05 * (one.compound == other.compound)
    return both / either + same_kind
