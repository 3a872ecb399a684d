"""The effort path and the climb of the build weeks."""

import numpy as np
import pytest
from small_gym import USUAL, lifter, small_catalogue

from blockwright.engine.planning.greedy import greedy_week
from blockwright.engine.planning.make_request import make_request
from blockwright.engine.planning.ramp import effort_path, ramp_of
from blockwright.engine.training import MUSCLES
from blockwright.files.policy_files import default_policy


@pytest.mark.parametrize(
    ("weeks", "path"),
    [
        (3, (3, 2, 1)),
        (4, (3, 2, 2, 1)),
        (5, (3, 3, 2, 2, 1)),
        (6, (3, 3, 2, 2, 1, 1)),
        (7, (3, 3, 2, 2, 2, 1, 1)),
        (8, (3, 3, 2, 2, 2, 2, 1, 1)),
    ],
)
def test_effort_path(weeks: int, path: tuple[int, ...]) -> None:
    """design.md: straight line from 3 to 1, rounded; six weeks 3, 3, 2, 2, 1, 1."""
    assert effort_path(weeks, 3, 1) == path


@pytest.mark.parametrize("weeks", [3, 6])
@pytest.mark.parametrize("gentle", [False, True])
def test_climbs_within_its_limits(weeks: int, gentle: bool) -> None:
    request = make_request(
        lifter(*USUAL, weeks=weeks, emphasis={"quads": "lead", "chest": "hold"}),
        small_catalogue(),
        default_policy(),
        gentle=gentle,
    )
    plan = greedy_week(request)
    ramp = ramp_of(request, plan, (), weeks, deterministic_s=0.3).sets
    assert ramp.shape == (weeks, len(plan))
    assert (np.diff(ramp, axis=0) >= 0).all()
    assert (ramp >= 2).all()
    assert (ramp[-1] <= [item.sets for item in plan]).all()
    share = request.share_q[[item.option for item in plan]]
    assert (np.diff(ramp @ share, axis=0) <= 8).all()
    chest = MUSCLES.index("chest")
    direct = ramp @ request.direct[[item.option for item in plan]][:, chest]
    assert direct.max() - direct.min() <= 1
    if gentle:
        assert ramp[0].max() <= 3


def test_the_last_week_is_the_composed_one_when_there_is_time_to_climb() -> None:
    request = make_request(lifter(*USUAL, weeks=8), small_catalogue(), default_policy())
    plan = greedy_week(request)
    ramp = ramp_of(request, plan, (), 8, deterministic_s=0.5).sets
    assert ramp[-1].tolist() == [item.sets for item in plan]
    assert ramp[0].sum() < ramp[-1].sum()
