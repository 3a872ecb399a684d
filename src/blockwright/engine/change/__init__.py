"""Has performance fallen? Charts with a stated false-alarm rate, and the arithmetic behind it.

Owns the watch of one lift and of all lifts together, the tabular CUSUM and the run lengths.
Takes `SessionCapacity` values; knows nothing of how `strength` made them.
"""

from blockwright.engine.change.cusum import mean_since_change, plain_cusum, tabular_cusum
from blockwright.engine.change.run_length import (
    ewma_run_length,
    limit_for,
    one_sided_run_length,
    siegmund_run_length,
    two_sided_run_length,
)
from blockwright.engine.change.watch import (
    Watch,
    Watches,
    pooled_deviation,
    pooled_limit,
    watch_lift,
    watch_lifter,
)
