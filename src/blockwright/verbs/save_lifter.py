"""Saves a lifter file that came as a table: from the site's form, or by the API. Screening
written into it reaches the blocks that are not over."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction

from blockwright.accounts.models import User
from blockwright.engine.editing import Closed, EditContext
from blockwright.engine.editing.screening import screened_anew
from blockwright.engine.errors import BadInput, ChangedMeanwhile, Problem
from blockwright.engine.screening import as_on
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import plain
from blockwright.files.lifter_file import lifter_from_table, lifter_to_table
from blockwright.files.policy_files import block_policy
from blockwright.files.reading import Reading
from blockwright.store.blocks import blocks_between
from blockwright.store.facts import locked
from blockwright.store.models import BlockRevision, Lifter, Share
from .amend_fact import answer
from .stored_values import block_value, keep_block, load_lifter


def add_lifter(by: User, table: Mapping[str, Any]) -> Reading[Lifter]:
    """A new lifter's row, and what the reader warns of; the one who adds a lifter coaches them.
    BadInput as `lifter_from_table`."""
    document, warnings = _judged(table)
    with transaction.atomic():
        row = Lifter.objects.create(name=document["name"], document=document)
        Share.objects.create(lifter=row, person=by, kind=Share.COACH)
    return Reading(row, warnings)


def change_lifter(
    by: User, row: Lifter, version: int, table: Mapping[str, Any], today: date
) -> Reading[Lifter]:
    """The lifter's whole file anew, over `version` and no other; an equal one changes nothing.
    Another answer of the screening makes a revision of each block that is not over on `today`.

    BadInput as `lifter_from_table`; ChangedMeanwhile when the lifter is at another version."""
    document, warnings = _judged(table, today)
    with locked(row.key):
        before = row.document
        # One statement compares and sets, so that of two desks only one can be first.
        written = Lifter.objects.filter(key=row.key, version=version).update(
            name=document["name"],
            document=document,
            version=version if document == row.document else version + 1,
        )
        if not written:
            says = "somebody else changed this lifter file meanwhile; nothing was saved"
            raise ChangedMeanwhile.of(says, "look at what differs, then save again", key="version")
        row.refresh_from_db()
        carry_screening(by, row, before, today)
    return Reading(row, warnings)


def write_down_pains(
    by: User, row: Lifter, pains: Mapping[str, int | None], words: str, now: datetime
) -> None:
    """What hurts today is no part of the file: a check-in for each place with a pain."""
    for region, pain in pains.items():
        if pain:
            said = {"measure": "pain", "about": region, "value": str(min(pain, 10)), "note": words}
            answer(by, row, "intake", said, now)


def _judged(
    table: Mapping[str, Any], today: date | None = None
) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    reading = lifter_from_table(table, None)
    lifter = reading.value
    days = [("screening.cleared_on", lifter.screening.cleared_on)]
    days += [("signs.cleared", day) for day in lifter.signs_cleared.values()]
    for key, day in days:
        if today is not None and day is not None and day > today:
            says = f"{day} is yet to come"
            mend = "write the day on which a professional cleared the lifter"
            raise BadInput.of(says, mend, key=key)
    return dict(plain(lifter_to_table(reading.value))), reading.warnings


_KEYS = ("screening", "born")


def carry_screening(
    by: User | None, row: Lifter, before: Mapping[str, Any], today: date
) -> list[BlockRevision]:
    """The new revisions, where the file says otherwise than `before` (the document it was), or
    where a clearance has lasted its time: an answer that needs clearance must not wait for the
    next block, nor the clearance itself. Needs a transaction and the lifter's lock."""
    answered = any(before.get(key) != row.document.get(key) for key in _KEYS)
    lifter = load_lifter(row).value
    made: list[BlockRevision] = []
    for revision in blocks_between(row, today, date.max):
        planned = block_value(revision)
        policy = block_policy(planned)
        if not answered and as_on(planned, today, policy) == planned:
            continue
        # A session begun today is not over: what is left of it must heed the answer too.
        context = EditContext(
            catalogue=catalogue_for(planned.lifter), policy=policy, closed=Closed(today=today)
        )
        block = screened_anew(planned, lifter if answered else planned.lifter, context)
        if block is not None:
            made.append(keep_block(row, block, by))
    return made
