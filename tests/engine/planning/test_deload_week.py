"""Rule 9 of a coach: the deload is lighter in every way, in both styles, on invented people's
blocks. Read by `coach_rules`, which shares no code with the composer."""

import json
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from blockwright.engine.planning.deload import deload_after, deload_reason
from blockwright.engine.training import Block, Week
from blockwright.files.block_json import block_to_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import dumps
from blockwright.files.policy_files import block_policy
from blockwright.verbs.list_lifts import Narrowing, lifts_document
from coach_rules import read_plan
from coach_rules.deload import check_deload
from planned_people import lift_of, planned

PEOPLE = ("powerlifter", "chest_legs_on_hold", "lats_with_a_log", "full_body_logged",
          "likes_and_skips", "nine_slots")  # fmt: skip
STYLES = ("half", "two-part")


@pytest.fixture(params=PEOPLE)
def person(request: pytest.FixtureRequest) -> Block:
    return planned(request.param)


@cache
def lifts() -> Any:
    return json.loads(dumps(lifts_document(Narrowing())[0]))


def in_style(block: Block, style: str) -> Block:
    block = replace(block, lifter=replace(block.lifter, deload_style=style))
    known, policy = catalogue_for(block.lifter), block_policy(block)
    deload = deload_after(block.weeks[0], block.weeks[-2], block.lifter, known, policy)[0]
    last = block.weeks[-2].sessions
    told = deload_reason(last, deload.sessions, block.lifter.deload_style, policy)
    return replace(block, weeks=(*block.weeks[:-1], deload), reasons=(told,))


def mains(week: Week, block: Block) -> set[str]:
    lifts = {entry.lift for session in week.sessions for entry in session.entries}
    return {lift for lift in lifts if lift_of(block, lift).compound}


@pytest.mark.parametrize("style", STYLES)
def test_a_deload_is_lighter_in_every_way(person: Block, style: str) -> None:
    plan = read_plan(json.loads(dumps(block_to_json(in_style(person, style)))), lifts())
    assert [check.words for check in check_deload(plan) if not check.kept] == []


def test_small_lifts_go_before_main_lifts_do(person: Block) -> None:
    """Half the sets, rounded up: a main lift of two sets keeps one, on hold too."""
    block = in_style(person, "half")
    assert mains(block.weeks[-1], block) == mains(block.weeks[-2], block)


def test_the_second_half_of_two_parts_has_half_the_loads(person: Block) -> None:
    block = in_style(person, "two-part")
    had = {
        (e.lift, row.load_kg)
        for session in block.weeks[-2].sessions for e in session.entries for row in e.sets
    }  # fmt: skip
    sessions = block.weeks[-1].sessions
    for number, session in enumerate(sessions, 1):
        for entry in session.entries:
            load = entry.sets[0].load_kg
            if load is None:
                continue
            full = {kg for lift, kg in had if lift == entry.lift and kg is not None}
            if number <= (len(sessions) + 1) // 2:
                assert load in full
            else:
                assert load <= max(max(full) / 2, 20)
