"""The README's lifter planned from the README's log, as a coach would read it."""

from datetime import date
from pathlib import Path

import pytest

from blockwright.engine.training import Block
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.sets_file import read_sets
from blockwright.verbs.compose_block import budget_called, plan_block

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def block() -> Block:
    files = (EXAMPLES / name for name in ("lifter.toml", "log.csv", "checkins.csv"))
    return plan_block(*files, budget=budget_called("quick")).value


def test_most_lifts_are_known_to_the_lifter(block: Block) -> None:
    """A log is worth something: most of the week stands in it, and so has a load."""
    logged = {done.lift for done in read_sets(EXAMPLES / "log.csv", builtin_catalogue()).value}
    planned = {entry.lift for session in block.weeks[0].sessions for entry in session.entries}
    assert len(planned & logged) >= 0.7 * len(planned)


def test_what_the_lifter_likes_is_in(block: Block) -> None:
    planned = {entry.lift for session in block.weeks[0].sessions for entry in session.entries}
    assert set(block.lifter.likes) <= planned


def test_the_pin_holds_every_week(block: Block) -> None:
    for week in block.weeks[:-1]:
        mondays = [s for s in week.sessions if s.day.weekday() == 0]
        assert any(
            entry.lift == "barbell back squat" and entry.zone == "low"
            for session in mondays
            for entry in session.entries
        )
    assert block.weeks[0].sessions[0].day == date(2027, 1, 4)
