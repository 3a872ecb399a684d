"""A coach's own spreadsheets to a sets file, or the export of a scale or watch to a check-ins file:
read, asked about, written; nothing is stored."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Lifter
from blockwright.engine.units import Unit
from blockwright.files.catalogue import builtin_catalogue, catalogue_with
from blockwright.files.facts_csv import checkins_csv, sets_csv
from blockwright.files.importing.calendar import Question
from blockwright.files.importing.draft import Draft, Wishes, draft_of
from blockwright.files.importing.entries import Skipped
from blockwright.files.importing.measure_columns import DATE, MEASURES
from blockwright.files.importing.measures import checkins_beside, checkins_of
from blockwright.files.lifter_file import read_lifter
from blockwright.files.near import did_you_mean
from blockwright.files.reading import CommandAnswer, collection_paused
from blockwright.files.toml_checks import load_toml

FORMAT = "blockwright/import/1"
_MOST_SKIPPED_SHOWN = 20


@dataclass(frozen=True, kw_only=True)
class ImportQuestion:
    files: list[Path]
    lifter: Path | None = None
    unit: Unit | None = None
    year: int | None = None
    answers: Path | None = None


@dataclass(frozen=True, slots=True)
class ImportAnswer(CommandAnswer):
    """The `blockwright/import/1` document, its text, notes, and the sets file."""

    sets_csv: str = ""


@collection_paused()
def import_sheets(question: ImportQuestion) -> ImportAnswer:
    """Reads the files; BadInput when none holds a set, or an answer is none of the choices."""
    lifter, wishes = wishes_of(question)
    catalogue = catalogue_with(lifter.lifts) if lifter else builtin_catalogue()
    draft = draft_of(question.files, catalogue, wishes)
    check_answers(wishes.answers, draft.questions, question.answers)
    if not draft.sets:
        raise BadInput([_unanswered(one) for one in draft.questions if not one.chosen])
    document, notes = import_document(draft), list(draft.notes)
    if (beside := checkins_beside(question.files, draft, wishes)) is not None:
        count = len(beside.checkins)
        notes.append(f"{count} check-ins stand in other tabs: read them with --checkins")
    said = tuple(Problem(says=note, mend="") for note in notes)
    return ImportAnswer(document, _text(document), said, sets_csv(draft.sets))


def _unanswered(question: Question) -> Problem:
    mend = f'write {question.id} = "..." into a file of answers (--answers)'
    return Problem(key=question.id, says=f"no set can be dated: {question.asks}", mend=mend)


def import_document(draft: Draft) -> dict[str, Any]:
    """The draft as JSON: how many sets, what was left out and where, what was asked."""
    return {
        "format": FORMAT,
        "sets": len(draft.sets),
        "lifters": sorted({done.lifter for done in draft.sets if done.lifter}),
        **left_and_asked(draft.skipped, draft.questions),
        "names": dict(sorted(draft.names.items())),
    }


def left_and_asked(
    skipped: Sequence[Skipped], questions: Sequence[Question]
) -> dict[str, list[dict[str, Any]]]:
    return {
        "skipped": [{"place": one.place, "text": one.text, "why": one.why} for one in skipped],
        "questions": [
            {"id": one.id, "asks": one.asks, "choices": list(one.choices), "chosen": one.chosen}
            for one in questions
        ],
    }


def wishes_of(question: ImportQuestion) -> tuple[Lifter | None, Wishes]:
    """Whose sheets they are, where a lifter file says so, and how to read them."""
    lifter = read_lifter(question.lifter).value if question.lifter else None
    answers = {}
    if question.answers is not None:
        answers = {key: str(value) for key, value in load_toml(question.answers).items()}
    wishes = Wishes(question.unit, question.year, answers=answers)
    if lifter is not None:
        wishes.usual_unit = lifter.units
        if lifter.start is not None:
            wishes.fallback_year = lifter.start.year
    if (year := answers.get("year")) and wishes.year is None:
        wishes.year = int(year) if year.isdigit() else None
    return lifter, wishes


def check_answers(
    answers: Mapping[str, str], questions: Sequence[Question], path: Path | None
) -> None:
    """BadInput for every answer to what was not asked."""
    asked = [question.id for question in questions]
    problems = [
        Problem(
            file=path.name if path else None,
            key=key,
            says="no such question was asked",
            mend=did_you_mean(key, asked, "take it out; asked: " + (", ".join(asked) or "nothing")),
        )
        for key in answers
        if key not in asked and key != "year"
    ]
    BadInput.raise_any(problems)


def _text(document: Mapping[str, Any]) -> str:
    count = document["sets"]
    lines = [f"{count} set{'' if count == 1 else 's'} read."]
    if document["lifters"]:
        lines.append("Lifters: " + ", ".join(document["lifters"]))
    return "\n".join([*lines, *left_out_lines(document)])


def left_out_lines(document: Mapping[str, Any]) -> list[str]:
    skipped, lines = document["skipped"], []
    for question in document["questions"]:
        taken = f"Taken: {question['chosen']}." if question["chosen"] else "Its sets wait."
        lines.append(f"Asked: {question['asks']} {taken}")
        of = f"; one of: {', '.join(question['choices'])}" if question["choices"] else ""
        lines.append(f'  To answer it: {question["id"]} = "..." in the answers file{of}')
    if skipped:
        lines.append(f"Left out, {len(skipped)} cell{'' if len(skipped) == 1 else 's'}:")
        lines += [f"  {one['place']}: {one['text']!r}: {one['why']}"
                  for one in skipped[:_MOST_SKIPPED_SHOWN]]  # fmt: skip
        if len(skipped) > _MOST_SKIPPED_SHOWN:
            lines.append(f"  and {len(skipped) - _MOST_SKIPPED_SHOWN} more (--json lists all)")
    return lines


def import_checkins(question: ImportQuestion, columns: Sequence[str]) -> ImportAnswer:
    """Reads the files by `columns` ("date=Day"), or by their headings where there are none;
    BadInput for a column that is not there, and when no check-in can be read."""
    _, wishes = wishes_of(question)
    draft = checkins_of(question.files, _by_key(columns), wishes)
    check_answers(wishes.answers, draft.questions, question.answers)
    document = {
        "format": FORMAT,
        "checkins": len(draft.checkins),
        "columns": [
            {"column": one.heading, "taken_as": one.key, "unit": one.unit} for one in draft.columns
        ],
        **left_and_asked(draft.skipped, draft.questions),
    }
    content = checkins_csv(draft.checkins)
    return ImportAnswer(document, _checkins_text(document), sets_csv=content)


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
        problems.append(Problem(column="column", says=says, mend=mend))
    BadInput.raise_any(problems)
    return named


def _checkins_text(document: dict[str, Any]) -> str:
    count = document["checkins"]
    lines = [f"{count} check-in{'' if count == 1 else 's'} read."]
    for one in document["columns"]:
        unit = f", in {one['unit']}" if one["unit"] else ""
        lines.append(f'Column "{one["column"]}" is taken as {one["taken_as"]}{unit}.')
    return "\n".join([*lines, *left_out_lines(document)])
