"""The check-ins file: measures, what they are about, scales and units."""

from datetime import date
from pathlib import Path

import pytest

from blockwright.engine.errors import BadInput
from blockwright.engine.training import CheckIn, Moment
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.checkins_file import read_checkins
from blockwright.files.facts_csv import checkins_csv
from blockwright.files.reading import Reading

HEADER = "when,measure,about,value,unit"


def read(tmp_path: Path, text: str) -> Reading[tuple[CheckIn, ...]]:
    file = tmp_path / "checkins.csv"
    file.write_text(text, encoding="utf-8")
    return read_checkins(file)


def test_every_measure_of_the_contract(tmp_path: Path) -> None:
    reading = read(
        tmp_path,
        f"{HEADER}\n2027-01-04,sleep,,2,\n2027-01-04,Fatigue,,3,\n2027-01-04,stress,,7,\n"
        "2027-01-04,soreness,,1,\n2027-01-04,sore,Upper Back,10,\n2027-01-04,pain,left knee,0,\n"
        "2027-01-04,session rpe,,7.5,\n2027-01-04,session_minutes,,75,min\n"
        "2027-01-04,bodyweight,,176.4,lb\n",
    )
    assert not reading.warnings
    assert [(c.measure, c.about, round(c.value, 2)) for c in reading.value] == [
        ("sleep", None, 2), ("fatigue", None, 3), ("stress", None, 7), ("soreness", None, 1),
        ("sore", "upper_back", 10), ("pain", "left knee", 0), ("session_rpe", None, 7.5),
        ("session_minutes", None, 75), ("bodyweight", None, 80.01),
    ]  # fmt: skip
    assert reading.value[0].moment == Moment(day=date(2027, 1, 4))
    assert reading.value[-1].entered_unit == "lb"


def test_girths_are_read_in_centimetres_and_written_back_as_they_came(tmp_path: Path) -> None:
    rows = "2027-01-04,waist,,33.5,in\n2027-01-04,thigh,,58.5,cm\n2027-01-04,arm,,38,\n"
    values = read(tmp_path, f"{HEADER}\n{rows}").value
    assert [round(one.value, 2) for one in values] == [85.09, 58.5, 38]
    again = tmp_path / "again.csv"
    again.write_text(checkins_csv(values), encoding="utf-8")
    assert "waist,,33.5,in" in again.read_text(encoding="utf-8")
    assert [one.value for one in read_checkins(again).value] == [one.value for one in values]


def test_pain_that_nobody_can_place_is_kept_and_said(tmp_path: Path) -> None:
    file = tmp_path / "checkins.csv"
    rows = ("left knee", "bench press", "knea", "knea", "that old spot", "upper back")
    said = "\n".join(f"2027-01-04 0{at}:00,pain,{about},3," for at, about in enumerate(rows, 1))
    file.write_text(f"{HEADER}\n{said}\n", encoding="utf-8")
    reading = read_checkins(file, catalogue=builtin_catalogue())
    assert len(reading.value) == 6
    assert [(w.row, w.column) for w in reading.warnings] == [(4, "about"), (6, "about")]
    assert '"knee"' in reading.warnings[0].mend
    assert not read_checkins(file).warnings, "without a catalogue nobody knows the lifts"


def test_rows_come_back_in_order_of_time(tmp_path: Path) -> None:
    reading = read(
        tmp_path,
        f"{HEADER}\n2027-01-05,sleep,,2,\n2027-01-04 07:00,sleep,,3,\n2027-01-04,stress,,4,\n",
    )
    assert [checkin.row for checkin in reading.value] == [4, 3, 2]


def test_semicolons_decimal_commas_and_repeats_are_said(tmp_path: Path) -> None:
    row = "2027-01-04;bodyweight;;80,5;kg\n"
    reading = read(tmp_path, HEADER.replace(",", ";") + "\n" + row + row)
    assert [checkin.value for checkin in reading.value] == [80.5]
    said = " ".join(warning.says for warning in reading.warnings)
    assert "semicolons" in said
    assert "decimal comma" in said
    assert "repeats row 2" in said


def test_several_people_in_one_file(tmp_path: Path) -> None:
    text = f"{HEADER},lifter\n2027-01-04,sleep,,2,,Ana\n2027-01-04,sleep,,2,,Bo\n"
    assert [checkin.lifter for checkin in read(tmp_path, text).value] == ["Ana", "Bo"]


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("2027-01-04,sleep,,0,", "value"),
        ("2027-01-04,stress,,8,", "value"),
        ("2027-01-04,pain,knee,11,", "value"),
        ("2027-01-04,sore,knee,1,", "about"),
        ("2027-01-04,session_rpe,,-1,", "value"),
        ("2027-01-04,session_minutes,,90,kg", "value"),
        ("2027-01-04,bodyweight,,80 lb,kg", "value"),
        ("2027-01-04,waist,,8,", "value"),
        ("2027-01-04,waist,,900,cm", "value"),
        ("2027-01-04,waist,,84,kg", "value"),
        ("2027-01-04,arm,,80 lb,", "value"),
        ("04/05/2027,sleep,,1,", "when"),
    ],
)
def test_values_off_their_scale_are_refused(tmp_path: Path, row: str, column: str) -> None:
    with pytest.raises(BadInput) as caught:
        read(tmp_path, f"{HEADER}\n{row}\n")
    assert [(p.row, p.column) for p in caught.value.problems] == [(2, column)]


def test_a_value_off_the_scale_is_told_which_end_is_worst(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read(tmp_path, f"{HEADER}\n2027-01-04,sleep,,9,\n")
    assert "1 is best, 7 is worst" in caught.value.problems[0].mend
