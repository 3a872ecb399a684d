"""Whether the trend's ranges hold what strength really did, how soon a slow fall is heard, and
whether the words of a gain come true; on simulated lifters."""

from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import date
from statistics import NormalDist

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.report.lifts import gain_of
from blockwright.engine.strength import Interval, replay
from blockwright.files.policy_files import default_policy
from studies.lifters import LIFT, SimulatedLog, simulated
from studies.strength_study import CATALOGUE
from studies.worlds import CLEAN, NOISY, WORLDS, World

READ_AFTER = (4, 6, 10, 14, 20, 28)
"""Sessions."""
FADES_FROM = 15
SESSIONS = 30
EVERY = (3, 4)
"""Days from one session to the next."""
_NAMES = ("hyperbolic curve", "reserve fatigue", "restless strength", "foreign in everything")
TREND_WORLDS = (
    CLEAN,
    replace(CLEAN, name="own law, nobody grows", drift_mean=0.0, drift_sd=0.0),
    *(world for world in WORLDS if world.name in _NAMES),
    NOISY,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TrendScore:
    """Trends of one world; percent a week."""

    held80: float
    half_width: float
    miss: float
    """RMS."""
    rises: float
    falls: float
    """Share said to."""
    falsely: float
    """Share said to fall where strength had not."""
    heard: float
    """Median sessions from the start of a slow fall until it is said; inf: not in the log."""
    words: dict[str, list[tuple[float, bool]]]
    """By certainty of a gain: the probability behind it, and whether its sign was right."""


def trend_score(
    world: World, policy: Policy, *, lifters: int, seed: int, fading: float = 0.0
) -> TrendScore:
    """`lifters` people train one lift twice a week for `SESSIONS` sessions; with `fading` they lose
    that share a week from session `FADES_FROM` on."""
    rng = np.random.default_rng(seed)
    gaps = rng.choice(EVERY, size=SESSIONS - 1).tolist()
    log = simulated(
        world, rng, lifters=lifters, exposures=SESSIONS, gaps=gaps, fall_from=FADES_FROM,
        fading=fading,
    )  # fmt: skip
    rows: list[tuple[float, Interval]] = []
    heard: dict[str, int] = {}
    after = {*READ_AFTER, *(range(FADES_FROM + 1, SESSIONS + 1) if fading else ())}
    for number in sorted(after):
        for name, level, trend in _read(log, number, policy):
            if number in READ_AFTER:
                rows.append((level, trend))
            if fading and number > FADES_FROM and trend.high80 < 0:
                heard.setdefault(name, number - FADES_FROM)
    true, median, low, high = np.array([(t, i.median, i.low80, i.high80) for t, i in rows]).T
    words: dict[str, list[tuple[float, bool]]] = defaultdict(list)
    for level, trend in rows:
        said = NormalDist().cdf(abs(trend.median) / trend.sd)
        words[gain_of(trend, 1.0).certainty].append((said, (level > 0) == (trend.median > 0)))
    late = [heard.get(f"L{number:04d}", np.inf) for number in range(lifters)]
    return TrendScore(
        held80=float(np.mean((low <= true) & (true <= high))),
        half_width=float(np.mean(high - low) / 2.0),
        miss=float(np.sqrt(np.mean((median - true) ** 2))),
        rises=float(np.mean(low > 0)),
        falls=float(np.mean(high < 0)),
        falsely=float(np.mean((high < 0) & (true >= 0))),
        heard=float(np.median(late)),
        words=words,
    )


def _read(log: SimulatedLog, sessions: int, policy: Policy) -> list[tuple[str, float, Interval]]:
    """Of each lifter after so many sessions: name, the slope of the true levels over the trend's
    window, and the trend; percent a week."""
    upto: dict[str, list[tuple[date, float]]] = defaultdict(list)
    for one in log.truth:
        if one.exposure < sessions:
            upto[one.lifter].append((one.day, float(np.log(one.one_rm_kg))))
    last = max(day for levels in upto.values() for day, _ in levels)
    beliefs = replay([s for s in log.sets if s.moment.day <= last], CATALOGUE, policy)
    window = policy.number("strength.trend.window_days")
    found = []
    for name, levels in upto.items():
        near = [(day, level) for day, level in levels if (last - day).days <= window]
        weeks = np.array([(day - last).days / 7.0 for day, _ in near])
        slope = 100.0 * float(np.polyfit(weeks, [level for _, level in near], 1)[0])
        found.append((name, slope, beliefs.trend_pct_per_week(LIFT, name)))
    return found


def trend_study(lifters: int = 150, seed: int = 20270106) -> str:
    """The section of docs/validation.md."""
    policy = default_policy()
    still = {w.name: trend_score(w, policy, lifters=lifters, seed=seed) for w in TREND_WORLDS}
    fading = {
        w.name: trend_score(w, policy, lifters=lifters, seed=seed, fading=0.01)
        for w in TREND_WORLDS
    }
    words: dict[str, list[tuple[float, bool]]] = defaultdict(list)
    for score in still.values():
        for word, said in score.words.items():
            words[word] += said
    return "\n".join(
        [
            f"{lifters} simulated lifters a world, one lift twice a week, read after "
            f"{', '.join(map(str, READ_AFTER))} sessions (seed {seed}). The truth is the slope of "
            "the true levels over the trend's window. Target: ranges of 80 % hold 0.76 to 0.88. "
            "*Falsely*: said to fall where the true slope was not below zero. *Heard*: the same "
            f"lifters lose 1 % a week from session {FADES_FROM + 1} on; sessions until the trend "
            "says so, in the median.",
            "",
            "In % a week:",
            "",
            "| world | held | half-width | miss | said to rise | to fall | falsely | heard |",
            "|---|---|---|---|---|---|---|---|",
            *(
                f"| {name} | {s.held80:.2f} | {s.half_width:.2f} | {s.miss:.2f} | {s.rises:.2f} | "
                f"{s.falls:.2f} | {s.falsely:.3f} | {fading[name].heard:.0f} |"
                for name, s in still.items()
            ),
            "",
            "The words of a gain (`sure`, `likely`, `even`), over all these worlds: the "
            "probability they stand for, and how often strength moved the way that was said.",
            "",
            "| word | n | said | true |",
            "|---|---|---|---|",
            *(
                f"| {word} | {len(words[word])} | {np.mean([p for p, _ in words[word]]):.2f} | "
                f"{np.mean([right for _, right in words[word]]):.2f} |"
                for word in ("sure", "likely", "even")
            ),
        ]
    )
