"""A short story: one of the cast, three build weeks, from the first log to the next block."""

import itertools
import json
import os
import subprocess
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from blockwright.demo.cast import CAST
from blockwright.demo.coach import lived_before
from blockwright.demo.folder import Folder, lifter_text
from blockwright.demo.play import Played, play, trainee
from blockwright.demo.site import files_to_take
from blockwright.demo.together import prepared
from blockwright.demo.training import advised_load_kg
from blockwright.engine.errors import BadInput
from blockwright.engine.planning import QUICK
from blockwright.engine.training import Week
from blockwright.files.block_json import read_block
from blockwright.files.policy_files import default_policy
from blockwright.verbs.check_files import check_files, files_with_errors
from blockwright.verbs.revise_block import revise_block

INES = next(one for one in CAST if one.key == "ines")


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> Played:
    return play(INES, tmp_path_factory.mktemp("story"), tell=lambda _: None, weeks=3, budget=QUICK)


def test_every_file_left_behind_passes_check(played: Played) -> None:
    root = played.folder.root
    files = [root / "lifter.toml", root / "lifter-next.toml", root / "sets.csv",
             root / "checkins.csv", root / "report.json", *sorted((root / "blocks").iterdir()),
             *sorted((root / "reviews").glob("*.json"))]  # fmt: skip
    document = check_files(files)
    assert not files_with_errors(document), json.dumps(document, indent=1)
    kinds = {file["kind"] for file in document["files"]}
    assert {"lifter", "sets", "checkins"} <= kinds
    for name in (
        "report.pdf", "block.ics", "block.xlsx",
        "sheets/week-1.pdf", "sheets/next-week-1.pdf", "reviews/after-week-1.txt",
    ):  # fmt: skip
        assert (root / name).stat().st_size > 0, name


@pytest.mark.parametrize(
    ("reps", "load_kg"), [(0, 12.5), (1, 15.0), (7, 15.0), (8, 17.5), (14, 17.5), (17, 20.0)]
)
def test_a_lifter_reads_the_row_of_their_own_repetitions(reps: int, load_kg: float) -> None:
    """A row for none at all is for none: 14 repetitions once sent somebody down two plates."""
    spans = ((0, 0, 12.5), (1, 7, 15.0), (8, 16, 17.5), (17, None, 20.0))
    advice = [{"reps_from": a, "reps_to": b, "load_kg": kg} for a, b, kg in spans]
    assert advised_load_kg(advice, reps) == load_kg
    assert advised_load_kg([], reps) is None


def test_the_shoulder_stops_progress_and_asks_for_a_professional(played: Played) -> None:
    """Whatever the letter holds goes up neither by a proposal nor as printed, unless a
    professional cleared what hurts."""
    held = []
    for week, following in itertools.pairwise(played.weeks):
        if following.kind != "build":
            continue
        letter = json.loads(played.folder.proposals(week.week).read_text(encoding="utf-8"))
        cautions = letter["cautions"]
        referrals = [c for c in cautions if c["code"] == "pain_refer"]
        painful = [c for c in cautions if c["code"] in ("pain_no_progress", "pain_stop")]
        again = any(c["facts"]["reports_in_a_row"] >= 2 for c in painful)
        assert again == bool(referrals), "two reports in a row since a clearance, and both are told"
        assert all("Have a licensed professional look at it" in c["says"] for c in referrals)
        lifts = {c["facts"]["lift"] for c in painful}
        for p in letter["proposals"]:
            assert p["lift"] not in lifts or p["kind"] not in ("raise_load", "add_set"), p["id"]
        known = [d for d in played.last.decisions if "cleared_on" in d.change]
        if referrals:
            assert {d.change["about"] for d in known if d.change["week"] == following.week}
        # Nobody has cleared it yet: with all lines accepted the week after holds what hurts.
        block = played.folder.block(letter["block_revision"])
        new = revise_block(block, played.folder.proposals(week.week), accept_all=True)
        for caution in painful:
            lift = caution["facts"]["lift"]
            before, after = _work(week, lift), _work(new.weeks[following.week - 1], lift)
            assert all(a <= b for a, b in zip(after, before, strict=True)), lift
            held.append(lift)
    assert held
    last = played.last
    referred = [decision for decision in last.decisions if decision.kind == "refer"]
    assert referred
    assert all("cleared_on" in decision.change for decision in referred)
    assert any(decision.verdict == "changed" for decision in last.decisions)


def _work(week: Week, lift: str) -> tuple[int, float]:
    """Planned sets of a lift in a week, and its highest planned load, kg."""
    sets = [one for s in week.sessions for e in s.entries if e.lift == lift for one in e.sets]
    return len(sets), max((one.load_kg or 0.0 for one in sets), default=0.0)


def test_the_block_runs_to_its_deload_and_a_next_one_follows(played: Played) -> None:
    decided = [d.kind for d in played.last.decisions if d.verdict != "declined"]
    builds = 3 + decided.count("extend_block")
    assert [week.kind for week in played.weeks] == ["build"] * builds + ["deload"]
    assert played.last.revision > 1
    assert played.following is not None
    days = (played.following.start - played.last.start).days
    assert days == 7 * len(played.last.weeks)
    assert read_block(played.folder.next_block) == played.following


def test_a_deload_leaves_strength_where_it_was(played: Played) -> None:
    report = json.loads((played.folder.root / "report.json").read_text(encoding="utf-8"))
    deload = played.weeks[-1].sessions[0].day.isoformat()
    known = 0
    for lift in report["strength"]:
        points = [p for p in lift["points"] if p["date"] < deload]
        if len(points) > 2:
            known += 1
            before = points[-1]["one_rm_kg"]["median"]
            assert lift["after_kg"]["median"] > 0.85 * before, lift["lift"]
    assert known > 2


def test_the_same_person_lives_the_same_weeks_twice(tmp_path: Path) -> None:
    logs = []
    for name in ("one", "two"):
        folder = Folder(tmp_path / name)
        who = trainee(INES, folder, None)
        assert who.lifter.start is not None
        folder.write_facts(lived_before(who, who.lifter.start))
        logs.append((folder.sets.read_bytes(), folder.checkins.read_bytes()))
    assert logs[0] == logs[1]
    assert logs[0][0].count(b"\n") > 200


def test_everything_of_a_person_comes_into_a_site(played: Played, tmp_path: Path) -> None:
    files = files_to_take(played.folder)
    command = [sys.executable, "-m", "blockwright", "take", *map(str, files), "--json"]
    environment = {n: v for n, v in os.environ.items() if not n.startswith(("BLOCKW", "DJANGO"))}
    ran = subprocess.run(
        [*command, "--data", str(tmp_path / "site")],
        check=True, capture_output=True, text=True, env=environment, timeout=120,
    )  # fmt: skip
    taken = json.loads(ran.stdout)
    assert taken["sets"] == len(played.folder.sets.read_text(encoding="utf-8").splitlines()) - 1
    assert taken["blocks"] == played.last.revision + 1
    assert taken["letters"] == len(played.weeks)
    assert taken["decisions"] == len(played.last.decisions)


def test_the_cast_is_sound_and_differs() -> None:
    assert len({person.seed for person in CAST}) == len(CAST) >= 4
    for person in CAST:
        assert "Invented" in lifter_text(person.key).splitlines()[0]


def test_a_folder_with_other_files_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("do not lose me", encoding="utf-8")
    with pytest.raises(BadInput, match="has not made"):
        prepared(tmp_path)
    made = tmp_path / "demo"
    prepared(made)
    Folder(made / "ines")
    prepared(made)
    assert sorted(path.name for path in made.iterdir()) == ["README.md"]


def test_somebody_hurts_this_morning_on_a_monday_too(tmp_path: Path) -> None:
    """The week has no session yet; what hurts is asked all the same."""
    monday = date(2026, 11, 30)
    begins = replace(INES, weeks_behind=0)
    played = play(begins, tmp_path, tell=lambda _: None, today=monday, weeks=3, budget=QUICK)
    said = [
        line.split(",")
        for line in played.folder.checkins.read_text(encoding="utf-8").splitlines()
        if line.startswith(f"{monday},pain,")
    ]
    carry_on = default_policy().number("safety.pain_carry_on")
    assert any(float(value) > carry_on for _, _, _, value, *_ in said)
