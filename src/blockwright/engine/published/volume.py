"""Weekly sets per muscle: dose findings whose sources the product prints; they do not all agree.

Meta-regressions find more growth with more sets; a trial of 9 against 36 weekly sets in trained
people (a preprint) found equivalence. Nothing here may be turned into a promise."""

from blockwright.engine.sources import Source
from .finding import Effect, Finding, table

_PELLAND = "Pelland et al."

_PELLAND_DOI = "10.1007/s40279-025-02344-w"

PELLAND_COUNTING = Finding(
    table({"direct": 1.0, "indirect": 0.5}),
    "sets counted",
    Source(_PELLAND, 2025, "set-counting rule that fitted best", "Sports Med 56:481-505, abstract",
           "seen", _PELLAND_DOI),
    note="67 studies, 2058 people; better than counting all alike or direct sets only",
)  # fmt: skip

PELLAND_SLOPES = Finding(
    table({"volume, growth": 1.0, "volume, strength": 1.0, "frequency, strength": 1.0}),
    "posterior probability that the slope is above zero",
    Source(_PELLAND, 2025, "direction of dose and frequency", "Sports Med 56:481-505, abstract",
           "seen", _PELLAND_DOI),
    note="frequency and growth: below 1; returns diminish",
)  # fmt: skip

PELLAND_THRESHOLDS = Finding(
    table({"growth": 4.0, "strength": 1.0}),
    "fractional weekly sets, smallest detectable dose",
    Source(_PELLAND, 2025, "smallest detectable dose", "Sports Med 56:481-505", "from memory",
           _PELLAND_DOI),
    note="from secondary accounts; square-root form for growth, reciprocal for strength",
)  # fmt: skip

STEELE_2026_TRIAL = Finding(
    table({"36 minus 9 sets": Effect(0.023, -0.044, 0.091),
           "over 12 weeks": Effect(0.087, 0.053, 0.121)}),
    "SMD of growth",
    Source("Steele et al.", 2026, "9 against 36 fractional weekly sets, trained, 22 sites",
           "SportRxiv 810, preprint", "seen", "10.51224/SportRxiv.810"),
    note="120 randomised, 87 completed; equivalent within 0.1 (p 0.032). A preprint",
)  # fmt: skip
