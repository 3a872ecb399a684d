"""Rest-pause and drop sets leave the counted sets of held and lead muscles within their rules."""

from functools import cache

import pytest
from small_gym import lifter, small_catalogue

from blockwright.engine.planning import QUICK, compose
from blockwright.engine.training import Allow, Block, Entry
from blockwright.files.policy_files import default_policy
from plan_checker import findings_of

SLOTS = ("mon 18:00 60", "wed 18:00 60", "fri 18:00 60")


@cache
def block(lead: str, hold: str) -> Block:
    return compose(
        lifter(
            *SLOTS,
            emphasis={lead: "lead", hold: "hold"},
            allow=Allow(rest_pause=True, drop_sets=True, supersets=False),
        ),
        small_catalogue(),
        default_policy(),
        budget=QUICK,
    )


@pytest.mark.parametrize(("lead", "hold"), [("forearms", "side_delts"), ("triceps", "biceps")])
def test_methods_leave_leads_half_direct_and_held_muscles_still(lead: str, hold: str) -> None:
    made = block(lead, hold)
    special = [e for w in made.weeks for s in w.sessions for e in s.entries if is_special(e)]
    assert special, "nothing is tested without a special set"
    assert findings_of(made, small_catalogue(), default_policy()) == []
    builds = [week for week in made.weeks if week.kind == "build"]
    for week in builds:
        sets = week.muscle_sets[lead]
        assert sets.direct >= sets.fractional / 2
    held = [week.muscle_sets[hold].direct for week in builds]
    assert max(held) - min(held) <= 1
    assert not [e for e in special if hold in small_catalogue().lifts[e.lift].direct]


def is_special(entry: Entry) -> bool:
    return entry.method in ("rest-pause", "drop")
