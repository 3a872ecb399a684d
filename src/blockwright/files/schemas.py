"""The published JSON Schemas, and the check of a document against its own."""

import json
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import import_module, resources
from typing import TYPE_CHECKING, Any

from blockwright.engine.errors import BadInput, Problem

if TYPE_CHECKING:
    from jsonschema import Draft202012Validator
    from jsonschema.exceptions import ValidationError

NAMES = (
    "lifts", "policy", "check", "rack", "block", "sheet", "proposals", "estimate", "backtest",
    "clash", "report",
)  # fmt: skip
GENERATED = ("block", "sheet", "proposals", "report", "clash")
"""Those that the codec makes from the types, in `NAME_json.py`."""


@cache
def schema_of(name: str) -> dict[str, Any]:
    """The schema called `name`; BadInput names the known ones."""
    if name not in NAMES:
        raise BadInput(
            Problem(
                says=f'there is no schema called "{name}"', mend="use one of: " + ", ".join(NAMES)
            )
        )
    if name in GENERATED:
        made: dict[str, Any] = import_module(f"blockwright.files.{name}_json").schema()
        return made
    file = resources.files("blockwright.files") / "data" / "schemas" / f"{name}.json"
    loaded: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    return loaded


def problems_against(name: str, document: Mapping[str, Any], file: str) -> list[Problem]:
    """What keeps a document from being what it says it is; empty when it is sound.

    Checks `format` first, then the published schema. Keys are dotted and count from 1.
    """
    wanted = f"blockwright/{name}/1"
    if document.get("format") != wanted:
        return [
            Problem(
                file=file,
                key="format",
                says=f'is {document.get("format")!r}, not "{wanted}"',
                mend=f"give a {name} file made by blockwright",
            )
        ]
    return [
        Problem(
            file=file,
            key=_dotted(error.absolute_path) or "the document",
            says=_shortened(error.message),
            mend=f"see `blockwright schema {name}`, or make the file anew",
        )
        for error in sorted(_validator(name).iter_errors(document), key=_place)
    ]


@cache
def _validator(name: str) -> "Draft202012Validator":
    # Imported late: `blockwright --help` has no use for a validator.
    from jsonschema import Draft202012Validator

    return Draft202012Validator(schema_of(name), format_checker=Draft202012Validator.FORMAT_CHECKER)


def _place(error: "ValidationError") -> str:
    return _dotted(error.absolute_path)


def _dotted(path: Iterable[str | int]) -> str:
    return ".".join(str(part + 1 if isinstance(part, int) else part) for part in path)


def _shortened(message: str) -> str:
    return message if len(message) <= 160 else f"{message[:120]} ... {message[-30:]}"
