"""Files made to exhaust a reader are refused before they are parsed, and long lists are cut."""

import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from blockwright.engine.errors import MOST_TOLD, BadInput, Problem
from blockwright.files import archive_zip, sets_file
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.checkins_file import read_checkins
from blockwright.files.csv_text import read_csv
from blockwright.files.json_text import load_json
from blockwright.files.limits import (
    MOST_BYTES,
    MOST_COLUMNS,
    MOST_DEPTH,
    MOST_ROWS,
    MOST_TOML_BYTES,
    MOST_WHOLE,
    require_storable,
)
from blockwright.files.sets_file import read_sets
from blockwright.files.toml_checks import load_toml
from blockwright.verbs.check_files import check_files

CATALOGUE = builtin_catalogue()
HEADER = b"when,lift,load,unit,reps\n"


def made(folder: Path, name: str, content: bytes) -> Path:
    file = folder / name
    file.write_bytes(content)
    return file


@pytest.mark.parametrize(
    "text",
    [
        "a." * 6000 + "b = 1",
        "[" + "a . " * 6000 + "b]",
        'name = {"a"' + ".'a'" * 6000 + " = 1}",
        "x = 1\n" + "a." * 40 + "b = 1",
    ],
)
def test_a_key_of_thousands_of_parts_costs_nothing(tmp_path: Path, text: str) -> None:
    file = made(tmp_path, "ana.toml", text.encode())
    tracemalloc.start()
    try:
        with pytest.raises(BadInput, match=r"row \d.*dots"):
            load_toml(file)
        assert tracemalloc.get_traced_memory()[1] < 5 * 2**20
    finally:
        tracemalloc.stop()


def test_a_number_with_dots_in_a_note_is_no_deep_key(tmp_path: Path) -> None:
    note = "see 1.2.3, 4.5.6 ... and the rest. Then. Again."
    assert load_toml(made(tmp_path, "ana.toml", f'name = "{note}"'.encode())) == {"name": note}


@pytest.mark.parametrize("text", ["a" * 900_000, '"' * 900_000, "a." * 15 + "b" * 900_000])
def test_the_look_at_the_keys_is_quick(tmp_path: Path, text: str) -> None:
    began = time.monotonic()
    with pytest.raises(BadInput):
        load_toml(made(tmp_path, "ana.toml", text.encode()))
    assert time.monotonic() - began < 5


@pytest.mark.parametrize(
    ("name", "size"),
    [("a.toml", MOST_TOML_BYTES + 1), ("a.csv", MOST_BYTES + 1), ("a.json", MOST_BYTES + 1)],
)
def test_files_larger_than_any_of_ours_are_not_read(tmp_path: Path, name: str, size: int) -> None:
    file = tmp_path / name
    with file.open("wb") as out:
        out.write(HEADER)
        out.truncate(size)
    read = {".toml": load_toml, ".json": load_json}.get(
        file.suffix, lambda f: read_sets(f, CATALOGUE)
    )
    with pytest.raises(BadInput, match=r"is larger than \d+ MB"):
        read(file)


def test_too_many_rows_or_columns_are_said(tmp_path: Path) -> None:
    rows = made(tmp_path, "rows.csv", HEADER + b"x\n" * (MOST_ROWS + 1))
    wide = made(tmp_path, "wide.csv", HEADER[:-1] + b",c" * MOST_COLUMNS + b"\n1\n")
    for file, says in ((rows, "rows"), (wide, "columns")):
        with pytest.raises(BadInput, match=f"more than .* {says}"):
            read_csv(file, (), ())


@pytest.mark.parametrize("below", [lambda inner: {"a": inner}, lambda inner: [inner]])
def test_a_document_nested_deeper_than_any_of_ours_is_refused(below: Callable[[Any], Any]) -> None:
    value: Any = 1
    for _ in range(MOST_DEPTH - 1):
        value = below(value)
    require_storable({"a": value}, None)
    with pytest.raises(BadInput, match="nested too deep"):
        require_storable({"a": below(value)}, None)


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (MOST_WHOLE, None), (-MOST_WHOLE, None), (1e308, None), ("a \U0001f4a9", None),
        (MOST_WHOLE + 1, "number too large"), (-MOST_WHOLE - 1, "number too large"),
        (float("nan"), "no number"), (float("inf"), "no number"), (-float("inf"), "no number"),
        ("half \ud83d", "cannot be kept"), ("a\x00b", "cannot be kept"),
        ({"b\x00": 1}, "a name holds a character"), ([1, {"c": ["\x00"]}], r"a\.2\.c\.1"),
    ],
)  # fmt: skip
def test_what_no_database_holds_is_refused_at_its_place(value: Any, says: str | None) -> None:
    if says is None:
        require_storable({"a": value}, None)
    else:
        with pytest.raises(BadInput, match=says):
            require_storable({"a": value}, None)


def test_more_sets_of_one_lift_than_a_life_holds_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sets_file, "MOST_SETS_OF_A_LIFT", 3)
    row = b"2026-01-05,%s,50,kg,8\n"
    log = HEADER + row % b"bench press" * 3 + row % b"barbell row" * 3
    assert len(read_sets(made(tmp_path, "a.csv", log), CATALOGUE).value) == 6
    with pytest.raises(BadInput, match="bench press has 4 sets, more than 3"):
        read_sets(made(tmp_path, "b.csv", log + row % b"bench press"), CATALOGUE)


def bad_sets(count: int) -> bytes:
    return HEADER + b"".join(b"2026-01-05,Bnch %d,50,kg,many%d\n" % (n, n) for n in range(count))


def bad_checkins(count: int) -> bytes:
    return b"when,measure,value\n" + b"".join(b"2026-01-05,slep%d,3\n" % n for n in range(count))


def test_a_hundred_problems_are_told_and_the_rest_is_counted(tmp_path: Path) -> None:
    sets = made(tmp_path, "sets.csv", bad_sets(150))
    checkins = made(tmp_path, "checkins.csv", bad_checkins(150))
    with pytest.raises(BadInput) as of_sets:
        read_sets(sets, CATALOGUE)
    with pytest.raises(BadInput) as of_checkins:
        read_checkins(checkins)
    for error in (of_sets.value, of_checkins.value):
        assert len(error.problems) == MOST_TOLD + 1
        assert error.problems[-1].says.startswith("and 50 more")


def test_the_rest_is_counted_once_when_lists_are_joined() -> None:
    many = [Problem(says=str(n), mend="") for n in range(130)]
    first = BadInput(many)
    both = BadInput([*first.problems, *first.problems])
    assert both.problems[-1].says.startswith("and 160 more")


@pytest.mark.parametrize("content", [bad_sets, bad_checkins])
def test_eight_megabytes_of_bad_rows_are_told_soon(tmp_path: Path, content: object) -> None:
    assert callable(content)
    file = made(tmp_path, "log.csv", content(200_000))
    began = time.monotonic()
    (told,) = check_files([file])["files"]
    assert time.monotonic() - began < 15
    assert len(told["errors"]) == MOST_TOLD + 1


def test_thousands_of_unknown_lifts_are_no_log(tmp_path: Path) -> None:
    rows = b"".join(b"2026-01-05,Bnch %d,50,kg,5\n" % n for n in range(20_000))
    with pytest.raises(BadInput, match="known to nobody"):
        read_sets(made(tmp_path, "log.csv", HEADER + rows), CATALOGUE)


def test_an_archives_entry_of_more_values_than_a_log_is_not_parsed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """256 MB of "[]," take gigabytes as values, and pack into little more than one."""
    file = tmp_path / "site.zip"
    with file.open("wb") as out:
        archive = archive_zip.ArchiveWriter(out)
        archive.add("site.json", '{"people": [[], [], [], [], [], []]}')
        archive.close()
    assert archive_zip.ArchiveReader(file).document("site.json")["people"]
    monkeypatch.setattr(archive_zip, "MOST_PARTS", 10)
    with pytest.raises(BadInput, match="more values than a log could"):
        archive_zip.ArchiveReader(file).document("site.json")
