"""Any legal log gives finite beliefs, and forecasts that behave."""

from datetime import timedelta

import numpy as np
from helpers_strength import PRESS, PULL_UP, START, beliefs
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.strength import backtest_rows
from blockwright.engine.training import Moment, SetDone


@st.composite
def any_set(draw: st.DrawFn) -> SetDone:
    low = draw(st.none() | st.floats(0, 8))
    high = None if low is None else low + draw(st.sampled_from([0.0, 1.0, 2.0]))
    parts = draw(st.sampled_from([1, 1, 1, 3]))
    return SetDone(
        moment=Moment(day=START + timedelta(days=draw(st.integers(0, 900)))),
        lift=draw(st.sampled_from([PRESS.name, PULL_UP.name, "nobody knows"])),
        set_number=draw(st.integers(1, 6)),
        loads_kg=(draw(st.floats(0, 2000)),) * parts,
        entered_load="?",
        entered_unit="kg",
        reps=(draw(st.integers(0, 120)),) * parts,
        rir_low=low,
        rir_high=high,
        rest_s=draw(st.none() | st.floats(0, 3600)),
        method=draw(st.sampled_from(["straight", "rest-pause", "drop", "superset", "warmup"])),
        full_range=draw(st.booleans()),
        pain=draw(st.none() | st.floats(0, 10)),
        confirmed=draw(st.booleans()),
        lifter=draw(st.sampled_from([None, "Ana", "Bo"])),
    )


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(any_set(), max_size=25))
def test_any_legal_log_gives_finite_beliefs(sets: list[SetDone]) -> None:
    found = beliefs(sets)
    state = found.replayed.state
    assert np.isfinite(state.mean).all()
    assert np.isfinite(state.cov).all()
    variances = np.einsum("iijs->ijs", state.whole_cov)
    assert (variances >= -1e-9).all()
    for who, lift in found.series:
        found.flags(lift, who)
        found.history(lift, who)
        belief = found.own(lift, who)
        if belief is not None:
            interval = belief.one_rm_kg
            assert 0 < interval.low80 <= interval.median <= interval.high80 < np.inf
    for row in backtest_rows(found.replayed):
        if row.predicted is not None:
            assert 0 <= row.predicted.low80 <= row.predicted.median <= row.predicted.high80


@settings(max_examples=40, deadline=None, derandomize=True)
@given(load=st.floats(20, 140), more=st.floats(0.5, 40), rir=st.floats(0, 5))
def test_more_load_never_promises_more(load: float, more: float, rir: float) -> None:
    belief = beliefs(
        [
            SetDone(
                moment=Moment(day=START), lift=PRESS.name, set_number=n, loads_kg=(80.0,),
                entered_load="80", entered_unit="kg", reps=(8,), rir_low=2.0, rir_high=2.0,
            )
            for n in (1, 2)
        ]
    ).own(PRESS.name)  # fmt: skip
    assert belief is not None
    light, heavy = belief.forecast(load, rir), belief.forecast(load + more, rir)
    assert heavy.median <= light.median + 1e-6
    for reps in (3, 8, 15):
        assert heavy.p_at_least(reps) <= light.p_at_least(reps) + 1e-9
        assert 0.0 <= light.p_at_least(reps) <= 1.0
