"""Repetitions in reserve: the scale, and how well people call it."""

from collections.abc import Mapping

from blockwright.engine.published.finding import Effect, Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

ZOURDOS_SCALE = Finding(
    table({10: 0, 9: 1}),
    "RIR by RPE",
    Source("Zourdos et al.", 2016, "RIR-based RPE", "JSCR 30:267-275", "seen",
           "10.1519/JSC.0000000000001049"),
    note="velocity against RPE r = -0.88 experienced (n = 15), -0.77 novice (n = 14)",
)  # fmt: skip

ZOURDOS_SCALE_FULL: Finding[Mapping[float, tuple[float, float]]] = Finding(
    table({10: (0, 0), 9.5: (0, 1), 9: (1, 1), 8.5: (1, 2), 8: (2, 2), 7.5: (2, 3), 7: (3, 3),
           6: (4, 6), 5: (4, 6)}),
    "RIR from and to, by RPE",
    Source("Zourdos et al.", 2016, "RIR-based RPE", "JSCR 30:267-275, Fig 1", "from memory",
           "10.1519/JSC.0000000000001049"),
    note="9.5 prints as none left, perhaps a little more load; below 5 no number is named",
)  # fmt: skip

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

HACKETT_2017 = Finding(
    table({"error with 0 to 5 left": 1.0, "error with 7 to 10 left, more than": 2.0}),
    "repetitions",
    Source("Hackett et al.", 2017, "error by true RIR", "JSCR 31:2162-2168", "seen",
           "10.1519/JSC.0000000000001683"),
    note="n = 81; chest press within 1 for 0-5 left, leg press for 0-3",
)  # fmt: skip

HACKETT_2018 = Finding(
    table({"chest press": (2.0, 0.6), "leg press": (3.1, 1.6)}),
    "repetitions of error, first and third set",
    Source("Hackett et al.", 2018, "error from set one to set three", "JSCR", "seen",
           "10.1519/JSC.0000000000002419"),
    note="n = 48",
)  # fmt: skip

REFALO_2024 = Finding(
    table({"called minus true": Spread(-0.17, 1.00), "absolute": Spread(0.65, 0.78)}),
    "repetitions",
    Source("Refalo et al.", 2024, "accuracy at 1 and 3 RIR, bench at 75 %", "JSCR", "seen",
           "10.1519/jsc.0000000000004653"),
    note="n = 24, trained: near failure hardly any bias",
)  # fmt: skip

ZOURDOS_2021 = Finding(
    table({9: Spread(2.05, 1.73), 7: Spread(3.65, 2.46), 5: Spread(5.15, 2.92)}),
    "repetitions of error by the RPE called during one long squat set at 70 %",
    Source("Zourdos et al.", 2021, "calls of RPE 5, 7, 9 in one set", "JSCR", "seen",
           "10.1519/JSC.0000000000002995"),
    note="n = 25, sets of 16 (SD 4)",
)  # fmt: skip

COACHES_2022 = Finding(
    table({33: 4.8, 66: 2.0, 90: 1.2}),
    "repetitions of a coach's error, by % of the set done",
    Source("Emanuel et al.", 2022, "coaches' error by stage of the set", "Sports Med Open 8",
           "seen", "10.1186/s40798-022-00526-8"),
    note="n = 259",
)  # fmt: skip

STEELE_2017 = Finding(
    (2.64, 3.38),
    "repetitions, standard error of measurement from and to",
    Source("Steele et al.", 2017, "predicting repetitions to failure", "PeerJ 5:e4105", "seen",
           "10.7717/peerj.4105"),
    note="n = 141",
)  # fmt: skip

FOUR_AGAINST_ONE_RIR = Finding(
    table({"bench press": (1.00, 0.69), "squat": (1.43, 0.79)}),
    "repetitions of absolute error at 4 and at 1 RIR",
    Source("Florida Atlantic University", None, "absolute error at 4 and 1 RIR", "thesis", "seen"),
    note="n = 12; undated in what we saw; spreads printed as SE",
)

HELMS_2018 = Finding(
    table({
        "bench press": (Spread(9.64, 5.36), Spread(10.70, 3.30)),
        "squat": (Spread(13.91, 5.89), Spread(17.05, 5.44)),
    }),
    "kg gained in 8 weeks: (by % of 1RM, by RPE)",
    Source("Helms et al.", 2018, "percentage against RPE loading", "Front Physiol 9:247", "seen",
           "10.3389/fphys.2018.00247"),
)  # fmt: skip

LOAD_PER_RPE = Finding(
    4.0,
    "% of load per point of RPE off target",
    Source("Helms et al.", 2018, "load adjustment by RPE", "Front Physiol 9:247, method",
           "from memory", "10.3389/fphys.2018.00247"),
)  # fmt: skip


def next_load_by_rpe(load_kg: float, target_rpe: float, called_rpe: float) -> float:
    """The next set's load, kg, by `LOAD_PER_RPE`: one point too hard takes 4 % off."""
    return load_kg * (1 - LOAD_PER_RPE.value / 100 * (called_rpe - target_rpe))
