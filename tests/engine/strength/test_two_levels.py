"""Two machines under one name: two levels, one question, and predictions that know which."""

import pytest
from helpers_strength import PRESS, beliefs, one, steady

from blockwright.engine.strength import backtest_rows
from blockwright.engine.training import SetDone

OWN_KG = 56.0


def in_turn(other_kg: float, other_reps: int, sets: int = 1, **changes: object) -> list[SetDone]:
    """Five weeks at one machine, then two machines in turn; all to failure."""
    found: list[SetDone] = []
    for week in range(14):
        other = week > 4 and week % 2 == 1
        reps = (other_reps if other else 8) + (-1, 0, 1, 0, 0)[week % 5]
        found += [
            one(
                7 * week, reps - number // 2, other_kg if other else OWN_KG,
                set_number=number + 1, rir_low=0.0, rir_high=0.0, row=len(found) + 2 + number,
                **changes,
            )
            for number in range(sets)
        ]  # fmt: skip
    return found


MACHINES = [(70.0, 8), (80.0, 9), (40.0, 10)]


@pytest.mark.parametrize(("other_kg", "other_reps"), MACHINES)
def test_two_machines_are_asked_about_once_and_then_predicted(
    other_kg: float, other_reps: int
) -> None:
    found = beliefs(in_turn(other_kg, other_reps))
    codes = [flag.code for flag in found.flags(PRESS.name)]
    assert codes == ["two_levels"], "one question for the lift"
    last = backtest_rows(found.replayed)[-6:]
    assert not any(row.flagged for row in last)
    for row in last:
        assert row.predicted is not None
        assert row.reps_to_failure is not None
        assert abs(row.predicted.median - row.reps_to_failure) < 2.5
    belief = found.own(PRESS.name)
    assert belief is not None
    assert belief.forecast(OWN_KG, 0).median == pytest.approx(8, abs=1)
    assert belief.forecast(other_kg, 0).median == pytest.approx(other_reps, abs=1.2)


def test_machines_with_several_sets_a_session_do_not_restart_in_turn() -> None:
    codes = [flag.code for flag in beliefs(in_turn(80.0, 9, sets=3)).flags(PRESS.name)]
    assert codes.count("two_levels") == 1
    assert codes.count("changed_level") <= 1
    assert codes[-1] == "two_levels"


def test_machines_mixed_from_the_second_session_are_not_read_as_the_curve() -> None:
    sets: list[SetDone] = []
    for session, on_other in enumerate("01001011001011"):
        kg, usual = (80.0, (12, 11, 10)) if on_other == "1" else (60.0, (14, 12, 11))
        sets += [
            one(
                4 * session, reps + (0, 1, -1, 0, 1)[session % 5], kg, rest_s=150.0,
                set_number=number + 1, rir_low=3.0, rir_high=3.0, row=len(sets) + 2 + number,
            )
            for number, reps in enumerate(usual)
        ]  # fmt: skip
    found = beliefs(sets)
    assert found.replayed.state.two.all()
    own = found.own(PRESS.name)
    assert own is not None
    assert own.one_rm_kg.median < 80.0 * (1 + 15 / 30), "more than a usual curve gives the stronger"


def test_what_was_confirmed_or_mistyped_twice_is_no_second_level() -> None:
    for changes in ({"loads_kg": (800.0,)}, {"loads_kg": (80.0 * 0.45359237,)}):
        sets = steady(sessions=10)
        for place in (13, 22):
            sets[place] = one(
                sets[place].moment.day.toordinal() - sets[0].moment.day.toordinal(),
                sets[place].first_reps, set_number=sets[place].set_number, **changes,
            )  # fmt: skip
        assert "two_levels" not in {flag.code for flag in beliefs(sets).flags(PRESS.name)}


def test_a_lift_with_one_level_knows_no_other() -> None:
    assert not beliefs(steady(sessions=10)).replayed.state.two.any()


@pytest.mark.parametrize("ratio", [1.2, 1.35])
def test_machines_mixed_from_the_first_day_on_never_read_above_both(ratio: float) -> None:
    """As many repetitions here as there, for 20 % more: no curve is that steep."""
    sets: list[SetDone] = []
    for session, on_other in enumerate("0110100101101001"):
        kg = 60.0 * (ratio if on_other == "1" else 1.0)
        sets += [
            one(
                4 * session, 10 - number + (0, 1, -1, 0, 1)[session % 5], kg, rest_s=150.0,
                set_number=number + 1, row=len(sets) + 2 + number,
            )
            for number in range(3)
        ]  # fmt: skip
    found = beliefs(sets, keep_predictions=False)
    assert [flag.code for flag in found.flags(PRESS.name)].count("two_levels") == 1
    own = found.own(PRESS.name)
    assert own is not None
    assert own.one_rm_kg.low80 < 60.0 * ratio * (1 + 12 / 30)
    assert own.forecast(60.0, 0).median == pytest.approx(12, abs=1.5)
    assert own.forecast(60.0 * ratio, 0).median == pytest.approx(12, abs=1.5)


def test_heavy_and_light_days_in_turn_are_one_machine() -> None:
    sets = [
        one(4 * session, 6 if session % 2 else 12, 80.0 if session % 2 else 66.0, row=session + 2)
        for session in range(16)
    ]
    assert not beliefs(sets, keep_predictions=False).replayed.state.two.any()
