"""The sets file: what each cell becomes, the order of rows, and messy files that still read."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.gym import Gym
from blockwright.engine.training import Lifter, Moment, SetDone
from blockwright.engine.units import KG_PER_LB
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.reading import Reading
from blockwright.files.sets_file import read_sets

HEADER = "when,lift,set,load,unit,reps,rir,rest_s,method,full_range,pain,note"
ROW = "2027-01-04,barbell back squat,1,100,kg,8,2,150,straight,yes,0,"
LIFTER = Lifter(name="Ana", bodyweight=80, bodyweight_kg=80, gym=Gym(kit=frozenset(), unit="kg"))

Read = Callable[..., Reading[tuple[SetDone, ...]]]


@pytest.fixture
def read(tmp_path: Path) -> Read:
    def read_text(
        content: str | bytes, lifter: Lifter | None = None
    ) -> Reading[tuple[SetDone, ...]]:
        file = tmp_path / "log.csv"
        file.write_bytes(content if isinstance(content, bytes) else content.encode())
        return read_sets(file, builtin_catalogue(), lifter)

    return read_text


def test_every_cell_of_a_plain_row(read: Read) -> None:
    row = "2027-01-04 18:30,squat,2,225,lb,8,1-2,150,superset,no,3,felt fine,yes,Ana"
    (done,) = read(f"{HEADER},confirmed,lifter\n{row}\n").value
    assert done == SetDone(
        moment=Moment(day=date(2027, 1, 4), at=datetime(2027, 1, 4, 18, 30)),
        lift="barbell back squat",
        set_number=2,
        loads_kg=(225 * KG_PER_LB,),
        entered_load="225",
        entered_unit="lb",
        reps=(8,),
        rir_low=1,
        rir_high=2,
        rest_s=150,
        method="superset",
        full_range=False,
        pain=3,
        note="felt fine",
        confirmed=True,
        lifter="Ana",
        row=2,
    )
    assert done.rir == 1.5


def test_empty_cells_say_nothing(read: Read) -> None:
    (done,) = read("when,lift,load,unit,reps\n2027-01-04,bench press,60,kg,0\n").value
    assert (done.rir, done.rest_s, done.pain, done.lifter) == (None, None, None, None)
    assert (done.method, done.full_range, done.confirmed) == ("straight", True, False)
    assert done.set_number == 1
    assert done.reps == (0,), "a failed attempt is kept"


def test_parts_of_rest_pause_and_drop_sets(read: Read) -> None:
    rest_pause, drop, one_load = read(
        f"{HEADER}\n2027-01-04,leg curl,1,40,kg,15+4+4+3,0,,rest-pause,,,\n"
        "2027-01-04,leg curl,2,60+45+30,kg,12+8+7,0,,drop set,,,\n"
        "2027-01-04,leg curl,3,60,kg,12+8,0,,drop,,,\n"
    ).value
    assert rest_pause.reps == (15, 4, 4, 3)
    assert rest_pause.loads_kg == (40, 40, 40, 40)
    assert (drop.reps, drop.loads_kg, drop.method) == ((12, 8, 7), (60, 45, 30), "drop")
    assert one_load.loads_kg == (60, 60)


def test_loads_and_parts_must_agree(read: Read) -> None:
    with pytest.raises(BadInput, match="2 loads for 1 part of repetitions"):
        read(f"{HEADER}\n2027-01-04,leg curl,1,60+45,kg,8,0,,drop,,,\n")


def test_bodyweight_lifts_may_have_no_load(read: Read) -> None:
    sets = read(
        "when,lift,load,unit,reps\n2027-01-04,pull-up,0,kg,8\n2027-01-04,pull-up,,,7\n"
        "2027-01-04,pull-up,BW,,6\n2027-01-04,pull-up,+10,kg,5\n"
    ).value
    assert [done.load_kg for done in sets] == [0, 0, 0, 10]
    assert [done.set_number for done in sets] == [1, 2, 3, 4]


def test_assistance_must_leave_something_to_lift(read: Read) -> None:
    text = "when,lift,load,unit,reps\n2027-01-04,assisted pull-up,85,kg,8\n"
    assert read(text).value, "without a bodyweight nothing can be said"
    with pytest.raises(BadInput, match="must be below 80 kg"):
        read(text, LIFTER)
    with pytest.raises(BadInput, match="must be below 80 kg"):
        read(text.replace("8\n", "8,left\n") + "2027-01-04,leg curl,40,kg,8,over\n", LIFTER)
    assert read(text, replace(LIFTER, bodyweight_kg=90.0)).value
    several = "when,lift,load,unit,reps,lifter\n" + "".join(
        f"2027-01-04,assisted pull-up,85,kg,8,{name}\n" for name in ("Ana", "Bo")
    )
    assert len(read(several, LIFTER).value) == 2, "it may be someone heavier"


def test_an_unknown_lift_is_kept_with_near_misses(read: Read) -> None:
    reading = read(f"{HEADER}\n" + ROW.replace("barbell back squat", "barbel bak squat") + "\n")
    assert reading.value[0].lift == "barbel bak squat"
    (warning,) = reading.warnings
    assert (warning.row, warning.column) == (2, "lift")
    assert "barbell back squat" in warning.mend


@pytest.mark.parametrize("typed", ["Barbell Back Squat", " barbell  back-squat ", "BACK SQUAT"])
def test_spelling_of_a_known_lift_does_not_matter(read: Read, typed: str) -> None:
    reading = read(f"{HEADER}\n" + ROW.replace("barbell back squat", typed) + "\n")
    assert reading.value[0].lift == "barbell back squat"
    assert not reading.warnings


def test_two_spellings_of_an_unknown_lift_are_one_lift(read: Read) -> None:
    rows = [ROW.replace("barbell back squat", name) for name in ("Yoke Walk", "yoke  walk")]
    reading = read("\n".join([HEADER, *rows]).replace(",1,100", ",,100"))
    assert {done.lift for done in reading.value} == {"Yoke Walk"}
    assert len([w for w in reading.warnings if w.column == "lift"]) == 1


def test_rows_come_back_in_order_of_time(read: Read) -> None:
    sets = read(
        f"{HEADER}\n"
        "2027-01-06,leg curl,1,40,kg,8,,,,,,\n"
        "2027-01-04,leg press,2,150,kg,8,,,,,,\n"
        "2027-01-04,leg curl,1,40,kg,9,,,,,,\n"
        "2027-01-04,leg press,1,150,kg,10,,,,,,\n"
        "2027-01-05 18:00,leg curl,1,40,kg,7,,,,,,\n"
        "2027-01-05 06:00,leg curl,1,40,kg,6,,,,,,\n"
    ).value
    assert [done.row for done in sets] == [5, 4, 3, 7, 6, 2]


def test_sets_after_midnight_belong_to_the_evening_their_session_began(read: Read) -> None:
    rows = [
        "2027-01-04 23:50,leg curl,1,40,kg,8,,,,,,",
        "2027-01-05 00:10,leg curl,3,40,kg,8,,,,,,",
        "2027-01-05 00:00,leg curl,2,40,kg,8,,,,,,",
        "2027-01-05,leg press,1,90,kg,8,,,,,,",
        "2027-01-05 06:00,leg curl,1,40,kg,8,,,,,,",
    ]
    reading = read("\n".join([HEADER, *rows]))
    assert [done.row for done in reading.value] == [2, 4, 3, 5, 6]
    assert [done.moment.day.day for done in reading.value] == [4, 4, 4, 5, 5]
    (warning,) = [w for w in reading.warnings if w.column == "when"]
    assert "2027-01-04 (2 such rows)" in warning.says


def test_a_night_worker_of_another_name_starts_an_own_session(read: Read) -> None:
    rows = [
        "2027-01-04 23:50,leg curl,1,40,kg,8,,,,,,,Ana",
        "2027-01-05 00:05,leg curl,1,40,kg,8,,,,,,,Ben",
    ]
    assert [d.moment.day.day for d in read("\n".join([HEADER + ",lifter", *rows])).value] == [4, 5]


def test_two_sessions_on_a_plain_date_keep_the_order_of_the_file(read: Read) -> None:
    rows = "".join(
        f"2027-01-04,leg curl,{number},{load},kg,8,,,,,,\n"
        for load in (40, 45)
        for number in (1, 2, 3)
    )
    reading = read(f"{HEADER}\n{rows}")
    assert [done.row for done in reading.value] == [2, 3, 4, 5, 6, 7]
    assert "both are kept (3 such rows)" in reading.warnings[0].says


def test_exact_repeats_are_left_out_and_said(read: Read) -> None:
    reading = read(f"{HEADER}\n{ROW}\n{ROW}\n{ROW}\n")
    assert len(reading.value) == 1
    (warning,) = reading.warnings
    assert warning.row == 3
    assert "repeats row 2 exactly" in warning.says
    assert "2 such rows" in warning.says


def test_equal_sets_without_a_number_are_not_repeats(read: Read) -> None:
    text = "when,lift,load,unit,reps\n" + "2027-01-04,bench press,60,kg,8\n" * 3
    assert [done.set_number for done in read(text).value] == [1, 2, 3]


def test_extra_columns_and_cells_are_kept_as_notes(read: Read) -> None:
    reading = read(f"{HEADER},tempo\n{ROW}good,3-1-1,left over\n")
    assert reading.value[0].note == "good; tempo: 3-1-1; left over"


def test_rows_count_as_a_spreadsheet_shows_them(read: Read) -> None:
    text = f'{HEADER}\n\n{ROW}"two\nlines"\n{ROW.replace(",8,2,", ",x,2,")}\n'
    with pytest.raises(BadInput) as caught:
        read(text)
    assert [problem.row for problem in caught.value.problems] == [4]


def _is_squat(sets: tuple[SetDone, ...]) -> bool:
    (done,) = sets
    return (
        done.moment.day == date(2027, 1, 4)
        and done.lift == "barbell back squat"
        and done.load_kg in (100, 82.5)
        and done.reps == (8,)
        and done.rir == 2
    )


SEMICOLONS = f"{HEADER}\n{ROW}\n".replace(",", ";")
SQUAT = f"{HEADER}\n{ROW}\n"

# (content, what a warning must say; "" for none)
MESSY: dict[str, tuple[str | bytes, str]] = {
    "byte order mark": (SQUAT.encode("utf-8-sig"), ""),
    "Windows line ends": (SQUAT.replace("\n", "\r\n"), ""),
    "old Mac line ends": (SQUAT.replace("\n", "\r"), ""),
    "no last line end": (SQUAT.rstrip("\n"), ""),
    "Latin-1": ((SQUAT.rstrip() + "tr\u00e8s lourd\n").encode("latin-1"), "Windows-1252"),
    "cp1252": ((SQUAT.rstrip() + "\u201clourd\u201d\n").encode("cp1252"), "Windows-1252"),
    "undefined in cp1252": (SQUAT.rstrip().encode() + b"\x81\n", "Windows-1252"),
    "UTF-16": (SQUAT.encode("utf-16"), "UTF-16"),
    "semicolons": (SEMICOLONS, "semicolons"),
    "decimal comma": (SEMICOLONS.replace(";100;", ";82,5;"), "decimal comma"),
    "quoted decimal comma": (SQUAT.replace(",100,", ',"82,5",'), "decimal comma"),
    "tabs": (SQUAT.replace(",", "\t"), "tabs"),
    "a sep line": ("sep=;\n" + SEMICOLONS, "semicolons"),
    "blank lines": (SQUAT.replace("\n", "\n\n , ,\n"), ""),
    "blank lines first": ("\n\n" + SQUAT, ""),
    "capitals and spaces": (
        SQUAT.replace("when,lift,set", " When , LIFT,Set").replace("rest_s", "Rest (s)"), ""),
    "trailing columns": (SQUAT.replace("\n", ",,,\n"), ""),
    "short row": (f"{HEADER}\n2027-01-04,squat,1,100,kg,8,2\n", ""),
    "Excel date": (SQUAT.replace("2027-01-04", "46391"), "2027-01-04"),
    "Excel date and time": (SQUAT.replace("2027-01-04", "46391.75"), "2027-01-04"),
    "slashes": (SQUAT.replace("2027-01-04", "2027/01/04"), "2027-01-04"),
    "month name": (SQUAT.replace("2027-01-04", "4 Jan 2027"), "2027-01-04"),
    "month first name": (SQUAT.replace("2027-01-04", '"January 4, 2027"'), "2027-01-04"),
    "no dashes": (SQUAT.replace("2027-01-04", "20270104"), "2027-01-04"),
    "ISO with T and zone": (SQUAT.replace("2027-01-04", "2027-01-04T18:30:00+01:00"), "zone"),
    "quotes around everything": (
        "\n".join(",".join(f'"{cell}"' for cell in line.split(",")) for line in SQUAT.split()[:1])
        + '\n"2027-01-04","squat","1","100","kg","8","2"\n', ""),
    "unit in the load": (SQUAT.replace(",100,kg,", ",100 kg,,"), ""),
    "spelled unit": (SQUAT.replace(",kg,", ",Kgs,"), ""),
    "whole numbers with .0": (SQUAT.replace(",8,2,", ",8.0,2.0,"), ""),
    "spaces in cells": (SQUAT.replace(",100,", ", 100 ,").replace("squat", "squat "), ""),
    "range with a long dash": (SQUAT.replace(",8,2,", ",8,1.5\u20132.5,"), ""),
    "yes as TRUE": (SQUAT.replace(",yes,", ",TRUE,"), ""),
    "stray quote in a note": (SQUAT.rstrip() + '6" box\n', ""),
    "quote after a quoted note": (SQUAT.rstrip() + '"deep" sets\n', ""),
}  # fmt: skip


@pytest.mark.parametrize("case", MESSY)
def test_a_messy_file_reads_and_says_what_was_assumed(read: Read, case: str) -> None:
    content, warning = MESSY[case]
    reading = read(content)
    assert _is_squat(reading.value)
    said = [str(problem) for problem in reading.warnings]
    assert any(warning in text for text in said) if warning else not said, said


def test_enough_messy_files() -> None:
    assert len(MESSY) >= 20


def test_mixed_units_in_one_file(read: Read) -> None:
    sets = read(f"{HEADER}\n{ROW}\n" + ROW.replace(",1,100,kg,", ",2,225,lb,") + "\n").value
    assert [(done.entered_load, done.entered_unit) for done in sets] == [
        ("100", "kg"), ("225", "lb"),
    ]  # fmt: skip
    assert sets[1].load_kg == pytest.approx(102.058, abs=0.001)


def test_a_file_without_rows_is_no_error(read: Read) -> None:
    reading = read(f"{HEADER}\n")
    assert reading.value == ()
    assert "no rows" in reading.warnings[0].says


def test_near_misses_of_optional_columns_are_said(read: Read) -> None:
    text = "when,lift,load,unit,reps,rri,rpe\n2027-01-04,bench press,60,kg,8,2,8\n"
    warnings = {problem.column: problem for problem in read(text).warnings}
    assert 'did you mean "rir"' in warnings["rri"].mend
    assert "10 minus RPE" in warnings["rpe"].mend


def test_assumptions_are_said_once_a_kind(read: Read) -> None:
    rows = "".join(f"2027-01-04;leg curl;{n};42,5;kg;8;2;;;;;\n" for n in range(1, 50))
    commas: list[Problem] = [
        w for w in read(HEADER.replace(",", ";") + "\n" + rows).warnings if w.column == "load"
    ]
    assert [w.row for w in commas] == [2]
