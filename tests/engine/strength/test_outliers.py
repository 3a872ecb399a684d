"""Questions about a log: what is asked, what is left alone."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import pytest

from blockwright.engine.strength import replay
from blockwright.engine.strength.outliers import suspect_rows, unlike_later_sets
from blockwright.engine.strength.slips import Suspicion
from blockwright.engine.training import Moment, SetDone
from blockwright.engine.units import KG_PER_LB
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy

START = date(2027, 1, 4)


def log(
    lift: str = "barbell back squat", load_kg: float = 100.0, weeks: int = 8, sets: int = 3
) -> list[SetDone]:
    """A steady log, `sets` of one lift every third day, with a little progress."""
    return [
        SetDone(
            moment=Moment(day=START + timedelta(days=3 * session)),
            lift=lift,
            set_number=number,
            loads_kg=(round(load_kg * (1 + 0.004 * session), 1),),
            entered_load="",
            entered_unit="kg",
            reps=(9 - number,),
            rir_low=2,
            rir_high=2,
            row=session * sets + number + 1,
        )
        for session in range(weeks * 2)
        for number in range(1, sets + 1)
    ]


def with_load(sets: list[SetDone], at: int, factor: float) -> list[SetDone]:
    loads = tuple(load * factor for load in sets[at].loads_kg)
    return [*sets[:at], replace(sets[at], loads_kg=loads), *sets[at + 1 :]]


def asked(sets: Sequence[SetDone], bodyweight_kg: float | None = None) -> dict[int, Suspicion]:
    return dict(suspect_rows(sets, builtin_catalogue(), default_policy(), bodyweight_kg))


def test_a_steady_log_raises_no_question() -> None:
    assert asked(log()) == {}


@pytest.mark.parametrize(
    ("factor", "kind"),
    [
        (10, "ten_times"),
        (0.1, "a_tenth"),
        (1 / KG_PER_LB, "pounds_as_kg"),
        (KG_PER_LB, "kg_as_pounds"),
        (3.5, "far_above"),
    ],
)
@pytest.mark.parametrize("at", [0, 1, 20, 47])
def test_one_slip_is_found_wherever_it_stands(factor: float, kind: str, at: int) -> None:
    sets = log()
    found = asked(with_load(sets, at, factor))
    assert {index: question.kind for index, question in found.items()} == {at: kind}
    question = found[at]
    assert question.usual_kg == pytest.approx(sets[at].load_kg, rel=0.15)
    if kind == "far_above":
        assert question.meant_kg is None
    else:
        assert question.meant_kg == pytest.approx(sets[at].load_kg)


@pytest.mark.parametrize("factor", [10, 1 / KG_PER_LB, KG_PER_LB])
def test_a_whole_session_in_the_wrong_unit_is_found(factor: float) -> None:
    sets = log()
    for at in (24, 25, 26):
        sets = with_load(sets, at, factor)
    assert set(asked(sets)) == {24, 25, 26}


def test_a_slip_in_a_log_of_one_day_is_found() -> None:
    sets = with_load(log(weeks=1, sets=5)[:5], 2, 10)
    assert {index: q.kind for index, q in asked(sets).items()} == {2: "ten_times"}


def test_too_few_sets_say_nothing() -> None:
    assert asked(with_load(log(sets=1)[:2], 1, 3)) == {}
    assert asked(with_load(with_load(log(sets=1)[:3], 1, 2), 2, 4)) == {}, "no two agree"


def test_a_confirmed_set_is_not_asked_about() -> None:
    sets = with_load(log(), 20, 10)
    sets[20] = replace(sets[20], confirmed=True)
    assert asked(sets) == {}


def test_warm_ups_and_failed_attempts_are_not_compared() -> None:
    sets = with_load(with_load(log(), 20, 0.1), 21, 2)
    sets[20] = replace(sets[20], method="warmup")
    sets[21] = replace(sets[21], reps=(0,))
    assert asked(sets) == {}


def test_work_sets_are_not_compared_with_the_light_tries_that_led_to_them() -> None:
    """Tries of 10 with all left one can say, then work with half as much again."""
    one = replace(log("cable crunch")[0], reps=(10,), rir_low=10, rir_high=10, method="try")
    work = replace(one, reps=(20,), rir_low=8, rir_high=8, method="straight")
    tries = [replace(one, loads_kg=(kg,)) for kg in (5.0, 10.0, 15.0, 20.0)]
    assert asked([*tries, *(replace(work, loads_kg=(30.0,)) for _ in range(3))]) == {}
    slip = replace(tries[-1], loads_kg=(200.0,))
    assert list(
        asked([*tries[:-1], slip, *(replace(work, loads_kg=(30.0,)) for _ in range(3))])
    ) == [3]


def test_light_and_heavy_days_are_not_asked_about() -> None:
    sets = [
        replace(done, loads_kg=(done.load_kg * 0.7,), reps=(18,)) if index // 3 % 2 else done
        for index, done in enumerate(log())
    ]
    assert asked(sets) == {}


def deload(sets: list[SetDone], day: date, rir: float | None) -> list[SetDone]:
    """Half the load and half the repetitions from `day` for a week, as design.md has it."""
    return [
        replace(done, loads_kg=(done.load_kg / 2,), reps=(max(1, done.first_reps // 2),),
                rir_low=rir, rir_high=rir)
        if day <= done.moment.day < day + timedelta(days=7) else done
        for done in sets
    ]  # fmt: skip


def test_a_deload_is_not_taken_for_pounds() -> None:
    day = START + timedelta(days=24)
    assert asked(deload(log(), day, rir=5)) == {}
    both = sorted(
        [*log(), *log("bench press", 60.0)], key=lambda done: (done.moment.day, done.lift)
    )
    assert asked(deload(both, day, rir=None)) == {}, "two lifts light at once: meant so"


def test_a_lasting_change_of_unit_is_asked_about_where_it_begins() -> None:
    sets = log(weeks=20)
    for at in range(60, 120):
        sets = with_load(sets, at, 1 / KG_PER_LB)
    found = asked(sets)
    assert found[60].kind == "unit_switch"
    assert found[60].meant_kg == pytest.approx(sets[60].load_kg * KG_PER_LB)


def test_very_many_repetitions_are_asked_about() -> None:
    sets = log("leg press")
    sets[10] = replace(sets[10], reps=(60,))
    sets[11] = replace(sets[11], reps=(50,))
    assert asked(sets)[10].kind == "many_reps"
    assert 11 not in asked(sets)


def test_bodyweight_lifts_are_compared_by_what_moves() -> None:
    sets = log("pull-up", 10.0)
    assert asked(with_load(sets, 20, 2.5)) == {}, "25 kg added instead of 10 is no slip"
    slipped = with_load(sets, 20, 10)
    assert asked(slipped) == {}, "without a bodyweight nothing is said"
    assert set(asked(slipped, bodyweight_kg=70.0)) == {20}


def test_the_load_meant_leaves_the_body_that_is_moved_as_it_is() -> None:
    found = asked(with_load(log("pull-up", 10.0), 20, 10), bodyweight_kg=70.0)
    assert found[20].kind == "ten_times"
    assert found[20].meant_kg == pytest.approx(10.2, abs=0.1)
    assert found[20].usual_kg == pytest.approx(10.2, abs=4)


def test_repetitions_that_lack_a_digit_are_asked_about_and_failures_are_not() -> None:
    def with_reps(reps: int, rir: float) -> list[SetDone]:
        sets = log()
        return [*sets[:21], replace(sets[21], reps=(reps,), rir_low=rir, rir_high=rir), *sets[22:]]

    assert {at: one.kind for at, one in asked(with_reps(1, 2)).items()} == {21: "few_reps"}
    assert asked(with_reps(1, 0)) == {}, "nothing was left"
    assert asked(with_reps(4, 2)) == {}


def test_people_are_compared_with_themselves() -> None:
    ana = [replace(done, lifter="Ana") for done in log(load_kg=140)]
    bo = [replace(done, lifter="Bo") for done in log(load_kg=40)]
    both = sorted([*ana, *bo], key=lambda done: done.moment.day)
    assert asked(both) == {}
    assert len(asked(with_load(both, 30, 10))) == 1


def session_of(sets: list[SetDone], days: int) -> list[SetDone]:
    return [
        replace(done, moment=Moment(day=done.moment.day + timedelta(days=days)), row=done.row + 100)
        for done in sets
    ]


def test_a_session_written_down_twice_is_asked_about() -> None:
    day = [*log(sets=5)[:5], *log("bench press", 60, sets=5)[:5]]
    found = asked([*day, *session_of(day, 2)])
    assert {i: (q.kind, q.like_row) for i, q in found.items()} == {10: ("session_again", 2)}
    other = session_of(day, 2)
    other[3] = replace(other[3], reps=(7,))
    assert asked([*day, *other]) == {}
    flat = [replace(done, reps=(8,)) for done in day]
    assert asked([*flat, *session_of(flat, 2)]) == {}, "a programme may repeat itself"


@pytest.mark.parametrize("slips", [1, 3])
@pytest.mark.parametrize("factor", [10, 0.1, 1 / KG_PER_LB])
def test_slips_a_log_opens_with_do_not_hold_the_truth_to_be_the_slip(
    factor: float, slips: int
) -> None:
    """No earlier set can show them; with hindsight they are named and the rest is left alone."""
    sound = log()
    sets = sound
    for at in range(slips):
        sets = with_load(sets, at, factor)
    opening = frozenset(range(slips))
    assert unlike_later_sets(sets, builtin_catalogue(), default_policy()) == opening
    seen = replay(sets, builtin_catalogue(), default_policy(), aside=opening)
    flags = seen.flags("barbell back squat")
    assert [(flag.code, flag.row) for flag in flags] == [
        ("unlike_later_sets", at + 2) for at in range(slips)
    ]
    belief = seen.own("barbell back squat")
    without = replay(sound, builtin_catalogue(), default_policy()).own("barbell back squat")
    assert belief is not None
    assert without is not None
    assert without.one_rm_kg.low80 < belief.one_rm_kg.median < without.one_rm_kg.high80
    assert belief.sets_used == len(sets) - slips


def test_hindsight_changes_nothing_after_the_first_sound_set_or_where_confirmed() -> None:
    catalogue, policy = builtin_catalogue(), default_policy()
    assert unlike_later_sets(with_load(log(), 9, 10), catalogue, policy) == frozenset()
    first = with_load(log(), 0, 10)
    first[0] = replace(first[0], confirmed=True)
    assert unlike_later_sets(first, catalogue, policy) == frozenset()
