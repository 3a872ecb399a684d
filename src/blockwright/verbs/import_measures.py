"""A scale's or a watch's export on the site: its check-ins, and which column is what as questions
that the coach may answer otherwise."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.importing.asking import Question, question_of
from blockwright.files.importing.draft import Wishes
from blockwright.files.importing.measure_columns import DATE
from blockwright.files.importing.measures import CheckInsDraft, checkins_of

NO_COLUMN = "no column"
_ASKED = {
    DATE: "Which column is the day?",
    "bodyweight": "Which column is the bodyweight?",
    "sleep_h": "Which column is the hours asleep?",
    "steps": "Which column is the steps?",
}


def measures_among(paths: Sequence[Path], wishes: Wishes) -> CheckInsDraft:
    """What exports hold, by their headings; of one file the columns are asked about, and the
    answers obeyed. BadInput where the headings name no measure, or no column is left."""
    guessed = checkins_of(paths, {}, wishes)
    if len(paths) > 1:
        return guessed
    taken = {one.key: one.heading for one in guessed.columns}
    asked = [_asked(key, guessed.headings, taken, wishes.answers) for key in _ASKED]
    chosen = {
        question.id.removeprefix("column-"): question.chosen
        for question in asked
        if question.chosen != NO_COLUMN
    }
    if set(chosen) <= {DATE}:
        says, mend = "no column is taken", "choose one, or forget the file"
        raise BadInput(Problem(file=paths[0].name, says=says, mend=mend))
    draft = checkins_of(paths, chosen, wishes)
    return replace(draft, questions=(*asked, *draft.questions))


def _asked(
    key: str, headings: Sequence[str], taken: Mapping[str, str], answers: Mapping[str, str]
) -> Question:
    choices = headings if key == DATE else (*headings, NO_COLUMN)
    return question_of(f"column-{key}", _ASKED[key], choices, taken.get(key, NO_COLUMN), answers)
