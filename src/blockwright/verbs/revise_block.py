"""Revises a block: proposals and the coach's word on them in, a new revision out."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.review import Verdict
from blockwright.engine.review.decisions import VerdictWord
from blockwright.engine.training import Block
from blockwright.files.block_json import read_block
from blockwright.files.policy_files import under_coach
from blockwright.files.proposals_json import ProposalsFile, read_proposals
from blockwright.verbs.verdicts import CoachAnswer, block_revised, verdicts_for


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

    def answers(self, file: ProposalsFile) -> list[CoachAnswer]:
        """One for each line named; with `accept_all` one for each other line of the file too."""
        given: list[tuple[str, VerdictWord, str]] = [
            *((name, "changed", change) for name, change in self.changes),
            *((name, "declined", "") for name in self.decline),
            *((name, "accepted", "") for name in self.accept),
        ]
        if self.accept_all:
            named = set(self.named)
            given += [(name, "accepted", "") for name in file.offered if name not in named]
        return [
            CoachAnswer(proposal=name, verdict=verdict, change=change, words=self.words_for(name))
            for name, verdict, change in given
        ]

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
    """The coach's answer to each proposal named, in the order of the file."""
    return verdicts_for(question.answers(file), file, _word_problems(question, file))


def _word_problems(question: ReviseQuestion, file: ProposalsFile) -> list[Problem]:
    """Words on a line twice, or on one that is not decided here."""
    named = question.named
    told = [name for name, _ in question.words_on]
    known = list(file.offered) if question.accept_all else named
    return [
        Problem(
            key=name,
            says="has words, but is not decided here" if name not in known else "has words twice",
            mend="give --words-on ID TEXT once, for a line you accept, change or decline",
        )
        for name in dict.fromkeys(told)
        if name not in known or told.count(name) > 1
    ]
