"""Policy: layers, bounds, near names, cautions that only grow stricter."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright.engine.errors import BadInput
from blockwright.engine.policy import Policy, PolicyValue


def entry(key: str, value: float | str | bool, **more: object) -> PolicyValue:
    fields: dict[str, object] = {
        "unit": "sets", "low": 0.0, "high": 10.0, "choices": (), "why": "a test",
        "source": "judgement",
    }  # fmt: skip
    return PolicyValue(key=key, value=value, **{**fields, **more})  # type: ignore[arg-type]


POLICY = Policy(
    [
        entry("ramp.sets_per_week", 2),
        entry("review.loads", "step", choices=("step", "two_for_two"), low=None, high=None),
        entry("plan.pairs", True, low=None, high=None),
        entry("pain.stop_above", 5, stricter="lower"),
    ]
)


def test_an_override_remembers_where_it_came_from() -> None:
    lifter = POLICY.overridden({"ramp.sets_per_week": 1}, "coach").overridden(
        {"plan.pairs": False}, "lifter"
    )
    assert lifter.number("ramp.sets_per_week") == 1
    assert lifter.value("ramp.sets_per_week").origin == "coach"
    assert lifter.value("plan.pairs").origin == "lifter"
    assert lifter.value("pain.stop_above").origin == "default"
    assert POLICY.number("ramp.sets_per_week") == 2, "the default is never changed"


def test_every_problem_is_said_at_once_with_the_nearest_key() -> None:
    with pytest.raises(BadInput) as caught:
        POLICY.overridden(
            {"ramp.set_per_week": 1, "ramp.sets_per_week": 11, "review.loads": "leap",
             "plan.pairs": 1, "pain.stop_above": "five"},
            "lifter",
        )  # fmt: skip
    said = {problem.key: str(problem) for problem in caught.value.problems}
    assert len(said) == 5
    assert 'did you mean "ramp.sets_per_week"?' in said["ramp.set_per_week"]
    assert "outside 0 to 10" in said["ramp.sets_per_week"]
    assert "step, two_for_two" in said["review.loads"]
    assert "true or false" in said["plan.pairs"]
    assert "write a number" in said["pain.stop_above"]
    with pytest.raises(BadInput, match="True is not the kind of value"):
        POLICY.overridden({"ramp.sets_per_week": True}, "lifter")


@given(st.floats(min_value=0, max_value=10))
def test_a_caution_only_grows_stricter(threshold: float) -> None:
    if threshold > 5:
        with pytest.raises(BadInput, match="never looser"):
            POLICY.overridden({"pain.stop_above": threshold}, "coach")
    else:
        stricter = POLICY.overridden({"pain.stop_above": threshold}, "coach")
        assert stricter.number("pain.stop_above") == threshold


def test_stricter_is_measured_from_the_layer_below() -> None:
    coach = POLICY.overridden({"pain.stop_above": 3}, "coach")
    with pytest.raises(BadInput, match="never looser"):
        coach.overridden({"pain.stop_above": 4}, "lifter")


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -1.0])
def test_numbers_that_are_none_are_refused(value: float) -> None:
    with pytest.raises(BadInput):
        POLICY.overridden({"ramp.sets_per_week": value}, "coach")


def test_what_is_no_number_is_called_so() -> None:
    with pytest.raises(BadInput, match="nan is not a number"):
        POLICY.overridden({"ramp.sets_per_week": float("nan")}, "coach")


def test_asking_for_the_wrong_kind_is_our_mistake() -> None:
    with pytest.raises(TypeError):
        POLICY.number("review.loads")
    with pytest.raises(TypeError):
        POLICY.text("ramp.sets_per_week")
    with pytest.raises(TypeError):
        POLICY.switch("ramp.sets_per_week")
    with pytest.raises(BadInput):
        POLICY.number("nothing.here")
