"""A week's aims against what the lifter does now, and the lowest tier: everything else.

Most main lifts of the log stay, in their sets and repetitions: that is among the basics. Beyond
it continuity is counted per week and lift, never per entry: a small "not its usual day" for every
entry would forbid every second exposure.
"""

import math
from collections import defaultdict
from collections.abc import Sequence

from blockwright.engine.planning.aims import BASIC, KEEP, REST
from blockwright.engine.planning.constraints import WeekVariables, whole_share
from blockwright.engine.planning.frame import Frame
from blockwright.engine.planning.hard_rules import MANY_VISITS, quarters, week_seconds
from blockwright.engine.planning.limits import QUARTERS
from blockwright.engine.planning.order import opening_rank
from blockwright.engine.planning.patterns import ALONG, is_hinge
from blockwright.engine.training import MUSCLES

_SHORT_SHARE = 0.75
_POINTS_A_SCORE = 5
_MAIN_TIMES = 5
_STOOD = 3_000
"""Against moving a lift of a block that has begun: more than keeping a lift anywhere is worth."""


def state_wishes(week: WeekVariables, frame: Frame, budget_s: Sequence[int]) -> None:
    """What the log asks for, continuity and the rest."""
    _logged_mains(week)
    _known_lifts(week)
    _logged_volume(week)
    _continuity(week)
    _volumes(week)
    _suitability(week)
    _hinged(week)
    _shape(week, frame, budget_s)


def _logged_mains(week: WeekVariables) -> None:
    """Most of the log's main lifts stay, each somewhere in its usual repetitions and sets."""
    problem = week.problem
    by_lift: dict[str, list[int]] = defaultdict(list)
    for i in week.where(lambda o: o.is_main and o.lift.name in problem.log.lifts):
        by_lift[week.options[i].lift.name].append(i)
    used = [(week.lift_used(name), 1) for name in by_lift]
    least = math.ceil(problem.limits.share("kept_mains") * len(used))
    week.add("kept_mains", used, low=least, tier=BASIC, price=25_000)
    for name, places in by_lift.items():
        logged = problem.log.lifts[name]
        usual = [i for i in places if logged.is_usual(week.options[i].reps)]
        if logged.is_heavy:  # and so it stays on one of its days
            usual = [i for i in usual if week.options[i].heavy] or usual
        if not usual:
            continue
        inside = [(week.used[i], 1) for i in usual]
        week.add("main_range", [*inside, (week.lift_used(name), -1)], low=0, tier=BASIC,
                 price=20_000, lift=name)  # fmt: skip
        for i in usual:
            option, on = week.options[i], week.used[i]
            if problem.on_hold(option):
                continue
            least = min(min(logged.sets, 4) - 1, problem.first_most(option))
            end = min(logged.sets, problem.most_sets(option))
            for code, var, sets in (("logged_start", week.first[i], least),
                                    ("logged_end", week.last[i], end)):  # fmt: skip
                week.add(code, [(var, 1), (on, -sets)], low=0, tier=BASIC, price=20_000, lift=name)


def _known_lifts(week: WeekVariables) -> None:
    """With a log most of the week's lifts are known to the lifter."""
    problem = week.problem
    if not problem.log:
        return
    share = whole_share(problem.limits.share("known_lifts"))
    terms = [
        (week.lift_used(name), (100 if name in problem.known else 0) - share)
        for name in dict.fromkeys(option.lift.name for option in week.options)
    ]
    week.add("known_lifts", terms, low=0, tier=BASIC, price=200)


def _logged_volume(week: WeekVariables) -> None:
    """Muscles start and end near what the log shows of them; where leads go is told elsewhere."""
    problem = week.problem
    for muscle in MUSCLES:
        aim = problem.aims[muscle]
        if muscle in problem.skips or muscle in ALONG or aim.logged < problem.limits.floor_q:
            continue
        above = max(aim.logged, aim.start) + problem.limits.log_growth_q
        week.add("log_start_most", quarters(week, muscle, week.first), high=above, tier=BASIC,
                 price=2_500, muscle=muscle)  # fmt: skip
        if muscle in problem.leads:
            continue
        for code, sets, reach in (
            ("log_start", week.first, aim.start),
            ("log_end", week.last, min(aim.logged, aim.end)),
        ):
            week.add(code, quarters(week, muscle, sets), low=reach - QUARTERS, tier=BASIC,
                     price=2_500, muscle=muscle)  # fmt: skip


def _continuity(week: WeekVariables) -> None:
    problem = week.problem
    names = {option.lift.name: option for option in week.options}
    leads = {name for name, option in names.items() if problem.leads_of(option)}
    for name, option in names.items():
        used = week.lift_used(name)
        main = option.is_main
        if name in problem.log.lifts or name in problem.kept:
            week.add(
                "kept", [(used, 1)], low=1, tier=KEEP, price=7_000 if main else 2_700, lift=name
            )
        elif name in problem.known and name not in problem.log.lifts:
            week.add("known", [(used, 1)], low=1, tier=KEEP, price=3_000, lift=name)
        elif problem.log or problem.kept:
            free = name in problem.liked or name in problem.pinned
            price = 0 if free else 900 if name in leads else 3_900
            week.add("new_lift", [(used, 1)], high=0, tier=KEEP, price=price, lift=name)
        if name in problem.liked:
            week.add("liked", [(used, 1)], low=1, tier=KEEP, price=4_800, lift=name)
        _logged_range(week, name)
    for slot, name in sorted(problem.stood):
        there = [(week.used[i], 1) for i in week.here(slot) if week.options[i].lift.name == name]
        week.add("stood", there, low=1, tier=KEEP, price=_STOOD, lift=name)


def _logged_range(week: WeekVariables, name: str) -> None:
    """A logged lift stays in the repetitions it is done with."""
    logged = week.problem.log.lifts.get(name)
    if logged is None:
        return
    off = week.where(lambda o: o.lift.name == name and not logged.is_usual(o.reps))
    if off:
        other = week.any_of(("off range", name), off)
        week.add("logged_range", [(other, 1)], high=0, tier=KEEP, price=1_500, lift=name)


def _volumes(week: WeekVariables) -> None:
    """Muscles that do not lead: what they lack and what they have too much of. Leads begin where
    they should, too."""
    problem = week.problem
    for muscle in MUSCLES:
        aim = problem.aims[muscle]
        if muscle in problem.leads:
            week.add("over_start", quarters(week, muscle, week.first), high=aim.start, tier=REST,
                     price=120, muscle=muscle)  # fmt: skip
        if muscle in problem.leads or muscle in problem.skips:
            continue
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
        new = problem.log and name not in problem.known | problem.kept
        if new and not main and not problem.leads_of(week.options[places[0]]):
            used = [(week.used[i], 1) for i in places]
            week.add("new_twice", used, high=1, tier=REST, price=700, lift=name)
        if main and not problem.log and len(places) > 1:
            used = [(week.used[i], 1) for i in places]
            week.add("same_main", used, high=1, tier=REST, price=160, lift=name)


def _hinged(week: WeekVariables) -> None:
    """Among the lifts of the hip is a hinge, where one was found fit."""
    hinges = week.where(lambda o: is_hinge(o.lift) and o.is_main and o.lift.role == "main")
    used = [(week.used[i], 1) for i in hinges]
    if used:
        week.add("no_hinge", used, low=1, tier=REST, price=900)


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
