"""Replanning one session: short, missed, a lift gone, a sore muscle."""

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest
from small_gym import lifter, small_catalogue

from blockwright.engine.errors import BadInput
from blockwright.engine.pain import MUCH
from blockwright.engine.planning import QUICK, compose
from blockwright.engine.planning.replan import Disruption, best_week, naive_week, replan
from blockwright.engine.planning.replan_model import lost
from blockwright.engine.planning.replan_week import week_at_hand
from blockwright.engine.training import MUSCLES, Block, Pin, Session, Week
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from plan_checker import Checker

WEEK = 4
SLOTS = ("mon 18:00 60", "wed 18:00 60", "fri 18:00 60", "sat 10:00 60")


@cache
def block() -> Block:
    return compose(
        lifter(*SLOTS, emphasis={"quads": "lead"}, pins=(Pin(lift="leg curl", days=("wed",)),)),
        small_catalogue(),
        default_policy(),
        budget=QUICK,
    )


def after(**trouble: object) -> Block:
    return replan(
        block(),
        Disruption(week=WEEK, session=2, **trouble),  # type: ignore[arg-type]
        small_catalogue(),
        default_policy(),
    )


def week(of: Block) -> Week:
    return of.weeks[WEEK - 1]


def session(of: Block, number: int = 2) -> Session:
    return week(of).sessions[number - 1]


def sets(of: Session) -> int:
    return sum(len(entry.sets) for entry in of.entries)


TROUBLES = [
    {"minutes": 35}, {"minutes": 20}, {"missed": True}, {"without": ("leg curl",)},
    {"sore": ("hamstrings",)}, {"sore": ("quads", "chest")},
]  # fmt: skip


@pytest.mark.parametrize("trouble", TROUBLES, ids=str)
def test_every_rule_still_holds_and_other_weeks_stay(trouble: dict[str, object]) -> None:
    new = after(**trouble)
    assert new.revision == block().revision + 1
    assert new.weeks[: WEEK - 1] == block().weeks[: WEEK - 1]
    assert session(new, 1) == session(block(), 1)
    checker = Checker(new, small_catalogue(), default_policy())
    bent = ("minutes are not the slot's", "pinned", "heavy share", "only", "lead", "a family")
    for says in checker.week_findings(week(new)):
        assert any(word in says for word in bent), says
    for one in week(new).sessions:
        assert one.minutes_planned <= one.minutes_available


@pytest.mark.parametrize("trouble", TROUBLES, ids=str)
def test_no_muscle_gets_more_than_the_week_had_planned(trouble: dict[str, object]) -> None:
    new = week(after(**trouble)).muscle_sets
    for muscle, planned in week(block()).muscle_sets.items():
        assert new[muscle].fractional <= planned.fractional + 1e-9


@pytest.mark.parametrize("trouble", TROUBLES, ids=str)
def test_never_worse_than_dropping_what_does_not_fit(trouble: dict[str, object]) -> None:
    what = Disruption(week=WEEK, session=2, **trouble)  # type: ignore[arg-type]
    policy = default_policy()
    hand = week_at_hand(block(), week(block()), what, small_catalogue(), policy)
    assert 0 <= lost(hand, best_week(hand)) <= lost(hand, naive_week(hand))


def test_thirty_five_minutes_fit() -> None:
    new = session(after(minutes=35))
    assert new.minutes_available == 35
    assert new.minutes_planned <= 35
    assert new.entries


@pytest.mark.parametrize("minutes", [12, 15, 20, 25, 30, 40])
def test_a_pinned_lift_is_the_last_to_go(minutes: int) -> None:
    """The leg curl is pinned to this day: it stays for as long as any lift does."""
    kept = {entry.lift for entry in session(after(minutes=minutes)).entries}
    assert "leg curl" in kept or not kept
    assert session(after(minutes=minutes)).minutes_planned <= minutes


def test_plenty_of_minutes_change_nothing() -> None:
    new = after(minutes=300)
    assert sets(session(new)) == sets(session(block()))
    assert new.reasons[1].code == "replan_nothing"


def test_a_missed_session_stays_empty_and_something_is_carried() -> None:
    new = after(missed=True)
    assert session(new).missed
    assert session(new).entries == ()
    assert len(week(new).sessions) == len(week(block()).sessions)
    later = sum(sets(session(new, n)) for n in (3, 4))
    assert later >= sum(sets(session(block(), n)) for n in (3, 4))
    codes = [reason.code for reason in new.reasons]
    assert codes[0] == "replan_missed"
    assert codes.count("replan_dropped") == len(session(block()).entries)


def test_a_lift_that_is_not_there_is_replaced_or_carried() -> None:
    new = after(without=("leg curl",))
    assert "leg curl" not in [entry.lift for entry in session(new).entries]
    kept = [e.lift for e in session(block()).entries if e.lift != "leg curl"]
    assert set(kept) <= {e.lift for e in session(new).entries}


def test_a_sore_muscle_is_spared_today() -> None:
    def direct(of: Block, muscle: str) -> int:
        return sum(
            len(e.sets)
            for e in session(of).entries
            if muscle in small_catalogue().lifts[e.lift].direct
        )

    half = math.ceil(direct(block(), "hamstrings") / 2)
    assert direct(after(sore=("hamstrings",)), "hamstrings") <= half


def test_what_was_dropped_is_said() -> None:
    new = after(minutes=20)
    lost = sets(session(block())) - sets(session(new))
    said = [r for r in new.reasons if r.code in ("replan_dropped", "replan_shortened")]
    assert lost == sum(int(str(r.facts["sets"])) for r in said)


def test_the_deload_only_drops() -> None:
    deload = block().weeks[-1]
    new = replan(
        block(), Disruption(week=deload.week, session=1, minutes=15), small_catalogue(),
        default_policy(),
    )  # fmt: skip
    before, now = deload.sessions, new.weeks[-1].sessions
    assert now[0].minutes_planned <= 15
    assert now[1:] == before[1:]


def test_a_second_replan_counts_on() -> None:
    once = after(missed=True)
    with pytest.raises(BadInput, match="nothing left to change"):
        replan(
            once, Disruption(week=WEEK, session=2, minutes=30), small_catalogue(), default_policy()
        )
    twice = replan(
        once, Disruption(week=WEEK, session=3, minutes=30), small_catalogue(), default_policy()
    )
    assert twice.revision == 3
    assert session(twice).missed


def test_a_lift_that_was_never_there_is_refused() -> None:
    with pytest.raises(BadInput, match="is not in the session"):
        after(without=("deadlift machine",))


def test_muscle_sets_are_counted_anew() -> None:
    new = after(missed=True)
    fallen = [
        m for m in MUSCLES
        if week(new).muscle_sets[m].fractional < week(block()).muscle_sets[m].fractional
    ]  # fmt: skip
    assert fallen
    assert all(a.session < b.session for a, b in pairwise(week(new).sessions))


@pytest.mark.parametrize("trouble", TROUBLES, ids=str)
def test_no_lift_grows_past_what_the_composer_would_give(trouble: dict[str, object]) -> None:
    policy, known = default_policy(), small_catalogue()
    for was, now in zip(week(block()).sessions, week(after(**trouble)).sessions, strict=True):
        before = {entry.lift: len(entry.sets) for entry in was.entries}
        for entry in now.entries:
            lead = "quads" in known.lifts[entry.lift].direct
            most = policy.whole("planning.sets_most_lead" if lead else "planning.sets_most")
            assert len(entry.sets) <= max(most, before.get(entry.lift, 0))


def test_a_block_that_counts_no_muscles_is_replanned_all_the_same() -> None:
    bare = replace(block(), weeks=tuple(replace(w, muscle_sets={}) for w in block().weeks))
    trouble = Disruption(week=WEEK, session=2, minutes=35)
    new = replan(bare, trouble, small_catalogue(), default_policy())
    assert week(new).sessions == week(after(minutes=35)).sessions
    assert not week(new).muscle_sets, "nor is anything counted that the block does not count"


def test_a_lift_that_hurts_is_nowhere_in_the_rest_of_the_week() -> None:
    here = {entry.lift for entry in session(block()).entries}
    later = {e.lift for s in week(block()).sessions[2:] for e in s.entries}
    hurts = next(iter(sorted(here & later)), sorted(here)[0])
    new = after(hurts=(hurts,))
    left = [s for s in week(new).sessions if s.session >= 2]
    assert hurts not in {entry.lift for s in left for entry in s.entries}
    assert session(new, 1) == session(block(), 1)
    assert [c.facts["lift"] for c in new.cautions if c.code == "left_for_pain"] == [hurts]
    assert all(caution in new.cautions for caution in block().cautions)
    before = {e.lift for s in week(block()).sessions for e in s.entries}
    assert {e.lift for s in left for e in s.entries} <= before  # nobody may stand in


def test_where_nobody_said_where_it_hurts_what_the_lift_loads_much_is_spared() -> None:
    catalogue = builtin_catalogue()
    elbows = next(
        lift for lift in catalogue.lifts.values()
        if lift.regions.get("elbow", 0) >= MUCH and lift.regions.get("shoulder", 0) < MUCH
    )  # fmt: skip
    press = catalogue.lifts["overhead press"]  # shoulder much, elbow a little, as the bench press
    for region, may_gain in (("", [True, False]), ("elbow", [False, True])):
        bench = Disruption(week=1, session=1, hurts=("bench press",), region=region)
        assert [bench.spares(lift, catalogue) for lift in (elbows, press)] == may_gain, region


def test_only_what_may_stand_in_comes_in_for_a_lift_that_hurts() -> None:
    new = after(hurts=("leg curl",), stand_ins=("romanian deadlift", "chest press"))
    before = {e.lift for s in week(block()).sessions for e in s.entries}
    came = {e.lift for s in week(new).sessions for e in s.entries} - before
    assert came <= {"romanian deadlift"}


def test_muscles_put_below_the_floor_are_named() -> None:
    new = after(missed=True)
    told = [r for r in new.reasons if r.code == "replan_below_floor"]
    fallen = {
        muscle
        for muscle, sets in week(new).muscle_sets.items()
        if sets.fractional < min(sets.floor, week(block()).muscle_sets[muscle].fractional)
    }
    named = {part.rsplit(" (", 1)[0] for r in told for part in str(r.facts["muscles"]).split(", ")}
    assert named == {muscle.replace("_", " ") for muscle in fallen}
