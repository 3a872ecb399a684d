"""Dates as people write them: what is read, what is assumed aloud, what is refused."""

from datetime import date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.files.csv_dates import moment_of
from blockwright.files.csv_values import Assumptions, CellError
from blockwright.files.limits import FIRST_YEAR, LAST_YEAR

DAY = date(2027, 4, 13)

FIXED = settings(deadline=None, derandomize=True, max_examples=300)

dates = st.dates(min_value=date(FIRST_YEAR, 1, 1), max_value=date(LAST_YEAR, 12, 31))


def read(text: str) -> tuple[date, datetime | None, int]:
    """Day, time and number of assumptions."""
    assume = Assumptions("log.csv")
    moment = moment_of(text, assume)
    return moment.day, moment.at, len(assume.warnings)


@pytest.mark.parametrize("text", ["2027-04-13", " 2027-04-13 ", "2027-4-13"])
def test_iso_dates_need_no_assumption(text: str) -> None:
    assert read(text) == (DAY, None, 0)


@pytest.mark.parametrize(
    "text", ["2027-04-13 18:05", "2027-04-13T18:05", "2027-04-13T18:05:00", "2027-04-13 6:05 pm"]
)
def test_iso_times_need_no_assumption(text: str) -> None:
    assert read(text) == (DAY, datetime(2027, 4, 13, 18, 5), 0)


@pytest.mark.parametrize(
    "text",
    [
        "13/04/2027", "4/13/2027", "13.4.2027", "13-04-2027", "2027/04/13", "2027.04.13",
        "20270413", "13 April 2027", "13. Apr 2027", "13-Apr-2027", "April 13, 2027",
        "apr 13 2027", "Tue 13 Apr 2027", "13. April 2027", "46490",
    ],
)  # fmt: skip
def test_other_forms_with_one_reading_are_read_and_said(text: str) -> None:
    assert read(text) == (DAY, None, 1)


def test_a_date_whose_day_is_its_month_has_one_reading() -> None:
    assert read("04/04/2027")[0] == date(2027, 4, 4)


def test_a_time_zone_is_dropped_aloud() -> None:
    assert read("2027-04-13T18:05:00Z") == (DAY, datetime(2027, 4, 13, 18, 5), 1)


def test_the_fraction_of_a_serial_number_is_the_time() -> None:
    assert read("46490.75") == (DAY, datetime(2027, 4, 13, 18, 0), 1)


@pytest.mark.parametrize(
    "text",
    [
        "03/04/2027", "3.4.2027", "03-04-2027", "12/11/2027", "13/04/27", "27/04/13", "1899-12-31",
        "2150-01-01", "00000", "10000", "99999", "2027-02-30", "2027-13-01", "31/04/2027", "2027",
        "2027-04-13 25:00", "2027-04-13 13:00 pm", "2027-04-13 noon", "Smarch 13 2027", "yesterday",
        "0000-00-00", "13/04-2027", "13 Apr 27", "13 April", "",
    ],
)  # fmt: skip
def test_nonsense_and_two_readings_are_refused_with_a_mend(text: str) -> None:
    with pytest.raises(CellError) as caught:
        read(text)
    assert caught.value.says
    assert caught.value.mend


@FIXED
@given(dates)
def test_every_iso_date_reads_as_itself(day: date) -> None:
    assert read(day.isoformat()) == (day, None, 0)


@FIXED
@given(dates)
def test_every_serial_number_reads_as_the_spreadsheets_day(day: date) -> None:
    assert read(str((day - date(1899, 12, 30)).days))[0] == day


@FIXED
@given(dates)
def test_day_first_is_read_only_where_nothing_else_is_possible(day: date) -> None:
    text = f"{day.day:02d}/{day.month:02d}/{day.year}"
    if day.day <= 12 and day.day != day.month:
        with pytest.raises(CellError):
            read(text)
    else:
        assert read(text)[0] == day


@FIXED
@given(st.text(max_size=30))
def test_any_text_is_a_moment_or_a_cell_error(text: str) -> None:
    try:
        day = read(text)[0]
    except CellError:
        return
    assert FIRST_YEAR <= day.year <= LAST_YEAR
