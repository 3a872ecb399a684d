"""Counting of weekly sets: small tables worked by hand."""

from datetime import date

import pytest

from blockwright.engine.errors import BadInput
from blockwright.engine.training import (
    MUSCLES,
    Catalogue,
    Entry,
    Lift,
    Method,
    Moment,
    RepRange,
    Session,
    SetDone,
    SetPlan,
    Week,
    catalogue_of,
)
from blockwright.engine.volume import (
    MuscleCount,
    done_by_week,
    done_credit,
    done_sets,
    planned_sets,
    planned_week,
    set_credit,
)
from blockwright.files.policy_files import default_policy

POLICY = default_policy()
MONDAY = date(2027, 1, 4)


def lift(name: str, **muscles: float) -> Lift:
    return Lift(
        name=name,
        muscles=muscles,
        pattern="row",
        kit=(),
        axial=0,
        load_kind="external",
        bodyweight_share=0.0,
        role="main",
        family=name,
        stability="free",
        fatigue_group="pull",
        setup_s=60,
        seconds_per_rep=4.0,
        reps={"mid": RepRange(low=8, high=15)},
        standard="All the way.",
    )


CATALOGUE: Catalogue = catalogue_of(
    (
        lift("row", upper_back=1.0, lats=1.0, biceps=0.5, forearms=0.25),
        lift("curl", biceps=1.0, forearms=0.5),
    )
)


def entry(name: str, count: int, counts_as: float = 1.0, method: Method = "straight") -> Entry:
    planned = SetPlan(load_kg=None, reps_low=8, reps_high=12, rir=2, counts_as=counts_as)
    return Entry(order=1, lift=name, method=method, rest_s=120, sets=(planned,) * count)


def done(
    name: str = "row",
    *,
    rir: float | tuple[float, float] | None = 2.0,
    reps: tuple[int, ...] = (10,),
    method: Method = "straight",
    day: date = MONDAY,
) -> SetDone:
    low, high = rir if isinstance(rir, tuple) else (rir, rir)
    return SetDone(
        moment=Moment(day=day),
        lift=name,
        set_number=1,
        loads_kg=(60.0,) * len(reps),
        entered_load="60",
        entered_unit="kg",
        reps=reps,
        rir_low=low,
        rir_high=high,
        method=method,
    )


def test_pelland_2025_fractional_rule_three_rows_add_one_and_a_half_to_biceps() -> None:
    """Pelland et al. 2025, Sports Med 56:481: direct 1, indirect 0.5."""
    assert planned_sets([entry("row", 3)], CATALOGUE)["biceps"].fractional == 1.5


def test_planned_sets_by_hand() -> None:
    counts = planned_sets([entry("row", 4), entry("curl", 3)], CATALOGUE)
    assert counts["lats"] == MuscleCount(direct=4, indirect=0, fractional=4)
    assert counts["biceps"] == MuscleCount(direct=3, indirect=4, fractional=5)
    assert counts["forearms"] == MuscleCount(direct=0, indirect=7, fractional=2.5)
    assert counts["quads"] == MuscleCount()
    assert tuple(counts) == MUSCLES


def test_planned_sets_follow_counts_as_and_leave_warmups_out() -> None:
    counts = planned_sets(
        [entry("curl", 2, counts_as=2.0, method="rest-pause"), entry("curl", 3, method="warmup")],
        CATALOGUE,
    )
    assert counts["biceps"] == MuscleCount(direct=2, indirect=0, fractional=4), "plain counts"


def test_a_plan_with_unknown_lifts_names_all_of_them() -> None:
    with pytest.raises(BadInput) as caught:
        planned_sets([entry("moon row", 3), entry("curl", 3), entry("sun curl", 1)], CATALOGUE)
    assert [problem.says.split('"')[1] for problem in caught.value.problems] == [
        "moon row",
        "sun curl",
    ]


def test_a_planned_week_is_the_sum_of_its_sessions() -> None:
    sessions = tuple(
        Session(
            session=number,
            day=MONDAY,
            start_time="07:00",
            minutes_available=60,
            minutes_planned=40.0,
            entries=entries,
        )
        for number, entries in enumerate([(entry("row", 3),), (entry("curl", 2),), ()], start=1)
    )
    week = Week(week=1, kind="build", rir=3, sessions=sessions, muscle_sets={})
    assert planned_week(week, CATALOGUE)["biceps"] == MuscleCount(
        direct=2, indirect=3, fractional=3.5
    )


@pytest.mark.parametrize(
    ("method", "parts", "credit"),
    [
        ("straight", 1, 1.0),
        ("superset", 1, 1.0),
        ("warmup", 1, 0.0),
        ("try", 1, 0.0),
        ("straight", 0, 0.0),
        ("rest-pause", 1, 1.0),
        ("rest-pause", 2, 1.5),
        ("rest-pause", 3, 2.0),
        ("rest-pause", 6, 2.0),
        ("drop", 2, 1.5),
    ],
)
def test_set_credit(method: Method, parts: int, credit: float) -> None:
    assert set_credit(method, parts, POLICY) == credit


@pytest.mark.parametrize(
    ("logged", "credit"),
    [
        (done(rir=0), 1.0),
        (done(rir=4), 1.0),
        (done(rir=4.5), 0.0),
        (done(rir=(3, 5)), 1.0),
        (done(rir=(4, 6)), 0.0),
        (done(rir=None), 1.0),
        (done(method="warmup"), 0.0),
        (done(reps=(0,)), 0.0),
        (done(reps=(15, 4, 4, 3), method="rest-pause"), 2.0),
        (done(reps=(12, 5, 0), method="drop"), 1.5),
    ],
)
def test_what_counts_as_a_hard_set(logged: SetDone, credit: float) -> None:
    assert done_credit(logged, POLICY) == credit


def test_the_coach_may_leave_sets_without_effort_out() -> None:
    strict = POLICY.overridden({"volume.count_missing_rir": False}, "coach")
    assert done_credit(done(rir=None), strict) == 0.0
    assert done_credit(done(rir=2), strict) == 1.0


def test_a_done_rest_pause_set_is_one_direct_set_of_a_greater_weight() -> None:
    log = [done("curl", reps=(15, 4, 4, 3), method="rest-pause"), done("row"), done(rir=6)]
    counts = done_sets(log, CATALOGUE, POLICY)
    assert counts["biceps"] == MuscleCount(direct=1, indirect=1, fractional=2.5)


def test_done_sets_leave_an_unknown_lift_out() -> None:
    counts = done_sets([done(), done("moon row"), done("curl", rir=6)], CATALOGUE, POLICY)
    assert counts["biceps"] == MuscleCount(direct=0, indirect=1, fractional=0.5)


def test_done_sets_by_week() -> None:
    log = [
        done(day=date(2027, 1, 10)),
        done(day=date(2027, 1, 11)),
        done(day=date(2027, 1, 3)),
        done(day=date(2027, 1, 10)),
    ]
    by_week = done_by_week(log, CATALOGUE, POLICY, start=MONDAY)
    assert {week: counts["lats"].direct for week, counts in by_week.items()} == {1: 2, 2: 1}
