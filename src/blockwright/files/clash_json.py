"""A clash as JSON: the rules that cannot hold together, and the cheapest thing to give up."""

from dataclasses import dataclass
from typing import Any

from blockwright.engine.errors import Clash, ClashingRule
from blockwright.files.codec import document


@dataclass(frozen=True, slots=True)
class Clashed:
    """What the document holds."""

    rules: tuple[ClashingRule, ...]
    give_up: tuple[ClashingRule, ...]


def clash_to_json(clash: Clash) -> dict[str, Any]:
    """The `blockwright/clash/1` document."""
    body = Clashed(tuple(clash.rules), tuple(clash.give_up))
    return document("clash", body)
