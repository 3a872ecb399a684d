"""The whole letter after one clear week: what moves, what stays and why, nothing else beside it."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from small_block import (
    CATALOGUE,
    Truth,
    checkin,
    falls,
    grows,
    log_of,
    monday,
    small_block,
    small_lifter,
    sunday,
)

from blockwright.engine.review import review
from blockwright.engine.training import Block, CheckIn
from blockwright.files.policy_files import default_policy
from studies.cases import case_of

POLICY = default_policy()
STRONGER = grows(2)
GROWS = Truth(level=STRONGER)
LAST = monday(2)
"""The first day of the week reviewed."""
BENCH, ROW, SQUAT, PRESS, LEGS, CURL = (
    "bench press", "row", "squat", "chest press", "leg press", "dumbbell curl",
)  # fmt: skip
UP = {f"raise_load {lift}" for lift in (BENCH, ROW, SQUAT, PRESS, LEGS)}
MORE = {f"add_set {BENCH}"}
CURLS = {f"{CURL} fill_the_range"}
"""The kit's next dumbbells are a wide step."""


def weak(lift: str) -> Truth:
    def level(day: date, name: str) -> float:
        return 0.9 if name == lift and day >= LAST else STRONGER(day, name)

    return replace(GROWS, level=level)


def hurting(lift: str, pain: float) -> Truth:
    return replace(GROWS, pain=lambda day, name: pain if name == lift and day >= LAST else None)


def without(*weekdays: int) -> Truth:
    return replace(GROWS, does=lambda day, _lift: day < LAST or day.weekday() not in weekdays)


def said(measure: str, value: float, *days: int) -> list[CheckIn]:
    return [checkin(LAST + timedelta(days=n), measure, value) for n in days]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("truth", "week", "moves", "stays"),
    [
        (GROWS, 2, UP | MORE, CURLS),
        (GROWS, 5, UP | {f"raise_load {CURL}"} | MORE, set()),
        (GROWS, 6, {"extend_block None"}, set()),
        (GROWS, 7, set(), set()),
        (Truth(spare=0), 2, MORE, CURLS),
        (Truth(spare=-2), 2, {one.replace("raise", "lower") for one in UP},
         {"chest other_lift_down", f"{CURL} first_set_failed"}),
        (replace(GROWS, closer_by=2.0), 2, set(),
         {f"{lift} effort_beyond_target" for lift in (BENCH, ROW, SQUAT, PRESS, LEGS, CURL)}
         | {"chest lift_held_back"}),
        (replace(GROWS, full_range=lambda _, lift: lift != BENCH), 2,
         UP - {f"raise_load {BENCH}"} | {f"add_set {PRESS}"}, CURLS),
        (weak(ROW), 2, UP - {f"raise_load {ROW}"} | {f"lower_load {ROW}"} | MORE, CURLS),
        (Truth(level=falls(0.05, LAST)), 2, {"light_week None"},
         {f"{lift} muscle_holds_load" for lift in (BENCH, SQUAT, PRESS, LEGS, CURL)}
         | {f"{ROW} lift_watch_sounded"}),
        (hurting(BENCH, 2.0), 2, UP | MORE, CURLS),
        (hurting(BENCH, 3.0), 2,
         UP - {f"raise_load {BENCH}", f"raise_load {PRESS}"}
         | {f"refer {BENCH}", f"swap_lift {BENCH}"},
         {"chest lead_in_pain", f"{PRESS} near_pain"} | CURLS),
        (without(2), 2, UP - {f"raise_load {SQUAT}", f"raise_load {PRESS}"},
         {f"{SQUAT} not_done_this_week", f"{PRESS} not_done_this_week", "chest sets_left_undone"}
         | CURLS),
        (without(0, 2), 2, {"light_week None"},
         {f"{lift} week_first" for lift in (BENCH, ROW, LEGS)}),
        (without(0, 2, 4), 2, {"light_week None"}, set()),
        (replace(GROWS, extra={f"{LAST} {BENCH}": "felt dizzy"}), 2, {"refer None"},
         {f"{lift} sign_stops_progress" for lift in (BENCH, ROW, SQUAT, PRESS, LEGS, CURL)}),
    ],
)  # fmt: skip
def test_what_a_week_asks_for_and_nothing_else(
    truth: Truth, week: int, moves: set[str], stays: set[str]
) -> None:
    assert told(small_block(), truth, week) == (moves, stays)


def told(
    block: Block, truth: Truth, week: int, checkins: list[CheckIn] | None = None
) -> tuple[set[str], set[str]]:
    end = sunday(week)
    found = review(
        case_of(block, log_of(block, truth, end), checkins or [], CATALOGUE, POLICY), end
    )
    return (
        {f"{one.kind} {one.lift}" for one in found.proposals},
        {f"{one.lift or one.muscle} {one.why.code}" for one in found.stays},
    )


@pytest.mark.parametrize(
    "checkins",
    [
        said("sleep", 7, 0),
        said("stress", 7, 0, 1, 2, 3),
        said("bodyweight", 80.0, 0, 2, 4, 6),
        [checkin(monday(3), "sore", 6, "chest")],  # of the week after
        [checkin(LAST + timedelta(days=2), "sore", 1, "chest")],
    ],
)
def test_what_says_nothing_against_a_week_changes_nothing_in_it(checkins: list[CheckIn]) -> None:
    assert told(small_block(), GROWS, 2, checkins) == (UP | MORE, CURLS)


def test_who_eats_too_little_climbs_only_with_repetitions_to_spare() -> None:
    block = small_block(small_lifter(emphasis={"chest": "lead"}, energy="deficit"))
    assert told(block, GROWS, 2) == (MORE, CURLS)
    assert told(block, replace(GROWS, spare=6.0), 2)[0] >= UP | MORE
