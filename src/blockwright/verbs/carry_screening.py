"""Screening written into the lifter file reaches the blocks that are not over."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from blockwright.accounts.models import User
from blockwright.engine.editing import Closed, Setting
from blockwright.engine.editing.screening import screened_anew
from blockwright.engine.screening import as_on
from blockwright.files.block_json import block_to_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import plain
from blockwright.files.policy_files import block_policy
from blockwright.store.blocks import add_revision, blocks_between
from blockwright.store.models import BlockRevision, Lifter
from blockwright.verbs.block_value import block_value
from blockwright.verbs.load_lifter import load_lifter

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
        setting = Setting(
            catalogue=catalogue_for(planned.lifter), policy=policy, closed=Closed(today=today)
        )
        block = screened_anew(planned, lifter if answered else planned.lifter, setting)
        if block is not None:
            made.append(add_revision(row, dict(plain(block_to_json(block))), by))
    return made
