"""Revises a block: proposals and the coach's word on them in, a new revision out. What a coach said
about proposals is read here for command, page and API."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.reasons import Caution
from blockwright.engine.review import KEY_OF, Offered, Review, To, Verdict, keys_of, revised
from blockwright.engine.review.decisions import THEN, VerdictWord
from blockwright.engine.review.proposals import ChangeKey
from blockwright.engine.training import Block
from blockwright.engine.units import kg_from
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_parts import iso_day
from blockwright.files.near import did_you_mean
from blockwright.files.policy_files import block_policy, under_coach
from blockwright.files.proposals_json import (
    ProposalsFile,
    other_lifter,
    proposals_to_json,
    read_proposals,
)
from blockwright.sheets.letter import letter_of
from blockwright.sheets.letter_text import message_to_lifter


@dataclass(frozen=True, slots=True, kw_only=True)
class CoachAnswer:
    """A coach's answer to one proposal, by its id, as it came in."""

    proposal: str
    verdict: VerdictWord | Literal["undone"]
    change: str = ""  # KEY=VALUE, for a changed one: "load_kg=62.5", "load_kg=135 lb", "sets=3"
    words: str = ""


def verdicts_for(said: Iterable[CoachAnswer], file: ProposalsFile) -> list[Verdict]:
    """A verdict for each but those undone, in the order of the letter. Raises BadInput with every
    problem at once: ids nobody knows, ids decided twice, changes that cannot be read, nothing
    decided of a letter that asks for something."""
    said = list(said)
    problems = _naming_problems([one.proposal for one in said], file)
    if not said and file.offered:
        mend = "accept, change or decline a line, or all"
        problems.append(Problem(says="nothing is decided", mend=mend))
    by_id = {one.proposal: one for one in said}
    verdicts: list[Verdict] = []
    for offered in file.offered.values():
        if offered.id in by_id and by_id[offered.id].verdict != "undone":
            verdict = _verdict_of(offered, by_id[offered.id])
            if isinstance(verdict, Problem):
                problems.append(verdict)
            else:
                verdicts.append(verdict)
    BadInput.raise_any(problems)
    return verdicts


def block_revised(block: Block, verdicts: Sequence[Verdict], cautions: Iterable[Caution]) -> Block:
    """The next revision under the policy the block stands under; see `engine.review.revised`."""
    policy = block_policy(block)
    return revised(block, verdicts, cautions, catalogue_for(block.lifter), policy)


def letter_document(review: Review) -> dict[str, Any]:
    """A review as it is stored, printed and decided on, with the message to the lifter."""
    document = proposals_to_json(review)
    return document | {"message": message_to_lifter(letter_of(document), document)}


def _naming_problems(named: list[str], file: ProposalsFile) -> list[Problem]:
    unknown = [name for name in dict.fromkeys(named) if name not in file.offered]
    twice = [name for name in dict.fromkeys(named) if named.count(name) > 1]
    says, usual = "is no proposal of this file", "the names stand in brackets in the letter"
    return [
        *(Problem(says, did_you_mean(name, file.offered, usual), key=name) for name in unknown),
        *(Problem("is decided twice", "accept, change or decline it, once", key=name)
          for name in twice),
    ]  # fmt: skip


def _verdict_of(offered: Offered, said: CoachAnswer) -> Verdict | Problem:
    if said.verdict == "undone":
        raise ValueError(f"{offered.id}: an undone decision is no verdict")
    if said.verdict == "changed":
        return _changed(offered, said.change, said.words)
    to = offered.after if said.verdict == "accepted" else None
    return Verdict(offered=offered, verdict=said.verdict, to=to, words=said.words)


def _changed(offered: Offered, text: str, words: str) -> Verdict | Problem:
    """A coach's KEY=VALUE as a verdict, or what is wrong with it."""
    key, _, value = (part.strip() for part in text.partition("="))
    allowed = keys_of(offered.kind)
    if key not in allowed or not value:
        says = f'"{text}" changes nothing that a {offered.kind.replace("_", " ")} has'
        mend = f"write {allowed[0]}=..." if allowed else "accept or decline it"
        return Problem(key=offered.id, says=says, mend=mend)
    if key == "cleared_on":
        return _cleared(offered, value, words)
    wanted = KEY_OF[offered.kind]
    read, example = _VALUES[key]
    try:
        parsed = read(value)
    except ValueError:
        says = f"{value!r} cannot be read"
        return Problem(key=offered.id, says=says, mend=f"write {example}")
    if wanted is None:
        raise ValueError(f"{offered.kind} has nothing to change")
    to = To(_KEYS.get(key, wanted), parsed)
    if key == "then":
        to = To("week_kind", "deload", then=THEN[str(parsed)])
    elif parsed == "deload":
        to = replace(to, then="on")
    return Verdict(offered=offered, verdict="changed", to=to, words=words)


def _cleared(offered: Offered, value: str, words: str) -> Verdict | Problem:
    if (day := iso_day(value)) is None:
        return Problem(f"{value!r} is no date", "write cleared_on=2027-02-10", key=offered.id)
    return Verdict(offered=offered, verdict="changed", to=None, cleared_on=day, words=words)


def _load(text: str) -> float:
    """Kilograms, or a number with its unit: 62.5, 62.5 kg, 135 lb."""
    if text.endswith("lb"):
        return kg_from(float(text[:-2]), "lb")
    return float(text.removesuffix("kg"))


def _one_of(*words: str) -> Callable[[str], str]:
    return lambda text: words[words.index(text)]


_VALUES: Mapping[str, tuple[Callable[[str], float | str], str]] = {
    "load_kg": (_load, "load_kg=62.5 (or load_kg=135lb)"),
    "sets": (float, "sets=3"),
    "weeks": (float, "weeks=7"),
    "lift": (str, "lift=NAME"),
    "week_kind": (_one_of("repeat", "light", "deload"), "week_kind=repeat, light or deload"),
    "then": (_one_of(*THEN), "then=on or then=end"),
}
"""By key: how its value is read, and an example."""
_KEYS: Mapping[str, ChangeKey] = {"load_kg": "load_kg", "lift": "lift"}
"""Keys that say themselves what changes, whatever the kind is about."""


def revise_block(
    path: Path,
    proposals: Path,
    *,
    accept_all: bool = False,
    accept: Sequence[str] = (),
    decline: Sequence[str] = (),
    changes: Sequence[tuple[str, str]] = (),
    words: str = "",
    coach: Path | None = None,
) -> Block:
    """The next revision; `changes` are pairs of ID and KEY=VALUE, `accept_all` takes what nothing
    else names. `words` are of the lines declined or changed here, if any are; else of those
    accepted by name; else of all: what `accept_all` sweeps along beside a named line was not what
    they were about. Raises BadInput with every problem at once."""
    block = under_coach(read_block(path), coach)
    file = read_proposals(proposals)
    _require_same(block, file, proposals.name)
    given: list[tuple[str, VerdictWord, str]] = [
        *((name, "changed", change) for name, change in changes),
        *((name, "declined", "") for name in decline),
        *((name, "accepted", "") for name in accept),
    ]
    if accept_all:
        named = {name for name, _, _ in given}
        given += [(name, "accepted", "") for name in file.offered if name not in named]
    about = {*decline, *dict(changes)} or set(accept)
    said = [
        CoachAnswer(
            proposal=name,
            verdict=verdict,
            change=change,
            words=words if not about or name in about else "",
        )
        for name, verdict, change in given
    ]
    return block_revised(block, verdicts_for(said, file), file.cautions)


def _require_same(block: Block, file: ProposalsFile, name: str) -> None:
    problems = other_lifter(file.lifter, block, name)
    if file.block_revision != block.revision:
        says = f"was made for revision {file.block_revision}, the block is {block.revision}"
        mend = "review the block anew, or give the revision it was made for"
        problems.append(Problem(file=name, key="block_revision", says=says, mend=mend))
    BadInput.raise_any(problems)
