"""What a week should be for its leads: their lifts and days, who opens, first choices, sets."""

from collections import defaultdict
from collections.abc import Callable, Mapping
from itertools import combinations

from .constraints import BASIC, HARD, KEEP, LEAD, MUST, Helper, Terms, WeekVariables
from .hard_rules import MANY_VISITS, quarters
from .limits import QUARTERS
from .patterns import BASICS
from .problem import Option

SHORT_SHARE = 0.75  # Under so much of what it reaches for, a deficit counts twice
_TWO_LIFTS_FROM = 4  # Direct sets of a lead from which it needs two lifts
_THREE_DAYS_FROM = 12
"""Sets of a lead from which they are spread over three days, where there are many."""
_FIRST_CHOICE = 3  # The plainness of a lift that is a first choice everywhere


def state_lead_lifts(week: WeekVariables, eased: bool) -> None:
    """Two lifts of a lead that are no near twins; two days far enough apart."""
    problem = week.problem
    for muscle in problem.leads:
        direct = week.where(lambda o: muscle in o.direct)  # noqa: B023
        by_angle: dict[str, list[int]] = defaultdict(list)
        for i in direct:
            by_angle[week.options[i].lift.angle].append(i)
        kinds = [week.any_of(("angle", muscle, a), x) for a, x in sorted(by_angle.items())]
        sets = Helper("count", [(week.last[i], 1) for i in direct], _TWO_LIFTS_FROM)
        many = week.helper(("many", muscle), sets)
        asked = [*((kind, 1) for kind in kinds), (many, -min(2, len(kinds)))]
        usual = week.where(lambda o: muscle in o.direct and problem.is_plain(o.lift))  # noqa: B023
        plain = len({week.options[i].lift.angle for i in usual}) > 1
        tier, price = (MUST, 700_000) if plain else (LEAD, 8_000)  # an odd one is worth two sets
        week.add("lead_lifts", asked, low=0, tier=tier, price=price, muscle=muscle)
        state_lead_days(week, muscle, MUST if eased else HARD)


def state_lead_days(week: WeekVariables, muscle: str, tier: int, *, clash: bool = False) -> None:
    """A muscle is trained directly on two days far enough apart, where the slots allow it."""
    problem = week.problem
    direct = week.where(lambda o: muscle in o.direct)
    slots = sorted({week.places[i].slot for i in direct})
    apart = [(a, b) for a, b in combinations(slots, 2)
             if problem.gap_h(a, b) >= problem.limits.hours_between]  # fmt: skip
    if not apart and not clash:
        return
    days = {
        slot: week.any_of(("day", muscle, slot), [i for i in direct if week.places[i].slot == slot])
        for slot in slots
    }
    both = [
        week.helper(("apart", muscle, a, b), Helper("count", [(days[a], 1), (days[b], 1)], 2))
        for a, b in apart
    ]
    week.add("lead_days", [(pair, 1) for pair in both], low=1, tier=tier, muscle=muscle)
    if len(slots) >= MANY_VISITS and problem.aims[muscle].end >= _THREE_DAYS_FROM * QUARTERS:
        used = [(day, 1) for day in days.values()]
        week.add("lead_third_day", used, low=3, tier=LEAD, muscle=muscle)


def state_lead_opens(week: WeekVariables, openers: Mapping[int, Mapping[int, int]]) -> None:
    """A lead's main lift opens at least half of the sessions that hold one."""
    terms: dict[int, int] = defaultdict(int)
    for slot, found in openers.items():
        mine = [i for i in found if week.problem.leads_of(week.options[i])]
        if mine:
            terms[week.any_of(("lead main", slot), mine)] -= 1
            for place in mine:
                terms[found[place]] += 2
    week.add("lead_opens", sorted(terms.items()), low=0, tier=BASIC)


def state_first_choices(week: WeekVariables) -> None:
    """Without a log a lead uses a machine that serves it best, and a basic pattern a main lift that
    is a first choice or known; where it leads, two of unlike angles, as far as there are any: with
    a log they are worth less than a main lift of it."""
    problem = week.problem
    for muscle in () if problem.log else problem.leads:
        best = _first(week, lambda o: muscle in o.direct and o.lift.stability != "free")  # noqa: B023
        week.add("lead_machine", best, low=min(1, len(best)), tier=BASIC, muscle=muscle)
    for basic in () if problem.log else BASICS:
        best = _first(week, lambda o: o.basic == basic)  # noqa: B023
        week.add("first_choice", best, low=min(1, len(best)), tier=BASIC, basic=basic)
    for basic in sorted(problem.lead_basics - {"hip"}):
        by_angle: dict[str, list[int]] = defaultdict(list)
        for i in week.where(lambda o: o.basic == basic and o.lift.role == "main"):  # noqa: B023
            by_angle[week.options[i].lift.angle].append(i)
        kinds = [(week.any_of(("main", basic, a), x), 1) for a, x in sorted(by_angle.items())]
        low = min(2, len(kinds), len({week.places[i].slot for x in by_angle.values() for i in x}))
        tier, price = (KEEP, 5_000) if problem.log else (BASIC, 15_000)
        week.add("main_angles", kinds, low=low, tier=tier, price=price, basic=basic)


def _first(week: WeekVariables, test: Callable[[Option], bool]) -> Terms:
    best = week.where(lambda o: test(o) and week.problem.is_plain(o.lift, _FIRST_CHOICE))
    return week.uses(best)


def state_lead_sets(week: WeekVariables) -> None:
    """Leads start and end near their aims; below three quarters it counts twice. They end at what
    the log shows, which a set more or less does not change."""
    problem = week.problem
    near = 1 - problem.limits.share("lead_tolerance")
    for muscle in problem.leads:
        aim = problem.aims[muscle]
        ends = (("lead_start", week.first, aim.start), ("lead_end", week.last, aim.end))
        for code, sets, reach in ends:
            terms = quarters(week, muscle, sets)
            for share in (near, SHORT_SHARE):
                week.add(code, terms, low=int(share * reach), tier=LEAD, muscle=muscle)
        if aim.logged:
            least = min(aim.logged, aim.most) - QUARTERS
            terms = quarters(week, muscle, week.last)
            week.add("lead_end_log", terms, low=least, tier=MUST, muscle=muscle)
