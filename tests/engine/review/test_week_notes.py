"""What the letter says of a week's sessions."""

from dataclasses import replace

from blockwright.engine.review import review
from blockwright.engine.training import Block, Week
from blockwright.files.policy_files import default_policy
from engine.review.small_block import CATALOGUE, Truth, log_of, monday, small_block, sunday
from studies.cases import case_of


def twice_on_monday(block: Block) -> Block:
    """Session 2 of every week on Monday too."""

    def moved(week: Week) -> Week:
        sessions = tuple(
            replace(s, day=monday(week.week), start_time="20:00") if s.session == 2 else s
            for s in week.sessions
        )
        return replace(week, sessions=sessions)

    return replace(block, weeks=tuple(moved(week) for week in block.weeks))


def test_two_sessions_of_one_day_are_two() -> None:
    block = twice_on_monday(small_block())
    sets = log_of(block, Truth(), sunday(1))
    found = review(case_of(block, sets, [], CATALOGUE, default_policy()), sunday(1))
    assert found.verdict.facts["done"] == found.verdict.facts["planned"] == 3
