"""How to find a load when there is nothing to go by: climb from the lightest, and when to stop.

No load is ever derived from sex, age or bodyweight; the ladder starts at the least the kit can
be set to and the lifter's own repetitions say where it ends.
"""

from dataclasses import dataclass

from blockwright.engine.policy import Policy
from blockwright.engine.rack.loads import Rack
from blockwright.engine.rack.makers import Setting
from blockwright.engine.reasons import Reason
from blockwright.engine.sources import COMMON_PRACTICE, JUDGEMENT


@dataclass(frozen=True, slots=True)
class FindingLadder:
    """Tries from the easiest on, each `reps` repetitions, and the rules that end the climb."""

    tries: tuple[Setting, ...]
    reps: int
    rules: tuple[Reason, ...]
    """How to climb, then each stop rule; words are made from the codes at the edge."""


def finding_ladder(rack: Rack, policy: Policy, start: Setting | None = None) -> FindingLadder:
    """The tries for a lift nobody has logged yet, or from `start` on for one whose load was far too
    light: loads `rack` makes, ever harder.

    Each try is `finding.step` harder than the one before, or one step of the kit where that is
    more; where the number is assistance it falls in the same way.
    """
    reps = policy.whole("finding.reps")
    found: Setting | None = start or rack.easiest
    tries: list[Setting] = []
    while found is not None and len(tries) < policy.whole("finding.most_tries"):
        tries.append(found)
        found = _next_try(rack, found.load_kg, policy.number("finding.step"))
    return FindingLadder(tries=tuple(tries), reps=reps, rules=_rules(reps, policy))


def _next_try(rack: Rack, load_kg: float, step: float) -> Setting | None:
    one_step = rack.next_harder(load_kg)
    if one_step is None:
        return None
    if rack.more_is_easier:
        far = rack.not_harder_than(load_kg * (1 - step))
        return far if far and far.load_kg < one_step.load_kg else one_step
    far = rack.not_harder_than(load_kg * (1 + step))
    return far if far and far.load_kg > one_step.load_kg else one_step


def _rules(reps: int, policy: Policy) -> tuple[Reason, ...]:
    stop_rir = policy.whole("finding.stop_rir")
    return (
        Reason(
            code="find_load_climb",
            facts={"reps": reps},
            policy=("finding.reps", "finding.step", "finding.most_tries"),
            source=COMMON_PRACTICE,
        ),
        Reason(
            code="find_load_stop_effort",
            facts={"stop_rir": stop_rir},
            policy=("finding.stop_rir",),
            source=JUDGEMENT,
        ),
        Reason(code="find_load_stop_form", source=COMMON_PRACTICE),
        Reason(code="find_load_stop_pain", source=COMMON_PRACTICE),
    )
