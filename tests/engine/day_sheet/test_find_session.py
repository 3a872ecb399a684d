"""Which session is meant, and what a person hears when none or several are."""

from datetime import date

import pytest

from blockwright.engine.day_sheet import session_in_week, session_on, sessions_of
from blockwright.engine.errors import BadInput
from sheet_people import MONDAY, block


def test_by_date_and_by_week() -> None:
    assert session_on(block(), date(2027, 1, 7)).session.session == 2
    assert session_in_week(block(), 2, 3).session.day == date(2027, 1, 14)
    assert session_in_week(block(), 4).week.kind == "deload"


def test_a_day_without_a_session_names_the_nearest() -> None:
    with pytest.raises(BadInput) as caught:
        session_on(block(), date(2027, 1, 6))
    text = str(caught.value)
    assert "no session on 2027-01-06" in text
    assert "Mon 4 January 2027 at 06:30 (week 1, session 1)" in text
    assert "Thu 7 January 2027 at 18:00 (week 1, session 2)" in text


def test_two_sessions_on_a_day_name_both_times() -> None:
    second_monday = date(2027, 1, 11)
    with pytest.raises(BadInput) as caught:
        session_on(block(), second_monday)
    assert "06:30" in str(caught.value)
    assert "17:30" in str(caught.value)
    assert caught.value.problems[0].column == "session"
    assert session_on(block(), second_monday, 2).session.start_time == "17:30"


@pytest.mark.parametrize(
    ("week", "session", "says"),
    [(9, 1, "weeks 1 to 4"), (1, 5, "no session 5 in week 1"), (1, None, "2 sessions in week 1")],
)
def test_a_week_or_number_that_is_not_there(week: int, session: int | None, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        session_in_week(block(), week, session)
    assert says in str(caught.value)


def test_sessions_come_in_the_order_of_time() -> None:
    times = [(one.session.day, one.session.start_time) for one in sessions_of(block())]
    assert times == sorted(times)
    assert times[0][0] == MONDAY
