"""Repetitions in reserve: the scale, and how well people call it."""

from blockwright.engine.published.finding import Effect, Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

HALPERIN_2022 = Finding(
    table({
        "repetitions called too few": Effect(0.95, 0.17, 1.73),
        "more error a repetition, sets to 12": Effect(0.06, 0.04, 0.09),
        "more error a repetition, sets over 12": Effect(0.47, 0.44, 0.49),
    }),
    "repetitions",
    Source("Halperin et al.", 2022, "predicting repetitions to failure: meta-analysis",
           "Sports Med 52:377-390", "seen", "10.1007/s40279-021-01559-x"),
    note="414 people, 12 studies; people have about one more in reserve than they say",
)  # fmt: skip


REFALO_2024 = Finding(
    table({"called minus true": Spread(-0.17, 1.00), "absolute": Spread(0.65, 0.78)}),
    "repetitions",
    Source("Refalo et al.", 2024, "accuracy at 1 and 3 RIR, bench at 75 %", "JSCR", "seen",
           "10.1519/jsc.0000000000004653"),
    note="n = 24, trained: near failure hardly any bias",
)  # fmt: skip
