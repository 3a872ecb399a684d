"""The `lifter` column: nobody named, everybody named, some named; one person spelt in two ways."""

from pathlib import Path

import pytest

from blockwright.engine.errors import BadInput
from blockwright.files.case_files import filter_lifter, read_log
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.checkins_file import read_checkins
from blockwright.files.lifter_file import lifter_from_table
from blockwright.files.sets_file import read_sets

SETS = "when,lift,load,unit,reps,rir,lifter"
ANA = lifter_from_table({"name": "Ana Invented", "bodyweight": 70}, None).value


def written(folder: Path, *names: str) -> Path:
    file = folder / "log.csv"
    rows = [f"2027-01-{n:02d},pull-up,0,kg,{n},1,{name}" for n, name in enumerate(names, 4)]
    file.write_text("\n".join([SETS, *rows]) + "\n", encoding="utf-8")
    return file


def test_a_column_that_is_empty_throughout_is_one_person(tmp_path: Path) -> None:
    read = read_sets(written(tmp_path, "", " ", ""), builtin_catalogue(), ANA)
    assert [done.lifter for done in read.value] == [None] * 3
    assert not [w for w in read.warnings if w.column == "lifter"]
    assert len(filter_lifter(read.value, ANA, "log.csv")) == 3


def test_rows_without_a_name_beside_named_ones_are_named(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_sets(written(tmp_path, "", "Ana", " "), builtin_catalogue())
    assert [(p.row, p.column) for p in caught.value.problems] == [(2, "lifter"), (4, "lifter")]


def test_capitals_and_spaces_make_no_second_person_and_it_is_said(tmp_path: Path) -> None:
    file = written(tmp_path, "ana invented", "Ana  Invented ", " ANA INVENTED", "ana invented")
    alone = read_sets(file, builtin_catalogue())
    assert {done.lifter for done in alone.value} == {"ana invented"}, "as it came first"
    said = [w for w in alone.warnings if w.column == "lifter"]
    assert [w.row for w in said] == [3, 4]
    assert '"Ana Invented" is taken for "ana invented"' in said[0].says
    known = read_sets(file, builtin_catalogue(), ANA)
    assert {done.lifter for done in known.value} == {"Ana Invented"}, "as the lifter file has it"
    assert filter_lifter(known.value, ANA, "log.csv")[0].lifter is None


def test_one_person_in_two_spellings_keeps_the_bodyweight(tmp_path: Path) -> None:
    """Two people would leave the pull-ups without a bodyweight, and so without an estimate."""
    lifter = tmp_path / "ana.toml"
    lifter.write_text('name = "Ana Invented"\nbodyweight = 70\n', encoding="utf-8")
    log = read_log(written(tmp_path, "ANA INVENTED", "ana invented"), lifter)
    (case,) = log.cases
    belief = case.beliefs().own("pull-up", "Ana Invented")
    assert belief is not None
    assert belief.sets_used == 2


def test_two_people_stay_two_and_the_right_one_is_picked(tmp_path: Path) -> None:
    sets = read_sets(written(tmp_path, "Bo", "ana invented"), builtin_catalogue()).value
    assert {done.lifter for done in sets} == {"Bo", "ana invented"}
    assert [done.reps for done in filter_lifter(sets, ANA, "log.csv")] == [(5,)]


def test_check_ins_read_names_alike(tmp_path: Path) -> None:
    file = tmp_path / "checkins.csv"

    def read(*names: str) -> list[str | None]:
        rows = [f"2027-01-{n:02d},sleep,,3,,{name}" for n, name in enumerate(names, 4)]
        file.write_text("\n".join(["when,measure,about,value,unit,lifter", *rows]), "utf-8")
        return [said.lifter for said in read_checkins(file, ANA.name).value]

    assert read("", "") == [None, None]
    assert read("ANA invented", "Ana Invented") == ["Ana Invented"] * 2
    with pytest.raises(BadInput) as caught:
        read("Ana", "")
    assert caught.value.problems[0].row == 3
