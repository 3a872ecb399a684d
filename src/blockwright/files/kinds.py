"""Tells what a file is: by its ending, then by its keys, its header or its format."""

from pathlib import Path
from typing import Literal

from blockwright.engine.errors import BadInput
from . import checkins_file, sets_file
from .csv_text import header_of
from .limits import read_limited
from .policy_files import default_policy
from .toml_checks import load_toml

FileKind = Literal["lifter", "policy", "sets", "checkins", "json"]

_CSV_ENDINGS = {".csv", ".tsv", ".txt", ".tab"}
_WORKBOOK_ENDINGS = {".xlsx", ".xls", ".xlsm", ".ods", ".numbers"}
_LIFTER_TABLES = {"name", "slot", "gym", "screening", "emphasis", "units", "start", "bodyweight"}


def kind_of(path: Path) -> FileKind:
    """What the file is meant to be; BadInput when it cannot be read or told."""
    ending = path.suffix.lower()
    if ending == ".toml":
        # A policy file names policy areas; anything else is meant as a lifter.
        areas = {key.partition(".")[0] for key in default_policy().values}
        named = {name.partition(".")[0] for name in load_toml(path)}
        return "policy" if len(named & areas) > len(named & _LIFTER_TABLES) else "lifter"
    if ending == ".json":
        return "json"
    if ending in _CSV_ENDINGS:
        header = set(header_of(path, (*sets_file.COLUMNS, *checkins_file.COLUMNS)))
        shared = set(sets_file.COLUMNS) & set(checkins_file.COLUMNS)
        of_checkins = len(header & (set(checkins_file.COLUMNS) - shared))
        of_sets = len(header & (set(sets_file.COLUMNS) - shared))
        # `unit` and `when` stand in both; a table with neither's own columns is meant as sets.
        return "checkins" if of_checkins > of_sets else "sets"
    read_limited(path)
    mend = "name a .toml (lifter, policy), .csv (sets, check-ins) or .json file; xlsx is for import"
    if ending in _WORKBOOK_ENDINGS:
        mend = "make a sets file of it first: blockwright import LOG.xlsx -o SETS.csv"
    says = f"a file ending in {ending} is not read" if ending else "has no ending to know it by"
    raise BadInput.of(says, mend, file=path.name)
