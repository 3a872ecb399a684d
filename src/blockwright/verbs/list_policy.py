"""Lists the policy: what a coach may change, within which bounds, and why it is as it is."""

from pathlib import Path
from textwrap import fill
from typing import Any

from blockwright.files.answer_documents import PolicyList
from blockwright.files.codec import document
from blockwright.files.policy_files import coach_policy, default_policy


def policy_document(coach: Path | None, find: str = "") -> dict[str, Any]:
    """The `blockwright/policy/1` document; only entries whose key or reason contains `find`."""
    policy = default_policy()
    if coach is not None:
        policy = coach_policy(coach, policy)
    wanted = find.lower()
    return document(
        "policy",
        PolicyList(
            tuple(
                value
                for value in sorted(policy.values.values(), key=lambda value: value.key)
                if wanted in value.key.lower() or wanted in value.why.lower()
            )
        ),
    )


def policy_text(listed: dict[str, Any]) -> str:
    """The document as a coach reads it."""
    lines: list[str] = []
    for entry in listed["policy"]:
        origin = "" if entry["origin"] == "default" else f"  [{entry['origin']}]"
        lines.append(f"{entry['key']} = {entry['value']} {entry['unit']}{origin}")
        bounds = (
            f"{entry['low']} to {entry['high']}"
            if entry["low"] is not None
            else ", ".join(map(str, entry.get("choices", ["true", "false"])))
        )
        lines.append(f"    may be {bounds}; source: {entry['source']}")
        lines.append(fill(entry["why"], 92, initial_indent="    ", subsequent_indent="    "))
    return "\n".join(lines) or "No policy value matches."
