"""Reports a block: its last revision, the facts and the letters in, a report out."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.case import CoachCase
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.report import block_report
from blockwright.engine.review import Offered
from blockwright.files.case_files import read_case
from blockwright.files.codec import plain_document
from blockwright.files.json_text import load_json
from blockwright.files.proposals_json import offered_in, other_lifter
from blockwright.files.reading import CommandAnswer
from blockwright.files.schemas import problems_against


def report_block(
    block: Path,
    facts: Path,
    checkins: Path | None = None,
    *,
    proposals: Sequence[Path] = (),
    through: date | None = None,
    coach: Path | None = None,
) -> CommandAnswer:
    """The report as of `through`; `proposals` are the files `review` wrote, in any order. Raises
    BadInput; warnings come beside."""
    read = read_case(block, facts, checkins, coach)
    documents = []
    problems: list[Problem] = []
    for file in proposals:
        document = load_json(file)
        found = problems_against("proposals", document, file.name)
        if not found and read.value.block is not None:
            found = other_lifter(document["lifter"], read.value.block, file.name)
        problems += found
        documents.append(document)
    BadInput.raise_any(problems)
    told = told_by(documents)
    return CommandAnswer(report_document(read.value, told, through), warnings=read.warnings)


def report_document(
    case: CoachCase, told: Sequence[Offered], through: date | None
) -> dict[str, Any]:
    """The `blockwright/report/1` document; see `engine.report.block_report`."""
    return plain_document("report", block_report(case, told=told, through=through))


def told_by(documents: Iterable[Mapping[str, Any]]) -> list[Offered]:
    """The proposals of letters as they told them; where a week was reviewed twice, the later
    letter counts."""
    told: dict[str, Offered] = {}
    for document in sorted(documents, key=lambda each: (each["through"], each["block_revision"])):
        told.update((one.id, one) for one in offered_in(document))
    return list(told.values())
