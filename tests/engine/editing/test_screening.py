"""High blood pressure answered while a block runs: what is to come stays away from failure."""

from dataclasses import replace
from datetime import date

import pytest

from blockwright.engine.editing import Closed, EditContext
from blockwright.engine.editing.screening import screened_anew
from blockwright.engine.planning.week_figures import session_minutes
from blockwright.engine.training import Block, Screening
from blockwright.engine.volume import planned_sets
from blockwright.files.words import reason_says
from planned_people import fixed_block
from sheet_people import catalogue, policy

LEAST = policy().number("ramp.least_rir_high_blood_pressure")


def from_day(today: date) -> EditContext:
    return EditContext(catalogue=catalogue(), policy=policy(), closed=Closed(today=today))


def with_drop_set() -> Block:
    """The fixed block, whose last build week ends a lift's two sets as one drop set."""
    block = fixed_block()
    last = block.weeks[-2]
    session = last.sessions[-1]
    entry = session.entries[-1]
    special = replace(entry.sets[0], counts_as=2.0, rir=0.0)
    dropped = replace(entry, method="drop", sets=(special,))
    session = replace(session, entries=(*session.entries[:-1], dropped))
    last = replace(last, sessions=(*last.sessions[:-1], session))
    return replace(block, weeks=(*block.weeks[:-2], last, block.weeks[-1]))


def test_pressure_keeps_what_is_to_come_away_from_failure() -> None:
    block = with_drop_set()
    today = block.weeks[-3].sessions[1].day
    pressed = replace(block.lifter, screening=Screening(high_blood_pressure=True))
    after = screened_anew(block, pressed, from_day(today))
    assert after is not None
    assert any(
        row.rir < LEAST
        for w in block.weeks
        for s in w.sessions
        for e in s.entries
        for row in e.sets
    )
    for before, week in zip(block.weeks, after.weeks, strict=True):
        for old, session in zip(before.sessions, week.sessions, strict=True):
            if session.day < today:
                assert session == old
                continue
            assert week.rir >= LEAST
            assert session.minutes_planned == session_minutes(session, catalogue(), policy()) or (
                session.entries == old.entries
            )
            for entry, planned in zip(session.entries, old.entries, strict=True):
                assert entry.method not in ("drop", "rest-pause")
                assert [row.load_kg for row in entry.sets] == [row.load_kg for row in planned.sets]
                assert all(row.rir >= LEAST and row.counts_as <= 1 for row in entry.sets)
        counts = planned_sets((e for s in week.sessions for e in s.entries), catalogue())
        assert {name: told.direct for name, told in week.muscle_sets.items()} == {
            name: counts[name].direct for name in week.muscle_sets
        }
    (reason,) = (one for one in after.reasons if one.code == "rir_kept_for_pressure")
    assert reason.facts == {"rir": LEAST}
    assert reason_says(reason)
    assert "high_blood_pressure" in {caution.code for caution in after.cautions}


def test_pressure_taken_back_leaves_the_reserve() -> None:
    block = with_drop_set()
    from_now = from_day(block.start)
    pressed = screened_anew(
        block, replace(block.lifter, screening=Screening(high_blood_pressure=True)), from_now
    )
    assert pressed is not None
    back = screened_anew(
        pressed, replace(block.lifter, screening=Screening(high_blood_pressure=False)), from_now
    )
    assert back is not None
    assert back.weeks == pressed.weeks


def least_of(block: Block, today: date) -> list[float]:
    """The least reserve of what is to come, week by week of those that have anything to come."""
    coming = [[s for s in week.sessions if s.day >= today] for week in block.weeks]
    return [
        min(row.rir for s in some for e in s.entries for row in e.sets) for some in coming if some
    ]


ACTIVE = Screening(currently_active=True)
IDLE = Screening(currently_active=False)
PRESSED = Screening(currently_active=True, high_blood_pressure=True)
BOTH = Screening(currently_active=False, high_blood_pressure=True)
FIRST, WEEKS = (policy().number(f"screening.inactive_{word}") for word in ("rir", "weeks"))


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        (ACTIVE, IDLE, {"rir_kept_to_begin"}),
        (ACTIVE, PRESSED, {"rir_kept_for_pressure"}),
        (ACTIVE, BOTH, {"rir_kept_to_begin", "rir_kept_for_pressure"}),
        (IDLE, BOTH, {"rir_kept_for_pressure"}),
        (PRESSED, BOTH, {"rir_kept_to_begin"}),
        (BOTH, ACTIVE, set()),
        (BOTH, IDLE, set()),
        (ACTIVE, Screening(currently_active=True, kidney_disease=True), set()),
    ],
)
def test_what_is_new_in_an_answer_eases_what_is_to_come(
    before: Screening, after: Screening, told: set[str]
) -> None:
    """From the first week with a session to come, as in a new block: who was idle begins light and
    comes back a repetition a week, and high blood pressure stays away from failure throughout. The
    rest of the block, and what was asked already, stays as it was."""
    fixed = with_drop_set()
    block = replace(fixed, lifter=replace(fixed.lifter, screening=before))
    today = block.weeks[2].sessions[1].day
    new = screened_anew(block, replace(block.lifter, screening=after), from_day(today))
    assert new is not None
    assert new.lifter.screening == after
    assert {one.code for one in new.reasons if one not in block.reasons} - {
        "edited_screening"
    } == told
    if not told:
        assert new.weeks == block.weeks
        return
    asked = [
        max(
            LEAST if after.high_blood_pressure else 0.0,
            FIRST - max(0, at + 1 - WEEKS) if after.currently_active is False else 0.0,
        )
        for at in range(5)
    ]
    was = least_of(block, today)
    assert least_of(new, today) == [max(*both) for both in zip(was, asked, strict=True)]
    assert [week for week in new.weeks if week.week < 3] == list(block.weeks[:2])
    again = screened_anew(new, replace(block.lifter, screening=after), from_day(today))
    assert again is None, "the same answer twice is no change"
