"""A clash as JSON: the rules that cannot hold together, and the cheapest thing to give up."""

from dataclasses import dataclass
from typing import Any

from blockwright.engine.errors import Clash, ClashingRule
from blockwright.files.codec import document_schema, to_json


@dataclass(frozen=True, slots=True)
class Clashed:
    """What the document holds."""

    rules: tuple[ClashingRule, ...]
    give_up: tuple[ClashingRule, ...]


def clash_to_json(clash: Clash) -> dict[str, Any]:
    """The `blockwright/clash/1` document."""
    body = Clashed(tuple(clash.rules), tuple(clash.give_up))
    return {"format": "blockwright/clash/1", **to_json(body)}


def schema() -> dict[str, Any]:
    """The published schema of the document."""
    return document_schema(Clashed, "clash", "Rules that cannot hold together")
