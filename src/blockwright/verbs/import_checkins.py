"""A scale's or a watch's export to a check-ins file; nothing is stored."""

from collections.abc import Sequence
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.facts_csv import checkins_csv
from blockwright.files.importing.measure_columns import DATE, MEASURES
from blockwright.files.importing.measures import CheckInsDraft, checkins_of
from blockwright.files.lifter_file import read_lifter
from blockwright.files.near import did_you_mean
from blockwright.verbs.import_sheets import (
    FORMAT,
    ImportAnswer,
    ImportQuestion,
    answers_in,
    check_answers,
    left_and_asked,
    told,
    wishes_of,
)


def import_checkins(question: ImportQuestion, columns: Sequence[str]) -> ImportAnswer:
    """Reads the files by `columns` ("date=Day"), or by their headings where there are none;
    BadInput for a column that is not there, and when no check-in can be read."""
    lifter = read_lifter(question.lifter).value if question.lifter else None
    answers = answers_in(question.answers)
    wishes = wishes_of(question, lifter, answers)
    draft = checkins_of(question.files, _by_key(columns), wishes)
    check_answers(answers, draft.questions, question.answers)
    document = _document(draft)
    return ImportAnswer(document, _text(document), checkins_csv(draft.checkins))


def _by_key(columns: Sequence[str]) -> dict[str, str]:
    """`date` or a measure to the heading that was named for it."""
    named: dict[str, str] = {}
    problems = []
    keys = (DATE, *MEASURES)
    for typed in columns:
        key, mark, heading = (part.strip() for part in typed.partition("="))
        if not mark or not key or not heading:
            says, mend = f'"{typed}" names no column', 'write it so: --column bodyweight="Weight"'
        elif key not in keys:
            otherwise = "write one of: " + ", ".join(keys)
            says, mend = f'"{key}" is no measure', did_you_mean(key, keys, otherwise)
        elif key in named:
            says, mend = f"{key} is named twice", "keep one of the two"
        else:
            named[key] = heading
            continue
        problems.append(Problem(file="--column", says=says, mend=mend))
    if problems:
        raise BadInput(problems)
    return named


def _document(draft: CheckInsDraft) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "checkins": len(draft.checkins),
        "columns": [
            {"column": one.heading, "taken_as": one.key, "unit": one.unit} for one in draft.columns
        ],
        **left_and_asked(draft.skipped, draft.questions),
    }


def _text(document: dict[str, Any]) -> str:
    count = document["checkins"]
    lines = [f"{count} check-in{'' if count == 1 else 's'} read."]
    for one in document["columns"]:
        unit = f", in {one['unit']}" if one["unit"] else ""
        lines.append(f'Column "{one["column"]}" is taken as {one["taken_as"]}{unit}.')
    return "\n".join([*lines, *told(document)])
