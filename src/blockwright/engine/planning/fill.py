"""The frame filled with lifts and sets of week one and the last week.

First the whole model for a short while, then neighbourhoods in a fixed order; then again with the
minutes that pairs of lifts give back, where minutes bind."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from blockwright.engine.screening import is_new
from blockwright.engine.training import MUSCLES
from .aims import state_aims
from .constraints import BASIC, KEEP, LEAD, LOGGED, MUST, Constraint, PlacePair, WeekVariables
from .frame import Frame
from .hard_rules import MANY_VISITS, state_climb, state_hard_rules
from .limits import QUARTERS
from .patterns import PULL, PUSH, RELATED
from .problem import Option, Place, Problem
from .solver import CompiledWeek, Solution, sets_of
from .supersets import new_pairs, with_equal_sets
from .wishes import state_wishes

Tell = Callable[[str], None]  # Hears of progress


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """How much search a week is worth, in deterministic seconds."""

    start_s: float  # For the whole model, all upper tiers met
    tier_s: float
    """Where not all upper tiers can be met: with the basics met, else for the musts alone and
    again for all upper tiers."""
    part_s: float  # For each neighbourhood


QUICK = Budget(start_s=0.2, tier_s=0.1, part_s=0.02)
USUAL = Budget(start_s=0.4, tier_s=0.4, part_s=0.05)
_UPPER = (MUST, BASIC, LOGGED, LEAD)
_FIRST_S = 4.0  # For any week at all
_ROUNDS, _MUCH_LESS = 3, 0.98
"""Through the neighbourhoods at most, again where the cost fell to this share."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A filled frame."""

    week: WeekVariables
    frame: Frame
    solution: Solution
    pairs: tuple[PlacePair, ...] = ()

    @property
    def sets(self) -> dict[int, tuple[int, int]]:
        """Sets by place: (week one, last week)."""
        return dict(sets_of(self.week, self.solution.values))

    @property
    def cost(self) -> int:
        """The price of all that is missed."""
        return self.week.cost(self.solution.values)

    def broken(self) -> list[tuple[Constraint, int]]:
        """Aims that are missed, and by how much."""
        return self.week.broken(self.solution.values)


def fill(problem: Problem, frame: Frame, budget: Budget, tell: Tell | None = None) -> Filled | None:
    """The frame filled; None when no week keeps the hard rules."""
    budget_s = _budgets(problem, frame)
    for eased in (False, True):
        week = week_variables(problem, frame, budget_s, eased=eased)
        model, solution = _settled(week, budget)
        if solution is not None:
            break
    if solution is None:
        return None
    if not solution.proven:
        if tell is not None:
            tell("week: parts")
        solution = _improved(model, solution, budget)
    filled = Filled(week, frame, solution)
    if problem.lifter.allow.supersets:
        filled = _with_pairs(problem, filled, budget_s, budget, tell)
    return filled


_PAIR_ROUNDS, _PAIR_S = 2, 0.1


def _with_pairs(
    problem: Problem,
    filled: Filled,
    budget_s: Sequence[int],
    budget: Budget,
    tell: Tell | None,
) -> Filled:
    """Lifts done in turn where minutes bind and what they give back makes a better week."""
    for _ in range(_PAIR_ROUNDS):
        must = any(rule.tier == MUST for rule, _ in filled.broken())
        mains = must or any(rule.code == "own_lift" for rule, _ in filled.broken())
        more = new_pairs(filled.week, filled.sets, filled.pairs, budget_s, mains=mains)
        if not more:
            break
        if tell is not None:
            tell("week: pairs")
        pairs = (*filled.pairs, *more)
        week = week_variables(problem, filled.frame, budget_s, pairs, eased=True)
        values = week.values(with_equal_sets(filled.sets, pairs))
        met = {i: 0 for i, rule in enumerate(week.constraints)
               if rule.tier in _UPPER and not rule.outside(values)}  # fmt: skip
        # for a must that is missed what is met may be traded, by the prices
        model = CompiledWeek(week, caps={} if must else met)
        solution = model.solve(limit_s=max(budget.start_s / 4, _PAIR_S), hint=values)
        if solution is None:
            break
        paired = Filled(week, filled.frame, _improved(model, solution, budget, filled.cost), pairs)
        if paired.cost >= filled.cost:
            break
        filled = paired
    return filled


def _settled(week: WeekVariables, budget: Budget) -> tuple[CompiledWeek, Solution | None]:
    """A week that meets the upper tiers as well as can be, and the model of the lower ones.

    Mostly all of the upper tiers can be met, or all but the log's own week and what leads reach
    for; where not, the musts are settled first, then all of them together, their prices keeping
    them apart, and what they cannot meet is let go."""

    def those(*tiers: int) -> list[int]:
        return [i for i, rule in enumerate(week.constraints) if rule.tier in tiers]

    basics = dict.fromkeys(those(MUST, BASIC), 0)
    hint = _logged_week(week)
    upper = basics | dict.fromkeys(those(LOGGED, LEAD), 0)
    model, solution = _lower(week, upper, budget.start_s, hint)
    if solution is not None:
        return model, solution

    def missed(found: Solution, *tiers: int) -> dict[int, int]:
        return {i: week.constraints[i].outside(found.values) for i in those(*tiers)}

    logged = dict.fromkeys(those(LOGGED), 0)
    ways: list[tuple[dict[int, int], tuple[int, ...]]] = [(basics | logged, (LEAD,))]
    ways += [(basics, (LOGGED, LEAD))] if logged else []
    for caps, priced in (*ways, ({}, (MUST,))):
        model = CompiledWeek(week, caps=caps, priced=priced)
        known = model.solve(limit_s=budget.tier_s, hint=hint)
        if known is not None:
            break
    known = known or model.solve(limit_s=_FIRST_S, first=True)
    if known is None:
        return model, None
    if MUST in model.priced:
        model = CompiledWeek(week, caps=missed(known, MUST), priced=_UPPER)
        known = model.solve(limit_s=budget.tier_s, hint=known.values) or known
    # what is met stays met, and a lead keeps what it got; the rest may be traded for its like
    met = {i: 0 for i, units in missed(known, MUST, BASIC).items() if not units}
    model = CompiledWeek(week, caps=met | missed(known, LEAD))
    cost = week.cost(known.values, model.priced)
    return model, replace(known, cost=cost, bound=0, proven=False)


def _lower(
    week: WeekVariables, caps: dict[int, int], limit_s: float, hint: Sequence[int] | None
) -> tuple[CompiledWeek, Solution | None]:
    """The lower tiers with the upper ones as they are: with a log which lifts stay, before all
    the rest."""
    if week.problem.log:
        kept = CompiledWeek(week, caps=caps, priced=(*_UPPER, KEEP)).solve(
            limit_s=limit_s, hint=hint
        )
        hint = hint if kept is None else kept.values
    model = CompiledWeek(week, caps=caps)
    return model, model.solve(limit_s=limit_s, hint=hint)


def _logged_week(week: WeekVariables) -> Sequence[int] | None:
    """The log's own week moved on, where to look first; None without a log. It need not keep
    every rule."""
    problem = week.problem
    sets: dict[int, tuple[int, int]] = {}
    for name, logged in problem.log.lifts.items():
        for day, reps in logged.days.items():
            here = [
                i for i in week.where(lambda o: o.lift.name == name)  # noqa: B023
                if problem.slots[week.places[i].slot].day == day
            ]  # fmt: skip
            if here:
                i = min(here, key=lambda i: _off(week.options[i], reps))
                last = min(logged.sets, problem.most_sets(week.options[i]))
                sets[i] = min(max(last - 1, 2), last, problem.first_most(week.options[i])), last
    return week.values(sets) if sets else None


def _off(option: Option, reps: int) -> int:
    """How far the middle of the option's range is from the repetitions, doubled."""
    return abs(option.reps.low + option.reps.high - 2 * reps)


def _budgets(problem: Problem, frame: Frame) -> tuple[int, ...]:
    """Seconds for lifts by slot; from four visits on some minutes stay free."""
    if len(frame.visits) < MANY_VISITS:
        return problem.budget_s
    start_s = problem.limits.policy.whole("time.session_start")
    most = problem.limits.share("time_share_most")
    return tuple(
        min(budget, int(most * (budget + start_s)) - start_s) for budget in problem.budget_s
    )


def week_variables(
    problem: Problem,
    frame: Frame,
    budget_s: Sequence[int],
    pairs: Sequence[PlacePair] = (),
    *,
    eased: bool = False,
) -> WeekVariables:
    """The week with all its rules."""
    week = WeekVariables(problem, places_of(problem, frame, budget_s), pairs)
    state_hard_rules(week, budget_s)
    names = sorted({option.lift.name for option in week.options} - problem.pinned)
    lifts = problem.limits.lifts_week(len(problem.slots))
    week.add("lifts_week", [(week.lift_used(name), 1) for name in names], high=lifts)
    state_climb(week, problem.lifter.weeks)
    _roles_most(week, frame)
    state_aims(week, frame, budget_s, eased=eased)
    state_wishes(week, frame, budget_s)
    return week


def places_of(problem: Problem, frame: Frame, budget_s: Sequence[int]) -> list[Place]:
    """Where each option may stand."""
    found = []
    for slot in frame.visits:
        for index, option in enumerate(problem.options):
            seconds = option.time.seconds(problem.limits.sets_least)
            pinned = problem.pin_slots(option.lift.name)
            if pinned is not None and slot not in pinned:
                continue
            suits = pinned is not None or _suits(problem, frame, slot, option)
            if seconds <= budget_s[slot] and suits and problem.is_of_day(option, slot):
                found.append(Place(slot, index))
    return found


def _suits(problem: Problem, frame: Frame, slot: int, option: Option) -> bool:
    basic, name = option.basic, option.lift.name
    here = problem.is_logged_on(name, slot)
    if option.lift.family == "deadlift" and not option.heavy and not here:
        novice = is_new(problem.lifter)
        if not novice and any(o.heavy and o.lift.name == name for o in problem.options):
            return False
    if basic is None or here:
        return True
    if basic not in frame.roles[slot]:
        return name in problem.pinned or _is_short(problem, frame, slot, option)
    heavy = (slot, basic) in frame.heavy
    if not option.heavy:
        return not heavy or basic in problem.lead_basics or not _has_heavy(problem, basic)
    return heavy or all(o.heavy for o in problem.options if o.lift.name == name)


def _is_short(problem: Problem, frame: Frame, slot: int, option: Option) -> bool:
    """Whether, of two visits, the one of its pattern cannot hold the sets of the muscle."""
    basic = option.basic or ""
    related = RELATED[basic] in frame.roles[slot] and basic in {*PUSH, *PULL} - {"overhead"}
    sets = QUARTERS * problem.most_sets(option)
    lighter = related and not option.heavy  # what is heavy is the frame's to say
    return len(frame.visits) == 2 and lighter and problem.aims[option.muscle].end > sets


def _has_heavy(problem: Problem, basic: str) -> bool:
    return any(o.heavy for o in problem.options if o.basic == basic)


def _roles_most(week: WeekVariables, frame: Frame) -> None:
    """One main lift of a pattern a session; two where it leads, or where the log has two."""
    problem = week.problem
    for slot in frame.visits:
        for basic in ("knee", "hip", "press", "row", "pull", "overhead"):
            places = week.where(lambda o: o.basic == basic, [slot])  # noqa: B023
            names = {week.options[i].lift.name for i in places}
            logged = sum(problem.is_logged_on(name, slot) for name in names)
            most = max(1 + (basic in problem.lead_basics), logged, len(names & problem.pinned))
            week.add("mains_of_pattern", week.uses(places), high=most, slot=slot, basic=basic)


def _improved(
    model: CompiledWeek, solution: Solution, budget: Budget, goal: float = math.inf
) -> Solution:
    """Through the neighbourhoods, none twice from the same week, and again where that gained much
    and the cost is under the goal."""
    parts = list(_neighbourhoods(model.week, solution.values, budget))
    tried: dict[int, Sequence[int]] = {}
    for _ in range(_ROUNDS):
        before = solution.cost
        for at, (free, limit_s) in enumerate(parts):
            if tried.get(at) == solution.values:
                continue
            cost = solution.cost
            found = model.solve(limit_s=limit_s, hint=solution.values, free=free, below=cost)
            if found is not None and found.cost < cost:  # proves nothing of the whole
                solution = replace(found, bound=solution.bound, proven=False)
            tried[at] = solution.values
        if solution.cost >= min(goal, _MUCH_LESS * before):
            break
    return solution


def _neighbourhoods(
    week: WeekVariables, values: Sequence[int], budget: Budget
) -> Iterator[tuple[set[int], float]]:
    """Sets of variables to free, and how long for. Every two slots together gained nothing for
    their time; small lifts that change places, each for its own day of the log, do."""
    problem, count = week.problem, len(week.places)

    def of(places: Sequence[int]) -> set[int]:
        return {var for i in places for var in (i, count + i, 2 * count + i)}

    def is_home(place: int) -> bool:
        slot, option = week.places[place].slot, week.options[place]
        logged = option.lift.name in problem.log.lifts and not option.is_main
        return logged and bool(values[place] or problem.is_logged_on(option.lift.name, slot))

    sets = set(range(count, 3 * count))
    if problem.log:
        yield of([i for i in range(count) if is_home(i)]) | sets, budget.tier_s / 2
    parts = [of(week.here(slot)) for slot in week.slots]
    parts.append(of(week.where(lambda o: o.is_main or problem.fills_hole(o))))
    for muscle in MUSCLES:
        small = week.where(lambda o: not o.is_main and o.muscle == muscle)  # noqa: B023
        if len({week.options[i].lift.name for i in small}) > 1:
            parts.append(of(small))
    for part in (*parts, sets):
        yield part, budget.part_s
