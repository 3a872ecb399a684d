"""The lift catalogue: the shipped lifts, a lifter's own beside them.

The data stands in `data/lifts/*.toml`, one file a family of patterns, and is checked when it is
loaded; docs/lifts.md says how to add a lift.
"""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from importlib import resources
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Catalogue, Lift, Lifter, catalogue_of
from blockwright.files.lift_table import lift_to_table, read_lift
from blockwright.files.toml_checks import Findings, Table
from blockwright.files.vocabulary import vocabulary

__all__ = [
    "builtin_catalogue",
    "catalogue_for",
    "catalogue_with",
    "lift_from_table",
    "lift_to_table",
    "lifts_of_files",
]

_MOST_MACHINE_AXIAL = 1


@cache
def builtin_catalogue() -> Catalogue:
    """The shipped lifts, files in name order. Raises BadInput when a coach's edit broke one."""
    folder = resources.files("blockwright.files") / "data" / "lifts"
    texts = {
        file.name: file.read_text(encoding="utf-8")
        for file in sorted(folder.iterdir(), key=lambda item: item.name)
        if file.name.endswith(".toml")
    }
    return catalogue_of(lifts_of_files(texts))


def catalogue_for(lifter: Lifter) -> Catalogue:
    """The shipped lifts and the lifter's own."""
    return catalogue_with(lifter.lifts)


def catalogue_with(own_lifts: Iterable[Lift]) -> Catalogue:
    """The shipped lifts and `own_lifts`; an own lift stands in for a shipped one of its name.

    The shipped caution stays where the own lift has none, and a lift is safe to fail only when
    both say so: cautions are never silenced. Own aliases come before shipped ones.
    """
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
    beginning with `place`.
    """
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


def lifts_of_files(texts: Mapping[str, str]) -> tuple[Lift, ...]:
    """The lifts of catalogue files, file name to TOML text.

    Raises BadInput with every problem of every file: a field, a name or alias given twice, a
    machine that no lift is named after.
    """
    problems: list[Problem] = []
    lifts: list[tuple[str, Lift]] = []
    for file, text in texts.items():
        for lift in _lifts_of_file(file, text, problems):
            lifts.append((file, lift))
    problems += _repeated_names(lifts)
    problems += [problem for file, lift in lifts for problem in _house_problems(file, lift)]
    if problems:
        raise BadInput(problems)
    return tuple(lift for _, lift in lifts)


def _lifts_of_file(file: str, text: str, problems: list[Problem]) -> list[Lift]:
    findings = Findings(file)
    try:
        top = Table(tomllib.loads(text), "", findings)
    except tomllib.TOMLDecodeError as error:
        problems.append(Problem(file=file, says=f"cannot be read: {error}", mend="mend the line"))
        return []
    lifts: list[Lift] = []
    for table in top.tables("lift"):
        try:
            lifts.append(read_lift(table.values, table.place, own=False))
        except BadInput as error:
            problems += [_placed(problem, file, table) for problem in error.problems]
    top.close()
    problems += findings.errors
    return lifts


def _placed(problem: Problem, file: str, table: Table) -> Problem:
    """A lift's problem with its file and, where it has one, the lift's name."""
    name = table.values.get("name")
    return replace(problem, file=file, says=f"{name}: {problem.says}" if name else problem.says)


def _repeated_names(lifts: Iterable[tuple[str, Lift]]) -> list[Problem]:
    problems: list[Problem] = []
    owner: dict[str, str] = {}
    for file, lift in lifts:
        for word in (lift.name, *lift.aliases):
            if word in owner:
                says = f'"{word}" of {lift.name} already leads to {owner[word]}'
                problems.append(Problem(file=file, key=lift.name, says=says, mend="keep one"))
            owner.setdefault(word, lift.name)
    return problems


def _house_problems(file: str, lift: Lift) -> list[Problem]:
    """What holds for shipped lifts beyond the fields of each."""
    problems: list[Problem] = []
    if lift.name != lift.name.lower():
        problems.append(
            Problem(file=file, key=lift.name, says="has capitals", mend="write it in lower case")
        )
    if lift.stability == "machine" and lift.axial > _MOST_MACHINE_AXIAL:
        says = f"a machine lift with axial {lift.axial}"
        mend = f"grade it 0 or {_MOST_MACHINE_AXIAL}, or call its stability supported"
        problems.append(Problem(file=file, key=lift.name, says=says, mend=mend))
    machine = vocabulary().kit.get(lift.name)
    if machine is not None and machine.machine and lift.name not in lift.kit:
        says = "there is a machine of this name, but the lift does not need it"
        problems.append(Problem(file=file, key=lift.name, says=says, mend="add it to kit"))
    return problems


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
