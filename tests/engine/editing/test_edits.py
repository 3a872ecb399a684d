"""A coach's own edits: what follows from them, what they break, what may be insisted on."""

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.editing import (
    AddLift,
    Closed,
    CoachWords,
    Edit,
    EditContext,
    MoveLift,
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
    gone_back,
    margin_reason,
    most_sets_named,
    swap_candidates,
)
from blockwright.engine.editing.cell_edits import MOST_RIR
from blockwright.engine.editing.rest import edited_places
from blockwright.engine.errors import BadInput
from blockwright.engine.reasons import Reason
from blockwright.engine.review.block_weeks import remade
from blockwright.engine.training import DAYS, MUSCLES, Block, Entry, RepRange, Session
from blockwright.files.block_json import block_from_json, block_to_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.policy_files import block_policy
from blockwright.files.words import reason_says
from plan_checker import Checker
from planned_people import fixed_block


@cache
def setting(days: int = 0, painful: frozenset[str] = frozenset()) -> EditContext:
    """Judged `days` after the block's start."""
    block = fixed_block()
    return EditContext(
        catalogue=catalogue_for(block.lifter),
        policy=block_policy(block),
        closed=Closed(today=block.start + timedelta(days=days)),
        painful=painful,
    )


def places(block: Block, week: int) -> list[Place]:
    found = next(w for w in block.weeks if w.week == week)
    return [
        Place(week=week, session=s.session, lift=e.lift) for s in found.sessions for e in s.entries
    ]


def entry_of(block: Block, place: Place) -> Entry:
    week = next(w for w in block.weeks if w.week == place.week)
    session = next(s for s in week.sessions if s.session == place.session)
    return next(e for e in session.entries if e.lift == place.lift)


def counts(block: Block, place: Place) -> list[int]:
    """Sets of the lift in this session, week by week of the build weeks."""
    return [
        next((len(e.sets) for e in s.entries if e.lift == place.lift), 0)
        for w in block.weeks
        for s in w.sessions
        if w.kind == "build" and s.session == place.session
    ]


def alone_with(sets: int, week: int) -> Place:
    """A lift in no pair with so many sets in a week."""
    found = ((p, entry_of(fixed_block(), p)) for p in places(fixed_block(), week))
    return next(p for p, entry in found if len(entry.sets) == sets and entry.pair is None)


@st.composite
def edits(draw: Any) -> Edit:
    block = fixed_block()
    place = draw(st.sampled_from(places(block, draw(st.integers(1, 6)))))
    only = draw(st.booleans())
    kinds = ["sets", "move", "swap", "pin", "unpin", "range", "reserve", "load", "add", "remove"]
    match draw(st.sampled_from(kinds)):
        case "sets":
            return SetCount(place=place, sets=draw(st.integers(1, 5)), only_this_week=only)
        case "move":
            to = draw(st.integers(1, len(block.weeks[0].sessions)))
            return MoveLift(place=place, to_session=to, only_this_week=only)
        case "swap":
            known = setting()
            same, others = swap_candidates(block, place, known.catalogue, known.policy)
            other = draw(st.sampled_from([lift.name for lift in (*same, *others)]))
            return SwapLift(place=place, other=other, only_this_week=only)
        case "range":
            low = draw(st.integers(4, 15))
            high = low + draw(st.integers(0, 6))
            return SetRange(place=place, low=low, high=high, only_this_week=only)
        case "reserve":
            rir = draw(st.sampled_from([0.0, 0.5, 1.0, 2.0, 3.0, 4.0]))
            return SetReserve(place=place, rir=rir, only_this_week=only)
        case "load":
            load = draw(st.sampled_from([0.0, 10.0, 21.0, 40.0, 60.0]))
            return SetLoad(place=place, load_kg=load, only_this_week=only)
        case "add":
            known = setting()
            _, others = swap_candidates(block, place, known.catalogue, known.policy)
            name = draw(st.sampled_from([lift.name for lift in others]))
            return AddLift(place=replace(place, lift=name), only_this_week=only)
        case "remove":
            return RemoveLift(place=place, only_this_week=only)
        case "pin":
            return PinLift(place=place)
        case _:
            return UnpinLift(place=place)


# ---------------------------------------------------------------------- what follows from it


def minutes_counted(session: Session, block: Block) -> float:
    """Minutes by the words of the time model, counted anew: coming in, set-up, warm-ups, sets at
    the top of their range, rests between them, less what pairs save."""
    known = setting()
    number = known.policy.number
    seconds = number("time.session_start")
    pairs: dict[str, list[tuple[float, float, int]]] = {}
    for entry in session.entries:
        lift = known.catalogue.lifts[entry.lift]
        kind = "compound" if lift.compound else "single"
        warm = "single" if not lift.compound else "compound"
        warm = "low_compound" if lift.compound and entry.zone == "low" else warm
        work = round(entry.sets[0].reps_high * lift.seconds_per_rep)
        rest = number(f"time.rest.{entry.zone}_{kind}")
        sets = len(entry.sets)
        seconds += lift.setup_s + number(f"time.warmup.{warm}") + sets * work + (sets - 1) * rest
        if entry.method in ("rest-pause", "drop"):
            seconds += (number("method.parts") - 1) * (number("time.mini_pause") + work // 3)
        if entry.pair is not None:
            pairs.setdefault(entry.pair, []).append((work, rest, sets))
    change, least = number("time.pair_change"), number("time.pair_rest_least")
    for (work, rest, sets), (other_work, other_rest, _) in pairs.values():
        pause = max(least, rest - change - other_work, other_rest - change - work)
        saved = rest + other_rest - change - pause
        seconds -= max(0, (sets - 1) * saved - change)
    return seconds / 60


@settings(max_examples=60, deadline=None, derandomize=True)
@given(edits())
def test_any_edit_adds_up_and_breaks_no_rule_that_it_does_not_tell(edit: Edit) -> None:
    """By an independent checker: minutes, sets and rules."""
    block, known = fixed_block(), setting()
    try:
        new = edited(block, edit, known)
    except BadInput:
        return
    assert new.revision == block.revision + 1
    checker = Checker(new, known.catalogue, known.policy)
    for week in new.weeks:
        assert [says for says in checker.sums(week) if "ceiling" not in says] == []
        assert set(week.muscle_sets) == set(MUSCLES)
        for session in week.sessions:
            # A deload takes its time as if its repetitions were not halved.
            if week.kind == "build":
                counted = minutes_counted(session, new)
                assert session.minutes_planned == pytest.approx(counted, abs=0.1001)
            assert [e.order for e in session.entries] == list(range(1, len(session.entries) + 1))
    again = block_from_json(json.loads(json.dumps(block_to_json(new))), "again")
    assert again.weeks == new.weeks
    assert again.decisions == new.decisions
    assert broken_rules(block, new, known) or list(new_findings(block, new)) == []


def new_findings(before: Block, after: Block) -> Iterator[str]:
    """What the checker says of the weeks after and not before, but for what is the coach's to
    choose: sets of one, lifts that differ between weeks, a reserve other than the week's, a range
    within the lift's own."""
    known = setting()
    old = Checker(before, known.catalogue, known.policy)
    new = Checker(after, known.catalogue, known.policy)
    was = {says for week in old.builds for says in old.week_findings(week)}
    for week in new.builds:
        for says in new.week_findings(week):
            if says not in was and not re.search(r" has 1 sets| has RIR |-\d+ in |in 75 min", says):
                yield f"week {week.week}: {says}"


def test_more_sets_from_a_week_on_are_as_many_more_in_later_weeks() -> None:
    block, known = fixed_block(), setting()
    place = next(
        p for p in places(block, 2) if counts(block, p)[1] == 2 and not entry_of(block, p).pair
    )
    new = edited(block, SetCount(place=place, sets=3), known)
    before, after = counts(block, place), counts(new, place)
    assert after[0] == before[0]
    assert after[1] == 3
    assert all(0 <= now - was <= 1 for was, now in zip(before[2:], after[2:], strict=True))
    assert sum(after) > sum(before) + 1
    only = edited(block, SetCount(place=place, sets=3, only_this_week=True), known)
    assert counts(only, place) == [*before[:1], 3, *before[2:]]


def test_a_moved_lift_keeps_its_sets_and_loads_and_frees_its_minutes() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=1, session=1, lift="leg curl")
    target = next(
        s.session for s in block.weeks[0].sessions if all(e.lift != "leg curl" for e in s.entries)
    )
    new = edited(block, MoveLift(place=place, to_session=target), known)
    for old_week, week in zip(block.weeks[:-1], new.weeks, strict=False):
        here = next(s for s in week.sessions if s.session == 1)
        there = next(s for s in week.sessions if s.session == target)
        was = next(e for s in old_week.sessions if s.session == 1 for e in s.entries
                   if e.lift == "leg curl")  # fmt: skip
        now = next(e for e in there.entries if e.lift == "leg curl")
        assert now.sets == was.sets
        assert all(e.lift != "leg curl" for e in here.entries)
        old_here = next(s for s in old_week.sessions if s.session == 1)
        assert here.minutes_planned < old_here.minutes_planned
    assert new.weeks[0].muscle_sets == block.weeks[0].muscle_sets


def test_the_deload_follows_the_last_build_week() -> None:
    block, known = fixed_block(), setting()
    place = next(p for p in places(block, 6) if counts(block, p)[-1] == 4)
    new = edited(block, SetCount(place=place, sets=2), known)
    assert new.weeks[-1].kind == "deload"
    assert new.weeks[-1] != block.weeks[-1]


def test_every_kind_of_edit_has_its_note_in_the_margin() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=1, session=1, lift="leg curl")
    other = swap_candidates(block, place, known.catalogue, known.policy)[0][0].name
    for edit, words in (
        (SetCount(place=place, sets=3), "3 sets where there were"),
        (MoveLift(place=place, to_session=3), "goes from Monday to"),
        (SwapLift(place=place, other=other), f"{other} stands in for leg curl"),
        (PinLift(place=place), "leg curl is locked to Monday"),
        (UnpinLift(place=place), "leg curl is locked no more"),
    ):
        new = edited(block, edit, known, CoachWords(words="because I say so"))
        decision = new.decisions[-1]
        assert decision.kind.startswith("coach_")
        assert decision.words == "because I say so"
        reason = margin_reason(decision)
        assert reason is not None
        assert words in reason_says(reason)
        assert reason in new.reasons


def test_cautions_stay_whatever_is_edited() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=1, session=1, lift="leg curl")
    new = edited(block, SetCount(place=place, sets=3), known)
    assert {caution.code for caution in block.cautions} <= {c.code for c in new.cautions}


def test_no_spotter_is_asked_for_once_no_lift_needs_one() -> None:
    block, known = fixed_block(), setting()
    spotter = next(caution for caution in block.cautions if caution.code == "spotter")
    safe = tuple(
        replace(s, entries=tuple(e for e in s.entries if e.lift not in str(spotter.facts["lifts"])))
        for s in block.weeks[0].sessions
    )
    weeks = tuple(replace(week, sessions=safe) for week in block.weeks)
    new = edited(
        replace(block, weeks=weeks),
        SetCount(place=Place(week=1, session=1, lift="leg curl"), sets=3),
        known,
    )
    assert spotter.code not in {caution.code for caution in new.cautions}


def test_a_lift_taken_out_of_a_pair_or_swapped_leaves_other_pairs_alone() -> None:
    block, known = fixed_block(), setting()

    def paired(session: Session) -> Session:
        entries = [
            replace(entry, pair="AABB"[at], method="superset") if at < 4 else entry
            for at, entry in enumerate(session.entries)
        ]
        return replace(session, entries=tuple(entries))

    weeks = tuple(replace(w, sessions=tuple(map(paired, w.sessions))) for w in block.weeks)
    gone = Place(week=1, session=3, lift="bulgarian split squat")
    other = replace(gone, lift="dumbbell shoulder press")
    swap = SwapLift(place=other, other="standing dumbbell press")
    for edit, pairs in (
        (RemoveLift(place=gone), [None, "B", "B"]), (swap, ["A", "A", None, None]),
    ):  # fmt: skip
        new = edited(replace(block, weeks=weeks), edit, known)
        third = next(s for s in new.weeks[0].sessions if s.session == 3)
        assert [entry.pair for entry in third.entries][: len(pairs)] == pairs, edit.place.lift


# --------------------------------------------------------------------------- what it breaks


def forces(block: Block, new: Block, known: EditContext) -> dict[str, str]:
    return {one.reason.code: one.force for one in broken_rules(block, new, known)}


def test_a_slot_that_is_too_short_refuses() -> None:
    block, known = fixed_block(), setting()
    short = replace(
        block,
        weeks=tuple(
            replace(week, sessions=tuple(
                replace(s, minutes_available=round(s.minutes_planned) + 1) for s in week.sessions
            ))
            for week in block.weeks
        ),
    )  # fmt: skip
    place = Place(week=1, session=1, lift="leg curl")
    new = edited(short, SetCount(place=place, sets=5, only_this_week=True), known)
    assert forces(short, new, known)["no_minutes"] == "refused"
    said = [reason_says(one.reason) for one in broken_rules(short, new, known)]
    over = re.compile(r"Monday.* would take \d+ minutes, over its \d+")
    assert any(map(over.fullmatch, said)), said


def test_only_the_first_week_of_who_begins_is_gentle() -> None:
    known = setting()
    block = replace(fixed_block(), reasons=(*fixed_block().reasons, Reason(code="gentle_novice")))
    for week, gentle in ((1, True), (3, False)):
        place = Place(week=week, session=1, lift="leg curl")
        for edit, rule in (
            (SetCount(place=place, sets=5, only_this_week=True), "rule_gentle_lift"),
            (SetReserve(place=place, rir=1, only_this_week=True), "rule_reserve"),
        ):
            found = forces(block, edited(block, edit, known), known)
            assert (found.get(rule) == "refused") == gentle, (week, rule, found)


def test_a_reserve_of_none_is_a_number_and_less_is_not() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=6, session=1, lift="leg curl")
    none = edited(block, SetReserve(place=place, rir=0, only_this_week=True), known)
    assert {row.rir for row in entry_of(none, place).sets} == {0}
    assert forces(block, none, known)["rule_failure"] == "refused"
    for wrong in (-1, MOST_RIR + 1):
        with pytest.raises(BadInput, match="no number of repetitions in reserve"):
            edited(block, SetReserve(place=place, rir=wrong), known)


def test_what_was_put_from_a_later_week_on_is_kept_from_there() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=3, session=1, lift="leg curl")
    sessions = block.weeks[2].sessions
    to = next(s for s in sessions if all(e.lift != "leg curl" for e in s.entries))
    moved = edited(block, MoveLift(place=place, to_session=to.session), known)
    here = ("leg curl", DAYS[to.day.weekday()])
    assert here in edited_places(moved, 3)
    assert here not in edited_places(moved, 1)


def test_a_lift_the_kit_does_not_allow_is_refused_in_words() -> None:
    block, known = fixed_block(), setting()
    kit = block.lifter.gym.kit
    lacking = next(
        lift for lift in known.catalogue.lifts.values()
        if set(lift.kit) - kit and "quads" in lift.direct
    )  # fmt: skip
    place = Place(week=1, session=1, lift="leg curl")
    new = edited(block, SwapLift(place=place, other=lacking.name), known)
    broken = [one for one in broken_rules(block, new, known) if one.force == "refused"]
    assert any("the gym lacks what it needs" in reason_says(one.reason) for one in broken)


def test_a_lift_is_not_moved_off_its_pin() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=1, session=1, lift="barbell back squat")
    new = edited(block, MoveLift(place=place, to_session=2), known)
    assert forces(block, new, known)["rule_pinned"] == "refused"
    free = edited(block, UnpinLift(place=place), known)
    assert "rule_pinned" not in forces(
        free, edited(free, MoveLift(place=place, to_session=2), known), known
    )


def test_hard_days_too_close_stand_only_as_a_pin() -> None:
    block, known = fixed_block(), setting()
    found = 0
    for place in places(block, 1):
        for session in (1, 2, 3, 4):
            edit = MoveLift(place=place, to_session=session)
            try:
                new = edited(block, edit, known)
            except BadInput:
                continue
            if forces(block, new, known).get("too_close") == "pin":
                found += 1
                insisted = edited(block, edit, known, CoachWords(insisted=("too_close",)))
                assert place.lift in {pin.lift for pin in insisted.lifter.pins}
                assert "too_close" in str(insisted.decisions[-1].change["insisted"])
        if found > 1:
            return
    raise AssertionError("no move is too close")


def test_a_lift_that_hurts_gains_no_sets() -> None:
    block = fixed_block()
    hurting = setting(painful=frozenset({"leg curl"}))
    place = Place(week=1, session=1, lift="leg curl")
    more = edited(block, SetCount(place=place, sets=4), hurting)
    assert forces(block, more, hurting)["rule_pain"] == "refused"
    fewer = edited(block, SetCount(place=place, sets=1, only_this_week=True), hurting)
    assert "rule_pain" not in forces(block, fewer, hurting)


def test_what_is_over_is_not_changed() -> None:
    block = fixed_block()
    place = Place(week=1, session=1, lift="leg curl")
    for known in (setting(days=1), replace(setting(), closed=Closed(
        today=block.start, trained=frozenset({block.start})
    ))):  # fmt: skip
        with pytest.raises(BadInput, match="is over"):
            edited(block, SetCount(place=place, sets=4), known)
    lift = block.weeks[-1].sessions[0].entries[0].lift
    with pytest.raises(BadInput, match="deload follows"):
        edited(block, SetCount(place=Place(week=7, session=1, lift=lift), sets=2), setting())


def test_later_weeks_never_pass_a_limit_by_themselves() -> None:
    block, known = fixed_block(), setting()
    for place in places(block, 1):
        entry = entry_of(block, place)
        new = edited(block, SetCount(place=place, sets=len(entry.sets) + 1), known)
        late = [one for one in broken_rules(block, new, known) if one.week > 1]
        assert {one.reason.code for one in late} <= {"rule_ramp", "rule_hold"}, late


# ------------------------------------------------------------------------------- going back


def test_going_back_brings_the_weeks_that_have_not_begun_and_no_other() -> None:
    block = fixed_block()
    place = next(
        p for p in places(block, 1) if counts(block, p)[0] == 2 and not entry_of(block, p).pair
    )
    changed = edited(block, SetCount(place=place, sets=3), setting())
    back = gone_back(changed, block, setting(), CoachWords(words="it was right"))
    assert back.weeks == block.weeks
    assert back.decisions[-1].words == "it was right"
    assert back.revision == changed.revision + 1
    assert back.decisions[: len(changed.decisions)] == changed.decisions
    later = gone_back(changed, block, setting(days=8))
    assert later.weeks[:2] == changed.weeks[:2]
    assert later.weeks[2:] == block.weeks[2:]
    with pytest.raises(BadInput, match="no week is left"):
        gone_back(changed, block, setting(days=7 * 7))


def test_differences_are_empty_only_when_nothing_differs() -> None:
    block, known = fixed_block(), setting()
    assert differences(block, block, catalogue_for(block.lifter)) == ()
    place = Place(week=2, session=1, lift="leg curl")
    wanted = len(entry_of(block, place).sets) + 1
    new = edited(block, SetCount(place=place, sets=wanted, only_this_week=True), known)
    said = [reason_says(reason) for reason in differences(block, new, catalogue_for(block.lifter))]
    assert f"leg curl, Monday, sets: {wanted - 1} → {wanted} (week 2)" in said
    assert any(words.startswith("minutes on Monday, of 75:") for words in said)
    assert any(words.startswith("hamstrings, weekly sets (floor 4, ceiling") for words in said)
    assert len(set(said)) == len(said), "each difference is told once"


def test_a_range_of_repetitions_is_the_new_lifts_own() -> None:
    block, known = fixed_block(), setting()
    place = Place(week=1, session=1, lift="leg curl")
    other = swap_candidates(block, place, known.catalogue, known.policy)[0][0]
    new = edited(block, SwapLift(place=place, other=other.name), known)
    entry = entry_of(new, replace(place, lift=other.name))
    usable = other.reps[entry.zone]
    assert isinstance(usable, RepRange)
    assert usable.low <= entry.sets[0].reps_low <= entry.sets[0].reps_high <= usable.high
    assert all(planned.load_kg is None for planned in entry.sets)


def test_a_special_set_that_counts_as_two_leaves_room_for_one_set_less() -> None:
    block, known = fixed_block(), setting()
    special = next(
        (place, entry_of(block, place))
        for place in places(block, 4)
        if any(row.counts_as == 2 for row in entry_of(block, place).sets)
    )
    place, entry = special
    most = most_sets_named(entry, known.policy)
    assert most == known.policy.whole("planning.sets_most_lead") - 1
    with pytest.raises(BadInput):
        edited(block, SetCount(place=place, sets=most + 1, only_this_week=True), known)
    new = edited(block, SetCount(place=place, sets=most, only_this_week=True), known)
    assert len(entry_of(new, place).sets) == most


def test_a_lift_swapped_in_keeps_in_reserve_what_its_caution_asks() -> None:
    block, known = fixed_block(), setting()
    last = max(week.week for week in block.weeks if week.kind == "build")
    careful = {lift.name for lift in known.catalogue.lifts.values() if lift.rir_least}
    swapped = 0
    for place in places(block, last):
        asked = min(row.rir for row in entry_of(block, place).sets)
        same, others = swap_candidates(block, place, known.catalogue, known.policy)
        for other in [lift for lift in (*same, *others) if lift.name in careful][:2]:
            new = edited(block, SwapLift(place=place, other=other.name), known)
            there = replace(place, lift=other.name)
            rirs = {row.rir for row in entry_of(new, there).sets}
            assert min(rirs) >= max(asked, other.rir_least)
            swapped += 1
    assert swapped


def test_less_help_is_told_as_help() -> None:
    block = fixed_block()

    def helped(load_kg: float) -> Block:
        def pulls(_: Session, entry: Entry) -> list[Entry]:
            sets = tuple(replace(one, load_kg=load_kg) for one in entry.sets)
            return [replace(entry, lift="assisted pull-up", sets=sets)] if entry.order == 1 else []

        return replace(block, weeks=(remade(block.weeks[0], pulls),))

    found = differences(helped(30.0), helped(25.0), catalogue_for(block.lifter))
    assert all("help 30 kg → help 25 kg" in reason_says(one) for one in found if "load" in one.code)
    assert [one for one in found if one.code == "diff_load"]
