"""Weekly sets per muscle: counting, the floor, the ceiling that is learnt, the benefit curve.

Owns what a set counts as and what a muscle can take; knows nothing of plans or proposals."""

from .benefit import benefit, gain
from .ceiling import CeilingBelief, WeekRecovery, ceiling_prior, floor_sets
from .counting import (
    MuscleCount,
    MuscleCounts,
    done_by_week,
    done_credit,
    done_sets,
    planned_sets,
    planned_week,
    set_credit,
)
