"""How long repetitions and sessions take."""

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source

REPETITION = Finding(
    (0.5, 8.0),
    "s a repetition over which growth is alike",
    Source("Schoenfeld, Ogborn, Krieger", 2015, "repetition duration", "Sports Med 45:577", "seen",
           "10.1007/s40279-015-0304-0"),
    note="8 studies; above 10 s inferior",
)  # fmt: skip

TRIAL_TEMPO = Finding(
    table({"lifting": 2.0, "lowering": 4.0}),
    "s",
    Source("Steele et al.; Gschneidner et al.", 2026, "tempo prescribed in trials", "preprints",
           "seen"),
    note="6-10 repetitions, so a set takes 36 to 60 s",
)  # fmt: skip

SESSION_MINUTES = Finding(
    table({1: 13.0, 3: 40.0, 5: 68.0}),
    "min for seven lifts, by sets a lift",
    Source("Schoenfeld et al.", 2019, "session length", "MSSE 51:94-103", "from memory",
           "10.1249/MSS.0000000000001764"),
    note="13 min seen (PMC6303131), 40 and 68 from memory; rest 90 s, 120 s between lifts",
)  # fmt: skip

CHANGE_OVER = Finding(
    (30.0, 120.0),
    "s between lifts",
    Source("trade habit", None, "change-over between lifts", "no published standard found",
           "from memory"),
)  # fmt: skip


def session_s(lifts: int, sets: int, *, set_s: float, rest_s: float, change_over_s: float) -> float:
    """Plain arithmetic: every set, a rest between sets of a lift, a change-over between lifts."""
    resting = lifts * (sets - 1) * rest_s
    return lifts * sets * set_s + resting + (lifts - 1) * change_over_s
