"""The lift catalogue: the shipped lifts, a lifter's own beside them.

The data stands in `data/lifts/*.toml`, one file a family of patterns; docs/lifts.md says how to add
a lift, tests/files/test_catalogue.py what holds of all of them."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Catalogue, Lift, Lifter, catalogue_of
from .lift_table import read_lift
from .near import did_you_mean
from .reading import shipped_in


@cache
def builtin_catalogue() -> Catalogue:
    """The shipped lifts, files in name order."""
    texts = shipped_in("lifts").items()
    return catalogue_of(tuple(lift for name, text in texts for lift in lifts_of_file(name, text)))


def lifts_of_file(file: str, text: str) -> list[Lift]:
    """The lifts of a catalogue file. Raises BadInput with the problems of the first that has any,
    under its name."""
    lifts = []
    for number, table in enumerate(tomllib.loads(text)["lift"], 1):
        try:
            lifts.append(read_lift(table, f"lift.{number}", own=False))
        except BadInput as error:
            name = table.get("name")
            raise BadInput(
                [replace(one, file=file, says=f"{name}: {one.says}") for one in error.problems]
            ) from error
    return lifts


def lift_called(name: str, catalogue: Catalogue, field: str) -> Lift:
    """The lift that was asked for in a field; BadInput with the nearest names."""
    found = catalogue.find(name)
    if found is None:
        mend = did_you_mean(name, catalogue.by_alias, "see `blockwright lifts`", 3)
        raise BadInput.of(f'there is no lift called "{name}"', mend, column=field)
    return found


def catalogue_for(lifter: Lifter) -> Catalogue:
    return catalogue_with(lifter.lifts)


def catalogue_with(own_lifts: Iterable[Lift]) -> Catalogue:
    """The shipped lifts and `own_lifts`; an own lift stands in for a shipped one of its name.

    The shipped caution stays where the own lift has none, and a lift is safe to fail only when both
    say so: cautions are never silenced. Own aliases come before shipped ones."""
    shipped = builtin_catalogue().lifts
    own = {lift.name: _with_shipped_caution(lift, shipped) for lift in own_lifts}
    if not own:
        return builtin_catalogue()
    covered = {name.lower() for name in own}
    return catalogue_of(
        (*own.values(), *(lift for lift in shipped.values() if lift.name not in covered))
    )


def lift_from_table(table: Mapping[str, Any], place: str) -> Lift:
    """A lifter's own lift from a `[[lift]]` table; name, muscles and pattern are enough.

    `place` is the table's dotted key ("lift.2"). Raises BadInput with every problem found, keys
    beginning with `place`."""
    lift = read_lift(table, place, own=True)
    taken = set(lift.aliases) & set(builtin_catalogue().lifts) - {lift.name.lower()}
    if taken:
        raise BadInput(
            [
                Problem(
                    key=f"{place}.aliases",
                    says=f'"{alias}" is a lift of its own in the catalogue',
                    mend=f'leave the alias out, or name your lift "{alias}" to stand in for it',
                )
                for alias in sorted(taken)
            ]
        )
    return lift


def _with_shipped_caution(lift: Lift, shipped: Mapping[str, Lift]) -> Lift:
    same = shipped.get(lift.name.lower())
    if same is None:
        return lift
    return replace(
        lift,
        caution=lift.caution or same.caution,
        safe_to_fail=lift.safe_to_fail and same.safe_to_fail,
        rir_least=max(lift.rir_least, same.rir_least),
    )
