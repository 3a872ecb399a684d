"""What one typed cell is answered with: what changed, in which weeks, or why it cannot be."""

from dataclasses import replace
from typing import Any

import pytest
from test_cell_edits import firsts
from test_edits import setting

from blockwright.engine.editing import (
    AddLift,
    Edit,
    Place,
    RemoveLift,
    SetLoad,
    SetRange,
    SetReserve,
    edited,
)
from blockwright.engine.errors import BadInput
from planned_people import fixed_block

PRESS = Place(week=3, session=2, lift="dumbbell bench press")
SQUAT = Place(week=3, session=1, lift="barbell back squat")
RAISE = Place(week=4, session=1, lift="Cable lateral raise")
RANGE = {"before": "8–12"}
LATER = {"weeks": "from week 3 on"}
ONCE = {"weeks": "in week 3 only"}


@pytest.mark.parametrize(
    ("edit", "change"),
    [
        (SetRange(place=PRESS, low=7, high=11), RANGE | {"after": "7–11"} | LATER),
        (SetRange(place=PRESS, low=1, high=50), RANGE | {"after": "1–50"} | LATER),
        (SetRange(place=PRESS, low=5, high=5, only_this_week=True), RANGE | {"after": "5"} | ONCE),
        (SetReserve(place=PRESS, rir=10), {"before_rir": 2, "after_rir": 10} | LATER),
        (
            SetReserve(place=PRESS, rir=0, only_this_week=True),
            {"before_rir": 2, "after_rir": 0} | ONCE,
        ),
        (
            SetLoad(place=SQUAT, load_kg=60),
            {"before": "77.5 kg", "after": "60 kg", "load_kg": 60} | LATER,
        ),
        (AddLift(place=RAISE), {"sets": 2, "weeks": "from week 4 on"}),
        (AddLift(place=RAISE, sets=1), {"sets": 1, "weeks": "from week 4 on"}),
        (AddLift(place=RAISE, sets=5), {"sets": 5, "weeks": "from week 4 on"}),
        (RemoveLift(place=PRESS), LATER),
        (RemoveLift(place=PRESS, only_this_week=True), ONCE),
    ],
)
def test_what_was_typed_is_a_decision_that_says_what_changed(
    edit: Edit, change: dict[str, Any]
) -> None:
    new = edited(fixed_block(), edit, setting())
    said = dict(new.decisions[-1].change)
    assert said.pop("day") == {1: "Monday", 2: "Tuesday"}[edit.place.session]
    where = {"week": edit.place.week, "session": edit.place.session, "lift": edit.place.lift}
    assert said == where | {"lift": edit.place.lift.lower()} | change


@pytest.mark.parametrize(
    ("edit", "column", "says", "mend"),
    [
        (
            SetRange(place=PRESS, low=1, high=51),
            "reps",
            "1 to 51",
            "smaller number first, up to 50",
        ),
        (SetRange(place=PRESS, low=0, high=5), "reps", "0 to 5 repetitions is no range", "first"),
        (SetRange(place=PRESS, low=8, high=12), "reps", "for 8–12 already", "another number"),
        (SetReserve(place=PRESS, rir=-0.5), "rir", "-0.5 is no number", "give 0 to 10"),
        (SetReserve(place=PRESS, rir=10.5), "rir", "10.5 is no number", "give 0 to 10"),
        (SetReserve(place=PRESS, rir=2), "rir", "has 2 in reserve already", "another number"),
        (SetLoad(place=SQUAT, load_kg=77.5), "load", "has 77.5 kg already", "another number"),
        (SetLoad(place=SQUAT, load_kg=0), "load", "0 kg is no load of barbell", "on the sheet"),
        (SetLoad(place=SQUAT, load_kg=-5), "load", "-5 kg is no load of barbell", "on the sheet"),
        (AddLift(place=RAISE, sets=0), "sets", "no lift has 0 sets", "give 1 to 5 sets"),
        (AddLift(place=RAISE, sets=6), "sets", "no lift has 6 sets", "give 1 to 5 sets"),
        (AddLift(place=SQUAT), "lift", "is in the session on", "change its sets"),
        (AddLift(place=replace(RAISE, lift="x y")), "lift", 'no lift is called "x y"', "the list"),
    ],
)
def test_what_cannot_be_says_where_and_the_mend(
    edit: Edit, column: str, says: str, mend: str
) -> None:
    with pytest.raises(BadInput) as caught:
        edited(fixed_block(), edit, setting())
    (problem,) = caught.value.problems
    assert problem.column == column
    assert says in problem.says
    assert mend in problem.mend


def test_later_weeks_keep_their_distance_and_no_closer_than_one_left() -> None:
    """The week that was typed holds what was typed; failure is never reached by arithmetic."""
    block, first = fixed_block(), replace(PRESS, week=1)
    assert [one.rir for one in firsts(block, first)] == [3, 3, 2, 2, 1, 1]
    for typed, later in ((2, [2, 2, 1, 1, 1, 1]), (6, [6, 6, 5, 5, 4, 4]), (0, [0, 1, 1, 1, 1, 1])):
        new = edited(block, SetReserve(place=first, rir=typed), setting())
        assert [one.rir for one in firsts(new, first)] == later
        sets = {one.rir for one in new.weeks[0].sessions[1].entries[0].sets}
        assert len(sets) == 1


def test_a_lift_of_one_week_is_in_that_week_alone() -> None:
    once = edited(fixed_block(), AddLift(place=RAISE, sets=3, only_this_week=True), setting())

    def weeks_with_it(block: Any) -> list[tuple[int, int, Any]]:
        return [
            (week.week, len(entry.sets), (entry.zone, entry.sets[0]))
            for week in block.weeks
            for session in week.sessions
            for entry in session.entries
            if entry.lift == RAISE.lift.lower()
        ]

    found = weeks_with_it(once)
    assert [(week, sets) for week, sets, _ in found] == [(4, 3)]
    zone, row = found[0][2]
    assert (zone, row.reps_low, row.reps_high) == ("high", 15, 20), "the zone it likes best"
    assert row.rir == fixed_block().weeks[3].rir
    earlier = edited(once, AddLift(place=replace(RAISE, week=2), sets=2), setting())
    here = [(week, sets) for week, sets, _ in weeks_with_it(earlier)]
    assert here == [(2, 2), (3, 2), (4, 3), (5, 2), (6, 2)], "where it is it stays as it is"


@pytest.mark.parametrize(("low", "high", "zone"), [(4, 6, "low"), (8, 11, "mid"), (15, 20, "high")])
def test_a_typed_range_is_of_its_own_zone_and_rests_as_long_as_that(
    low: int, high: int, zone: str
) -> None:
    new = edited(fixed_block(), SetRange(place=PRESS, low=low, high=high), setting())
    (entry,) = (e for e in new.weeks[2].sessions[1].entries if e.lift == PRESS.lift)
    assert entry.zone == zone
    assert {(row.reps_low, row.reps_high) for row in entry.sets} == {(low, high)}
    assert entry.rest_s > 0
