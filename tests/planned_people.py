"""Blocks of invented people (`coach_people`), planned once a run, with the quick budget if
not told otherwise; and one block that is fixed."""

import json
import tempfile
from functools import cache
from pathlib import Path

from blockwright.engine.planning import QUICK, Budget
from blockwright.engine.training import Block, Lift, SetDone
from blockwright.files.block_json import block_from_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_file import read_lifter
from blockwright.files.sets_file import read_sets
from blockwright.verbs.compose_block import plan_block
from coach_people import write_people
from made_once import made_once

FIXED = Path(__file__).parent / "fixed" / "block.json"
"""Composed once and kept as it was, so that tests of edits may name its lifts; the golden block is
made anew whenever the planner learns something (`make goldens`)."""


@cache
def fixed_block() -> Block:
    return block_from_json(json.loads(FIXED.read_text(encoding="utf-8")), "block.json")


@cache
def logged(key: str) -> tuple[SetDone, ...]:
    """The sets of a person's log."""
    with tempfile.TemporaryDirectory() as folder:
        (files,) = write_people(Path(folder), (key,))
        lifter = read_lifter(files.lifter).value
        assert files.log is not None
        return tuple(read_sets(files.log, catalogue_for(lifter), lifter).value)


@cache
def planned(key: str, budget: Budget = QUICK) -> Block:
    name = f"planned-{key}-{budget.start_s}"
    return made_once(name, lambda: _planned(key, budget))  # type: ignore[no-any-return]


def _planned(key: str, budget: Budget) -> Block:
    with tempfile.TemporaryDirectory() as folder:
        (files,) = write_people(Path(folder), (key,))
        return plan_block(files.lifter, files.log, files.checkins, budget=budget).value


def lift_of(block: Block, name: str) -> Lift:
    return catalogue_for(block.lifter).lifts[name]
