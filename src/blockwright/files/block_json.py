"""Blocks to JSON and back. A block stands alone: the whole lifter goes in and comes out."""

from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import timedelta
from pathlib import Path
from typing import Any, get_type_hints

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy
from blockwright.engine.training import Block, Lifter
from .catalogue import catalogue_for
from .codec import document, from_json, key_of, special
from .json_text import load_json
from .lifter_file import lifter_from_table, lifter_to_table
from .limits import FIRST_YEAR, LAST_YEAR
from .policy_files import default_policy
from .schemas import problems_against

_HINTS = get_type_hints(Block)
_LIFTER = {
    "type": "object",
    "required": ["name", "units", "gym"],
    "description": "The whole lifter file, normalised; keys as in the lifter file.",
}
special(Lifter, lifter_to_table, _LIFTER)


def block_to_json(block: Block) -> dict[str, Any]:
    return document("block", block)


def read_block(path: Path) -> Block:
    """The block in a JSON file; BadInput names file and place when it is not one."""
    return block_from_json(load_json(path), path.name)


def unknown_lifts(block: Block, file: str) -> list[Problem]:
    """A problem for each lift of the block that neither the catalogue nor its lifter knows."""
    catalogue = catalogue_for(block.lifter)
    named = dict.fromkeys(e.lift for w in block.weeks for e in w.entries)
    mend = "add it to the lifter file as a [[lift]] and plan again"
    return [
        Problem(file=file, says=f'names a lift nobody knows: "{name}"', mend=mend)
        for name in named
        if catalogue.find(name) is None
    ]


def _crossed_ranges(document: Mapping[str, Any], file: str) -> list[Problem]:
    """A problem for each set whose repetitions end below where they begin: no schema says it."""
    return [
        Problem(
            file=file,
            key=f"weeks.{week_at}.sessions.{session_at}.entries.{entry_at}.sets.{set_at}",
            says=f"reps_low {planned['reps_low']} is above reps_high {planned['reps_high']}",
            mend="swap the two, or make the file anew",
        )
        for week_at, week in enumerate(document["weeks"], 1)
        for session_at, session in enumerate(week["sessions"], 1)
        for entry_at, entry in enumerate(session["entries"], 1)
        for set_at, planned in enumerate(entry["sets"], 1)
        if planned["reps_low"] > planned["reps_high"]
    ]


def _misnumbered(block: Block, file: str) -> list[Problem]:
    """A problem for each week or session that is not where its number and day say."""
    found = []
    if not FIRST_YEAR <= block.start.year <= LAST_YEAR:
        found.append(("start", f"{block.start} is not between {FIRST_YEAR} and {LAST_YEAR}"))
    if block.start.weekday():
        found.append(("start", f"{block.start} is a {block.start:%A}; a block starts on a Monday"))
    for place, week in enumerate(() if found else block.weeks, 1):
        if week.week != place:
            found.append((f"weeks.{place}.week", f"is {week.week} where week {place} should stand"))
        monday = block.start + timedelta(weeks=place - 1)
        for number, session in enumerate(week.sessions, 1):
            key = f"weeks.{place}.sessions.{number}"
            if session.session != number:
                found.append(
                    (f"{key}.session", f"is {session.session} where {number} should stand")
                )
            if not found and not monday <= session.day < monday + timedelta(weeks=1):
                found.append((f"{key}.date", f"{session.day} is not in the week of {monday}"))
    mend = "take the file as the program wrote it, or plan again"
    return [Problem(file=file, key=key, says=says, mend=mend) for key, says in found]


def block_from_json(document: Mapping[str, Any], file: str, *, checked: bool = False) -> Block:
    """The block of a document; checked against its schema first, then converted. `checked` says
    that this was done when the document came in: the check takes most of the time."""
    if not checked:
        BadInput.raise_any(problems_against("block", document, file))
        BadInput.raise_any(_crossed_ranges(document, file))
    coach, policy = _read_coach(document, file)
    read = {f.name: from_json(_HINTS[f.name], document[key_of(Block, f.name)])
            for f in fields(Block) if f.name not in ("lifter", "coach_policy")}  # fmt: skip
    lifter = lifter_from_table(document["lifter"], file, policy).value
    block = Block(lifter=lifter, coach_policy=coach, **read)
    if not checked:
        BadInput.raise_any(_misnumbered(block, file))
    return block


def _read_coach(
    document: Mapping[str, Any], file: str
) -> tuple[Mapping[str, float | str | bool], Policy]:
    """The coach's values a block carries, and the policy they make."""
    coach = document.get("coach_policy", {})
    try:
        return coach, default_policy().overridden(coach, "coach")
    except BadInput as error:
        raise BadInput(
            [replace(p, file=file, key=f"coach_policy.{p.key}") for p in error.problems]
        ) from error
