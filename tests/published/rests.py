"""How repetitions fall from set to set with the rest between them."""

from blockwright.engine.published.finding import Effect, Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

RATAMESS_2007 = Finding(
    table({0.5: (15, 55), 1: (15, 55), 2: (8, 29), 3: (21, 21)}),
    "% fewer repetitions, from and to, by minutes of rest",
    Source("Ratamess et al.", 2007, "bench, 5 sets at 75 % x 10 or 85 % x 5", "EJAP 100:1-17",
           "seen", "10.1007/s00421-007-0394-y"),
    note="n = 8; 30 s and 1 min: every set below the one before; 2 min: sets one and two held; "
    "3 min: sets four and five; 5 min: only set five lower",
)  # fmt: skip

RICHMOND_2004 = Finding(
    table({1: Spread(1389.1, 529.9), 3: Spread(1494.9, 451.0), 5: Spread(1711.4, 478.0)}),
    "J of work in the second set, by minutes of rest",
    Source("Richmond & Godard", 2004, "second set after 75 % to failure", "JSCR 18:846", "seen",
           "10.1519/14833.1"),
    note="n = 28; 8-12 repetitions were held with 3 min or more",
)  # fmt: skip

WILLARDSON_2006 = Finding(
    table({"3 min against 1 and 2 min, p below": 0.001, "50 % against 80 % of 1RM, p": 0.849}),
    "p",
    Source("Willardson & Burkett", 2006, "5 sets at 80 % and 50 %", "JSCR 20:396-399", "seen"),
    note="n = 16; the relative fall need not depend on the load",
)

WILLARDSON_2005 = Finding(
    table({"squat": table({1: 22.5, 2: 25.5, 5: 28.8}),
           "bench press": table({1: 17.1, 2: 21.6, 5: 25.7})}),
    "total repetitions of 4 sets with 8RM, by minutes of rest",
    Source("Willardson & Burkett", 2005, "4 sets with 8RM", "JSCR 19:23-26", "from memory"),
    note="n = 15; remembered: shapes a starting belief and validates nothing",
)  # fmt: skip

SPERETTA_2012 = Finding(
    table({1: Spread(26.67, 3.44), 2: Spread(33.16, 6.14)}),
    "total repetitions of 5 sets at 70 to 85 %, by minutes of rest",
    Source("Speretta et al.", 2012, "5 sets, 1 or 2 min", "conference abstract", "seen"),
    note="n = 6",
)

SILVA_2014 = Finding(
    table({50: Spread(46.46, 9.43), 70: Spread(26.62, 8.19)}),
    "total repetitions of 3 bench sets to failure, 1 min rest, by % of 1RM",
    Source("Silva et al.", 2014, "3 sets to failure", "J Trainology 3:41", "seen"),
)

MCKUSICK_2015 = Finding(
    (Spread(12.43, 1.5), Spread(10.43, 1.5), Spread(9.50, 1.1)),
    "repetitions of sets one to three, leg press at 85 %, mean over 1, 3 and 5 min",
    Source("McKusick", 2015, "leg press, 3 sets", "thesis", "seen"),
    note="n = 10; the fall slows",
)

SENNA_2011 = Finding(
    table({1: 2, 3: 3, 5: 3}),
    "first set with fewer repetitions, by minutes of rest",
    Source("Senna et al.", 2011, "5 sets of 10RM, four lifts", "JSCR 25:3157-3162", "seen"),
    note="n = 15",
)

HERNANDEZ_2021 = Finding(
    table({2: False, 5: False, 8: True}),
    "whether repetitions were sustained, by minutes of rest",
    Source("Hernandez et al.", 2021, "bench at 85 %, 4 sets to failure", "JSCR", "seen",
           "10.1519/JSC.0000000000003477"),
    note="n = 15",
)  # fmt: skip

RAHIMI_2005 = Finding(
    (5, 2, 1),
    "minutes of rest, most repetitions first",
    Source("Rahimi", 2005, "squat at 85 %, 4 sets", "JSSM 4:361-366", "seen"),
    note="n = 20; 1 against 2 min not clear",
)

KRAEMER_1997 = Finding(
    table({3: (10, 10, 10), 1: (10, 8, 7)}),
    "repetitions of three sets of 10RM, by minutes of rest",
    Source("Kraemer WJ", 1997, "3 x 10RM", "JSCR 11:131", "from memory"),
)

SINGER_2024 = Finding(
    table({
        "60 s or less": Effect(0.48, 0.19, 0.81),
        "more than 60 s": Effect(0.56, 0.24, 0.86),
        "arm, longer minus shorter": Effect(0.13, -0.27, 0.51),
        "thigh, longer minus shorter": Effect(0.17, -0.13, 0.43),
    }),
    "SMD of hypertrophy",
    Source("Singer et al.", 2024, "rest and hypertrophy: meta-analysis",
           "Front Sports Act Living", "seen", "10.3389/fspor.2024.1429789"),
    note="rest changes how much is done; a large direct effect on growth is not seen",
)  # fmt: skip
