"""Screening answered anew reaches the block at hand, however it was written down."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.utils import timezone

import people
from blockwright.engine.editing import Closed, EditContext
from blockwright.engine.editing.screening import screened_anew
from blockwright.engine.errors import BadInput
from blockwright.engine.training import BlockDecision
from blockwright.files.json_text import plain
from blockwright.files.lifter_file import toml_text
from blockwright.store.blocks import block_of, revisions_of
from blockwright.store.models import BlockRevision
from blockwright.verbs.import_files import Given, import_files
from blockwright.verbs.save_lifter import change_lifter
from blockwright.verbs.stored_values import block_value
from sheet_people import catalogue, policy

pytestmark = pytest.mark.django_db

SYMPTOMS = people.SCREENED | {"symptoms_at_effort": True}
CLEARED = SYMPTOMS | {"cleared_on": "2026-01-07"}

FROM_MONDAY = EditContext(
    catalogue=catalogue(), policy=policy(), closed=Closed(today=people.MONDAY)
)


def saved(world: people.World, screening: object, day: int = 0) -> BlockRevision:
    world.lifter.refresh_from_db()
    table = people.MARA_TABLE | {"screening": screening}
    today = people.MONDAY + timedelta(days=day)
    change_lifter(world.cato, world.lifter, world.lifter.version, table, today)
    found = block_of(world.lifter, people.MONDAY)
    assert found is not None
    return found


def test_an_answer_that_needs_clearance_makes_the_block_wait_and_clearance_frees_it(
    world: people.World,
) -> None:
    waits = saved(world, SYMPTOMS)
    assert (waits.revision, waits.status) == (2, "refer")
    assert any(one["code"] == "screening_refer" for one in waits.document["cautions"])
    assert waits.document["weeks"] == world.block.document["weeks"]
    assert waits.made_by == world.cato
    told = waits.document["decisions"][-1]
    assert told["kind"] == "coach_screening"
    assert any("waiting for medical clearance" in one["says"] for one in waits.document["reasons"])
    ready = saved(world, CLEARED, day=2)
    assert (ready.revision, ready.status) == (3, "ready")
    assert any(one["code"] == "screening_cleared" for one in ready.document["cautions"])
    assert block_value(ready).lifter.screening.cleared_on is not None


def test_another_change_of_the_file_leaves_the_block_alone(world: people.World) -> None:
    document = plain(world.lifter.document) | {"weeks": 5}
    change_lifter(world.cato, world.lifter, 1, document, people.MONDAY)
    assert len(revisions_of(world.lifter)) == 1


def test_a_block_that_is_over_stays_as_it_was(world: people.World) -> None:
    assert saved(world, SYMPTOMS, day=14).revision == 1
    assert saved(world, {}, day=14).revision == 1


def test_an_answer_taken_back_makes_it_ready_again(world: people.World) -> None:
    saved(world, SYMPTOMS)
    ready = saved(world, people.SCREENED)
    assert ready.status == "ready"
    assert not any(one["code"] == "screening_refer" for one in ready.document["cautions"])


def test_a_lifter_file_taken_in_does_the_same(world: people.World) -> None:
    table = world.lifter.document | {"screening": SYMPTOMS}
    given = Given("mara.toml", toml_text(table).encode())
    now = timezone.now().replace(year=2026, month=1, day=5)
    import_files(world.cato, world.lifter, [given], now)
    found = block_of(world.lifter, people.MONDAY)
    assert found is not None
    assert found.status == "refer"


def test_what_waits_for_a_sign_is_not_freed_by_the_screening() -> None:
    sign = BlockDecision(
        proposal="refer-chest", kind="refer", verdict="accepted", change={"about": "chest pain"}
    )
    lifter = people.mara()
    block = people.block(lifter)
    waiting = replace(block, status="refer", decisions=(sign,))
    after = screened_anew(waiting, people.mara(screening=CLEARED), FROM_MONDAY)
    assert after is not None
    assert after.status == "refer"
    assert screened_anew(waiting, lifter, FROM_MONDAY) is None


def test_a_reading_that_needs_clearance_is_among_what_a_new_clearance_is_for(
    world: people.World,
) -> None:
    reading = people.SCREENED | {"systolic": 165, "diastolic": 95}
    assert saved(world, reading).status == "refer"
    assert saved(world, reading | {"cleared_on": "2026-01-05"}).status == "ready"
    assert world.lifter.document["screening"]["cleared_for"] == ["high_blood_pressure"]


def test_a_clearance_yet_to_come_is_refused(world: people.World) -> None:
    with pytest.raises(BadInput, match="yet to come"):
        saved(world, CLEARED, day=1)


def test_a_clearance_is_for_what_was_answered_when_it_was_written_down(
    world: people.World,
) -> None:
    ready = saved(world, CLEARED, day=2)
    assert ready.status == "ready"
    kept = world.lifter.document["screening"]
    assert kept["cleared_for"] == ["symptoms_at_effort"]
    waits = saved(world, kept | {"kidney_disease": True}, day=3)
    assert waits.status == "refer"
    codes = [one["code"] for one in waits.document["cautions"]]
    assert "clearance_for_other" in codes
    named = kept | {"kidney_disease": True, "cleared_for": ["symptoms_at_effort", "kidney_disease"]}
    assert saved(world, named, day=4).status == "ready"


def test_a_clearance_that_has_lasted_its_time_makes_the_block_wait(world: people.World) -> None:
    long_ago = SYMPTOMS | {"cleared_on": "2025-01-06"}
    assert saved(world, long_ago).status == "ready"
    world.lifter.refresh_from_db()
    table = world.lifter.document | {"weeks": 5}
    change_lifter(world.cato, world.lifter, world.lifter.version, table, people.MONDAY)
    current = block_of(world.lifter, people.MONDAY)
    assert current is not None
    assert current.status == "ready"
    later = people.MONDAY + timedelta(days=3)
    change_lifter(world.cato, world.lifter, world.lifter.version, table | {"weeks": 4}, later)
    current = block_of(world.lifter, people.MONDAY)
    assert current is not None
    assert current.status == "refer"
    assert any(one["code"] == "clearance_too_old" for one in current.document["cautions"])
