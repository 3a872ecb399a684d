"""A replanned week, read as a coach: what is carried, what is let go, what never gains."""

import pytest
from planned_people import lift_of, planned

from blockwright.engine.planning.patterns import ALONG, basic_of
from blockwright.engine.planning.replan import Trouble, replan
from blockwright.engine.training import MUSCLES, Block, Catalogue, Entry, Week
from blockwright.files.catalogue import catalogue_for
from blockwright.files.policy_files import block_policy

PEOPLE = ("full_body_logged", "trained_six_days", "powerlifter", "novice_three_days")
WEEK = 3


@pytest.fixture(params=PEOPLE)
def block(request: pytest.FixtureRequest) -> Block:
    return planned(request.param)


def after(block: Block, session: int, week: int = WEEK, **what: object) -> Block:
    trouble = Trouble(week=week, session=session, **what)  # type: ignore[arg-type]
    return replan(block, trouble, catalogue_for(block.lifter), block_policy(block))


def entries(week: Week, since: int = 1) -> list[Entry]:
    return [e for s in week.sessions if s.session >= since for e in s.entries]


def sets(week: Week, lift: str, since: int = 1) -> int:
    return sum(len(e.sets) for e in entries(week, since) if e.lift == lift)


def basics(week: Week, block: Block) -> set[str | None]:
    return {basic_of(lift_of(block, entry.lift)) for entry in entries(week)} - {None}


def test_a_missed_monday_leaves_no_pattern_and_no_muscle_out(block: Block) -> None:
    was, new = block.weeks[WEEK - 1], after(block, 1, missed=True).weeks[WEEK - 1]
    assert basics(new, block) == basics(was, block)
    for muscle in MUSCLES:
        had, has = was.muscle_sets[muscle], new.muscle_sets[muscle]
        assert has.fractional > 0 or not had.fractional, muscle
        own = muscle in ("biceps", "triceps", "side_delts", "calves", "abs")
        assert has.direct > 0 or not (own and had.direct), muscle


def test_small_lifts_make_room_for_a_pattern_the_week_would_lack() -> None:
    """Two days a week, the first missed: the press of that day comes in on the full second one."""
    block = planned("novice_two_days")
    replanned = after(block, 1, missed=True)
    was, new = block.weeks[WEEK - 1], replanned.weeks[WEEK - 1]
    assert basics(new, block) == basics(was, block)
    assert new.muscle_sets["chest"].fractional > 0
    assert "replan_made_room" in {reason.code for reason in replanned.reasons}
    small = [e for e in was.sessions[1].entries if not lift_of(block, e.lift).compound]
    assert sum(sets(new, e.lift, 2) for e in small) < sum(len(e.sets) for e in small)


def test_no_small_lift_is_carried_past_the_lift_that_opens(block: Block) -> None:
    was, new = block.weeks[WEEK - 1], after(block, 1, missed=True).weeks[WEEK - 1]
    for old, session in zip(was.sessions, new.sessions, strict=True):
        mains = [e for e in old.entries if lift_of(block, e.lift).compound]
        had = {entry.lift: len(entry.sets) for entry in old.entries}
        for entry in session.entries:
            if mains and not lift_of(block, entry.lift).compound:
                assert len(entry.sets) <= max(len(mains[0].sets), had.get(entry.lift, 0))


@pytest.mark.parametrize("session", [1, 2, 3])
def test_later_weeks_climb_from_what_was_done(block: Block, session: int) -> None:
    new = after(block, session, missed=True)
    builds = [week for week in new.weeks if week.kind == "build"]
    for at in range(WEEK, len(builds)):
        for muscle in set(MUSCLES) - set(ALONG):
            most = max(week.muscle_sets[muscle].fractional for week in builds[:at])
            assert builds[at].muscle_sets[muscle].fractional <= most + 2
        for entry in entries(builds[at]):
            assert sets(builds[at], entry.lift) <= sets(block.weeks[at], entry.lift)


def test_a_later_week_that_climbs_too_far_is_cut_and_said() -> None:
    """A lead climbs by more than a set a week: after a missed day the print is too far ahead."""
    block = planned("six_days_of_raises")
    new = after(block, 4, missed=True)
    cut = {now.week for now, was in zip(new.weeks, block.weeks, strict=True) if now != was} - {WEEK}
    assert cut == {4}
    assert cut == {r.facts["week"] for r in new.reasons if r.code == "replan_ramp"}


def painful(block: Block, session: int) -> tuple[str, ...]:
    """The lifts of a session that load the shoulder much."""
    here = block.weeks[WEEK - 1].sessions[session - 1].entries
    return tuple(e.lift for e in here if lift_of(block, e.lift).regions.get("shoulder", 0) >= 2)


@pytest.mark.parametrize("session", [1, 2, 3])
def test_what_loads_a_place_that_hurts_gains_no_sets(block: Block, session: int) -> None:
    hurts = painful(block, session)
    if not hurts:
        return
    regions = {
        region for name in hurts
        for region, grade in lift_of(block, name).regions.items() if grade >= 2
    }  # fmt: skip
    was, new = block.weeks[WEEK - 1], after(block, session, hurts=hurts).weeks[WEEK - 1]
    for entry in entries(new, session):
        assert entry.lift not in hurts
        loads = lift_of(block, entry.lift).regions
        if any(loads.get(region, 0) >= 2 for region in regions):
            assert sets(new, entry.lift) <= sets(was, entry.lift)


def test_without_its_barbell_lifts_a_week_keeps_its_patterns() -> None:
    block = planned("full_body_logged")
    known: Catalogue = catalogue_for(block.lifter)
    week = block.weeks[WEEK - 1]
    bar = {e.lift for e in entries(week) if "bar" in known.lifts[e.lift].kit}
    assert bar
    for session in week.sessions:
        now = block.weeks[WEEK - 1].sessions[session.session - 1]
        gone = tuple(e.lift for e in now.entries if "bar" in known.lifts[e.lift].kit)
        if gone:
            block = after(block, session.session, without=gone)
    new = block.weeks[WEEK - 1]
    assert not bar & {e.lift for e in entries(new)}
    assert {"knee", "hip", "press"} <= basics(new, block)


@pytest.mark.parametrize("minutes", [25, 30, 40])
def test_main_lifts_go_last_when_time_is_short(block: Block, minutes: int) -> None:
    """On the last day nothing can be carried: what stays is a main lift before a small one."""
    last = len(block.weeks[WEEK - 1].sessions)
    new = after(block, last, minutes=minutes).weeks[WEEK - 1].sessions[-1]
    assert new.minutes_planned <= minutes
    assert new.entries
    assert lift_of(block, new.entries[0].lift).compound


def test_a_week_of_a_long_log_is_worth_carrying_past_the_usual_aims() -> None:
    """Quads are logged far past what the composer aims at without a log: they are carried still."""
    block = planned("quads_with_a_long_log")
    was, new = block.weeks[4], after(block, 1, week=5, missed=True).weeks[4]
    assert was.muscle_sets["quads"].fractional > 18
    assert new.muscle_sets["quads"].fractional > was.muscle_sets["quads"].fractional - 2
