"""Revises a block: proposals and the coach's word on them in, a new revision out."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.review import KEY_OF, Offered, To, Verdict, keys_of, revised
from blockwright.engine.training import Block
from blockwright.engine.units import kg_from
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.near import did_you_mean
from blockwright.files.policy_files import default_policy
from blockwright.files.proposals_json import ProposalsFile, read_proposals


@dataclass(frozen=True, slots=True, kw_only=True)
class ReviseQuestion:
    """What was typed at `blockwright revise`. `changes` are pairs of ID and KEY=VALUE."""

    block: Path
    proposals: Path
    accept_all: bool = False
    accept: Sequence[str] = ()
    decline: Sequence[str] = ()
    changes: Sequence[tuple[str, str]] = ()
    words: str = ""


def revise_block(question: ReviseQuestion) -> Block:
    """The next revision. Raises BadInput with every problem of the question at once."""
    block = read_block(question.block)
    file = read_proposals(question.proposals)
    _require_same(block, file, question.proposals.name)
    verdicts = verdicts_of(question, file)
    policy = default_policy().overridden(block.lifter.policy, "lifter")
    return revised(block, verdicts, file.cautions, catalogue_for(block.lifter), policy)


def _require_same(block: Block, file: ProposalsFile, name: str) -> None:
    problems = []
    if file.lifter != block.lifter.name:
        says = f'is for "{file.lifter}", the block is of "{block.lifter.name}"'
        problems.append(Problem(file=name, key="lifter", says=says, mend="give their own"))
    if file.block_revision != block.revision:
        says = f"was made for revision {file.block_revision}, the block is {block.revision}"
        mend = "review the block anew, or give the revision it was made for"
        problems.append(Problem(file=name, key="block_revision", says=says, mend=mend))
    if problems:
        raise BadInput(problems)


def verdicts_of(question: ReviseQuestion, file: ProposalsFile) -> list[Verdict]:
    """The coach's word on each proposal named, in the order of the file."""
    problems = _problems(question, file)
    changes = dict(question.changes)
    declined, accepted = set(question.decline), set(question.accept)
    verdicts: list[Verdict] = []
    for each in file.offered.values():
        if each.id in changes:
            verdict = _changed(each, changes[each.id], question.words)
            if isinstance(verdict, Problem):
                problems.append(verdict)
            else:
                verdicts.append(verdict)
        elif each.id in declined:
            verdicts.append(
                Verdict(offered=each, verdict="declined", to=None, words=question.words)
            )
        elif each.id in accepted or question.accept_all:
            verdicts.append(
                Verdict(offered=each, verdict="accepted", to=each.after, words=question.words)
            )
    if problems:
        raise BadInput(problems)
    return verdicts


def _problems(question: ReviseQuestion, file: ProposalsFile) -> list[Problem]:
    """Ids nobody knows, ids decided twice, and nothing decided at all."""
    changed = [name for name, _ in question.changes]
    named = [*question.accept, *question.decline, *changed]
    problems = [
        Problem(
            key=name,
            says="is no proposal of this file",
            mend=did_you_mean(name, file.offered, "the names stand in brackets in the letter"),
        )
        for name in dict.fromkeys(named)
        if name not in file.offered
    ]
    problems += [
        Problem(key=name, says="is decided twice", mend="accept, change or decline it, once")
        for name in dict.fromkeys(named)
        if named.count(name) > 1
    ]
    if not named and not question.accept_all:
        problems.append(
            Problem(
                says="nothing is decided",
                mend="give --accept-all, --accept ID, --decline ID or --change ID KEY=VALUE",
            )
        )
    return problems


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
    try:
        parsed = _PARSE[key](value)
    except ValueError:
        says = f"{value!r} cannot be read"
        return Problem(key=offered.id, says=says, mend=f"write {_EXAMPLE[key]}")
    if wanted is None:
        raise ValueError(f"{offered.kind} has nothing to change")
    return Verdict(offered=offered, verdict="changed", to=To(wanted, parsed), words=words)


def _cleared(offered: Offered, value: str, words: str) -> Verdict | Problem:
    try:
        day = date.fromisoformat(value)
    except ValueError:
        says = f"{value!r} is no date"
        return Problem(key=offered.id, says=says, mend="write cleared_on=2027-02-10")
    return Verdict(offered=offered, verdict="changed", to=None, cleared_on=day, words=words)


def _load(text: str) -> float:
    """Kilograms, or a number with its unit: 62.5, 62.5 kg, 135 lb."""
    if text.endswith("lb"):
        return kg_from(float(text[:-2]), "lb")
    return float(text.removesuffix("kg"))


def _week_kind(text: str) -> str:
    if text not in ("build", "deload"):
        raise ValueError(text)
    return text


_PARSE: dict[str, Callable[[str], float | str]] = {
    "load_kg": _load,
    "sets": float,
    "weeks": float,
    "lift": str,
    "week_kind": _week_kind,
}
_EXAMPLE = {
    "load_kg": "load_kg=62.5 (or load_kg=135lb)",
    "sets": "sets=3",
    "weeks": "weeks=7",
    "lift": "lift=NAME",
    "week_kind": "week_kind=deload",
}
