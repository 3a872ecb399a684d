"""Reports a block: its last revision, the facts and the letters in, a report out."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.report import Told, block_report
from blockwright.engine.training import Block, CheckIn, SetDone
from blockwright.files.block_json import read_block, read_document
from blockwright.files.catalogue import catalogue_for
from blockwright.files.checkins_file import read_checkins
from blockwright.files.json_text import plain
from blockwright.files.policy_files import block_policy, under_coach
from blockwright.files.report_json import report_to_json, told_from_json
from blockwright.files.schemas import problems_against
from blockwright.files.sets_file import read_sets
from blockwright.verbs.filter_lifter import filter_lifter


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportQuestion:
    """What a report is made from. `proposals` are the files `review` wrote, in any order."""

    block: Path
    facts: Path
    checkins: Path | None = None
    proposals: Sequence[Path] = ()
    through: date | None = None
    coach: Path | None = None


@dataclass(frozen=True, slots=True)
class ReportAnswer:
    """The `blockwright/report/1` document, and what reading assumed."""

    document: dict[str, Any]
    warnings: tuple[Problem, ...]


def report_block(question: ReportQuestion) -> ReportAnswer:
    """The report as of `through`. Raises BadInput; warnings come beside."""
    block = under_coach(read_block(question.block), question.coach)
    catalogue = catalogue_for(block.lifter)
    sets = read_sets(question.facts, catalogue, block.lifter)
    warnings: list[Problem] = list(sets.warnings)
    mine = filter_lifter(sets.value, block.lifter, question.facts.name)
    said: Sequence[CheckIn] = ()
    if question.checkins is not None:
        checkins = read_checkins(question.checkins, block.lifter.name)
        warnings += checkins.warnings
        said = filter_lifter(checkins.value, block.lifter, question.checkins.name)
    told = _told(question.proposals, block)
    document = report_document(block, mine, said, told, question.through)
    return ReportAnswer(document, tuple(warnings))


def report_document(
    block: Block,
    sets: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    told: Sequence[Told],
    through: date | None,
) -> dict[str, Any]:
    """The `blockwright/report/1` document of a block under the policy it was made with; see
    `engine.report.block_report`."""
    report = block_report(
        block,
        sets,
        checkins,
        catalogue_for(block.lifter),
        block_policy(block),
        told=told,
        through=through,
    )
    return dict(plain(report_to_json(report)))


def _told(files: Sequence[Path], block: Block) -> list[Told]:
    documents = []
    problems: list[Problem] = []
    for file in files:
        document = read_document(file)
        found = problems_against("proposals", document, file.name)
        if not found and document["lifter"] != block.lifter.name:
            says = f'is for "{document["lifter"]}", the block is of "{block.lifter.name}"'
            found = [Problem(file=file.name, key="lifter", says=says, mend="give their own")]
        problems += found
        documents.append(document)
    if problems:
        raise BadInput(problems)
    return told_by(documents)


def told_by(documents: Iterable[Mapping[str, Any]]) -> list[Told]:
    """The proposals of letters as they told them; where a week was reviewed twice, the later
    letter counts."""
    told: dict[str, Told] = {}
    for document in sorted(documents, key=lambda each: (each["through"], each["block_revision"])):
        told.update((one.id, one) for one in told_from_json(document))
    return list(told.values())
