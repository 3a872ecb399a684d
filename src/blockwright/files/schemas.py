"""The published JSON Schemas, and the check of a document against its own."""

from collections.abc import Iterable, Mapping
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, Any

from blockwright.engine.errors import BadInput, Problem

if TYPE_CHECKING:
    from jsonschema_rs import Draft202012Validator

MADE = {
    "lifts": ("files.answer_documents", "LiftList", "The lift catalogue"),
    "policy": ("files.answer_documents", "PolicyList", "Every number a coach may change"),
    "check": ("files.answer_documents", "CheckedFiles",
              "What is wrong in input files, where, and the mend"),
    "rack": ("files.answer_documents", "RackLoad",
             "What a load needs: plates, nearest loads, warm-up, a partner's changes"),
    "block": ("files.block_json", "Block", "A planned block: one revision, standing alone"),
    "sheet": ("engine.day_sheet", "DaySheet", "What one session takes"),
    "proposals": ("files.proposals_json", "ProposalsDocument",
                  "What the review proposes for the week after a date"),
    "estimate": ("files.answer_documents", "StrengthEstimate",
                 "Strength per lift, with its uncertainty"),
    "backtest": ("files.answer_documents", "SetsPredicted",
                 "Each set predicted from the sets before it only"),
    "clash": ("files.answer_documents", "Clashed", "Rules that cannot hold together"),
    "report": ("engine.report", "BlockReport", "What a block came to"),
}  # fmt: skip
"""What the codec makes each from: its module, the type's name, the schema's title."""
NAMES = tuple(MADE)


@cache
def schema_of(name: str) -> dict[str, Any]:
    """The schema called `name`; BadInput names the known ones."""
    if name not in NAMES:
        raise BadInput.of(f'there is no schema called "{name}"', "use one of: " + ", ".join(NAMES))
    from .codec import document_schema

    module, kind, title = MADE[name]
    holder = import_module(f"blockwright.{module}")
    return document_schema(getattr(holder, kind), name, title)


def problems_against(name: str, document: Mapping[str, Any], file: str) -> list[Problem]:
    """What keeps a document from being what it says it is; empty when it is sound.

    Checks `format` first, then the published schema. Keys are dotted and count from 1."""
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
            key=_dotted(error.instance_path) or "the document",
            says=_shortened(error.message),
            mend=f"see `blockwright schema {name}`, or make the file anew",
        )
        for error in sorted(
            _validator(name).iter_errors(document), key=lambda one: _dotted(one.instance_path)
        )
    ]


@cache
def _validator(name: str) -> "Draft202012Validator":
    # Imported late: `blockwright --help` has no use for a validator.
    from jsonschema_rs import Draft202012Validator

    return Draft202012Validator(schema_of(name), validate_formats=True)


def _dotted(path: Iterable[str | int]) -> str:
    return ".".join(str(part + 1 if isinstance(part, int) else part) for part in path)


def _shortened(message: str) -> str:
    return message if len(message) <= 160 else f"{message[:120]} ... {message[-30:]}"
