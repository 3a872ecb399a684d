"""The lower tiers of a week's aims: keep what the lifter does, then everything else.

Continuity is counted per week and lift, never per entry: a small "not its usual day" for every
entry would forbid every second exposure.
"""

from collections.abc import Sequence

from blockwright.engine.planning.aims import KEEP, REST
from blockwright.engine.planning.constraints import WeekVariables
from blockwright.engine.planning.frame import Frame
from blockwright.engine.planning.hard_rules import MANY_VISITS, quarters, week_seconds
from blockwright.engine.planning.order import opening_rank
from blockwright.engine.planning.patterns import ALONG
from blockwright.engine.training import MUSCLES

_SHORT_SHARE = 0.75
_POINTS_A_SCORE = 5
_MAIN_TIMES = 5


def state_wishes(week: WeekVariables, frame: Frame, budget_s: Sequence[int]) -> None:
    """Continuity and the rest."""
    _continuity(week)
    _volumes(week)
    _suitability(week)
    _shape(week, frame, budget_s)


def _continuity(week: WeekVariables) -> None:
    problem = week.problem
    names = {option.lift.name: option for option in week.options}
    leads = {name for name, option in names.items() if problem.leads_of(option)}
    for name, option in names.items():
        used = week.lift_used(name)
        main = option.is_main
        if name in problem.log.lifts or name in problem.kept:
            week.add("kept", [(used, 1)], low=1, tier=KEEP, price=2_400 if main else 900, lift=name)
        elif name in problem.known and name not in problem.log.lifts:
            week.add("known", [(used, 1)], low=1, tier=KEEP, price=700, lift=name)
        elif problem.log or problem.kept:
            free = name in problem.liked or name in problem.pinned
            price = 0 if free else 300 if name in leads else 1_300
            week.add("new_lift", [(used, 1)], high=0, tier=KEEP, price=price, lift=name)
        if name in problem.liked:
            week.add("liked", [(used, 1)], low=1, tier=KEEP, price=1_600, lift=name)
        _logged_range(week, name)


def _logged_range(week: WeekVariables, name: str) -> None:
    """A logged lift stays in the repetitions it is done with."""
    logged = week.problem.log.lifts.get(name)
    if logged is None:
        return
    done = tuple(logged.days.values())
    off = [
        i
        for i in week.where(lambda o: o.lift.name == name)
        if not any(week.options[i].reps.low <= r <= week.options[i].reps.high for r in done)
    ]
    if off:
        other = week.any_of(("off range", name), off)
        week.add("logged_range", [(other, 1)], high=0, tier=KEEP, price=500, lift=name)


def _volumes(week: WeekVariables) -> None:
    """Muscles that do not lead: what they lack and what they have too much of."""
    problem = week.problem
    for muscle in MUSCLES:
        if muscle in problem.leads or muscle in problem.skips:
            continue
        aim = problem.aims[muscle]
        held = muscle in problem.holds
        along = muscle in ALONG and not held
        weight = 0.4 if along else problem.limits.muscle_weight[muscle]
        ends = (("start", week.first, aim.start, 30), ("end", week.last, aim.end, 40))
        for code, sets, reach, price in ends:
            terms = quarters(week, muscle, sets)
            points = max(1, round(price * weight))
            for share in (1.0, _SHORT_SHARE):
                week.add(f"short_{code}", terms, low=int(share * reach), tier=REST, price=points,
                         muscle=muscle)  # fmt: skip
            over = 60 if held else 4 if along else 20
            week.add(f"over_{code}", terms, high=reach, tier=REST, price=over, muscle=muscle)


def _suitability(week: WeekVariables) -> None:
    """The plain lift that suits, on its usual day; few lifts; a spared spine."""
    problem = week.problem
    best: dict[object, int] = {}
    for option in week.options:
        role = option.basic or option.muscle
        score = problem.scores.get(option.lift.name, 0)
        best[role] = max(best.get(role, score), score)
    for i, option in enumerate(week.options):
        role = option.basic or option.muscle
        behind = best[role] - problem.scores.get(option.lift.name, 0)
        points = _POINTS_A_SCORE * behind * (_MAIN_TIMES if option.is_main else 1)
        preferred = option.lift.prefers
        if option.reps in preferred:
            points += 12 * preferred.index(option.reps)
        points += 25 + 10 * option.lift.axial
        if option.heavy and option.lift.stability != "free" and not problem.gentle_lifter:
            points += 150
        logged = problem.log.lifts.get(option.lift.name)
        day = problem.slots[week.places[i].slot].day
        if logged is not None and day not in logged.days:
            points += 90
        week.add("entry", [(week.used[i], 1)], high=0, tier=REST, price=points,
                 lift=option.lift.name)  # fmt: skip
        if not option.is_main and not problem.leads_of(option):
            week.add("fourth_set", [(week.last[i], 1)], high=3, tier=REST, price=70)
    for name in sorted({option.lift.name for option in week.options}):
        places = week.where(lambda o: o.lift.name == name)  # noqa: B023
        main = week.options[places[0]].is_main
        week.add("distinct", [(week.lift_used(name), 1)], high=0, tier=REST,
                 price=20 if main else 60)  # fmt: skip
        if main and not problem.log and len(places) > 1:
            used = [(week.used[i], 1) for i in places]
            week.add("same_main", used, high=1, tier=REST, price=160, lift=name)


def _shape(week: WeekVariables, frame: Frame, budget_s: Sequence[int]) -> None:
    """Minutes used, visits alike, leads and heavy lifts first."""
    problem, limits = week.problem, week.problem.limits
    many = len(frame.visits) >= MANY_VISITS
    for slot in week.slots:
        minutes = 60 * problem.slots[slot].minutes
        start_s = limits.policy.whole("time.session_start")
        terms = week_seconds(week, slot)
        least = int(limits.share("time_share_least") * minutes) - start_s
        if many:
            week.add("time_unused", terms, low=min(least, budget_s[slot]), tier=REST, price=1,
                     slot=slot)  # fmt: skip
        found = week.openers(slot, lambda o: opening_rank(o, problem.leads))
        light = [(opener, 1) for place, opener in found.items() if not week.options[place].heavy]
        week.add("light_opener", light, high=0, tier=REST, price=27)
