"""Short of time in the gym: what stays of a session, against every other way, against dropping
from the end, and against the desk's replan."""

from functools import cache
from itertools import product

import pytest
from small_gym import lifter, small_catalogue
from test_replan import WEEK, block

from blockwright.engine.planning import QUICK, compose
from blockwright.engine.planning.constraints import BASIC
from blockwright.engine.planning.problem import Plan, plan_of
from blockwright.engine.planning.replan import Disruption, best_week, naive_week
from blockwright.engine.planning.replan_model import lost
from blockwright.engine.planning.replan_week import WeekAtHand, week_at_hand
from blockwright.engine.planning.shorten import MAIN, Shortening, shortening
from blockwright.files.policy_files import default_policy
from shorten_search import groups, left_out, seconds
from shorten_search import lost as lost_by

SESSIONS = (1, 2, 3, 4)
MINUTES = (5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55)


@cache
def short(session: int) -> Shortening:
    week = block().weeks[WEEK - 1]
    return shortening(block(), week, session, small_catalogue(), default_policy())


def hand(session: int, minutes: int | None = None) -> WeekAtHand:
    week = block().weeks[WEEK - 1]
    trouble = Disruption(week=WEEK, session=session, minutes=minutes)
    return week_at_hand(block(), week, trouble, small_catalogue(), default_policy())


def points_lost(at: WeekAtHand, plan: Plan) -> int:
    """What the desk weighs by, musts of the week apart."""
    return lost(at, plan, (BASIC,))


def kept(made: Shortening, out: dict[int, int]) -> dict[int, int]:
    return {order: entry.sets - out.get(order, 0) for order, entry in made.entries.items()}


def shortened(at: WeekAtHand, session: int, minutes: int) -> Plan:
    """The week with the session cut as the phone cuts it."""
    out = left_out(short(session), minutes, {})
    sets = dict(at.plan)
    for place in at.today:
        sets[place] -= out.get(at.entries[place].order, 0)
    return plan_of(sets)


@pytest.mark.parametrize("session", SESSIONS)
def test_never_worth_less_than_dropping_lifts_from_the_end(session: int) -> None:
    at = hand(session)
    better = 0
    for minutes in MINUTES:
        naive = naive_week(hand(session, minutes))
        ours = shortened(at, session, minutes)
        if keeps_pairs(at, naive):  # the phone keeps pairs whole; dropping from the end may not
            assert points_lost(at, ours) <= points_lost(at, naive)
        better += points_lost(at, ours) < points_lost(at, naive)
    # In the second session the small lifts stand last, and go first either way.
    assert better >= (2 if session == 2 else 4)


def keeps_pairs(at: WeekAtHand, plan: Plan) -> bool:
    """Whether each pair of the session has both lifts left, or neither."""
    pairs: dict[str, set[bool]] = {}
    for place, entry in at.entries.items():
        if place.slot == at.slot and entry.pair is not None:
            pairs.setdefault(entry.pair, set()).add(place in plan)
    return all(len(found) == 1 for found in pairs.values())


@pytest.mark.parametrize("session", SESSIONS)
def test_the_points_are_those_the_desk_replans_by(session: int) -> None:
    at = hand(session)
    made = short(session)
    for minutes in MINUTES:
        ours = points_lost(at, shortened(at, session, minutes)) - points_lost(at, at.plan)
        assert lost_by(made, kept(made, left_out(made, minutes, {}))) == ours


@pytest.mark.parametrize("session", SESSIONS)
def test_the_desk_may_do_better_by_carrying_sets_to_later_days(session: int) -> None:
    at = hand(session)
    for minutes in (20, 35):
        best = best_week(hand(session, minutes))
        today_only = all(at.plan.get(p) == n or p.slot == at.slot for p, n in best.items())
        ours = points_lost(at, shortened(at, session, minutes))
        assert not today_only or ours <= 1.1 * points_lost(at, best)


@pytest.mark.parametrize("session", [2, 4])
def test_no_other_way_to_fit_the_minutes_loses_less(session: int) -> None:
    made = short(session)
    pairs = groups(made)
    for done in ({}, {min(made.entries): 1}):
        for minutes in (8, 17, 29):
            least_lost = min(
                lost_by(made, keep)
                for levels in product((0, 2, 3, 4), repeat=len(pairs))
                if seconds(made, keep := keeping(made, pairs, levels, done), done) <= 60 * minutes
            )
            assert lost_by(made, kept(made, left_out(made, minutes, done))) == least_lost


def keeping(
    made: Shortening, pairs: list[tuple[int, ...]], levels: tuple[int, ...], done: dict[int, int]
) -> dict[int, int]:
    return {
        order: max(min(sets, made.entries[order].sets), done.get(order, 0))
        for group, sets in zip(pairs, levels, strict=True)
        for order in group
    }


@pytest.mark.parametrize("session", SESSIONS)
def test_what_stays_fits_and_more_minutes_never_lose_more(session: int) -> None:
    made = short(session)
    lost = []
    for minutes in range(90):
        keep = kept(made, left_out(made, minutes, {}))
        assert seconds(made, keep, {}) <= 60 * minutes
        lost.append(lost_by(made, keep))
    assert lost == sorted(lost, reverse=True)
    assert left_out(made, 0, {}) == {order: entry.sets for order, entry in made.entries.items()}
    assert left_out(made, 90, {}) == {}
    assert lost[-1] == 0


@pytest.mark.parametrize("session", SESSIONS)
def test_the_whole_session_takes_what_the_block_says(session: int) -> None:
    made = short(session)
    planned = block().weeks[WEEK - 1].sessions[session - 1]
    assert seconds(made, kept(made, {}), {}) / 60 == pytest.approx(planned.minutes_planned, abs=0.1)


@pytest.mark.parametrize("minutes", [12, 15, 20, 25, 30, 40])
def test_a_pinned_lift_is_the_last_to_go(minutes: int) -> None:
    made = short(2)  # with the leg curl, pinned to this day
    pinned = max(made.entries, key=lambda order: made.entries[order].gone)
    keep = kept(made, left_out(made, minutes, {}))
    assert keep[pinned] or not any(keep.values())


@pytest.mark.parametrize("session", SESSIONS)
@pytest.mark.parametrize("minutes", [20, 30, 40, 50])
def test_small_lifts_go_before_a_main_lift_loses_a_set(session: int, minutes: int) -> None:
    """The coach's pin and its pair apart, no small lift keeps time that a set of
    a main lift would fit into; the lift that opens goes last."""
    made = short(session)
    keep = kept(made, left_out(made, minutes, {}))
    mains = {order for order, entry in made.entries.items() if MAIN in entry.gives}
    assert keep[min(mains)] or not any(keep[order] for order in mains)
    pinned = {
        o for group in groups(made) for o in group if any(made.entries[p].gone for p in group)
    }
    for small in {o for o in made.entries.keys() - mains - pinned if keep[o]}:
        for main in {o for o in mains if keep[o] < made.entries[o].sets}:
            more = {**keep, small: 0, main: max(keep[main] + 1, made.least)}
            assert seconds(made, more, {}) > 60 * minutes


def test_a_pair_loses_sets_as_one_and_a_lift_keeps_two_or_none() -> None:
    pairs = 0
    slots = ("mon 18:00 35", "thu 18:00 35", "sat 18:00 35")  # minutes bind
    tight = compose(lifter(*slots), small_catalogue(), default_policy(), budget=QUICK)
    for session in (2, 3):
        made = shortening(
            tight, tight.weeks[WEEK - 1], session, small_catalogue(), default_policy()
        )
        for minutes in range(0, 80, 3):
            out = left_out(made, minutes, {})
            assert 1 not in kept(made, out).values()
            for group in groups(made):
                assert len({out.get(order, 0) for order in group}) == 1
                pairs += len(group) == 2
    assert pairs


def test_sets_that_are_done_stay_done_and_their_set_up_is_over() -> None:
    made = short(2)
    first = min(made.entries)
    done = {first: made.entries[first].sets - 1}
    for minutes in range(60):
        assert left_out(made, minutes, done).get(first, 0) <= 1
    assert sum(left_out(made, 12, done).values()) < sum(left_out(made, 12, {}).values())


def test_a_lift_that_is_left_anyway_takes_no_minutes_and_gives_nothing() -> None:
    made = short(2)
    first = min(made.entries)
    out = left_out(made, 25, {}, without={first})
    assert out[first] == made.entries[first].sets
    assert sum(out.values()) - out[first] < sum(left_out(made, 25, {}).values())
