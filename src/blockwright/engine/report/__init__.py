"""What a block came to: planned and done, strength, sets, proposals, predictions, what is next.

`block_report` is the door: a pure function of the last revision, the facts, what was proposed and
the policy. Takes review, change and strength as they are; decides nothing; knows no words but
codes."""

from .block_report import BlockReport, block_report
from .done import MuscleDone, muscles_done, muscles_seen
from .findings import (
    GIRTH_DAYS,
    Trend,
    girth_finding,
    muscle_finding,
    strength_finding,
    trend_of,
    weight_finding,
)
from .lifts import heading_of
