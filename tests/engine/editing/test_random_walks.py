"""Random walks of edits over blocks of invented people: whatever a coach does, what is refused is
refused, hard rules hold in what is kept, undo restores, and solving the rest keeps every lock."""

import random
from dataclasses import replace
from typing import Any

import pytest

from blockwright.engine.editing import (
    AddLift,
    Closed,
    Edit,
    EditContext,
    MoveLift,
    OrderLift,
    PinLift,
    Place,
    RemoveLift,
    SetCount,
    SetLoad,
    SetRange,
    SetReserve,
    SwapLift,
    UnpinLift,
    broken_rules,
    edited,
    gone_back,
    rest,
    rest_solved,
    swap_candidates,
)
from blockwright.engine.editing.rest import edited_places
from blockwright.engine.errors import BadInput
from blockwright.engine.planning import QUICK, Carried, compose
from blockwright.engine.training import DAYS, Block, Week
from blockwright.files.catalogue import catalogue_for
from blockwright.files.policy_files import block_policy
from plan_checker import findings_of
from planned_people import logged, planned

STEPS = 10
HARD = ("sets are", "needs (", "is avoided", "order is not")


def setting_of(block: Block) -> EditContext:
    return EditContext(
        catalogue=catalogue_for(block.lifter),
        policy=block_policy(block),
        closed=Closed(today=block.start),
    )


def random_edit(rng: random.Random, block: Block, known: EditContext) -> Edit:
    week = rng.choice(block.weeks[:-1])
    session = rng.choice(week.sessions)
    entry = rng.choice(session.entries)
    place = Place(week=week.week, session=session.session, lift=entry.lift)
    only = rng.random() < 0.3
    match rng.randrange(11):
        case 0:
            return SetCount(place=place, sets=rng.randint(1, 5), only_this_week=only)
        case 1:
            to = rng.choice(week.sessions).session
            return MoveLift(place=place, to_session=to, only_this_week=only)
        case 2:
            return OrderLift(place=place, earlier=rng.random() < 0.5, only_this_week=only)
        case 3:
            like, other = swap_candidates(block, place, known.catalogue, known.policy)
            name = rng.choice((*like[:8], *other[:3])).name
            return SwapLift(place=place, other=name, only_this_week=only)
        case 4:
            return PinLift(place=place)
        case 5:
            return UnpinLift(place=place)
        case 6:
            low = rng.choice((5, 8, 10, 12))
            return SetRange(place=place, low=low, high=low + 4, only_this_week=only)
        case 7:
            return SetReserve(place=place, rir=rng.randint(0, 4), only_this_week=only)
        case 8:
            load = (entry.sets[0].load_kg or 20.0) + rng.choice((-2.5, 2.5, 5.0))
            return SetLoad(place=place, load_kg=load, only_this_week=only)
        case 9:
            lift = rng.choice(sorted(known.catalogue.lifts))
            return AddLift(place=replace(place, lift=lift), only_this_week=only)
        case _:
            return RemoveLift(place=place, only_this_week=only)


def walked(person: str, seed: int) -> Block:
    """The block after a walk; every step is checked on its way."""
    block, rng = planned(person), random.Random(f"{person} {seed}")
    known = setting_of(block)
    for _ in range(STEPS):
        try:
            new = edited(block, random_edit(rng, block, known), known)
        except BadInput:
            continue
        back = gone_back(new, block, known)
        assert (back.weeks, back.lifter.pins) == (block.weeks, block.lifter.pins)
        broken = broken_rules(block, new, known)
        if any(one.force == "refused" for one in broken) or (broken and rng.random() < 0.7):
            continue
        for week in new.weeks[:-1]:
            assert all(s.minutes_planned <= s.minutes_available for s in week.sessions)
        found = findings_of(new, known.catalogue, known.policy)
        assert [says for says in found if any(word in says for word in HARD)] == []
        block = new
    return block


def cells(week: Week) -> dict[tuple[str, str], tuple[int, int, int]]:
    return {
        (e.lift, DAYS[s.day.weekday()]): (len(e.sets), e.sets[0].reps_low, e.sets[0].reps_high)
        for s in week.sessions
        for e in s.entries
    }


@pytest.mark.parametrize("person", ["full_body_logged", "trained_six_days", "pins"])
def test_every_step_of_a_walk_holds(person: str) -> None:
    for seed in range(2):
        walked(person, seed)


def test_solving_the_rest_keeps_what_a_walk_locked() -> None:
    keeps_locks(walked("full_body_logged", 0), "full_body_logged")


def test_solving_the_rest_keeps_the_sets_of_a_lift_it_would_do_in_turn() -> None:
    """The composer does Saturday's raise in turn with another lift, with other sets."""
    block = planned("trained_six_days")
    place = Place(week=1, session=5, lift="cable lateral raise")
    changed = edited(block, SetCount(place=place, sets=1), setting_of(block))
    keeps_locks(changed, "trained_six_days")


def test_solving_the_rest_keeps_what_is_on_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    """Also where the composer has no lift for it that it would choose."""
    person = "full_body_logged"
    block = planned(person)
    block = replace(block, lifter=replace(block.lifter, emphasis={"calves": "hold"}))
    lifts = setting_of(block).catalogue.lifts.items()
    calves = frozenset(name for name, lift in lifts if "calves" in lift.direct)

    def without(*asked: Any, carried: Carried, **named: Any) -> Block:
        left_out = carried.left_out | calves
        return compose(*asked, carried=replace(carried, left_out=left_out), **named)

    monkeypatch.setattr(rest, "compose", without)
    solved = rest_solved(block, setting_of(block), facts=logged(person), budget=QUICK)
    assert solved.weeks[0].muscle_sets["calves"].direct >= 3
    broken = broken_rules(block, solved, setting_of(block))
    assert "rule_hold" not in {one.reason.code for one in broken}


def keeps_locks(block: Block, person: str) -> None:
    facts = logged(person)
    solved = rest_solved(block, setting_of(block), facts=facts, budget=QUICK)
    kept = edited_places(block, 1)
    assert kept
    for was, now in zip(block.weeks[:-1], solved.weeks[:-1], strict=True):
        old, new = cells(was), cells(now)
        assert {place: old[place] for place in kept if place in old} == {
            place: new[place] for place in kept if place in old
        }
        assert all(s.minutes_planned <= s.minutes_available for s in now.sessions)
