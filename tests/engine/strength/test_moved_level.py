"""A log that was not theirs, a bad day, an odd set: what may move the level, and how far."""

import math
from dataclasses import replace
from datetime import timedelta

import pytest
from helpers_strength import INCLINE, PRESS, START, beliefs, one, steady

from blockwright.engine.training import SetDone


def _later(sets: list[SetDone], share: float) -> list[SetDone]:
    """The sets at this share of their load, repetitions alike, a week after the steady ones."""
    days = sets[-1].moment.day - sets[0].moment.day
    return [
        replace(
            done,
            moment=replace(done.moment, day=done.moment.day + days + (days / 7)),
            loads_kg=(done.load_kg * share,),
        )
        for done in sets
    ]


def _moved(history: list[SetDone], session: list[SetDone]) -> float:
    """ln of what one session makes of the load for the usual set a week on."""
    day = session[0].moment.day
    found = []
    for sets in (history, [*history, *session]):
        belief = beliefs(sets, through=day).own(PRESS.name)
        assert belief is not None
        found.append(belief.load_kg_for(8, 2.0, on=day + timedelta(days=7)))
    return math.log(found[1] / found[0])


def test_a_session_a_sixth_off_moves_the_level_most_of_the_way() -> None:
    history = steady(sessions=8)
    for share in (0.85, 1.17):
        session = _later(history, share)[:3]
        moved = _moved(history, session) / math.log(share)
        assert moved > 0.4, share
        assert moved < 1.1, share


def test_a_bad_day_moves_the_level_by_less_than_half_of_it() -> None:
    history = steady(sessions=8)
    assert abs(_moved(history, _later(history, 0.94)[:3])) < 0.5 * 0.06


def test_one_odd_set_moves_the_level_by_little() -> None:
    history = steady(sessions=8)
    odd, *usual = _later(history, 0.85)[:3]
    usual = [replace(done, loads_kg=(80.0,)) for done in usual]
    assert abs(_moved(history, [odd, *usual])) < 0.03


@pytest.mark.parametrize(
    ("away", "share"), [(420, 0.83), (30, 1.0)], ids=["after a year", "no break"]
)
def test_a_lift_not_done_since_a_break_lost_what_its_kin_lost(away: int, share: float) -> None:
    """A returner's presses at two thirds: the other press is not printed at 85 %."""
    history = [*steady(sessions=6), *steady(sessions=6, lift=INCLINE.name)]
    day = history[-1].moment.day + timedelta(days=away)
    back = [one((day - START).days, 8, 53.0, lift=INCLINE.name, set_number=n) for n in (1, 2)]

    def load_kg(sets: list[SetDone]) -> float:
        belief = beliefs(sets, through=day).own(PRESS.name)
        assert belief is not None
        return belief.load_kg_for(8, 2.0, on=day)

    alone, told = load_kg(history), load_kg([*history, *back])
    assert told / alone == pytest.approx(share, abs=0.03)
