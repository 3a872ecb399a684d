"""A coach's rules (the seventeen of `docs/coach_rules.md`), checked from outside the engine.

Reads a block, the `lifts --json` document, the log and the check-ins, and nothing of the engine.
`findings_of` gives what breaks a rule; `checks_of` everything that was looked at, so that a share
can be said.
"""

from collections.abc import Iterator

from coach_rules.climb import check_basics, check_minutes, check_small, check_small_and_heavy
from coach_rules.deload import check_deload
from coach_rules.leads import check_leads, check_mains, check_stand_ins
from coach_rules.log_rules import check_log
from coach_rules.plan import Check, Plan
from coach_rules.read import read_plan
from coach_rules.reps import check_reps, check_rests, check_special_sets, check_warm_ups
from coach_rules.shape import check_shape

__all__ = ["Check", "Plan", "check_warm_ups", "checks_of", "findings_of", "read_plan"]

_ALL = (
    check_shape, check_reps, check_special_sets, check_rests, check_log, check_leads, check_mains,
    check_stand_ins, check_small_and_heavy, check_basics, check_small, check_minutes, check_deload,
)  # fmt: skip


def checks_of(plan: Plan) -> Iterator[Check]:
    """Every rule of a block's plan, kept or not; warm-ups need a sheet (`check_warm_ups`)."""
    for check in _ALL:
        yield from check(plan)


def findings_of(plan: Plan) -> list[Check]:
    """What breaks a rule."""
    return sorted((c for c in checks_of(plan) if not c.kept), key=lambda c: c.rule)
