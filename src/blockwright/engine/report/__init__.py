"""What a block came to: planned and done, strength, sets, proposals, predictions, what is next.

`block_report` is the door: a pure function of the last revision, the facts, what was proposed
and the policy. Takes review, change and strength as they are; decides nothing; knows no words
but codes.
"""

from blockwright.engine.report.block_report import BlockReport, block_report
from blockwright.engine.report.done import MuscleDone, muscles_done, muscles_seen
from blockwright.engine.report.findings import (
    GIRTH_DAYS,
    Trend,
    girth_finding,
    muscle_finding,
    strength_finding,
    trend_of,
    weight_finding,
)
from blockwright.engine.report.lifts import heading_of
