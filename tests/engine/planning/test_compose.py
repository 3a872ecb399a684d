"""Whole blocks: every rule by a checker of its own, odd lifters, the same bytes every time."""

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest
from small_gym import FULL_KIT, lifter, small_catalogue

from blockwright.engine.errors import Clash
from blockwright.engine.gym import Gym
from blockwright.engine.planning import QUICK, USUAL, compose
from blockwright.engine.planning.block import is_gentle
from blockwright.engine.training import (
    DAYS,
    MUSCLES,
    Allow,
    Block,
    Habits,
    Known,
    Lifter,
    Limits,
    Moment,
    Pin,
    RepRange,
    Screening,
    SetDone,
    catalogue_of,
)
from blockwright.files.block_json import block_to_json
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.json_text import dumps
from blockwright.files.policy_files import default_policy
from blockwright.files.words import caution_says, reason_says
from plan_checker import findings_of
from studies.made_up_lifters import KITS, full_kit, made_up_lifter

LITTLE = QUICK


def composed(who: Lifter, **more: Any) -> Block:
    return compose(who, builtin_catalogue(), default_policy(), **{"budget": LITTLE, **more})


def assert_good(block: Block) -> None:
    assert findings_of(block, builtin_catalogue(), default_policy()) == []
    for reason in block.reasons:
        assert reason_says(reason)
    for caution in block.cautions:
        assert caution_says(caution)


EVENINGS = ("mon 18:00 60", "wed 18:00 60", "fri 18:00 60")
CLASHING = (0, 9)
"""Bare floors with a lead muscle that nothing on a floor trains directly."""


@cache
def made_up(seed: int) -> Block:
    return composed(made_up_lifter(seed, builtin_catalogue()))


@pytest.mark.parametrize("seed", [0, 1, 2, 3, 5, 7, 9, 19])
def test_made_up_lifters_get_blocks_that_keep_every_rule(seed: int) -> None:
    """`make validate` does the same for 200 (docs/validation.md)."""
    if seed in CLASHING:
        with pytest.raises(Clash) as found:
            made_up(seed)
        assert found.value.rules
        assert found.value.give_up
    else:
        assert_good(made_up(seed))


ALL = full_kit(builtin_catalogue())
GYM = KITS["small gym"]
WORKDAYS = ("mon", "tue", "thu", "fri")
TWICE = tuple(f"{day} {at} 45" for day in WORKDAYS for at in ("07:00", "18:00"))
ODD: Mapping[str, Lifter] = {
    "two sessions on one day": lifter("mon 07:00 45", "mon 18:00 45", "thu 18:00 60", kit=GYM),
    "nine sessions a week": lifter(*TWICE, "sat 10:00 60", kit=GYM),
    "two slots of forty minutes": lifter("tue 18:00 40", "fri 18:00 40", kit=ALL),
    "dumbbells at home": lifter(
        "mon 18:00 60", "wed 18:00 60", "fri 18:00 60", kit=KITS["dumbbells only"]
    ),
    "twenty-minute slots": lifter(*(f"{day} 07:00 20" for day in WORKDAYS), kit=GYM),
    "nothing but the floor": lifter(
        "mon 18:00 45", "wed 18:00 45", "fri 18:00 45", kit=KITS["floor"]
    ),
    "every day": lifter(*(f"{day} 18:00 60" for day in DAYS), kit=KITS["bar at home"]),
}


@cache
def odd(name: str) -> Block:
    return composed(ODD[name], budget=QUICK if "twenty" in name else LITTLE)


@pytest.mark.parametrize("name", ODD)
def test_odd_lifters_get_a_sensible_week(name: str) -> None:
    block = odd(name)
    assert_good(block)
    slots = len(ODD[name].slots)
    free = [reason for reason in block.reasons if reason.code.startswith("slot_unused")]
    assert len(block.weeks[0].sessions) + len(free) == slots
    assert len(free) <= slots // 2
    last = block.weeks[-2].muscle_sets
    trained = [m for m in MUSCLES if last[m].fractional >= 2]
    short = min(slot.minutes for slot in ODD[name].slots) <= 40
    assert len(trained) >= (8 if short or name == "nothing but the floor" else 12)


def test_a_deload_in_two_parts_merges_sessions() -> None:
    slots = tuple(f"{day} 18:00 60" for day in (*WORKDAYS, "wed", "sat"))
    block = composed(lifter(*slots, kit=GYM, visits=6, deload_style="two-part"))
    assert_good(block)
    assert len(block.weeks[-2].sessions) == 6
    assert len(block.weeks[-1].sessions) == 3


def test_a_deload_of_half_the_sets_keeps_the_days_and_is_lighter_in_every_way() -> None:
    block = usual()
    first, last, deload = block.weeks[0], block.weeks[-2], block.weeks[-1]
    assert [s.day.weekday() for s in deload.sessions] == [s.day.weekday() for s in last.sessions]
    counts = [
        sum(len(e.sets) for s in w.sessions for e in s.entries) for w in (first, last, deload)
    ]
    assert counts[2] <= 0.8 * counts[0]
    assert 0.4 * counts[1] <= counts[2] <= 0.6 * counts[1]
    longest = max(s.minutes_planned for s in deload.sessions)
    assert longest <= 1.05 * sorted(s.minutes_planned for s in first.sessions)[1] + 0.05
    assert min(len(e.sets) for s in deload.sessions for e in s.entries) >= 2


@cache
def usual() -> Block:
    return composed(lifter("mon 18:00 60", "wed 18:00 60", "fri 18:00 60", kit=KITS["small gym"]))


def test_the_block_says_who_when_and_how_good() -> None:
    block = usual()
    assert block.revision == 1
    assert block.status == "ready"
    assert [week.kind for week in block.weeks] == ["build"] * 6 + ["deload"]
    assert [week.rir for week in block.weeks] == [3, 3, 2, 2, 1, 1, 5]
    assert block.weeks[0].sessions[0].day == date(2027, 1, 4)
    assert block.weeks[6].sessions[0].day >= date(2027, 2, 15)
    assert 0 <= block.solver.gap <= 1
    assert block.solver.bound >= block.solver.objective
    assert block.solver.status in ("optimal", "feasible")


def test_normal_muscles_start_near_six_and_reach_two_thirds_where_there_is_time() -> None:
    slots = tuple(f"{day} 18:00 90" for day in ("mon", "tue", "thu", "fri", "sat"))
    block = composed(lifter(*slots, kit=GYM), budget=USUAL)
    first, last = block.weeks[0].muscle_sets, block.weeks[5].muscle_sets
    big = ("quads", "hamstrings", "chest", "lats", "side_delts", "biceps", "triceps")
    for muscle in (*big, "calves"):
        assert 4.5 <= first[muscle].fractional <= 8
    for muscle in big:
        assert last[muscle].fractional >= 0.8 * 0.667 * last[muscle].ceiling
    assert 6 <= last["calves"].direct <= 8  # eight at most (rule 14 of a coach)


def test_a_lead_muscle_gets_the_first_call() -> None:
    slots = ("mon 18:00 60", "wed 18:00 60", "fri 18:00 60")
    lead = composed(lifter(*slots, kit=GYM, emphasis={"quads": "lead"}), budget=USUAL)
    first, last = lead.weeks[0].muscle_sets["quads"], lead.weeks[5].muscle_sets["quads"]
    assert 7 <= first.fractional <= 9
    assert last.fractional >= 11
    assert "lead_muscle" in {reason.code for reason in lead.reasons}


def test_the_same_bytes_in_another_process() -> None:
    """Text and sets are hashed anew in each process; this one's seed is drawn."""
    script = (
        "from studies.made_up_lifters import made_up_lifter\n"
        "from blockwright.engine.planning import compose, QUICK\n"
        "from blockwright.files.catalogue import builtin_catalogue\n"
        "from blockwright.files.policy_files import default_policy\n"
        "from blockwright.files.block_json import block_to_json\n"
        "from blockwright.files.json_text import dumps\n"
        "c = builtin_catalogue()\n"
        "b = compose(made_up_lifter(7, c), c, default_policy(), budget=QUICK)\n"
        "print(dumps(block_to_json(b)))\n"
    )
    environment = {
        **os.environ, "PYTHONHASHSEED": "1234", "PYTHONPATH": os.pathsep.join(sys.path),
    }  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", script], env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == dumps(block_to_json(made_up(7))).strip()


def logged(day: date, lift: str = "leg press", load_kg: float = 100.0, reps: int = 10) -> SetDone:
    return SetDone(
        moment=Moment(day=day), lift=lift, set_number=1, loads_kg=(load_kg,),
        entered_load=str(load_kg), entered_unit="kg", reps=(reps,), rir_low=2, rir_high=2,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("days_before", "experience", "gentle"),
    [
        (1, "intermediate", False), (28, "intermediate", False), (29, "intermediate", True),
        (None, "advanced", True), (1, "novice", True),
    ],
)  # fmt: skip
def test_who_gets_a_gentle_first_week(
    days_before: int | None, experience: str, gentle: bool
) -> None:
    """design.md: a novice, or anyone without a logged session in the last 28 days."""
    who = lifter("mon 18:00 40", experience=experience)
    facts = [] if days_before is None else [logged(date(2027, 1, 4) - timedelta(days=days_before))]
    block = compose(who, small_catalogue(), default_policy(), facts=facts, budget=LITTLE)
    codes = {reason.code for reason in block.reasons}
    assert bool(codes & {"gentle_novice", "gentle_return"}) == gentle


def test_who_comes_back_gets_known_lifts_and_a_reason_for_those_that_go() -> None:
    names = ("barbell floor press", "dead-stop barbell row", "leg press")
    facts = [logged(date(2026, 9, day), lift) for day in (4, 11, 18, 25) for lift in names]
    who = lifter(*EVENINGS, kit=ALL, limits=Limits(avoid_lifts=("leg press",)))
    block = composed(who, facts=facts)
    lifts = {e.lift for session in block.weeks[0].sessions for e in session.entries}
    assert lifts & set(names) == set(names[:2])
    goes = [r.facts["lift"] for r in block.reasons if r.code == "lift_goes_rule"]
    assert goes == ["leg press"]


@pytest.mark.parametrize(
    ("known", "sets", "active", "experience", "gentle"),
    [
        (True, 12, True, "advanced", False), (True, 0, True, "advanced", True),
        (False, 12, True, "advanced", True), (True, 12, None, "advanced", True),
        (True, 12, False, "advanced", True), (True, 12, True, "novice", True),
    ],
)  # fmt: skip
def test_lifts_and_weekly_sets_that_are_known_stand_for_a_logged_session(
    known: bool, sets: int, active: bool | None, experience: str, gentle: bool
) -> None:
    who = lifter("mon 18:00 40", experience=experience)
    lifts = (Known(lift="leg press", load=100.0, reps=10),) if known else ()
    who = replace(
        who, known=lifts, habits=Habits(weekly_sets={"quads": 12.0} if sets else {}),
        screening=replace(who.screening, currently_active=active),
    )  # fmt: skip
    assert is_gentle(who, (), default_policy()) == gentle


def test_a_novice_keeps_away_from_heavy_sets_and_failure() -> None:
    allow = Allow(rest_pause=True, drop_sets=True, to_failure=True)
    block = composed(
        lifter("mon 18:00 60", "wed 18:00 60", kit=GYM, experience="novice", allow=allow)
    )
    assert_good(block)
    assert all(
        entry.zone != "low"
        for week in block.weeks for session in week.sessions for entry in session.entries
    )  # fmt: skip


# -------------------------------------------------------------------- what the coach allows


def entries(block: Block, week: int) -> list[Any]:
    return [e for s in block.weeks[week].sessions for e in s.entries]


def test_rest_pause_and_drop_sets_come_late_and_keep_the_count() -> None:
    allow = Allow(rest_pause=True, drop_sets=True, supersets=False)
    slots = ("mon 18:00 60", "wed 18:00 60", "fri 18:00 60")
    block = composed(lifter(*slots, kit=GYM, allow=allow))
    assert_good(block)
    methods = [{e.method for e in entries(block, week)} for week in range(7)]
    assert methods[0] == {"straight"}
    assert methods[5] & {"rest-pause", "drop"}
    assert methods[6] == {"straight"}
    special = [e for e in entries(block, 5) if e.method != "straight"]
    assert all(e.sets[-1].counts_as == 2 and e.sets[0].counts_as == 1 for e in special)


def test_to_failure_only_in_the_last_week_on_safe_lifts() -> None:
    block = composed(lifter("mon 18:00 60", "thu 18:00 60", kit=GYM, allow=Allow(to_failure=True)))
    assert_good(block)
    zero = [[e.lift for e in entries(block, w) if e.sets[-1].rir == 0] for w in range(6)]
    assert not any(zero[:5])
    assert zero[5]
    assert all(builtin_catalogue().lifts[name].safe_to_fail for name in zero[5])


def test_a_pin_is_kept_with_its_days_and_its_own_range() -> None:
    pins = (
        Pin(lift="incline dumbbell press", days=("wed",), reps=RepRange(low=5, high=10)),
        Pin(lift="leg curl", reps="high"),
    )
    block = composed(lifter("mon 18:00 60", "wed 18:00 60", "fri 18:00 60", kit=GYM, pins=pins))
    assert_good(block)
    assert sum(reason.code == "pinned" for reason in block.reasons) == 2


def test_a_heavy_pin_is_kept_on_one_short_visit() -> None:
    pin = Pin(lift="incline dumbbell press", reps=RepRange(low=6, high=10))
    block = composed(lifter("mon 07:00 45", kit=GYM, pins=(pin,)))
    assert any(e.lift == pin.lift for s in block.weeks[0].sessions for e in s.entries)


def test_avoided_patterns_and_the_lifts_limit() -> None:
    limits = Limits(avoid_patterns=("squat", "deadlift"), max_lifts_per_session=4)
    block = composed(lifter("mon 18:00 90", "thu 18:00 90", kit=GYM, limits=limits))
    assert_good(block)


def test_likes_are_answered_one_by_one() -> None:
    who = lifter("mon 18:00 60", "wed 18:00 60", "fri 18:00 60", kit=GYM,
                 likes=("leg press", "barbell back squat", "moon walk"),
                 limits=Limits(avoid_lifts=("barbell back squat",)))  # fmt: skip
    codes = {r.code: r for r in composed(who).reasons if "like" in r.code}
    assert {"liked", "like_not_usable", "like_unknown"} <= codes.keys()
    assert "avoid" in str(codes["like_not_usable"].facts["why"])


# --------------------------------------------------------------------------------- safety


@pytest.mark.parametrize(
    ("answers", "status"),
    [
        ({}, "ready"),
        ({"symptoms_at_effort": True}, "refer"),
        ({"symptoms_at_effort": True, "cleared_on": date(2026, 12, 1)}, "ready"),
    ],
)
def test_a_block_says_what_the_screening_says(answers: dict[str, Any], status: str) -> None:
    """Every answer's own status: `tests/engine/test_screening_answers.py`."""
    who = lifter("mon 18:00 45", screening=Screening(**answers))
    block = compose(who, small_catalogue(), default_policy(), budget=LITTLE)
    assert block.status == status
    codes = {caution.code for caution in block.cautions}
    assert ("screening_refer" in codes) == (status == "refer")
    assert ("screening_cleared" in codes) == ("cleared_on" in answers)


def test_a_spotter_is_asked_for_where_free_weights_come_near_failure() -> None:
    block = compose(
        lifter("mon 18:00 60", "thu 18:00 60", kit=FULL_KIT & KITS["bar at home"]),
        small_catalogue(),
        default_policy(),
        budget=LITTLE,
    )
    spotter = next(c for c in block.cautions if c.code == "spotter")
    assert "barbell" in str(spotter.facts["lifts"])


# ---------------------------------------------------------------------------------- below


def test_a_muscle_nothing_can_reach_is_named() -> None:
    who = lifter("mon 18:00 60", "thu 18:00 60", gym=Gym(kit=frozenset(), unit="kg"))
    block = compose(who, small_catalogue(), default_policy(), budget=LITTLE)
    told = {r.facts["muscle"] for r in block.reasons if r.code == "below_floor_no_lift"}
    assert {"calves", "side delts"} <= told


def test_no_set_comes_nearer_to_failure_than_a_caution_allows() -> None:
    """A lift's own caution, and high blood pressure, stand above the effort path."""
    careful = replace(small_catalogue().lifts["lateral raise"], rir_least=2)
    lifts = {**small_catalogue().lifts, careful.name: careful}
    made = compose(
        lifter(*EVENINGS, pins=(Pin(lift="lateral raise"),)),
        catalogue_of(tuple(lifts.values())),
        default_policy(),
        budget=LITTLE,
    )
    last = next(week for week in reversed(made.weeks) if week.kind == "build")
    entries = [entry for s in last.sessions for entry in s.entries]
    assert {row.rir for e in entries if e.lift == careful.name for row in e.sets} == {2}
    assert {row.rir for e in entries if e.lift != careful.name for row in e.sets} == {1}
    assert "rir_kept" in {reason.code for reason in made.reasons}

    allow = Allow(to_failure=True, rest_pause=True, drop_sets=True)
    pressed = compose(
        lifter(*EVENINGS, allow=allow, screening=Screening(high_blood_pressure=True)),
        small_catalogue(),
        default_policy(),
        budget=LITTLE,
    )
    rows = [row for w in pressed.weeks for s in w.sessions for e in s.entries for row in e.sets]
    methods = {e.method for w in pressed.weeks for s in w.sessions for e in s.entries}
    assert min(row.rir for row in rows) == 2
    assert methods <= {"straight", "superset"}
    codes = {reason.code for reason in pressed.reasons}
    assert {"rir_kept_for_pressure", "no_low_pressure"} <= codes
    assert "low" not in {e.zone for w in pressed.weeks for s in w.sessions for e in s.entries}


def test_somebody_not_active_begins_light_to_moderate() -> None:
    """Riebe et al. 2015 (from memory): inactive and healthy starts light to moderate, then
    progresses; no clearance is asked for."""
    allow = Allow(to_failure=True, rest_pause=True, drop_sets=True)
    monday = date(2027, 1, 4)
    log = [logged(monday - timedelta(days=day)) for day in (3, 5, 10)]
    usual, gentle = [
        composed(
            lifter(*EVENINGS, allow=allow, screening=Screening(currently_active=active)), facts=log
        )
        for active in (True, False)
    ]
    assert_good(gentle)
    assert gentle.status == "ready"
    assert [week.rir for week in gentle.weeks[:4]] == [4, 4, 3, 2]
    rows = [row for w in gentle.weeks for s in w.sessions for e in s.entries for row in e.sets]
    assert min(row.rir for row in rows) >= 1
    assert {e.method for w in gentle.weeks for s in w.sessions for e in s.entries} <= {
        "straight",
        "superset",
    }
    zones = {e.zone for w in gentle.weeks for s in w.sessions for e in s.entries}
    assert "low" not in zones
    assert "low" in {e.zone for w in usual.weeks for s in w.sessions for e in s.entries}
    assert max(len(e.sets) for s in gentle.weeks[0].sessions for e in s.entries) <= 3
    codes = {reason.code for reason in gentle.reasons}
    assert {"rir_kept_to_begin", "gentle_inactive", "no_low_novice"} <= codes
