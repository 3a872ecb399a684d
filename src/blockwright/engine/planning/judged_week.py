"""A week of a block held to the composer's own rules: which it breaks, and by how much.

The constraints are those of `hard_rules` and `aims`, over the entries the week has. A change is
judged by what it newly breaks or breaks worse, because a coach's pins, or a log that bore more, may
have broken a rule on purpose. Minutes, the sets of one session and pins are judged elsewhere: there
the week itself says what holds (pairs, special sets, a missed day)."""

from collections.abc import Iterator
from dataclasses import replace

from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Catalogue, Lifter, Week
from .aims import state_heavy_share
from .baseline import MuscleAim
from .constraints import HARD, Constraint, WeekVariables
from .hard_rules import state_hard_rules
from .lead_aims import state_lead_days
from .limits import QUARTERS, PlanningLimits
from .log_facts import LogFacts
from .make_problem import pin_rule
from .problem import Place, Problem
from .week_figures import option_of, sets_of, slot_of

_ELSEWHERE = frozenset({"minutes", "session_sets", "pin"})
_UNBOUND = 10_000


def rules_broken(
    week: Week, lifter: Lifter, catalogue: Catalogue, policy: Policy, *, gentle: bool = False
) -> Iterator[tuple[Constraint, int]]:
    """Every rule the week breaks, and by how much; `gentle` for a novice's or returner's first.
    The slots in a rule's facts are indices of the week's sessions."""
    slots = tuple(map(slot_of, week.sessions))
    entries = [(at, e) for at, s in enumerate(week.sessions) for e in s.entries if e.sets]
    limits = PlanningLimits(policy)
    here = replace(lifter, slots=slots)
    problem = Problem(
        lifter=here,
        limits=limits,
        log=LogFacts(),
        aims=_ceilings(week),
        slots=slots,
        options=tuple(option_of(entry, catalogue, policy) for _, entry in entries),
        budget_s=(_UNBOUND,) * len(slots),
        most_lifts=limits.lifts_session(lifter),
        pins=tuple(pin_rule(pin, here, catalogue) for pin in lifter.pins),
        gentle=gentle,
    )
    places = [Place(slot, option) for option, (slot, _) in enumerate(entries)]
    rules = WeekVariables(problem, places, one_week=not gentle)
    state_hard_rules(rules, problem.budget_s)
    state_heavy_share(rules, HARD)
    for muscle in problem.leads:
        state_lead_days(rules, muscle, HARD, clash=True)
    if gentle:
        for place, (slot, entry) in enumerate(entries):
            sets = [(rules.first[place], 1)]
            rules.add("gentle_lift", sets, high=limits.first_week_sets, slot=slot, lift=entry.lift)
    counts = {i: (sets_of(entry), sets_of(entry)) for i, (_, entry) in enumerate(entries)}
    for rule, units in rules.broken(rules.values(counts)):
        if rule.code not in _ELSEWHERE:
            yield rule, units


def _ceilings(week: Week) -> dict[str, MuscleAim]:
    """What the block plans up to; nothing else is aimed at."""
    ceilings = {muscle: sets.ceiling for muscle, sets in week.muscle_sets.items()}
    most = {m: int(ceilings.get(m, _UNBOUND) * QUARTERS + 1e-6) for m in MUSCLES}
    return {m: MuscleAim(start=0, end=0, most=most[m], floor=0, logged=0) for m in MUSCLES}
