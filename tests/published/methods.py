"""Supersets, drop sets and rest-pause: what they save and what they are worth."""

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source

_SODAL_DOI = "10.1186/s40798-023-00620-5"

IVERSEN_2021 = Finding(
    table({"share of the time": 0.5, "weekly sets at least": 4.0}),
    "as named",
    Source("Iversen et al.", 2021, "time-efficient training", "Sports Med 51:2079", "seen",
           "10.1007/s40279-021-01490-1"),
    note="supersets, drop sets and rest-pause take about half the time; 6-15RM, 15-40RM to failure",
)  # fmt: skip


DROP_PROTOCOLS = Finding(
    table({"drop, smallest %": 10.0, "drop, usual %": 20.0, "drop, largest %": 30.0,
           "drops, fewest": 1.0, "drops, most": 4.0}),
    "as named",
    Source("Sodal et al.", 2023, "protocols tested", "Sports Med Open 9:66, Table 1", "seen",
           _SODAL_DOI),
)  # fmt: skip
