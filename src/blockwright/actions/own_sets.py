"""Whose sets a log holds: one lifter's, picked from a file that may hold several people's."""

from collections.abc import Sequence
from dataclasses import replace

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Lifter, SetDone


def own_sets(sets: Sequence[SetDone], lifter: Lifter, file: str) -> tuple[SetDone, ...]:
    """The lifter's own sets, without the name on them. A file of one person is taken for the
    lifter's, whatever the name in it; BadInput when one of several has nobody of that name."""
    people = sorted({done.lifter for done in sets if done.lifter is not None})
    if len(people) > 1 and lifter.name not in people:
        raise BadInput(
            Problem(
                file=file,
                column="lifter",
                says=f'has sets of {", ".join(people)}, none of "{lifter.name}"',
                mend="write the lifter's name as in the lifter file",
            )
        )
    mine = [done for done in sets if done.lifter in (None, lifter.name)]
    if len(people) == 1 and not mine:
        mine = list(sets)
    return tuple(replace(done, lifter=None) for done in mine)
