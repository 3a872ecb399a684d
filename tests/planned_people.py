"""Blocks of invented people (`coach_people`), planned once a run with the quick budget."""

import tempfile
from functools import cache
from pathlib import Path

from blockwright.engine.planning import QUICK
from blockwright.engine.training import Block, Lift, SetDone
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_file import read_lifter
from blockwright.files.sets_file import read_sets
from blockwright.verbs.compose_block import plan_block
from coach_people import write_people


@cache
def logged(key: str) -> tuple[SetDone, ...]:
    """The sets of a person's log."""
    with tempfile.TemporaryDirectory() as folder:
        (files,) = write_people(Path(folder), (key,))
        lifter = read_lifter(files.lifter).value
        assert files.log is not None
        return tuple(read_sets(files.log, catalogue_for(lifter), lifter).value)


@cache
def planned(key: str) -> Block:
    with tempfile.TemporaryDirectory() as folder:
        (files,) = write_people(Path(folder), (key,))
        return plan_block(files.lifter, files.log, files.checkins, budget=QUICK).value


def lift_of(block: Block, name: str) -> Lift:
    return catalogue_for(block.lifter).lifts[name]
