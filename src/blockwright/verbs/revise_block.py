"""Revises a block: proposals and the coach's word on them in, a new revision out."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.review import Verdict
from blockwright.engine.training import Block
from blockwright.files.block_json import read_block
from blockwright.files.policy_files import under_coach
from blockwright.files.proposals_json import ProposalsFile, read_proposals
from blockwright.verbs.verdicts import Said, block_revised, naming_problems, verdict_of


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
    """Of the lines declined or changed here, if any are; else of those accepted by name; else of
    all. What is swept along by `accept_all` beside a named line was not what they were about."""
    words_on: Sequence[tuple[str, str]] = ()
    """Pairs of ID and words: of that line alone, in place of `words`."""
    coach: Path | None = None

    @property
    def named(self) -> list[str]:
        """Every id decided on by name, as often as it was named."""
        return [*self.accept, *self.decline, *(name for name, _ in self.changes)]

    def words_for(self, name: str) -> str:
        """The coach's words on one line."""
        own = dict(self.words_on)
        about = {*self.decline, *dict(self.changes)} or set(self.accept)
        return own.get(name, self.words if not about or name in about else "")


def revise_block(question: ReviseQuestion) -> Block:
    """The next revision. Raises BadInput with every problem of the question at once."""
    block = under_coach(read_block(question.block), question.coach)
    file = read_proposals(question.proposals)
    _require_same(block, file, question.proposals.name)
    verdicts = verdicts_of(question, file)
    return block_revised(block, verdicts, file.cautions)


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
    changes = dict(question.changes)
    declined, accepted = set(question.decline), set(question.accept)
    problems = _problems(question, file)
    verdicts: list[Verdict] = []
    for each in file.offered.values():
        words = question.words_for(each.id)
        if each.id in changes:
            said = Said(proposal=each.id, verdict="changed", change=changes[each.id], words=words)
        elif each.id in declined:
            said = Said(proposal=each.id, verdict="declined", words=words)
        elif each.id in accepted or question.accept_all:
            said = Said(proposal=each.id, verdict="accepted", words=words)
        else:
            continue
        verdict = verdict_of(each, said)
        if isinstance(verdict, Problem):
            problems.append(verdict)
        else:
            verdicts.append(verdict)
    if problems:
        raise BadInput(problems)
    return verdicts


def _problems(question: ReviseQuestion, file: ProposalsFile) -> list[Problem]:
    """Ids nobody knows, ids decided twice, words on what is not decided, nothing decided at all."""
    named = question.named
    problems = naming_problems(named, file)
    if not named and not question.accept_all:
        problems.append(
            Problem(
                says="nothing is decided",
                mend="give --accept-all, --accept ID, --decline ID or --change ID KEY=VALUE",
            )
        )
    told = [name for name, _ in question.words_on]
    known = list(file.offered) if question.accept_all else named
    problems += [
        Problem(
            key=name,
            says="has words, but is not decided here" if name not in known else "has words twice",
            mend="give --words-on ID TEXT once, for a line you accept, change or decline",
        )
        for name in dict.fromkeys(told)
        if name not in known or told.count(name) > 1
    ]
    return problems
