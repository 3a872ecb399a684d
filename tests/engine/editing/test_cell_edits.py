"""What is typed into one cell: where it goes, what it breaks; solving the rest keeps it."""

from dataclasses import replace

import pytest
from test_edits import alone_with, places, setting

from blockwright.engine.editing import (
    AddLift,
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
    differences,
    edited,
    rest_solved,
    swap_candidates,
)
from blockwright.engine.editing.rest import taken_out
from blockwright.engine.errors import BadInput
from blockwright.engine.planning import QUICK
from blockwright.engine.training import Block, Entry, SetPlan
from blockwright.files.catalogue import catalogue_for
from blockwright.files.words import reason_says
from planned_people import fixed_block


def firsts(block: Block, place: Place) -> list[SetPlan]:
    """The lift's first set in that session, week by week of the build weeks."""
    return [
        entry.sets[0]
        for week in block.weeks
        for session in week.sessions
        for entry in session.entries
        if week.kind == "build" and session.session == place.session and entry.lift == place.lift
    ]


def codes(block: Block, new: Block) -> dict[str, str]:
    return {one.reason.code: one.force for one in broken_rules(block, new, setting())}


def says(block: Block, new: Block) -> str:
    return "; ".join(reason_says(one.reason) for one in broken_rules(block, new, setting()))


def test_a_range_is_written_from_its_week_on_and_told() -> None:
    block, place = fixed_block(), alone_with(3, 3)
    new = edited(block, SetRange(place=place, low=7, high=11), setting())
    ranges = [(row.reps_low, row.reps_high) for row in firsts(new, place)]
    assert ranges[2:] == [(7, 11)] * 4
    assert ranges[:2] == [(row.reps_low, row.reps_high) for row in firsts(block, place)[:2]]
    told = "; ".join(map(reason_says, differences(block, new, catalogue_for(block.lifter))))
    assert f"{place.lift}, " in told
    assert "repetitions: " in told
    assert "7–11 (weeks 3-6)" in told


def test_a_range_no_set_of_the_lift_is_done_for_clashes() -> None:
    block = fixed_block()
    place = next(p for p in places(block, 3) if "lateral raise" in p.lift)
    new = edited(block, SetRange(place=place, low=3, high=5), setting())
    assert codes(block, new)["rule_range"] == "insist"
    with pytest.raises(BadInput, match="no range"):
        edited(block, SetRange(place=place, low=9, high=8), setting())


def test_a_reserve_is_as_many_fewer_later_and_failure_is_refused() -> None:
    block, place = fixed_block(), alone_with(3, 3)
    before = [row.rir for row in firsts(block, place)]
    new = edited(block, SetReserve(place=place, rir=before[2] + 1), setting())
    assert [row.rir for row in firsts(new, place)] == [*before[:2], *(r + 1 for r in before[2:])]
    lower = edited(block, SetReserve(place=place, rir=1), setting())
    assert min(row.rir for row in firsts(lower, place)) == 1
    zero = edited(block, SetReserve(place=place, rir=0), setting())
    assert codes(block, zero)["rule_failure"] == "refused"


def typed(load_kg: float) -> tuple[Block, Place, Block]:
    """The fixed block with 60 kg from week two on, and what another load in week three makes."""
    block = fixed_block()
    place = next(p for p in places(block, 3) if "barbell back squat" in p.lift)
    first = edited(block, SetLoad(place=replace(place, week=2), load_kg=60), setting())
    return first, place, edited(first, SetLoad(place=place, load_kg=load_kg), setting())


def test_a_load_leads_to_the_later_ones_and_clashes_where_it_cannot_be() -> None:
    first, place, new = typed(62.5)
    loads = [row.load_kg or 0.0 for row in firsts(new, place)]
    assert loads[1:3] == [60, 62.5]
    assert loads[3] >= 62.5
    assert codes(first, new) == {}
    first, _, odd = typed(61.1)
    assert codes(first, odd)["rule_kit_load"] == "insist"
    assert "the kit makes 60 kg or 62.5 kg" in says(first, odd)
    first, _, jump = typed(80)
    assert codes(first, jump)["rule_load_step"] == "insist"
    assert "from 60 kg to 80 kg in one week" in says(first, jump)


@pytest.mark.parametrize("session", [1, 3])
def test_a_lift_comes_in_and_goes_out_with_the_rules_judged(session: int) -> None:
    block = fixed_block()
    place = replace(places(block, 4)[0], lift="Cable lateral raise", session=session)
    new = edited(block, AddLift(place=place, sets=2), setting())
    name = setting().catalogue.find("cable lateral raise")
    assert name is not None
    there = [
        (week.week, len(entry.sets), entry.rest_s, entry.zone)
        for week in new.weeks
        for session in week.sessions
        for entry in session.entries
        if (entry.lift, session.session, week.kind) == (name.name, place.session, "build")
    ]
    assert [(week, sets) for week, sets, *_ in there] == [(4, 2), (5, 2), (6, 2)]
    assert all(rest > 0 for _, _, rest, _ in there)
    assert {zone for *_, zone in there} == {"high"}, "the range it likes best is 12-20"
    out = edited(new, RemoveLift(place=replace(place, lift=name.name)), setting())
    assert [w.sessions for w in out.weeks[:6]] == [w.sessions for w in block.weeks[:6]]
    with pytest.raises(BadInput, match="no lift is called"):
        edited(block, AddLift(place=replace(place, lift="nonsense")), setting())


def test_the_only_lift_of_a_session_stays() -> None:
    block = fixed_block()
    here = [p for p in places(block, 5) if p.session == 1]
    for place in here[:-1]:
        block = edited(block, RemoveLift(place=place), setting())
    with pytest.raises(BadInput, match="the only lift"):
        edited(block, RemoveLift(place=here[-1]), setting())


def test_two_changes_of_one_lift_have_names_of_their_own() -> None:
    block, place = fixed_block(), alone_with(3, 3)
    once = edited(block, SetCount(place=place, sets=2), setting())
    twice = edited(replace(once, revision=1), SetCount(place=place, sets=4), setting())
    assert len({one.proposal for one in twice.decisions}) == len(twice.decisions)


@pytest.mark.slow
def test_solving_the_rest_keeps_what_was_typed_locked_and_taken_out() -> None:
    block, known = fixed_block(), setting()
    place = alone_with(3, 3)
    locked = next(p for p in places(block, 3) if p.session != place.session)
    gone = next(
        p
        for p in places(block, 3)
        if p.lift not in (place.lift, locked.lift)
        and sum(other.lift == p.lift for other in places(block, 3)) == 1
        and not known.catalogue.lifts[p.lift].compound
    )
    for edit in (
        SetRange(place=place, low=7, high=11),
        SetReserve(place=place, rir=4),
        PinLift(place=locked),
        RemoveLift(place=gone),
    ):
        block = edited(block, edit, known)
    new = rest_solved(block, known, budget=QUICK)
    typed_rows, was = firsts(new, place), firsts(block, place)
    assert [(r.reps_low, r.reps_high, r.rir) for r in typed_rows[2:]] == [
        (r.reps_low, r.reps_high, r.rir) for r in was[2:]
    ]
    assert all(_at(new, week, locked) is not None for week in range(1, 7))
    later = {e.lift for w in new.weeks[2:6] for s in w.sessions for e in s.entries}
    assert gone.lift not in later
    assert place.lift in later
    free = edited(block, UnpinLift(place=locked), known)
    assert all(pin.lift != locked.lift for pin in free.lifter.pins)


def lifts_of(block: Block, week: int, session: int) -> list[str]:
    return [e.lift for e in block.weeks[week - 1].sessions[session - 1].entries]


def test_a_lift_goes_one_place_on_from_its_week() -> None:
    block = fixed_block()
    was = lifts_of(block, 3, 4)
    place = Place(week=3, session=4, lift=was[2])
    new = edited(block, OrderLift(place=place, earlier=True), setting())
    assert lifts_of(new, 3, 4) == [was[0], was[2], was[1], *was[3:]]
    assert lifts_of(new, 2, 4) == lifts_of(block, 2, 4)
    assert lifts_of(new, 4, 4)[1] == was[2]
    assert [e.order for e in new.weeks[2].sessions[3].entries] == list(range(1, len(was) + 1))
    assert reason_says(new.reasons[len(block.reasons)]) == (
        f"{was[2]} comes at place 2 on Saturday, from week 3 on"
    )
    once = edited(new, OrderLift(place=place, earlier=False, only_this_week=True), setting())
    assert lifts_of(once, 3, 4) == was
    assert lifts_of(once, 4, 4)[1] == was[2]
    first = Place(week=3, session=4, lift=was[0])
    with pytest.raises(BadInput, match="is first in its session already"):
        edited(block, OrderLift(place=first, earlier=True), setting())


def test_two_lifts_done_in_turn_go_together() -> None:
    block = fixed_block()
    week = block.weeks[2]
    session = week.sessions[3]
    entries = tuple(replace(e, pair="A") if e.order in (4, 5) else e for e in session.entries)
    sessions = (*week.sessions[:3], replace(session, entries=entries))
    weeks = (*block.weeks[:2], replace(week, sessions=sessions), *block.weeks[3:])
    block = replace(block, weeks=weeks)
    was = lifts_of(block, 3, 4)
    place = Place(week=3, session=4, lift=was[4])
    new = edited(block, OrderLift(place=place, earlier=True, only_this_week=True), setting())
    assert lifts_of(new, 3, 4) == [*was[:2], was[3], was[4], was[2], *was[5:]]


def in_week(block: Block, session: int, **of: dict[str, object]) -> Block:
    """The block with entries of a session of week three changed, by lift."""
    week = block.weeks[2]
    here = week.sessions[session - 1]
    entries = tuple(replace(e, **of.get(e.lift, {})) for e in here.entries)  # type: ignore[arg-type]
    sessions = [replace(s, entries=entries) if s is here else s for s in week.sessions]
    weeks = (*block.weeks[:2], replace(week, sessions=tuple(sessions)), *block.weeks[3:])
    return replace(block, weeks=weeks)


def test_a_lift_that_comes_in_stands_by_its_order_and_between_no_pair() -> None:
    block = fixed_block()
    was = lifts_of(block, 3, 4)
    place = Place(week=3, session=4, lift="cable lateral raise")
    new = edited(block, AddLift(place=place, sets=2, only_this_week=True), setting())
    at = lifts_of(new, 3, 4).index(place.lift)
    assert lifts_of(new, 3, 4) == [*was[:at], place.lift, *was[at:]]
    assert 0 < at < len(was), "behind the main lifts, before what comes last"
    around = {lift: {"pair": "A", "method": "superset"} for lift in was[at - 1 : at + 1]}
    paired = in_week(block, 4, **around)
    new = edited(paired, AddLift(place=place, sets=2, only_this_week=True), setting())
    assert lifts_of(new, 3, 4) == [*was[: at + 1], place.lift, *was[at + 1 :]]


def test_a_swap_of_a_lift_done_alone_leaves_the_others_as_they_stand() -> None:
    block, place = fixed_block(), alone_with(3, 3)
    others = [lift for lift in lifts_of(block, 3, place.session) if lift != place.lift]
    block = in_week(block, place.session, **{lift: {"rest_s": 205.0} for lift in others})
    (other, *_), _ = swap_candidates(block, place, setting().catalogue, setting().policy)
    new = edited(block, SwapLift(place=place, other=other.name, only_this_week=True), setting())
    here = new.weeks[2].sessions[place.session - 1].entries
    assert {e.lift for e in here} == {*others, other.name}
    assert {e.rest_s for e in here if e.lift in others} == {205.0}


def test_only_what_the_coach_took_out_for_good_stays_out() -> None:
    block, last = fixed_block(), fixed_block().builds[-1]
    gone, once, *_ = [p for p in places(block, last.week) if p.session == 1]
    for edit in (
        RemoveLift(place=gone),
        RemoveLift(place=once, only_this_week=True),
        SetCount(place=alone_with(3, 3), sets=2),
    ):
        block = edited(block, edit, setting())
    assert taken_out(block, replace(last, sessions=())) == (gone.lift,)
    assert taken_out(block, last) == ()


@pytest.mark.slow
def test_solving_the_rest_keeps_the_order_that_was_typed() -> None:
    block, known = fixed_block(), setting()
    was = lifts_of(block, 2, 1)
    for lift in was:
        block = edited(block, PinLift(place=Place(week=2, session=1, lift=lift)), known)
    place = Place(week=2, session=1, lift=was[2])
    block = edited(block, OrderLift(place=place, earlier=True), known)
    new = rest_solved(block, known, budget=QUICK)
    for week in (2, 3, 6):
        typed, made = lifts_of(block, week, 1), lifts_of(new, week, 1)
        assert typed.index(was[2]) == 1
        assert [lift for lift in made if lift in typed] == typed, week


@pytest.mark.slow
def test_solving_the_rest_keeps_what_was_changed_in_one_week_only() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=4, session=3, lift="bulgarian split squat")
    gone = Place(week=4, session=1, lift="leg curl")
    moved = Place(week=4, session=2, lift="cable curl")
    added = Place(week=4, session=3, lift="triceps pushdown")
    for edit in (
        SetRange(place=place, low=7, high=11, only_this_week=True),
        RemoveLift(place=gone, only_this_week=True),
        MoveLift(place=moved, to_session=4, only_this_week=True),
        AddLift(place=added, sets=2, only_this_week=True),
    ):
        block = edited(block, edit, known)
    new = rest_solved(block, known, budget=QUICK)
    ranges = [(row.reps_low, row.reps_high) for row in firsts(new, place)]
    assert ranges[3] == (7, 11)
    assert (7, 11) not in (ranges[2], ranges[4])
    assert _at(new, 4, gone) is None
    assert _at(new, 4, moved) is None
    assert _at(new, 4, replace(moved, session=4)) is not None
    assert len(getattr(_at(new, 4, added), "sets", ())) == 2
    assert _at(new, 4, added) is not None
    for week in new.weeks:
        for session in week.sessions:
            assert [e.order for e in session.entries] == list(range(1, len(session.entries) + 1))


def _at(block: Block, week: int, place: Place) -> Entry | None:
    found = next(w for w in block.weeks if w.week == week)
    session = next(s for s in found.sessions if s.session == place.session)
    return next((e for e in session.entries if e.lift == place.lift), None)
