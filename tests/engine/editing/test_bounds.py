"""What an edit takes and what it refuses, the last and the first of each, in words; pins in weeks
that are edited and told."""

from dataclasses import replace
from datetime import timedelta

import pytest
from test_edits import alone_with, counts, entry_of, places, setting

from blockwright.engine.editing import (
    AddLift,
    Closed,
    CoachWords,
    Edit,
    MoveLift,
    OrderLift,
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
)
from blockwright.engine.errors import BadInput
from blockwright.engine.training import DAYS, Block, Pin, RepRange
from blockwright.files.catalogue import catalogue_for
from blockwright.files.words import reason_says
from planned_people import fixed_block

CURL = Place(week=1, session=1, lift="leg curl")
HERE = entry_of(fixed_block(), CURL)
ABSENT = next(
    lift for lift in ("goblet squat", "leg press", "hip thrust") if lift not in
    {entry.lift for week in fixed_block().weeks for s in week.sessions for entry in s.entries}
)  # fmt: skip


def refused(edit: Edit, days: int = 0) -> str:
    with pytest.raises(BadInput) as caught:
        edited(fixed_block(), edit, setting(days))
    (problem,) = caught.value.problems
    return f"{problem.says}; {problem.mend}"


def taken(edit: Edit, days: int = 0) -> Block:
    return edited(fixed_block(), edit, setting(days))


def test_a_coach_names_one_set_to_the_most() -> None:
    bounds = refused(SetCount(place=CURL, sets=99))
    most = int(bounds.split("give 1 to ")[1].split()[0])
    for sets in (1, most):
        found = taken(SetCount(place=CURL, sets=sets, only_this_week=True))
        assert len(entry_of(found, CURL).sets) == sets
    for sets in (0, most + 1, -1):
        said = f"no lift has {sets} sets; give 1 to {most} sets"
        assert refused(SetCount(place=CURL, sets=sets)).startswith(said)
        assert refused(AddLift(place=replace(CURL, lift=ABSENT), sets=sets)).startswith(said)
    added = taken(AddLift(place=replace(CURL, lift=ABSENT), sets=1))
    assert len(entry_of(added, replace(CURL, lift=ABSENT)).sets) == 1


def test_repetitions_go_from_one_to_the_most() -> None:
    for low, high in ((1, 1), (1, 12), (49, 50), (50, 50)):
        row = entry_of(taken(SetRange(place=CURL, low=low, high=high)), CURL).sets[0]
        assert (row.reps_low, row.reps_high) == (low, high)
    for low, high in ((0, 8), (9, 8), (12, 51)):
        said = f"{low} to {high} repetitions is no range; write the smaller number first, up to 50"
        assert refused(SetRange(place=CURL, low=low, high=high)) == said


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (SetCount(place=CURL, sets=len(HERE.sets)), "leg curl has 2 sets already"),
        (SetReserve(place=CURL, rir=HERE.sets[0].rir), "leg curl has 3 in reserve already"),
        (SetRange(place=CURL, low=HERE.sets[0].reps_low, high=HERE.sets[0].reps_high),
         "leg curl is written for "),
        (SetLoad(place=CURL, load_kg=HERE.sets[0].load_kg or 0.0), "leg curl has "),
        (SetLoad(place=CURL, load_kg=-5.0), "-5 kg is no load of leg curl"),
        (AddLift(place=CURL), "leg curl is in the session on 2027-01-04 already"),
        (AddLift(place=replace(CURL, lift="no such lift")), 'no lift is called "no such lift"'),
        (SwapLift(place=CURL, other="no such lift"), 'no lift is called "no such lift"'),
        (SwapLift(place=CURL, other="barbell back squat"),
         "barbell back squat is in the session on 2027-01-04 already"),
        (SwapLift(place=CURL, other="leg curl"), "leg curl is in the session on"),
        (MoveLift(place=CURL, to_session=1), "leg curl is in the session on 2027-01-04 already"),
        (MoveLift(place=CURL, to_session=9), "the block has no session 9 in week 1"),
        (RemoveLift(place=replace(CURL, lift=ABSENT)), f"{ABSENT} is not in session 1 of week 1"),
        (RemoveLift(place=replace(CURL, session=9)), "the block has no session 9 in week 1"),
        (RemoveLift(place=replace(CURL, week=9)), "the block has no session 1 in week 9"),
        (PinLift(place=replace(CURL, lift=ABSENT)), f"{ABSENT} is not in session 1 of week 1"),
        (OrderLift(place=replace(CURL, lift="barbell back squat"), earlier=True),
         "barbell back squat is first in its session already"),
    ],
)  # fmt: skip
def test_what_cannot_be_done_says_why(edit: Edit, says: str) -> None:
    assert refused(edit).startswith(says)


def test_what_is_over_is_closed_to_edits_and_not_to_locks() -> None:
    """From the day after it: the session, and another's lift into it."""
    first = fixed_block().weeks[0].sessions[0]
    assert taken(SetCount(place=CURL, sets=3), 0)
    assert refused(SetCount(place=CURL, sets=3), 1).startswith(
        f"the session on {first.day} is over"
    )
    other = next(p for p in places(fixed_block(), 1) if p.session == 4 and p.lift != CURL.lift)
    assert "is over" in refused(MoveLift(place=other, to_session=1), 1)
    assert taken(PinLift(place=CURL), 1).lifter.pins
    assert taken(UnpinLift(place=CURL), 1).revision == 2


def test_more_sets_in_a_pair_are_more_of_both_and_fewer_fewer() -> None:
    block = fixed_block()
    pair = ("leg curl", "lat pulldown")

    def together(sets: int) -> Block:
        weeks = (
            replace(
                week,
                sessions=tuple(
                    replace(
                        s,
                        entries=tuple(
                            replace(e, pair="A", method="superset", sets=e.sets[:1] * sets)
                            if s.session == 1 and e.lift in pair
                            else e
                            for e in s.entries
                        ),
                    )
                    for s in week.sessions
                ),
            )
            for week in block.weeks
        )
        return replace(block, weeks=tuple(weeks))

    for named, only, later in ((4, True, 3), (1, True, 3), (2, False, 2), (1, False, 2)):
        new = edited(together(3), SetCount(place=CURL, sets=named, only_this_week=only), setting())
        counts = [
            [len(e.sets) for s in week.sessions if s.session == 1 for e in s.entries if e.pair]
            for week in new.weeks
            if week.kind == "build"
        ]
        assert counts[0] == [named, named]
        assert all(left == right for left, right in counts)
        assert counts[1] == [later, later], "by themselves never fewer than are worth doing"


def test_later_weeks_take_as_many_more_as_there_is_time_for() -> None:
    block = fixed_block()
    weeks = (
        replace(
            week,
            sessions=tuple(
                replace(s, minutes_available=int(s.minutes_planned) + (9 if week.week == 1 else 4))
                for s in week.sessions
            ),
        )
        for week in block.weeks
    )
    tight = replace(block, weeks=tuple(weeks))
    new = edited(tight, SetCount(place=CURL, sets=len(HERE.sets) + 2), setting())
    more = [now - was for was, now in zip(counts(block, CURL), counts(new, CURL), strict=True)]
    assert more == [2, 1, 1, 1, 1, 1], "two where they were named, one where two take too long"


def test_locks_are_told_where_they_come_and_go() -> None:
    block = fixed_block()
    locked = taken(PinLift(place=CURL))
    said = "; ".join(map(reason_says, differences(block, locked, catalogue_for(block.lifter))))
    back = "; ".join(map(reason_says, differences(locked, block, catalogue_for(block.lifter))))
    assert "leg curl" in said
    assert "Monday" in said
    assert said != back
    assert "leg curl" in back
    again = edited(locked, PinLift(place=CURL), setting())
    assert again.lifter.pins == locked.lifter.pins, "locked twice is locked once"
    thursday = next(
        s.session for s in block.weeks[0].sessions if all(e.lift != "leg curl" for e in s.entries)
    )
    both = edited(
        edited(locked, AddLift(place=replace(CURL, session=thursday)), setting()),
        PinLift(place=replace(CURL, session=thursday)),
        setting(),
    )
    (pin,) = (pin for pin in both.lifter.pins if pin.lift == "leg curl")
    day = DAYS[block.weeks[0].sessions[thursday - 1].day.weekday()]
    assert set(pin.days) == {"mon", day}
    free = edited(both, UnpinLift(place=CURL), setting())
    assert all(pin.lift != "leg curl" for pin in free.lifter.pins)


@pytest.mark.parametrize("kind", ["move", "swap", "sets"])
def test_to_insist_on_hard_days_in_a_row_makes_a_lock(kind: str) -> None:
    """On the day and for the lift that will stand there."""
    to = next(
        s for s in fixed_block().weeks[0].sessions if all(e.lift != "leg curl" for e in s.entries)
    )
    edit, lift, day = {
        "move": (MoveLift(place=CURL, to_session=to.session), "leg curl", to.day),
        "swap": (SwapLift(place=CURL, other="seated leg curl"), "seated leg curl", None),
        "sets": (SetCount(place=CURL, sets=3), "leg curl", None),
    }[kind]
    known, said = setting(), CoachWords(insisted=("too_close",))
    new = edited(fixed_block(), edit, known, said)
    wanted = "mon" if day is None else DAYS[day.weekday()]
    assert Pin(lift=lift, days=(wanted,)) in new.lifter.pins
    assert edited(fixed_block(), edit, known).lifter.pins == fixed_block().lifter.pins
    assert new.decisions[-1].change["insisted"] == "too_close"


def test_a_range_that_was_locked_is_not_written_over() -> None:
    block, place = fixed_block(), alone_with(3, 3)
    row = entry_of(block, place).sets[0]
    own = RepRange(low=row.reps_low, high=row.reps_high)
    lifter = replace(block.lifter, pins=(Pin(lift=place.lift, days=(), reps=own),))
    locked = replace(block, lifter=lifter)

    def forces(edit: Edit) -> dict[str, str]:
        new = edited(locked, edit, setting())
        return {one.reason.code: one.force for one in broken_rules(locked, new, setting())}

    other = SetRange(place=place, low=own.low + 1, high=own.high + 1, only_this_week=True)
    assert forces(other)["rule_pinned_range"] == "refused"
    assert "rule_pinned_range" not in forces(SetCount(place=place, sets=4, only_this_week=True))


def test_going_back_needs_weeks_that_lead_on() -> None:
    """A deload that has begun leads to nothing, and weeks that end without one are none to go
    back to."""
    block = fixed_block()
    known = replace(setting(), closed=Closed(today=block.start + timedelta(weeks=2)))
    early = replace(block, weeks=(block.weeks[0], replace(block.weeks[1], kind="deload")))
    with pytest.raises(BadInput, match="week 2 does not lead to the weeks of revision 1"):
        gone_back(replace(early, revision=2), block, known)
    with pytest.raises(BadInput, match="week 2 does not lead to the weeks of revision 1"):
        gone_back(replace(block, revision=2), replace(block, weeks=block.weeks[:-1]), known)
    assert gone_back(replace(block, revision=2), block, known).weeks == block.weeks
