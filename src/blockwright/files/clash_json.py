"""A clash as JSON: the rules that cannot hold together, and the cheapest thing to give up."""

from typing import Any

from blockwright.engine.errors import Clash, ClashingRule


def clash_to_json(clash: Clash) -> dict[str, Any]:
    """The `blockwright/clash/1` document."""
    return {
        "format": "blockwright/clash/1",
        "rules": [_rule(rule) for rule in clash.rules],
        "give_up": [_rule(rule) for rule in clash.give_up],
    }


def _rule(rule: ClashingRule) -> dict[str, str]:
    return {"rule": rule.rule, "says": rule.says}
