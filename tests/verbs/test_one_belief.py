"""The same facts give the same strength on every path: the commands that read files, the site's
pages that read rows. Five invented logs, in kg and lb, with and without experience and weigh-ins,
one of them opening with a load typed tenfold, which only later sets can show."""

import csv
import io
import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone

import desk_people
from blockwright.accounts.models import User
from blockwright.cli.main import exit_code
from blockwright.engine.review import review
from blockwright.engine.strength import Beliefs, LiftBelief
from blockwright.engine.training import Block
from blockwright.engine.units import in_unit
from blockwright.files.block_json import block_from_json, block_to_json
from blockwright.files.case_files import read_case
from blockwright.files.json_text import dumps, plain
from blockwright.files.lifter_file import lifter_from_table
from blockwright.store.blocks import block_of
from blockwright.store.models import BlockRevision, Lifter, RosterLook, Share
from blockwright.verbs import compose_block
from blockwright.verbs.compose_block import plan_block
from blockwright.verbs.import_files import Given, new_lifter
from blockwright.verbs.phone_sheet import SessionName, phone_sheet, prepare, sheet_document
from blockwright.verbs.report_lifter import estimate_lifter, report_lifter
from blockwright.verbs.roster import roster
from blockwright.verbs.stored_case import stored_block
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db

WEEKS = 3
THROUGH = desk_people.sunday(WEEKS)
MONDAY = THROUGH + timedelta(days=1)
EXAMPLE = (desk_people.ROOT / "examples" / "lifter.toml").read_text(encoding="utf-8")
PULL_UPS = "pull-up"
FELL = "lat pulldown"


@dataclass(frozen=True)
class Log:
    """An invented log: the lifter file's changes, and how the block was trained."""

    name: str
    changes: Mapping[str, str]
    unit: str = "kg"
    weigh_ins: tuple[float, ...] = ()
    first_times: float = 1.0
    """What the first set of each lift was typed as, times what was lifted."""
    says_rir: bool = True
    fell: str = ""
    """The lift that gave six repetitions fewer in the second week."""


LOGS = (
    Log("kg", {}),
    Log("kg, novice, weigh-ins", {'"intermediate"': '"novice"'}, weigh_ins=(68.0, 71.5, 74.0)),
    Log("kg, tenfold at first, advanced", {'"intermediate"': '"advanced"'}, first_times=10.0),
    Log("lb, weigh-ins", {'units = "kg"': 'units = "lb"', "bodyweight = 68.5": "bodyweight = 151"},
        unit="lb", weigh_ins=(151.0, 158.0, 163.0)),
    Log("lb, novice, no RIR",
        {'units = "kg"': 'units = "lb"', "bodyweight = 68.5": "bodyweight = 151",
         '"intermediate"': '"novice"'}, unit="lb", says_rir=False),
)  # fmt: skip


@dataclass(frozen=True)
class Desk:
    """The same facts as files and as rows."""

    folder: Path
    row: Lifter
    coach: User
    unit: str

    def file(self, name: str) -> Path:
        return self.folder / name

    @property
    def revision(self) -> BlockRevision:
        found = block_of(self.row, desk_people.START)
        assert found is not None
        return found

    def answer(self, capsys: pytest.CaptureFixture[str], command: str, *words: str) -> Any:
        """A command's JSON."""
        capsys.readouterr()
        assert exit_code([command, *words, "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    def facts(self) -> tuple[str, ...]:
        return "--facts", str(self.file("sets.csv")), "--checkins", str(self.file("checkins.csv"))


@pytest.fixture(params=LOGS, ids=lambda log: log.name)
def desk(request: pytest.FixtureRequest, tmp_path: Path) -> Desk:
    log: Log = request.param
    text = desk_people._moved(EXAMPLE, desk_people.START)
    for old, new in log.changes.items():
        assert old in text
        text = text.replace(old, new)
    lifter = lifter_from_table(tomllib.loads(text), None).value
    block = replace(block_from_json(desk_people.block_from(), "block.json"), lifter=lifter)
    files = {
        "lifter.toml": text,
        "block.json": dumps(plain(block_to_json(block))),
        "sets.csv": _sets(block, log),
        "checkins.csv": _checkins(log),
    }
    for name, content in files.items():
        (tmp_path / name).write_text(content, encoding="utf-8")
    coach = User.objects.create_user("cato", "a long word for tests", name="Cato", role="coach")
    given = [Given(name, content.encode()) for name, content in files.items()]
    return Desk(tmp_path, new_lifter(coach, given, timezone.now()), coach, log.unit)


def _sets(block: Block, log: Log) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(["when", "lift", "set", "load", "unit", "reps", "rir", "rest_s"])
    begun: set[str] = set()
    for week in block.weeks[:WEEKS]:
        for session in week.sessions:
            rows = [(e.lift, e.sets, e.rest_s) for e in session.entries]
            rows.append((PULL_UPS, session.entries[0].sets, 150))
            for lift, sets, rest_s in rows:
                for number, planned in enumerate(sets, 1):
                    load = 0.0 if lift == PULL_UPS else planned.load_kg or 20.0
                    load *= 1.0 if lift in begun or "assisted" in lift else log.first_times
                    begun.add(lift)
                    reps = planned.reps_high - (number + week.week) % 3
                    reps -= 6 if (lift, week.week) == (log.fell, 2) else 0
                    rir = planned.rir if log.says_rir else ""
                    written = round(in_unit(load, log.unit), 2)  # type: ignore[arg-type]
                    writer.writerow(
                        [session.day, lift, number, written, log.unit, reps, rir, rest_s]
                    )
    return text.getvalue()


def _checkins(log: Log) -> str:
    days = [desk_people.START + timedelta(days=7 * week) for week in range(WEEKS)]
    rows = [
        f"{day},bodyweight,,{kg},{log.unit}" for day, kg in zip(days, log.weigh_ins, strict=False)
    ]
    rows += [f"{day},sleep,,3," for day in days]
    return "\n".join(["when,measure,about,value,unit", *rows]) + "\n"


# ------------------------------------------------------------------------------------ numbers

Strength = dict[str, float]
"""1RM by lift, kg, as of the last day."""


def strength(beliefs: Beliefs | None) -> Strength:
    assert beliefs is not None
    found = {lift: beliefs.own(lift) for _, lift in beliefs.series}
    return {lift: as_of(belief) for lift, belief in found.items() if belief is not None}


def as_of(belief: LiftBelief) -> float:
    return replace(belief, as_of=THROUGH).one_rm_kg.median


def estimated(desk: Desk, capsys: pytest.CaptureFixture[str]) -> Strength:
    """`blockwright estimate`: the number every other path is held against."""
    document = desk.answer(
        capsys, "estimate", str(desk.file("sets.csv")), "--lifter", str(desk.file("lifter.toml")),
        "--checkins", str(desk.file("checkins.csv")), "--through", str(THROUGH),
    )  # fmt: skip
    return {
        one["lift"]: one["one_rm_kg"]["median"] for one in document["lifts"] if one["one_rm_kg"]
    }


def beliefs_composed_with(ask: Any, monkeypatch: pytest.MonkeyPatch) -> Beliefs:
    """What the composer is given of strength; nothing is composed."""

    class Caught(Exception):
        pass

    given: list[Any] = []

    def compose(*_: object, **named: Any) -> Block:
        given.append(named["beliefs"])
        raise Caught

    monkeypatch.setattr("blockwright.verbs.compose_block.compose", compose)
    with pytest.raises(Caught):
        ask()
    (beliefs,) = given
    assert isinstance(beliefs, Beliefs)
    return beliefs


def test_every_path_believes_the_same_strength(
    desk: Desk, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    wanted = estimated(desk, capsys)
    assert len(wanted) > 10
    assert PULL_UPS in wanted
    block_file = str(desk.file("block.json"))
    case = read_case(desk.file("block.json"), desk.file("sets.csv"), desk.file("checkins.csv"))
    reviewed = review(case.value, THROUGH).case.facts.beliefs()
    monday = prepare(desk.row, SessionName(desk_people.START, WEEKS + 1, 1))
    report = desk.answer(
        capsys, "report", block_file, *desk.facts(), "--through", str(THROUGH)
    )["strength"]  # fmt: skip
    following = replace(case.value.block.lifter, start=MONDAY)  # type: ignore[union-attr]
    table = desk.file("lifter.toml").read_text("utf-8").replace("2026-01-05", str(MONDAY))
    desk.file("next.toml").write_text(table, encoding="utf-8")
    files = [desk.file(name) for name in ("next.toml", "sets.csv", "checkins.csv")]
    paths = {
        "review": {lift: as_of(b) for lift in wanted if (b := reviewed.own(lift)) is not None},
        "phone": strength(monday.case.beliefs()),
        "edit": strength(stored_block(desk.row, desk.revision, MONDAY).beliefs()),
        "plan": strength(beliefs_composed_with(lambda: plan_block(*files), monkeypatch)),
        "plan on the site": strength(
            beliefs_composed_with(
                lambda: compose_block.composed(following, monday.case.sets, monday.case.checkins),
                monkeypatch,
            )
        ),
    }
    for name, found in paths.items():
        assert found == pytest.approx(wanted, rel=1e-6), name
    for one in report:
        assert one["after_kg"]["median"] == pytest.approx(wanted[one["lift"]], rel=1e-6)
    assert {one["lift"] for one in report} == set(wanted)


def _but_the_letter(sheet: dict[str, Any]) -> dict[str, Any]:
    """A site's sheet without the line that a letter waits, which files cannot know."""
    notes = [note for note in sheet["notes"] if note["code"] != "sheet_letter_waits"]
    return sheet | {"notes": notes}


def _but_the_advice(sheet: dict[str, Any]) -> dict[str, Any]:
    """A sheet without the table that a phone works out by itself, set by set."""
    return sheet | {"entries": [one | {"next_set_advice": []} for one in sheet["entries"]]}


SOME = pytest.mark.parametrize("desk", LOGS[2:4], ids=lambda log: log.name, indirect=True)
"""Where the paths have been shown to believe the same, two logs tell the rest."""


@SOME
def test_files_and_rows_give_the_same_documents(
    desk: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    block_file = str(desk.file("block.json"))
    through = ("--through", str(THROUGH))
    estimate = desk.answer(
        capsys, "estimate", str(desk.file("sets.csv")), "--lifter", str(desk.file("lifter.toml")),
        "--checkins", str(desk.file("checkins.csv")),
    )  # fmt: skip
    same(estimate["lifts"], estimate_lifter(desk.row).document["lifts"])
    letter = write_letter(desk.row, MONDAY, THROUGH).letter.document
    same(desk.answer(capsys, "review", block_file, *desk.facts(), *through), letter)
    report = report_lifter(desk.row, desk_people.START, THROUGH)
    assert report is not None
    found = desk.answer(capsys, "report", block_file, *desk.facts(), *through)
    for part in ("strength", "predictions", "muscles", "done"):
        same(found.get(part), report.get(part))
    name = SessionName(desk_people.START, WEEKS + 1, 1)
    sheet = desk.answer(
        capsys, "sheet", block_file, *desk.facts(), "--week", str(WEEKS + 1), "--session", "1"
    )  # fmt: skip
    same(sheet, _but_the_letter(sheet_document(prepare(desk.row, name))))
    phone = _but_the_letter(phone_sheet(prepare(desk.row, name))["sheet"])
    same(_but_the_advice(sheet), phone)


@pytest.mark.parametrize("desk", [replace(LOGS[0], fell=FELL)], ids=["fell"], indirect=True)
def test_the_phone_holds_what_paper_and_letter_hold(
    desk: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    """In the build week after a main lift fell; the phone works its advice out by itself."""
    session = ("--week", "3", "--session", "1")
    paper = desk.answer(capsys, "sheet", str(desk.file("block.json")), *desk.facts(), *session)
    phone = phone_sheet(prepare(desk.row, SessionName(desk_people.START, 3, 1)))["sheet"]
    held = [e["lift"] for e in phone["entries"] if "sheet_load_held" in codes(e["cautions"])]
    assert held == [FELL]
    same(_but_the_advice(paper), _but_the_letter(phone))


def codes(says: list[dict[str, Any]]) -> list[str]:
    return [one["code"] for one in says]


def same(one: Any, other: Any) -> None:
    """Equal documents but for the rows and names of files."""
    assert trimmed(one) == trimmed(other)


def trimmed(value: Any) -> Any:
    if isinstance(value, dict):
        return {k: trimmed(v) for k, v in value.items() if k not in ("row", "lifter")}
    if isinstance(value, list | tuple):
        return [trimmed(each) for each in value]
    return float(f"{value:.9g}") if isinstance(value, float) else value


@SOME
def test_the_roster_watches_what_the_review_watches(desk: Desk) -> None:
    Share.objects.get_or_create(person=desk.coach, lifter=desk.row, kind=Share.COACH)
    roster(desk.coach, THROUGH)
    seen = RosterLook.objects.get(lifter=desk.row).watch
    case = read_case(desk.file("block.json"), desk.file("sets.csv"), desk.file("checkins.csv"))
    last = max(done.moment.day for done in case.value.sets)
    watches = review(case.value, last).case.evidence.watches
    assert seen["all_lifts"] == watches.pooled.alarm
    assert seen["lifts"] == sorted(lift for lift, each in watches.lifts.items() if each.alarm)


def test_what_is_known_of_a_lifter_makes_a_difference(tmp_path: Path) -> None:
    """Else equality would say nothing: experience and weigh-ins move the numbers above."""
    plain_log, known_log = LOGS[:2]
    plainly = _believed(plain_log, _lifter_of(plain_log, tmp_path), tmp_path)
    lifter = _lifter_of(known_log, tmp_path)
    known = _believed(known_log, lifter, tmp_path)
    assert known[PULL_UPS] != pytest.approx(plainly[PULL_UPS], rel=0.02)
    others = [lift for lift in plainly if lift != PULL_UPS]
    assert all(known[lift] != plainly[lift] for lift in others)
    novice, advanced = (
        _believed(known_log, replace(lifter, experience=experience), tmp_path)
        for experience in ("novice", "advanced")
    )
    assert all(novice[lift] != advanced[lift] for lift in others)


def _believed(log: Log, lifter: Any, folder: Path) -> dict[str, float]:
    """The case's strength by lift, of the log and what is known of the lifter."""
    block = replace(block_from_json(desk_people.block_from(), "block.json"), lifter=lifter)
    (folder / "sets.csv").write_text(_sets(block, log), encoding="utf-8")
    (folder / "checkins.csv").write_text(_checkins(log), encoding="utf-8")
    (folder / "block.json").write_text(dumps(plain(block_to_json(block))), encoding="utf-8")
    case = read_case(folder / "block.json", folder / "sets.csv", folder / "checkins.csv").value
    return strength(case.until(THROUGH).beliefs())


def _lifter_of(log: Log, folder: Path) -> Any:
    text = desk_people._moved(EXAMPLE, desk_people.START)
    for old, new in log.changes.items():
        text = text.replace(old, new)
    return lifter_from_table(tomllib.loads(text), None).value


@SOME
def test_the_day_of_a_case_is_its_last(desk: Desk) -> None:
    """What is cut at a day says nothing of later facts, whatever was asked of the case before."""
    case = read_case(desk.file("block.json"), desk.file("sets.csv"), None).value
    early = date.fromisoformat(str(desk_people.START)) + timedelta(days=6)
    case.beliefs()
    cut = case.until(early)
    assert max(done.moment.day for done in cut.sets) <= early
    alone = replace(case, sets=cut.sets).until(early)
    assert strength(cut.beliefs()) == strength(alone.beliefs())
