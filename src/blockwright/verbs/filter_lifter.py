"""Whose facts a file holds: one lifter's, picked from one that may hold several people's."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import CheckIn, Lifter, SetDone
from blockwright.files.lifter_names import name_key

Fact = TypeVar("Fact", SetDone, CheckIn)


def filter_lifter(sets: Sequence[Fact], lifter: Lifter, file: str) -> tuple[Fact, ...]:
    """The lifter's own sets (or check-ins), without the name on them. A file of one person is
    taken for the lifter's, whatever the name in it; BadInput when one of several has nobody of
    that name."""
    people = sorted({done.lifter for done in sets if done.lifter is not None})
    name = name_key(lifter.name)
    own = {other for other in people if name_key(other) == name}
    if len(people) > 1 and not own:
        raise BadInput(
            Problem(
                file=file,
                column="lifter",
                says=f'has rows of {", ".join(people)}, none of "{lifter.name}"',
                mend="write the lifter's name as in the lifter file",
            )
        )
    mine = [done for done in sets if done.lifter is None or done.lifter in own]
    if len(people) == 1 and not mine:
        mine = list(sets)
    return tuple(replace(done, lifter=None) for done in mine)
