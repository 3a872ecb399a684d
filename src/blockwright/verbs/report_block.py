"""Reports a block: its last revision, the facts and the letters in, a report out."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.report import block_report
from blockwright.engine.review import Offered
from blockwright.files.case_files import read_case
from blockwright.files.codec import document
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
    letters = []
    problems: list[Problem] = []
    for file in proposals:
        letter = load_json(file)
        found = problems_against("proposals", letter, file.name)
        if not found:
            found = other_lifter(letter["lifter"], read.value.block, file.name)
        problems += found
        letters.append(letter)
    BadInput.raise_any(problems)
    report = block_report(read.value, told=told_by(letters), through=through)
    return CommandAnswer(document("report", report), warnings=read.warnings)


def told_by(letters: Iterable[Mapping[str, Any]]) -> list[Offered]:
    """The proposals of letters as they told them; where a week was reviewed twice, the later
    letter counts."""
    told: dict[str, Offered] = {}
    for letter in sorted(letters, key=lambda each: (each["through"], each["block_revision"])):
        told.update((one.id, one) for one in offered_in(letter))
    return list(told.values())
