"""What a file does not say, asked of the coach."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.importing.calendar import Calendar

_ORDERS = {"day first": "dm", "month first": "md"}


@dataclass(frozen=True, slots=True)
class Question:
    """What the file does not say. `chosen` is what was taken."""

    id: str
    asks: str
    choices: tuple[str, ...]
    chosen: str
    about: str = ""
    """The lift's name as typed, where that is what is asked."""


def question_of(
    id: str,
    asks: str,
    choices: Sequence[str],
    default: str,
    answers: Mapping[str, str],
    about: str = "",
) -> Question:
    """The question with the answer given, else the default; BadInput where it is no choice."""
    answer = answers.get(id)
    if answer is not None and answer not in choices and id != "week-1":
        says = f'"{answer}" is no answer to this question'
        mend = "write one of: " + ", ".join(choices)
        raise BadInput(Problem(key=id, says=says, mend=mend))
    return Question(id, asks, tuple(choices), answer or default, about)


def order_in(answers: Mapping[str, str]) -> str | None:
    """`dm` or `md` where the coach said which number of a date is the day."""
    return _ORDERS.get(answers.get("date-order", ""))


def questions_of_days(calendar: Calendar, answers: Mapping[str, str]) -> Iterator[Question]:
    """What the written days leave open: which number is the day, and which year."""
    if calendar.order_is_open or order_in(answers):
        likely = "month first" if calendar.order == "md" else "day first"
        asks = "In dates such as 03/04, which number is the day?"
        yield question_of("date-order", asks, tuple(_ORDERS), likely, answers)
    if calendar.year_is_open:
        year = calendar.year
        asks = "Which year are these dates of? (or give --year)"
        choices = (str(year - 1), str(year), str(year + 1))
        yield question_of("year", asks, choices, str(year), answers)
