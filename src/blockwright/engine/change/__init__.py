"""Has performance fallen? Charts with a stated false-alarm rate, and the arithmetic behind it.

Owns the watch of one lift and of all lifts together, and its run lengths. Takes `SessionCapacity`
values; knows nothing of how `strength` made them."""

from .run_length import limit_for, one_sided_run_length
from .watch import Watch, Watches, pooled_deviation, pooled_limit, watch_lift, watch_lifter
