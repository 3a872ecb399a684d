"""`blockwright take` as a person runs it: in a process of its own, on a folder of its own."""

import json
import os
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

import warm

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@dataclass(frozen=True)
class Taken:
    returncode: int
    stdout: str
    stderr: str


def take(data: Path, *arguments: object) -> Taken:
    environment = {n: v for n, v in os.environ.items() if not n.startswith(("BLOCKW", "DJANGO"))}
    with TemporaryDirectory() as folder:
        log = Path(folder) / "log"
        words = "take", *arguments, "--data", data
        ran = warm.started(*words, environment=environment, log=log)
        code = ran.code()
        return Taken(code, ran.stdout.read_text("utf-8"), log.read_text("utf-8"))


@pytest.mark.slow
def test_files_come_in_once_and_wrong_ones_not_at_all(tmp_path: Path) -> None:
    data = tmp_path / "site"
    files = [EXAMPLES / name for name in ("checkins.csv", "log.csv", "lifter.toml")]
    first = take(data, *files, "--json")
    assert first.returncode == 0, first.stderr
    document = json.loads(first.stdout)
    assert (document["format"], document["new"]) == ("blockwright/take/1", True)
    assert document["sets"] > 0 < document["checkins"]
    again = take(data, EXAMPLES / "log.csv", "--lifter", document["lifter"].upper())
    assert (again.returncode, again.stdout) == (
        0, f"{document['lifter']}: taken in 0 sets, 0 check-ins, 0 block revisions, 0 letters, "
        "0 decisions.\n",
    )  # fmt: skip
    stranger = take(data, EXAMPLES / "log.csv", "--lifter", "Nobody Here")
    assert (stranger.returncode, stranger.stdout) == (2, "")
    assert "no lifter named Nobody Here" in stranger.stderr
    missing = take(data, tmp_path / "gone.csv", tmp_path / "lost.toml")
    assert missing.returncode == 2
    assert "gone.csv" in missing.stderr
    assert "lost.toml" in missing.stderr


@pytest.mark.slow
def test_another_lifters_file_is_named(tmp_path: Path) -> None:
    wrong = take(tmp_path / "site", EXAMPLES / "lifter.toml", "--lifter", "Nobody Here")
    assert wrong.returncode == 2
    assert "the lifter file is" in wrong.stderr


@pytest.mark.slow
def test_a_set_far_outside_is_asked_about_with_its_row(tmp_path: Path) -> None:
    (tmp_path / "ida.toml").write_text(
        'name = "Invented Ida"\nunits = "kg"\nbodyweight = 63\n', encoding="utf-8"
    )
    (tmp_path / "log.csv").write_text(
        "when,lift,load,unit,reps,rir\n2027-01-04,leg press,400,kg,12,2\n", encoding="utf-8"
    )
    taken = take(tmp_path / "site", tmp_path / "ida.toml", tmp_path / "log.csv")
    assert taken.returncode == 0, taken.stderr
    assert "row 2" in taken.stderr
    assert "is it true?" in taken.stderr
