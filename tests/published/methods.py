"""Supersets, drop sets and rest-pause: what they save and what they are worth."""

from blockwright.engine.published.finding import Effect, Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

_SODAL_DOI = "10.1186/s40798-023-00620-5"

IVERSEN_2021 = Finding(
    table({"share of the time": 0.5, "weekly sets at least": 4.0}),
    "as named",
    Source("Iversen et al.", 2021, "time-efficient training", "Sports Med 51:2079", "seen",
           "10.1007/s40279-021-01490-1"),
    note="supersets, drop sets and rest-pause take about half the time; 6-15RM, 15-40RM to failure",
)  # fmt: skip

SUPERSET_TRIAL = Finding(
    36.0,
    "% of the time saved, gains alike",
    Source("SportRxiv 419", None, "superset trial", "preprint", "seen"),
    note="a preprint, undated in what we saw",
)

SODAL_2023 = Finding(
    table({"drop sets": 0.555, "straight sets": 0.437, "difference": 0.155}),
    "SMD of growth",
    Source("Sodal et al.", 2023, "drop sets: meta-analysis", "Sports Med Open 9:66", "seen",
           _SODAL_DOI),
    note="6 studies, n = 142; a half to a third of the time",
)  # fmt: skip

DROP_PROTOCOLS = Finding(
    table({"drop, smallest %": 10.0, "drop, usual %": 20.0, "drop, largest %": 30.0,
           "drops, fewest": 1.0, "drops, most": 4.0}),
    "as named",
    Source("Sodal et al.", 2023, "protocols tested", "Sports Med Open 9:66, Table 1", "seen",
           _SODAL_DOI),
)  # fmt: skip

COLEMAN_2022 = Finding(
    table({"strength": Effect(0.07, -0.14, 0.29), "growth": Effect(0.08, -0.08, 0.24)}),
    "SMD, drop minus straight sets",
    Source("Coleman et al.", 2022, "drop sets: meta-analysis", "IJSC 2(1)", "seen",
           "10.47206/ijsc.v2i1.135"),
)  # fmt: skip

PRESTES_2019 = Finding(
    table({
        "bench press 1RM": (Spread(16, 11), Spread(10, 21)),
        "leg press 1RM": (Spread(25, 17), Spread(30, 20)),
        "curl 1RM": (Spread(16, 10), Spread(21, 20)),
        "leg press endurance": (Spread(27, 8), Spread(8, 2)),
        "thigh": (Spread(11, 14), Spread(1, 7)),
    }),
    "% change in 6 weeks: (rest-pause, 3 x 6 at 80 %)",
    Source("Prestes et al.", 2019, "rest-pause against straight sets", "JSCR 33(S1):S113", "seen",
           "10.1519/JSC.0000000000001923"),
    note="n = 18; to failure, then 20 s pauses until 18 repetitions (protocol from memory)",
)  # fmt: skip

KORAK_2017 = Finding(
    (56778.0, 38315.0),
    "lb lifted in 4 sets at 80 %: with 4 s between repetitions, without",
    Source("Korak et al.", 2017, "pauses between repetitions", "EJAP", "seen",
           "10.1007/s00421-017-3661-6"),
    note="n = 20",
)  # fmt: skip
