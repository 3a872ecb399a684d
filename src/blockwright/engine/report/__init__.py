"""What a block came to: planned and done, strength, sets, proposals, predictions, what is next.

`block_report` is the door: a pure function of the last revision, the facts, what was proposed
and the policy. Takes review, change and strength as they are; decides nothing; knows no words
but codes.
"""

from blockwright.engine.report.block_report import BlockReport, block_report
from blockwright.engine.report.claims import ClaimsKept
from blockwright.engine.report.done import LiftDone, WeekDone
from blockwright.engine.report.fates import Fate, Told
from blockwright.engine.report.findings import muscle_finding, strength_finding
from blockwright.engine.report.lifts import Heading, LiftStrength, heading_of
from blockwright.engine.report.muscles import MuscleDone, muscles_done, muscles_seen
from blockwright.engine.report.predictions import PredictionScore
from blockwright.engine.report.weight import WeightTrend, weight_finding, weight_trend

__all__ = [
    "BlockReport",
    "ClaimsKept",
    "Fate",
    "Heading",
    "LiftDone",
    "LiftStrength",
    "MuscleDone",
    "PredictionScore",
    "WeightTrend",
    "Told",
    "WeekDone",
    "block_report",
    "heading_of",
    "muscle_finding",
    "muscles_done",
    "muscles_seen",
    "strength_finding",
    "weight_finding",
    "weight_trend",
]
