"""Sets with five or more in reserve say "at least", as a deload's do."""

from dataclasses import replace
from datetime import timedelta

import pytest
from helpers_strength import PRESS, beliefs, one, steady

from blockwright.engine.training import SetDone


def easy(day: int, reps: int, load: float, rir: float, number: int = 1) -> SetDone:
    return one(day, reps, load=load, rir_low=rir, rir_high=rir, set_number=number)


def median(sets: list[SetDone], **changes: object) -> float:
    belief = beliefs(sets, **changes).own(PRESS.name)
    assert belief is not None
    return belief.one_rm_kg.median


@pytest.mark.parametrize("said", [5.0, 6.0])
def test_a_deload_does_not_read_as_a_collapse(said: float) -> None:
    """Half the repetitions at the load, then at half of it, said as the sheet asks."""
    sets = steady()
    last = (sets[-1].moment.day - sets[0].moment.day).days
    deload = [
        easy(last + day, 4, load, said, number)
        for day, load in ((3, 80.0), (6, 40.0))
        for number in (1, 2)
    ]
    through = deload[-1].moment.day
    assert beliefs([*sets, *deload]).flags(PRESS.name) == ()
    assert median([*sets, *deload]) == pytest.approx(median(sets, through=through), rel=0.01)
    again = [
        replace(s, moment=replace(s.moment, day=through + timedelta(days=4))) for s in sets[:3]
    ]
    assert median([*sets, *deload, *again]) == pytest.approx(median(sets), rel=0.04)


@pytest.mark.parametrize("turned", [1, -1])
def test_a_range_that_reaches_five_left_says_at_least_too(turned: int) -> None:
    """A sore shoulder's weeks at half the load read as lost strength: "4-5" was a count, and so
    was the set that says nothing, before those that say it or after."""
    sets = steady()
    last = (sets[-1].moment.day - sets[0].moment.day).days
    said = ((5.0, 5.0), (4.0, 5.0), (None, None))[::turned]
    light = [
        one(last + day, 14, load=40.0, rir_low=low, rir_high=high, set_number=number)
        for day in (3, 6, 9)
        for number, (low, high) in enumerate(said, 1)
    ]
    assert beliefs([*sets, *light]).flags(PRESS.name) == ()
    through = light[-1].moment.day
    assert median([*sets, *light]) == pytest.approx(median(sets, through=through), rel=0.01)


def test_an_easy_set_counts_where_it_speaks_for_more_or_nothing_is_known() -> None:
    sets = steady()
    last = (sets[-1].moment.day - sets[0].moment.day).days
    assert median([*sets, easy(last + 4, 10, 90.0, 6.0)]) > median(sets)
    assert median([easy(0, 8, 60.0, 6.0)]) > 60.0


def test_what_a_set_with_all_one_can_say_in_reserve_leads_to_is_no_slip() -> None:
    """The first load of a strong lifter, found in steps of half as much again."""
    loads = (12.0, 18.0, 27.0, 40.0, 60.0, 90.0)
    climb = [
        replace(easy(0, 8, load, 10.0, number), method="try" if number < 5 else "straight")
        for number, load in enumerate(loads, 1)
    ]
    assert beliefs(climb).flags(PRESS.name) == ()
    assert median(climb) > 90.0
    slip = [*climb[:5], replace(climb[5], loads_kg=(600.0,))]
    assert beliefs(slip).flags(PRESS.name)


def test_a_try_says_no_more_than_the_sets_it_led_to() -> None:
    """Eight at 45 with five left, then six and five at 47.5 with three left: the next sheet gave
    47.5 again, for the work sets were taken for tired and the five for a count."""
    ladder = ((25.0, 10.0), (37.5, 7.0), (45.0, 5.0))
    tries = [
        replace(easy(0, 8, load, rir, number), method="try")
        for number, (load, rir) in enumerate(ladder, 1)
    ]
    work = [easy(0, reps, 47.5, 3.0, 9 - reps) for reps in (6, 5)]
    assert median([*tries, *work]) == pytest.approx(median(work))
    assert median(tries) == pytest.approx(median(tries[-1:])), "alone, the last says all there is"
    slip = [replace(work[0], loads_kg=(475.0,))]
    assert median([*tries, *slip]) == pytest.approx(median(tries), rel=0.1), "led to nothing so far"
