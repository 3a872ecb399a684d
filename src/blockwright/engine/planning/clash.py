"""When no week can be made: which of the lifter's rules clash, and the cheapest to give up.

A deletion filter: leave one rule out at a time; if the rest still cannot hold, it was not part of
the clash. The solver decides each with the hard constraints alone, over the lifts the rules are
about and a few fillers."""

from collections.abc import Callable, Sequence
from itertools import combinations

from blockwright.engine.errors import Clash, ClashingRule
from blockwright.engine.training import Lifter, Pin, RepRange
from .constraints import HARD, WeekVariables
from .hard_rules import state_hard_rules
from .lead_aims import state_lead_days
from .problem import Place, Problem
from .solver import CompiledWeek

_EXACT_S = 0.4  # Deterministic seconds of one test
_FILLERS = 12  # Quick lifts a slot is offered beside those the lifter's rules are about


Possible = Callable[[Sequence[str]], bool]
"""Whether a week exists without some rules of the lifter: surely not, when False."""


def week_exists(problem: Problem) -> bool:
    """Whether any week keeps the hard rules, pins and the two days of its leads."""
    leads = problem.leads if _far_slots(problem) else ()
    places = _telling_places(problem, leads)
    week = WeekVariables(problem, places, one_week=True)
    state_hard_rules(week, problem.budget_s)
    for i, option in enumerate(week.options):
        used, sets = week.used[i], week.last[i]
        week.add("sets_least", [(sets, 1), (used, -problem.limits.sets_least)], low=0)
        week.add("sets_most", [(sets, 1), (used, -problem.most_sets(option))], high=0)
    week.add("any", [(used, 1) for used in week.used], low=1)
    for muscle in leads:
        state_lead_days(week, muscle, HARD, clash=True)
    solved = CompiledWeek(week, priced=()).solve(limit_s=_EXACT_S, first=True)
    return solved is not None


def _far_slots(problem: Problem) -> bool:
    """Whether any two slots lie far enough apart for two exposures."""
    slots = range(len(problem.slots))
    hours = problem.limits.hours_between
    return any(problem.gap_h(a, b) >= hours for a, b in combinations(slots, 2))


def _telling_places(problem: Problem, leads: Sequence[str]) -> list[Place]:
    """Places of pinned lifts and of lifts for lead muscles; and fillers."""
    least = problem.limits.sets_least
    options = problem.options
    quick = sorted(range(len(options)), key=lambda i: options[i].time.seconds(least))[:_FILLERS]
    found = []
    for slot, budget in enumerate(problem.budget_s):
        for index, option in enumerate(options):
            telling = option.lift.name in problem.pinned or any(m in option.direct for m in leads)
            pinned = problem.pin_slots(option.lift.name)
            if not (telling or index in quick) or (pinned is not None and slot not in pinned):
                continue
            if option.time.seconds(least) <= budget:
                found.append(Place(slot, index))
    return found


def find_clash(lifter: Lifter, possible: Possible) -> Clash:
    """The clash of a problem that has no week. Raises nothing; the caller raises it."""
    rules = lifter_rules(lifter)
    core = _core(possible, [rule for rule, _, _ in rules])
    words = {rule: ClashingRule(rule=rule, says=says) for rule, says, _ in rules}
    ways = {rule: ClashingRule(rule=rule, says=mend) for rule, _, mend in rules}
    give_up = _cheapest(possible, core)
    return Clash([words[r] for r in core], [ways[r] for r in give_up])


def _core(possible: Possible, rules: list[str]) -> list[str]:
    """A smallest set of rules that cannot hold: leaving out any one of them would do."""
    out: list[str] = []
    for rule in rules:
        if not possible([*out, rule]):
            out.append(rule)
    return [rule for rule in rules if rule not in out]


def _cheapest(possible: Possible, core: list[str]) -> list[str]:
    """The rule of the core that costs least and makes the week possible; more if need be."""
    ranked = sorted(core, key=lambda rule: (_cost(rule), rule))
    for rule in ranked:
        if possible([rule]):
            return [rule]
    given: list[str] = []
    for rule in ranked:
        given.append(rule)
        if possible(given):
            break
    return given


_COSTS = (
    ("high repetitions", 1),
    ("lifts a session", 2),
    ("lead:", 3),
    ("pin:", 4),
    ("skip:", 5),
    ("slot:", 6),
    ("avoid pattern:", 7),
    ("avoid lift:", 8),
    ("bodyweight", 8),
    ("kit", 9),
)


def _cost(rule: str) -> int:
    return next(cost for start, cost in _COSTS if rule.startswith(start))


def lifter_rules(lifter: Lifter) -> list[tuple[str, str, str]]:
    """(rule, the rule in the lifter's words, how to give it up), the most telling last.

    The deletion filter drops early ones first, so what stays is what a person would name."""
    limits, most = lifter.limits, lifter.limits.max_lifts_per_session
    named = {
        word: [m for m, e in lifter.emphasis.items() if e == word] for word in ("skip", "lead")
    }
    kit = ", ".join(sorted(lifter.gym.kit)) or "nothing"
    avoided = [("pattern", name) for name in limits.avoid_patterns]
    avoided += [("lift", name) for name in limits.avoid_lifts]
    rules: list[tuple[str, str, str]] = []
    if not lifter.allow.high_reps:
        rules += [
            ("high repetitions", "high repetitions are not allowed", "allow high repetitions")
        ]
    rules += [(f"skip:{m}", f"{m} is skipped", f"do not skip {m}") for m in named["skip"]]
    if lifter.bodyweight_kg is None:
        mend = "give a bodyweight, so that such lifts count"
        rules += [("bodyweight", "no bodyweight is given", mend)]
    rules += [("kit", f"the gym has {kit}", "add the kit the lift needs")]
    rules += [
        (f"avoid {kind}:{name}", f'"{name}" is avoided', f'allow "{name}" again')
        for kind, name in avoided
    ]
    if most is not None:
        words = f"at most {most} lifts a session"
        rules += [("lifts a session", words, "allow more lifts a session")]
    for index, slot in enumerate(lifter.slots):
        when = f"{slot.day} {slot.start_time}"
        words = f"{when} has {slot.minutes} minutes"
        rules += [(f"slot:{index}", words, f"give {when} more minutes")]
    rules += [(f"lead:{m}", f"{m} is lead", f"make {m} normal") for m in named["lead"]]
    for index, pin in enumerate(lifter.pins):
        words = _pin_words(pin)
        lost = [day for day in pin.days if day not in {slot.day for slot in lifter.slots}]
        nowhere = f", and no slot is on {' or '.join(lost)}" if lost else ""
        rules += [(f"pin:{index}", f"{words} is pinned{nowhere}", f"do not pin {words}")]
    return rules


def _pin_words(pin: Pin) -> str:
    days = f" on {' and '.join(pin.days)}" if pin.days else ""
    reps = ""
    if pin.reps is not None:
        reps = f" for {pin.reps}" if isinstance(pin.reps, RepRange) else f" in the {pin.reps} range"
    return f'"{pin.lift}"{days}{reps}'
