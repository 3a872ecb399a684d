"""`blockwright review` and `revise` as a coach uses them, on a composed block played through."""

import csv
import json
import math
import re
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code
from blockwright.files.block_json import block_from_json, read_block
from blockwright.files.catalogue import builtin_catalogue, catalogue_for
from blockwright.files.policy_files import default_policy
from blockwright.files.schemas import problems_against
from plan_checker import findings_of

START = date(2027, 1, 4)
LIFTER = """
name = "Invented Ida"
units = "{unit}"
bodyweight = {bodyweight}
start = 2027-01-04
weeks = 3
[[slot]]
day = "mon"
start = "18:00"
minutes = 60
[[slot]]
day = "thu"
start = "18:00"
minutes = 60
[emphasis]
quads = "lead"
[screening]
under_18 = false
heart_or_metabolic_condition = false
symptoms_at_effort = false
pregnant_or_postpartum = false
kidney_disease = false
high_blood_pressure = false
currently_active = true
surgery_or_injury_last_year = false
[gym]
kit = ["bar", "squat rack", "bench", "dumbbells", "leg curl", "cable"]
"""
HEAD = [
    "when", "lift", "set", "load", "unit", "reps", "rir", "rest_s", "method", "full_range", "pain",
    "note",
]  # fmt: skip


def sunday(week: int) -> date:
    return START + timedelta(days=7 * week - 1)


def write_log(block: dict[str, Any], file: Path, through: date, **more: str) -> None:
    """Sets as planned by a lifter of a fixed strength on every lift; found loads where none is
    planned. `more` holds pain by lift."""
    with file.open("w", newline="", encoding="utf-8") as out:
        writer = csv.writer(out)
        writer.writerow(HEAD)
        for week in block["weeks"]:
            for session in week["sessions"]:
                if date.fromisoformat(session["date"]) <= through:
                    writer.writerows(_rows(session, more))


def _rows(session: dict[str, Any], pain: dict[str, str]) -> Sequence[list[object]]:
    rows: list[list[object]] = []
    for entry in session["entries"]:
        for number, planned in enumerate(entry["sets"], start=1):
            load = planned["load_kg"] or 20.0
            one_rm = 1.5 * 20.0
            spare = 30 * math.log(max(one_rm / load, 1.01)) + 1
            reps = max(round(spare - planned["rir"]), 1)
            rows.append(
                [session["date"], entry["lift"], number, load, "kg", reps, planned["rir"], "",
                 "straight", "yes", pain.get(entry["lift"].replace(" ", "_"), ""), ""]
            )  # fmt: skip
    return rows


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("review")
    text = LIFTER.format(unit="kg", bodyweight=70)
    (made / "ida.toml").write_text(text, encoding="utf-8")
    asked = ["plan", str(made / "ida.toml"), "--search", "quick", "-o", str(made / "block.json")]
    assert exit_code(asked) == 0
    write_log(document(made / "block.json"), made / "log.csv", sunday(1))
    return made


def document(path: Path) -> dict[str, Any]:
    made: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return made


def reviewed(folder: Path, *more: str, through: date = START + timedelta(days=6)) -> int:
    return exit_code(
        [
            "review", str(folder / "block.json"), "--facts", str(folder / "log.csv"),
            "--through", through.isoformat(), "-o", str(folder / "proposals.json"), *more,
        ]
    )  # fmt: skip


def revise(folder: Path, *more: str) -> int:
    return exit_code(["revise", str(folder / "block.json"), str(folder / "proposals.json"), *more])


# --------------------------------------------------------------------------------- review


def test_the_json_is_one_document_that_keeps_its_schema(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reviewed(folder, "--json") == 0
    said = capsys.readouterr().out
    assert said == (folder / "proposals.json").read_text(encoding="utf-8")
    found = json.loads(said)
    assert problems_against("proposals", found, "here") == []
    assert found["week"] == 2
    assert reviewed(folder, "--json") == 0
    assert capsys.readouterr().out == said, "the same inputs give the same bytes"


MODEL_WORDS = ("%", " SD", "SMD", "probab", "monotony", "performance held")


def test_the_text_is_a_letter_of_one_screen(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reviewed(folder) == 0
    letter = capsys.readouterr().out
    lines = letter.splitlines()
    assert lines[0] == "Invented Ida: letter for week 2"
    assert [line.split()[0] for line in lines if line[:1].strip()][2:-1] == ["Change"]
    assert len(lines) <= 45
    assert len(letter.split()) <= 450
    assert max(map(len, lines)) <= 100
    assert any(word in letter for word in ("sure", "likely", "even"))
    for word in MODEL_WORDS:
        assert word not in letter


def test_in_full_it_names_each_line_with_its_figure_and_sources(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reviewed(folder, "--full") == 0
    letter = " ".join(capsys.readouterr().out.split())
    found = document(folder / "proposals.json")
    assert found["message"] in letter
    for item in found["proposals"]:
        if item["kind"] in ("raise_load", "add_set"):
            assert f"[{item['id']}]" in letter
            assert f"{100 * item['confidence']:.0f} % sure that {item['claim']}" in letter


def test_pain_is_on_the_face_before_anything_that_climbs(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    block = document(folder / "block.json")
    lift = block["weeks"][0]["sessions"][0]["entries"][0]["lift"]
    write_log(block, tmp_path / "log.csv", sunday(2), **{lift.replace(" ", "_"): "6"})
    asked = ["review", str(folder / "block.json"), "--facts", str(tmp_path / "log.csv"),
             "--through", "2027-01-17"]  # fmt: skip
    assert exit_code(asked) == 0
    letter = " ".join(capsys.readouterr().out.split())
    referred, _, climbs = letter.partition("Change ")[2].partition(" Mon (kg")
    assert referred.startswith(f"To a licensed professional (no diagnosis): {lift} (pain 6 of 10")
    assert climbs, "loads climb after what hurts"
    assert f"{lift[:1].upper()}{lift[1:]} out" in referred
    assert "pain 6 of 10: out until quiet or looked at" in letter
    assert f"{lift}: where does it hurt, and what brings it on?".lower() in letter.lower()
    assert exit_code([*asked, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    # What goes out has no set left to give, so nothing is lost twice.
    assert not any(p["muscle"] == "glutes" for p in found["proposals"] if p["kind"] == "trim_sets")
    message = found["message"]
    assert lift in message.split(". ")[1]
    assert "stop whatever hurts and tell me" in message
    assert 2 <= message.count(". ") + 1 <= 5


def test_a_muscle_left_under_its_floor_by_pain_is_asked_about(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    block = document(folder / "block.json")
    write_log(block, tmp_path / "log.csv", sunday(1), lat_pulldown="6")
    asked = ["review", str(folder / "block.json"), "--facts", str(tmp_path / "log.csv"),
             "--through", "2027-01-10"]  # fmt: skip
    assert exit_code(asked) == 0
    letter = " ".join(capsys.readouterr().out.split())
    assert re.search(r"Lats [\d.]+ sets next week.*: under the floor of 4", letter), letter


def test_a_set_that_was_set_aside_is_asked_about_on_the_face(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = (folder / "log.csv").read_text(encoding="utf-8").splitlines()
    cells = rows[3].split(",")
    cells[3] = str(10 * float(cells[3]))
    (tmp_path / "log.csv").write_text("\n".join([*rows[:3], ",".join(cells), *rows[4:]]) + "\n")
    asked = ["review", str(folder / "block.json"), "--facts", str(tmp_path / "log.csv"),
             "--through", "2027-01-10"]  # fmt: skip
    assert exit_code(asked) == 0
    letter = capsys.readouterr().out
    said = " ".join(letter.partition("Settle")[2].split())
    day = date.fromisoformat(cells[0])
    asks = f"{cells[1]} on {day:%a} {day.day} {day:%b}, {cells[3]} kg × {cells[5]}: "
    assert asks.casefold() in said.casefold()
    assert exit_code([*asked, "--json"]) == 0
    (question,) = json.loads(capsys.readouterr().out)["settle"]
    assert question["id"].startswith("set-")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--facts", "nowhere.csv", "--through", "2027-01-10"], "nowhere.csv"),
        (["--facts", "log.csv", "--through", "2026-12-31"], "starts on 2027-01-04"),
        (["--facts", "log.csv", "--through", "tomorrow"], "tomorrow"),
        (["--through", "2027-01-10"], "--facts"),
    ],
)
def test_bad_questions_exit_2_and_name_the_mend(
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    arguments: list[str],
    words: str,
) -> None:
    monkeypatch.chdir(folder)
    assert exit_code(["review", "block.json", *arguments]) == 2
    assert words in capsys.readouterr().err


# --------------------------------------------------------------------------------- revise


def test_a_block_played_through_keeps_every_rule_of_a_plan(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "block.json").write_bytes((folder / "block.json").read_bytes())
    for week in (1, 2):
        write_log(document(tmp_path / "block.json"), tmp_path / "log.csv", sunday(week))
        assert reviewed(tmp_path, through=sunday(week)) == 0
        assert revise(tmp_path, "--accept-all", "-o", str(tmp_path / "block.json")) == 0
        said = capsys.readouterr().out.rpartition("\nChanged:")[2].splitlines()
        weeks = [one.partition(",")[0] for one in said if one.startswith("Week ")]
        assert weeks[0] == f"Week {week + 1}", "what was decided can be read"
        why = said[said.index("Why:") :]
        assert len(why) == len(set(why))
        made = document(tmp_path / "block.json")
        assert problems_against("block", made, "here") == []
        block = block_from_json(made, "here")
        assert block.revision == week + 1
        own = catalogue_for(block.lifter)
        assert findings_of(block, own, default_policy()) == []


def test_ids_are_accepted_declined_and_changed_one_by_one(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reviewed(folder) == 0
    offered = document(folder / "proposals.json")["proposals"]
    loads = [p for p in offered if p["after"] and "load_kg" in p["after"]]
    first, second, third = loads[:3]
    same = f"load_kg={third['after']['load_kg']:g}"
    capsys.readouterr()
    asked = ["--accept", first["id"], "--decline", second["id"], "--change", third["id"], same,
             "--words", "knee first", "--json", "-o", str(tmp_path / "new.json")]  # fmt: skip
    assert revise(folder, *asked) == 0
    made = json.loads(capsys.readouterr().out)
    assert [(d["proposal"], d["decision"]) for d in made["decisions"]] == [
        (first["id"], "accepted"),
        (second["id"], "declined"),
        (third["id"], "changed"),
    ]
    assert [d["words"] for d in made["decisions"]] == ["", "knee first", "knee first"]
    entry = next(
        e
        for s in made["weeks"][1]["sessions"]
        if s["session"] == first["session"]
        for e in s["entries"]
        if e["lift"] == first["lift"]
    )
    assert entry["sets"][0]["load_kg"] == first["after"]["load_kg"]
    assert read_block(tmp_path / "new.json").revision == 2


@pytest.mark.parametrize("order", [("decline", "words"), ("words", "decline")])
def test_words_belong_to_the_line_they_were_given_with(
    folder: Path, capsys: pytest.CaptureFixture[str], order: tuple[str, str]
) -> None:
    assert reviewed(folder) == 0
    one = document(folder / "proposals.json")["proposals"][0]["id"]
    said = {"decline": ["--decline", one], "words": ["--words", "knee first"]}
    capsys.readouterr()
    assert revise(folder, *said[order[0]], *said[order[1]], "--accept-all", "--json") == 0
    told = {d["proposal"]: d["words"] for d in json.loads(capsys.readouterr().out)["decisions"]}
    assert len(told) > 1
    assert {name: words for name, words in told.items() if words} == {one: "knee first"}


def test_words_are_of_the_lines_named_or_else_of_all(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reviewed(folder) == 0
    one, *rest = (p["id"] for p in document(folder / "proposals.json")["proposals"])
    capsys.readouterr()
    asked = ["--accept-all", "--decline", one, "--words", "knee first"]
    assert revise(folder, *asked, "--json") == 0
    told = {d["proposal"]: d["words"] for d in json.loads(capsys.readouterr().out)["decisions"]}
    assert told == {one: "knee first", **dict.fromkeys(rest, "")}
    assert revise(folder, "--accept-all", "--words", "as usual", "--json") == 0
    made = json.loads(capsys.readouterr().out)
    assert {d["words"] for d in made["decisions"]} == {"as usual"}


def test_a_letter_without_changes_leaves_the_block_as_printed(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reviewed(folder) == 0
    letter = document(folder / "proposals.json") | {"proposals": []}
    (folder / "proposals.json").write_text(json.dumps(letter), encoding="utf-8")
    capsys.readouterr()
    assert revise(folder, "--accept-all", "--json") == 0
    said = capsys.readouterr()
    assert "the block stands as printed, revision 2" in said.err
    assert json.loads(said.out)["weeks"] == document(folder / "block.json")["weeks"]


def bad_revisions(offered: list[dict[str, Any]]) -> list[tuple[list[str], str]]:
    loads = [p for p in offered if p["after"] and "load_kg" in p["after"]]
    load = loads[0]["id"]
    on_bar = next(p["id"] for p in loads if "bar" in builtin_catalogue().lifts[p["lift"]].kit)
    return [
        ([], "nothing is decided"),
        (["--accept", "w2-raise-load-nonsense"], "is no proposal of this file"),
        (["--accept", load, "--decline", load], "is decided twice"),
        (["--change", load, "sets=4"], "write load_kg=..."),
        (["--change", load, "load_kg=heavy"], "load_kg=62.5"),
        (["--change", load, "load_kg=3"], "cannot make 3 kg"),
        (["--change", on_bar, "load_kg=190"], "at most 10 % at once"),
        (["--change", load], "changes nothing"),
    ]


@pytest.mark.parametrize("number", range(8))
def test_bad_decisions_exit_2_and_name_the_mend(
    folder: Path, capsys: pytest.CaptureFixture[str], number: int
) -> None:
    assert reviewed(folder) == 0
    arguments, words = bad_revisions(document(folder / "proposals.json")["proposals"])[number]
    capsys.readouterr()
    assert revise(folder, *arguments) == 2
    assert words in capsys.readouterr().err


def test_proposals_of_another_revision_or_lifter_are_refused(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reviewed(folder) == 0
    other = document(folder / "proposals.json") | {"block_revision": 4, "lifter": "Somebody"}
    (tmp_path / "proposals.json").write_text(json.dumps(other), encoding="utf-8")
    asked = ["revise", str(folder / "block.json"), str(tmp_path / "proposals.json"),
             "--accept-all"]  # fmt: skip
    assert exit_code(asked) == 2
    said = capsys.readouterr().err
    assert "revision 4" in said
    assert "Somebody" in said


def test_the_same_decisions_give_the_same_bytes(folder: Path, tmp_path: Path) -> None:
    assert reviewed(folder) == 0
    for name in ("one.json", "two.json"):
        assert revise(folder, "--accept-all", "-o", str(tmp_path / name)) == 0
    assert (tmp_path / "one.json").read_bytes() == (tmp_path / "two.json").read_bytes()


# ------------------------------------------------------------------------------- next block


def test_the_next_block_starts_from_what_was_learnt(folder: Path, tmp_path: Path) -> None:
    block = document(folder / "block.json")
    lift = block["weeks"][0]["sessions"][0]["entries"][0]["lift"]
    write_log(block, tmp_path / "log.csv", sunday(3), **{lift.replace(" ", "_"): "6"})
    text = LIFTER.format(unit="kg", bodyweight=70).replace("2027-01-04", "2027-02-01")
    (tmp_path / "ida.toml").write_text(text, encoding="utf-8")
    asked = ["plan", str(tmp_path / "ida.toml"), "--search", "quick", "--facts",
             str(tmp_path / "log.csv"), "--previous", str(folder / "block.json"),
             "-o", str(tmp_path / "next.json")]  # fmt: skip
    assert exit_code(asked) == 0
    made = document(tmp_path / "next.json")
    lifts = {e["lift"] for w in made["weeks"] for s in w["sessions"] for e in s["entries"]}
    assert lift not in lifts
    assert "next_block_painful" in {r["code"] for r in made["reasons"]}
    assert made["lifter"].get("limits", {}).get("avoid_lifts", []) == []
    following = block_from_json(made, "next.json")
    own = catalogue_for(following.lifter)
    assert findings_of(following, own, default_policy()) == []
