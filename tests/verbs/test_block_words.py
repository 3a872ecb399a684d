"""A load added to the body: in a column as narrow as a week, and in a proposal's sentence."""

from dataclasses import replace

import pytest

import people
from blockwright.engine.reasons import Reason
from blockwright.engine.review.proposals import load_facts
from blockwright.files.catalogue import catalogue_for
from blockwright.files.words import reason_says
from blockwright.verbs.block_words import (
    block_text,
    done_lines,
    load_words,
    planned_lines,
    replan_text,
)
from sheet_people import MONDAY, block, entry, logged, session, sets


@pytest.mark.parametrize(
    ("lift", "load_kg", "says"),
    [
        ("pull-up", 10.0, "+10 kg"),
        ("pull-up", 0.0, "bodyweight"),
        ("bench press", 80.0, "80 kg"),
    ],
)
def test_what_is_added_to_the_body_is_said_so(lift: str, load_kg: float, says: str) -> None:
    mara = people.mara()
    found = catalogue_for(mara).lifts[lift]
    assert load_words(found, load_kg, "kg") == says
    assert load_facts(load_kg, mara, "after", found)["after"] == says


def test_sets_are_said_by_load_with_the_worst_pain() -> None:
    chins = catalogue_for(people.mara()).lifts["pull-up"]
    own, added = logged("pull-up", 0, 8)[:1], logged("pull-up", 10, 5)[:2]
    sore = [replace(added[0], pain=2.0), replace(added[1], pain=3.0)]
    first, second, _, pain = done_lines([*own, *sore], chins)
    assert first == "bodyweight × 8"
    assert second == "+10 kg × 5, 4"
    assert pain == "pain 3"
    assert done_lines(logged("bench press", 1, 8)[:1], None)[0] == "1 kg × 8"


def test_the_aim_of_a_load_that_stays_is_printed() -> None:
    first, *later = sets(3, 40.0, 8, 12)
    aimed = entry(1, "barbell row", (replace(first, aim_low=9, aim_high=10), *later))
    first_week, *others = (made := block()).weeks
    own = replace(first_week, sessions=(session(1, MONDAY, [aimed]),))
    assert planned_lines(aimed, own, None, "kg")[0] == "3 × 8–12, 9–10 first"
    text = block_text(replace(made, weeks=(own, *others)))
    assert "barbell row: 3 × 8–12 at 40 kg, 9–10 first, rest" in text


def test_reserves_are_told_of_the_first_set_and_of_the_last() -> None:
    first, *_ = sets(1, 40.0, 8, 12)
    week = block().weeks[0]
    down = [replace(first, rir=rir) for rir in (week.rir + 1, week.rir, 0)]
    lines = planned_lines(entry(1, "barbell row", tuple(down)), week, None, "kg")
    assert lines[2:] == [f"{week.rir + 1:g} in reserve", "last set to failure"]
    stays = [replace(first, rir=week.rir)] * 2
    assert len(planned_lines(entry(1, "barbell row", tuple(stays)), week, None, "kg")) == 2


def test_only_what_the_newest_replan_changed_is_told() -> None:
    whole = block()
    facts = {"day": "Monday", "minutes": "40", "muscles": "quads"}
    codes = ("replan_minutes", "replan_sore", "replan_missed")
    told = tuple(Reason(code=code, facts=facts) for code in codes)
    for count in (1, 3):
        text = replan_text(replace(whole, reasons=told[:count]), whole.weeks[0].sessions[0].day)
        changes = [line for line in text.splitlines() if line.startswith("- ")]
        assert changes == [f"- {reason_says(told[0])}"]
