"""What the phone needs for one session, with or without signal: the sheet, lifts to swap to, and
what the advice starts from. docs/sync.md has the document."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from django.http import Http404

from blockwright.engine.case import BlockCase
from blockwright.engine.day_sheet import (
    DaySheet,
    Partner,
    PlannedSession,
    SheetEntry,
    session_in_week,
)
from blockwright.engine.errors import BadInput
from blockwright.engine.planning.shorten import shortening
from blockwright.engine.reasons import Reason, and_listed
from blockwright.engine.training import Block
from blockwright.files.codec import document, to_json
from blockwright.files.json_text import plain
from blockwright.files.words import caution_says
from blockwright.store.access import or_404
from blockwright.store.blocks import block_of
from blockwright.store.facts import last_seq
from blockwright.store.letters import undecided_letters
from blockwright.store.models import BlockRevision, Lifter
from blockwright.store.partner import told_cautions, told_notes
from .phone_lifts import Swaps, advice_inputs, advice_law, advice_policy, places_of
from .print_sheet import sheet_of
from .stored_case import block_case
from .stored_values import block_value, load_lifter

FORMAT = "blockwright/phone-sheet/1"


@dataclass(frozen=True, slots=True)
class SessionName:
    block: date
    week: int
    session: int


@dataclass(frozen=True, slots=True)
class Prepared:
    row: Lifter
    revision: int
    chosen: PlannedSession
    case: BlockCase  # As it was known the evening before
    proposed: tuple[str, ...] = ()
    """Today's lifts that a letter wants to change, while nobody has answered it."""

    @property
    def block(self) -> Block:
        return self.case.block

    def sheet(self, *, with_advice: bool = True, partner: Partner | None = None) -> DaySheet:
        made = sheet_of(self.case, self.chosen, with_advice=with_advice, partner=partner)
        if self.proposed:
            waits = Reason(code="sheet_letter_waits", facts={"lifts": and_listed(self.proposed)})
            made = replace(made, notes=(waits, *made.notes))
        return made if self.row.reader is None else as_partner_sees(made)


def sheet_state(row: Lifter, name: SessionName) -> Hashable:
    """What the sheet would be made from now: the lifter, the training partner it is cut for, the
    block, what was known the evening before, what a letter wants. Equal states, equal sheets.
    Http404 when there is no such session."""
    revision, _, chosen = _found(row, name)
    seq = last_seq(row, through=_evening_before(chosen))
    about = (row.key, row.reader, row.version, row.name, revision.pk, name)
    return *about, seq, _proposed(row, name, chosen)


def _found(row: Lifter, name: SessionName) -> tuple[BlockRevision, Block, PlannedSession]:
    revision = or_404(block_of(row, name.block), "block")
    block = block_value(revision)
    try:
        return revision, block, session_in_week(block, name.week, name.session)
    except BadInput as error:
        raise Http404("no such session") from error


def _proposed(row: Lifter, name: SessionName, chosen: PlannedSession) -> tuple[str, ...]:
    if row.reader is not None:
        return ()  # a letter is between coach and lifter
    today = [entry.lift for entry in chosen.session.entries]
    changed = {
        one.get("lift")
        for letter in undecided_letters(row)
        if letter.block.start == name.block
        for one in letter.document["proposals"]
        if one["week"] == chosen.week.week and one.get("session") in (None, chosen.session.session)
    }
    return tuple(lift for lift in today if lift in changed)


def _evening_before(chosen: PlannedSession) -> date:
    return chosen.session.day - timedelta(days=1)


def prepare(row: Lifter, name: SessionName) -> Prepared:
    """Loads the session and what was known the evening before. Http404 when there is none."""
    revision, _, chosen = _found(row, name)
    case = block_case(row, revision).until(_evening_before(chosen))
    return Prepared(
        row=row,
        revision=revision.revision,
        chosen=chosen,
        case=case,
        proposed=_proposed(row, name, chosen),
    )


def sheet_document(prepared: Prepared, partner: Partner | None = None) -> dict[str, Any]:
    """The `blockwright/sheet/1` document alone, as paper and page show it."""
    return document("sheet", prepared.sheet(partner=partner))


def phone_sheet(prepared: Prepared) -> dict[str, Any]:
    sheet = prepared.sheet(with_advice=False)  # the phone works its own out, set by set
    made = Swaps(prepared)
    near = {entry.entry.order: made.near(entry) for entry in sheet.entries}
    pain = {entry.entry.order: made.for_pain(entry) for entry in sheet.entries}
    lifts = [
        *sheet.entries,
        *(other for found in near.values() for other in found),
        *(other for found in pain.values() for other in found.entries),
    ]
    row, week, number = prepared.row, prepared.chosen.week, prepared.chosen.session.session
    short = shortening(prepared.block, week, number, prepared.case.catalogue, prepared.case.policy)
    beliefs = prepared.case.beliefs() if prepared.case.taught else None
    known = load_lifter(row)
    # a partner gets no check-ins, so none that answered
    asked = prepared.case.two_levels if row.reader is None else {}
    return {
        "format": FORMAT,
        "lifter": {
            "id": str(row.key),
            "name": row.name,
            "units": known.value.units,
            "partner": row.reader is not None,
            "bodyweight_kg": plain(prepared.block.lifter.bodyweight_kg),
        },
        "plan": {
            "block": prepared.block.start.isoformat(),
            "revision": prepared.revision,
            "week": week.week,
            "session": number,
        },
        "sheet": document("sheet", sheet),
        "swaps": {str(order): _stand_ins(found) for order, found in near.items()},
        "others": made.others(),
        "pain": {
            str(order): {
                "says": caution_says(found.caution),
                "for": found.by_place,
                "entries": _stand_ins(found.entries),
            }
            for order, found in pain.items()
        },
        "places": {str(entry.entry.order): list(places_of(entry.lift)) for entry in sheet.entries},
        "short": to_json(short),
        "advice": {
            "law": advice_law(prepared.case.policy),
            "policy": advice_policy(prepared.case.policy),
            **_shared_racks(
                {
                    entry.lift.name: advice_inputs(
                        entry, prepared.chosen.session, prepared.block, prepared.case.catalogue,
                        prepared.case.policy, beliefs,
                    )
                    | {"asks_machines": entry.lift.name in asked}
                    for entry in lifts
                }
            ),
        },
    }  # fmt: skip


def _stand_ins(entries: Sequence[SheetEntry]) -> list[dict[str, Any]]:
    """As on a sheet; of the way to a load what the page reads: its begin, its rules in words."""
    found: list[dict[str, Any]] = to_json(entries)
    for one in found:
        one["find_load"] = one["find_load"][:1]
        one["find_rules"] = [
            {key: rule[key] for key in ("code", "says")} for rule in one["find_rules"]
        ]
    return found


def _shared_racks(lifts: Mapping[str, dict[str, Any]]) -> dict[str, Any]:
    """The lifts with numbers in place of their racks, and the racks: a dozen lifts load the same
    bar, and its settings would be most of the document."""
    racks: list[Any] = []
    for inputs in lifts.values():
        if inputs["rack"] not in racks:
            racks.append(inputs["rack"])
    numbered = {name: one | {"rack": racks.index(one["rack"])} for name, one in lifts.items()}
    return {"lifts": numbered, "racks": racks}


def as_partner_sees(sheet: DaySheet) -> DaySheet:
    """The sheet as a partner may see it: what to do, without what was written."""
    entries = tuple(replace(one, cautions=told_cautions(one.cautions)) for one in sheet.entries)
    cautions = told_cautions(sheet.cautions)
    first = sorted(cautions, key=lambda one: one.code != "sheet_ask_first")
    notes = told_notes(sheet.notes)
    return replace(sheet, entries=entries, cautions=tuple(first), notes=notes)
