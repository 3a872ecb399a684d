"""Composing from the site: one search a lifter, told in words how it went; the rest of a block."""

import json
import os
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

import composed_world
from blockwright.accounts.models import User
from blockwright.engine.editing import PinLift, Place, SetCount
from blockwright.engine.errors import BadInput
from blockwright.engine.planning import QUICK
from blockwright.files.block_json import block_from_json
from blockwright.store.blocks import SILENT, block_of, open_search
from blockwright.store.models import BlockRevision, Composing, Lifter
from blockwright.verbs import search_block
from blockwright.verbs.edit_block import ChangeQuestion, TakeRest, keep, preview
from blockwright.verbs.search_block import (
    ComposeQuestion,
    begin_composing,
    begin_rest,
    default_start,
    is_waiting,
    run_search,
    settled,
    stop_search,
)
from blockwright.verbs.stored_case import stored_block

pytestmark = pytest.mark.django_db

MONDAY = date(2027, 3, 1)
TODAY = MONDAY - timedelta(days=4)
NOW = datetime(2027, 2, 25, 9, tzinfo=UTC)
LAUNCH = search_block.launch

SMALL: dict[str, Any] = {
    "name": "Small Invented",
    "units": "kg",
    "bodyweight": 70.0,
    "experience": "intermediate",
    "weeks": 3,
    "slot": [
        {"day": "mon", "start": "18:30", "minutes": 30},
        {"day": "thu", "start": "18:30", "minutes": 30},
    ],
    "gym": {"kit": ["dumbbells"], "dumbbells": {"from": 4, "to": 34, "step": 2}},
}


@pytest.fixture(autouse=True)
def _here_and_quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    least = QUICK
    monkeypatch.setattr(search_block, "budget_called", lambda _words: least)


@pytest.fixture
def coach() -> User:
    return User.objects.create_user("cato", "a long word for tests", name="Cato", role="coach")


def small(**changes: Any) -> Lifter:
    return Lifter.objects.create(name=SMALL["name"], document=SMALL | changes)


def begun(coach: User, row: Lifter, start: date = MONDAY) -> Composing:
    return begin_composing(coach, row, ComposeQuestion(start=start), TODAY, NOW)


def test_a_block_is_composed_and_stored(coach: User) -> None:
    row = small()
    search = begun(coach, row)
    assert search.state == Composing.WAITING
    run_search(search.pk)
    search.refresh_from_db()
    assert (search.state, search.says) == (Composing.MADE, {})
    stored = block_of(row, MONDAY)
    assert stored is not None
    assert stored.revision == 1
    assert stored.made_by == coach
    block = block_from_json(stored.document, "stored")
    assert [week.kind for week in block.weeks] == ["build"] * 3 + ["deload"]
    assert block.start == block.lifter.start == MONDAY


def test_composing_again_before_the_start_makes_the_next_revision(
    coach: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    block = composed_world.block_from(MONDAY)
    monkeypatch.setattr(search_block, "composed", lambda *_asked, **_more: block)
    row = small()
    for _ in range(2):
        run_search(begun(coach, row).pk)
    first, second = BlockRevision.objects.filter(lifter=row).order_by("revision")
    assert (first.revision, second.revision) == (1, 2)
    assert first.document["weeks"] == second.document["weeks"]
    assert second.document["decisions"][-1]["kind"] == "coach_composed"


def test_a_second_click_finds_the_first_search(coach: User) -> None:
    row = small()
    first = begun(coach, row)
    assert begun(coach, row) == first
    assert begun(coach, row, MONDAY + timedelta(days=7)) == first
    assert Composing.objects.count() == 1


def test_a_search_that_fell_silent_is_over_and_said(coach: User) -> None:
    row = small()
    search = begun(coach, row)
    assert settled(search, NOW + SILENT) is search
    assert settled(search, NOW + SILENT + timedelta(seconds=1)) is None
    search.refresh_from_db()
    assert search.state == Composing.FAILED
    assert "silent" in search.says["problems"][0]
    assert open_search(row) is None


def test_a_stopped_search_stores_nothing(coach: User) -> None:
    row = small()
    search = begun(coach, row)
    stop_search(search)
    run_search(search.pk)
    search.refresh_from_db()
    assert search.state == Composing.FAILED
    assert not BlockRevision.objects.filter(lifter=row).exists()


def test_a_clash_is_told_in_the_lifters_words(coach: User) -> None:
    pins = [{"lift": "goblet squat", "days": ["mon"]}, {"lift": "dumbbell curl", "days": ["mon"]}]
    row = small(slot=[{"day": "mon", "start": "18:30", "minutes": 10}], pin=pins)
    search = begun(coach, row)
    run_search(search.pk)
    search.refresh_from_db()
    assert search.state == Composing.CLASH
    assert search.says["format"] == "blockwright/clash/1"
    assert all(rule["says"] for rule in search.says["rules"])
    assert not BlockRevision.objects.filter(lifter=row).exists()


def test_what_breaks_is_our_fault_and_said(coach: User, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_given: Any, **_more: Any) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(search_block, "composed", broken)
    search = begun(coach, small())
    with pytest.raises(ZeroDivisionError):
        run_search(search.pk)
    search.refresh_from_db()
    assert search.state == Composing.FAILED
    assert search.says["problems"] == [
        "Our fault, not yours: the search broke off. Nothing was changed."
    ]


@pytest.mark.parametrize(
    ("changes", "start", "words"),
    [
        ({}, MONDAY + timedelta(days=1), "a block starts on a Monday"),
        ({}, MONDAY - timedelta(days=28), "begin on the next Monday, 1 March 2027"),
        ({}, MONDAY - timedelta(days=7), "begin on the next Monday, 1 March 2027"),
        ({"slot": []}, MONDAY, "add a \\[\\[slot\\]\\]"),
        ({"bodyweight": None}, MONDAY, "write it: bodyweight"),
    ],
)
def test_what_is_missing_is_said_before_any_search(
    coach: User, changes: dict[str, Any], start: date, words: str
) -> None:
    document = {key: value for key, value in (SMALL | changes).items() if value is not None}
    row = Lifter.objects.create(name=SMALL["name"], document=document)
    with pytest.raises(BadInput, match=words):
        begun(coach, row, start)
    assert not Composing.objects.exists()


def test_a_block_that_has_begun_is_not_composed_over(coach: User) -> None:
    block = composed_world.block_from(MONDAY)
    row = composed_world.store(block, coach)
    with pytest.raises(BadInput, match="has begun"):
        begin_composing(coach, row, ComposeQuestion(start=MONDAY), MONDAY + timedelta(days=1), NOW)
    assert default_start(row, MONDAY) == MONDAY + timedelta(days=49)


@pytest.mark.parametrize(("today", "offered"), [(-3, 0), (0, 0), (1, 7), (7, 7), (8, 14)])
def test_the_lifters_own_start_is_offered_until_it_has_passed(today: int, offered: int) -> None:
    document = SMALL | {"start": MONDAY.isoformat()}
    row = Lifter.objects.create(name=SMALL["name"], document=document)
    assert default_start(row, MONDAY + timedelta(days=today)) == MONDAY + timedelta(days=offered)


# ---------------------------------------------------------------------------------- the rest


def test_the_rest_is_solved_around_what_is_done_pinned_and_changed(coach: User) -> None:
    block = composed_world.block_from(MONDAY)
    row = composed_world.store(block, coach)
    today = MONDAY + timedelta(days=8)
    composed_world.log(row, block, today)
    curl = Place(week=3, session=1, lift="leg curl")
    asked = {"start": MONDAY, "revision": 1}
    change = SetCount(place=curl, sets=3)
    keep(coach, row, ChangeQuestion(**asked, change=change, insist=True), today)
    pin = PinLift(place=Place(week=3, session=3, lift="cable crunch"))
    keep(coach, row, ChangeQuestion(start=MONDAY, revision=2, change=pin), today)
    search = begin_rest(coach, row, MONDAY, 3, today, NOW)
    run_search(search.pk)
    search.refresh_from_db()
    assert (search.state, search.says) == (Composing.MADE, {})
    latest = block_of(row, MONDAY)
    assert latest is not None
    assert latest.revision == 3

    question = ChangeQuestion(start=MONDAY, revision=3, change=TakeRest(search.pk), insist=True)
    shown = preview(row, question, today)
    assert shown.lines
    assert not shown.refused
    assert is_waiting(search, latest)
    keep(coach, row, question, today)
    assert not is_waiting(search, BlockRevision.objects.get(lifter=row, revision=4))
    new = block_from_json(_latest(row), "stored")
    old = block_from_json(latest.document, "stored")
    assert new.revision == 4
    assert new.weeks[:2] == old.weeks[:2]
    assert [w.rir for w in new.weeks] == [w.rir for w in old.weeks]
    for was, now in zip(old.weeks[2:6], new.weeks[2:6], strict=True):
        monday, thursday = now.sessions[0], now.sessions[2]
        kept = next(e for e in monday.entries if e.lift == "leg curl")
        if kept.pair is None:
            assert len(kept.sets) == len(_entry(was.sessions[0], "leg curl").sets)
        assert _entry(thursday, "cable crunch")
        lifts = {e.lift for s in now.sessions for e in s.entries}
        assert lifts <= {e.lift for w in old.weeks for s in w.sessions for e in s.entries}
    stored = stored_block(row, BlockRevision.objects.get(lifter=row, revision=4), today)
    assert stored.block.lifter.pins[-1].lift == "cable crunch"


def test_the_rest_is_kept_for_the_revision_it_was_made_for_only(coach: User) -> None:
    block = composed_world.block_from(MONDAY)
    row = composed_world.store(block, coach)
    search = begin_rest(coach, row, MONDAY, 1, TODAY, NOW)
    with pytest.raises(BadInput, match="changed meanwhile"):
        begin_rest(coach, row, MONDAY, 2, TODAY, NOW)
    pin = PinLift(place=Place(week=1, session=3, lift="cable crunch"))
    keep(coach, row, ChangeQuestion(start=MONDAY, revision=1, change=pin), TODAY)
    run_search(search.pk)
    search.refresh_from_db()
    assert search.state == Composing.FAILED
    assert "changed meanwhile" in search.says["problems"][0]


def test_there_is_no_rest_once_every_week_has_begun(coach: User) -> None:
    block = composed_world.block_from(MONDAY)
    row = composed_world.store(block, coach)
    with pytest.raises(BadInput, match="has begun"):
        begin_rest(coach, row, MONDAY, 1, MONDAY + timedelta(days=44), NOW)


def _latest(row: Lifter) -> dict[str, Any]:
    found = BlockRevision.objects.filter(lifter=row).order_by("-revision")[0]
    return dict(json.loads(json.dumps(found.document)))


def _entry(session: Any, lift: str) -> Any:
    return next(replace(e) for e in session.entries if e.lift == lift)


def test_ctrl_c_at_a_terminal_passes_the_search_by(monkeypatch: pytest.MonkeyPatch) -> None:
    """It would end the process before it can write down what became of the search."""
    made: list[Any] = []
    real = subprocess.Popen
    monkeypatch.setattr(subprocess, "Popen", lambda *a, **k: made.append(real(*a, **k)))
    monkeypatch.setattr(sys, "executable", "false")
    LAUNCH(Composing(pk=1))
    [process] = made
    assert os.getpgid(process.pid) == process.pid
    assert process.args[-2:] == ["1", str(os.getpid())]
    process.wait(10)


def test_a_search_ends_whose_parent_was_gone_before_it_looked() -> None:
    code = (
        "import sys, time; from blockwright.server.parent import end_with_the_parent;"
        "end_with_the_parent(int(sys.argv[1])); time.sleep(20)"
    )
    gone = subprocess.Popen(["false"])
    gone.wait()
    ran = subprocess.run(
        [sys.executable, "-c", code, str(gone.pid)], capture_output=True, timeout=10
    )
    assert b"KeyboardInterrupt" in ran.stderr
