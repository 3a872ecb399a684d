"""A week's aims against what the lifter does now, and the lowest tier: everything else.

Most main lifts of the log stay, in their sets and repetitions: that comes before leads. Beyond it
continuity is counted per week and lift, never per entry: a small "not its usual day" for every
entry would forbid every second exposure."""

import math
from collections import defaultdict
from collections.abc import Collection, Sequence
from itertools import combinations, product

from blockwright.engine.training import MUSCLES
from .constraints import KEEP, LEAD, LOGGED, REST, WeekVariables, whole_share
from .frame import Frame
from .hard_rules import MANY_VISITS, quarters, week_seconds
from .lead_aims import SHORT_SHARE
from .limits import QUARTERS
from .log_facts import LogFacts
from .patterns import ALONG, BASICS

_POINTS_A_SCORE = 5
_MAIN_TIMES = 5
_PLAIN = 2  # The plainness from which a lift nobody asked for may come in
_MANY_LIFTS = 6  # More in a session make a round of the room of it


def state_wishes(week: WeekVariables, frame: Frame, budget_s: Sequence[int]) -> None:
    """What the log asks for, continuity and the rest."""
    _logged_mains(week)
    _no_strangers(week)
    _known_lifts(week)
    _logged_volume(week)
    _continuity(week)
    _volumes(week)
    _suitability(week)
    _hinged(week)
    _shape(week, frame, budget_s)


def _logged_mains(week: WeekVariables) -> None:
    """Most of the log's main lifts stay, each somewhere in its usual repetitions and sets; the
    first of each pattern on a day of its own."""
    problem = week.problem
    by_lift: dict[str, list[int]] = defaultdict(list)
    for i in week.where(lambda o: o.is_main and o.lift.name in problem.log.lifts):
        by_lift[week.options[i].lift.name].append(i)
    used = [(week.lift_used(name), 1) for name in by_lift]
    least = math.ceil(problem.limits.share("kept_mains") * len(used))
    week.add("kept_mains", used, low=least, tier=LOGGED)
    first_lifts = _first_lifts(problem.log, by_lift)
    for name, places in by_lift.items():
        logged = problem.log.lifts[name]
        usual = [i for i in places if problem.is_usual(week.options[i])]
        if logged.is_heavy:  # and so it stays on one of its days
            usual = [i for i in usual if week.options[i].heavy] or usual
        if not usual:
            continue
        if name in first_lifts:
            day = [i for i in usual if problem.is_logged_on(name, week.places[i].slot)] or usual
            stays = [(week.any_of(("own day", name), day), 1)]
            week.add("first_lift", stays, low=1, tier=LOGGED, lift=name)
        inside = week.uses(usual)
        week.add("main_range", [*inside, (week.lift_used(name), -1)], low=0, tier=LOGGED,
                 price=20_000 + 2_000 * week.options[usual[0]].lift.axial, lift=name)  # fmt: skip
        start, end = [], []
        for i in usual if not problem.on_hold(week.options[usual[0]]) else ():
            option, on = week.options[i], week.used[i]
            least = min(min(logged.sets, 4) - 1, problem.first_most(option))
            most = min(logged.sets, problem.most_sets(option))
            start += [(week.first[i], 1), (on, 1 - least)]
            end += [(week.last[i], 1), (on, 1 - most)]
        # one of its days has the sets of the log, no other more than one less
        for code, terms in (("logged_start", start), ("logged_end", end)):
            terms = [*terms, (week.any_of(("usual", name), usual), -1)] if terms else []
            week.add(code, terms, low=0, tier=LOGGED, price="logged_sets", lift=name)


def _first_lifts(log: LogFacts, names: Collection[str]) -> frozenset[str]:
    """Of each pattern the main lift that the log has most of, the heavier of two alike."""
    found = set()
    for basic in BASICS:
        here = [log.lifts[n] for n in names if log.lifts[n].basic == basic]
        most = max(here, key=lambda x: (x.sets * x.visits, -x.reps), default=None)
        found |= {name for name in names if log.lifts[name] is most}
    return frozenset(found)


def _no_strangers(week: WeekVariables) -> None:
    """No new main lift takes the place of a logged or known one of its pattern, and none that is
    done comes oftener for one that is not on hold; beside lifts that were said to be known, few
    come in."""
    problem = week.problem
    mains = {o.lift.name: o.basic for o in week.options if o.is_main and o.basic}
    known = problem.known | problem.carried.kept | problem.liked | problem.pinned
    held = {o.lift.name for o in week.options if problem.on_hold(o)}
    for new, basic in mains.items():
        if new in known:
            logged = problem.log.lifts.get(new)
            if logged is None or new in problem.liked:
                continue
            again = week.uses(week.where(lambda o: o.lift.name == new))  # noqa: B023
            for name in sorted({n for n in problem.log.lifts if mains.get(n) == basic} - held):
                terms = [*again, (week.lift_used(name), -len(week.slots))]
                if name != new:
                    week.add("stranger", terms, high=logged.visits, tier=LOGGED, lift=new)
            continue
        if not problem.log and any(mains.get(name) == basic for name in problem.known):
            week.add("unasked", [(week.lift_used(new), 1)], high=0, tier=REST, lift=new)
        for name in sorted(problem.known):
            if mains.get(name) == basic:
                terms = [(week.lift_used(new), 1), (week.lift_used(name), -1)]
                week.add("stranger", terms, high=0, tier=LOGGED, lift=new)


def _known_lifts(week: WeekVariables) -> None:
    """With a log most of the week's lifts are known to the lifter, holes and pins apart."""
    problem = week.problem
    if not problem.log:
        return
    share = whole_share(problem.limits.share("known_lifts"))
    asked = {o.lift.name: o for o in week.options if not problem.fills_hole(o)}
    names = [name for name in asked if name not in problem.pinned]
    terms = [(week.lift_used(n), 100 * (n in problem.known) - share) for n in names]
    week.add("known_lifts", terms, low=0, tier=LOGGED)


def _logged_volume(week: WeekVariables) -> None:
    """Muscles start and end near what the log shows of them; where leads go is told elsewhere."""
    problem = week.problem
    for muscle in MUSCLES:
        aim = problem.aims[muscle]
        along = muscle in ALONG and problem.lifter.emphasis_of(muscle) == "normal"
        if muscle in problem.skips or along or aim.logged < problem.limits.floor_q:
            continue
        above = max(aim.logged, aim.start) + problem.limits.log_growth_q
        start = quarters(week, muscle, week.first)
        week.add("log_start_most", start, high=above, tier=LOGGED, muscle=muscle)
        if muscle in problem.leads:
            continue
        for code, sets, reach in (
            ("log_start", week.first, aim.start),
            ("log_end", week.last, min(aim.logged, aim.end)),
        ):
            week.add(code, quarters(week, muscle, sets), low=reach - QUARTERS, tier=LOGGED,
                     price="log_volume", muscle=muscle)  # fmt: skip


def _continuity(week: WeekVariables) -> None:
    problem = week.problem
    names = {option.lift.name: option for option in week.options}
    leads = {name for name, option in names.items() if problem.leads_of(option)}
    # what few would choose may fill a hole where there is nothing else
    by_plainness = sorted(names.values(), key=lambda o: o.lift.plainness)
    plainest = {o.muscle: min(_PLAIN, o.lift.plainness) for o in by_plainness}
    for name, option in names.items():
        used = week.lift_used(name)
        main = option.is_main
        if name in problem.log.lifts or name in problem.carried.kept:
            price = "kept_of_lead" if name in leads else "kept_main" if main else "kept_small"
            tier = LEAD if name in leads else KEEP
            week.add("kept", [(used, 1)], low=1, tier=tier, price=price, lift=name)
            if main:
                _logged_visits(week, name, price if name in leads else "logged_visits", tier)
        elif name in problem.known and name not in problem.log.lifts:
            week.add("known", [(used, 1)], low=1, tier=KEEP, lift=name)
        elif problem.log or problem.carried.kept:
            wanted = not problem.short_leads.isdisjoint(option.direct) or problem.fills_hole(option)
            plain = option.lift.plainness >= plainest[option.muscle]
            price = "new_wanted" if wanted and plain else "new_lift"
            if name not in problem.liked | problem.pinned:
                week.add("new_lift", [(used, 1)], high=0, tier=KEEP, price=price, lift=name)
        if name in problem.liked:
            week.add("liked", [(used, 1)], low=1, tier=KEEP, lift=name)
            if main and name in leads and len(week.slots) >= MANY_VISITS:  # and twice, for a lead
                twice = week.uses(week.where(lambda o: o.lift.name == name))  # noqa: B023
                week.add("liked_twice", twice, low=2, tier=KEEP, lift=name)
        _logged_range(week, name)
        if problem.log and not main:
            _small_days(week, name, option.muscle)
    for slot, name in sorted(problem.carried.stood):
        there = week.uses(week.where(lambda o: o.lift.name == name, [slot]))  # noqa: B023
        week.add("stood", there, low=1, tier=KEEP, lift=name)


def _logged_visits(week: WeekVariables, name: str, price: str, tier: int) -> None:
    """A main lift comes as often in the week as it is done, and as often heavy, where it can on its
    own days; less often where there are fewer visits."""
    problem = week.problem
    logged = problem.log.lifts.get(name)
    if logged is None:
        return
    often = round(logged.visits * min(1.0, len(week.slots) / max(len(problem.log.days), 1)))
    places = week.where(lambda o: o.lift.name == name)
    own = [i for i in places if problem.is_logged_on(name, week.places[i].slot)]
    heavy = [i for i in own if week.options[i].heavy]
    hard = min(often, logged.heavy_visits)
    asked = (("logged_visits", places, often, tier), ("logged_days", own, often, KEEP),
             ("logged_heavy", heavy, hard, KEEP))  # fmt: skip
    for code, here, count, its in asked:
        most = min(count, len({week.places[i].slot for i in here}))
        terms = [(week.lift_used(name), -most), *((week.used[i], 1) for i in here)]
        points = price if code == "logged_visits" else code
        week.add(code, terms, low=0, tier=its, price=points, lift=name)


def _small_days(week: WeekVariables, name: str, muscle: str) -> None:
    """A logged small lift stays on its days, a new one comes on days that have its muscle."""
    problem = week.problem
    alike = {
        o.lift.name for o in week.options if o.muscle == muscle and o.lift.name in problem.log.lifts
    }
    names = {name} if name in problem.log.lifts else alike
    off = week.where(lambda o: o.lift.name == name)
    if names:
        off = [
            i for i in off if not any(problem.is_logged_on(n, week.places[i].slot) for n in names)
        ]
        week.add("off_day_small", week.uses(off), high=0, tier=KEEP)


def _logged_range(week: WeekVariables, name: str) -> None:
    """A logged lift stays in the repetitions it is done with."""
    off = week.where(lambda o: o.lift.name == name and not week.problem.is_usual(o))
    if off and name in week.problem.log.lifts:
        other = week.any_of(("off range", name), off)
        week.add("logged_range", [(other, 1)], high=0, tier=KEEP, lift=name)


def _volumes(week: WeekVariables) -> None:
    """Muscles that do not lead: what they lack and what they have too much of. Leads begin where
    they should, too."""
    problem = week.problem
    for muscle in MUSCLES:
        aim = problem.aims[muscle]
        if muscle in problem.leads:
            first = quarters(week, muscle, week.first)
            week.add("over_start", first, high=aim.start, tier=REST, muscle=muscle)
        if muscle in problem.leads or muscle in problem.skips:
            continue
        held = muscle in problem.holds
        along = muscle in ALONG and not held
        weight = 0.4 if along else problem.limits.muscle_weight[muscle]
        ends = (("start", week.first, aim.start, 30), ("end", week.last, aim.end, 40))
        for code, sets, reach, price in ends:
            terms = quarters(week, muscle, sets)
            points = max(1, round(price * weight))
            for share in (1.0, SHORT_SHARE):
                week.add(f"short_{code}", terms, low=int(share * reach), tier=REST, price=points,
                         muscle=muscle)  # fmt: skip
            over = 60 if held else 4 if along else problem.limits.price("over")
            week.add(f"over_{code}", terms, high=reach, tier=REST, price=over, muscle=muscle)


def _suitability(week: WeekVariables) -> None:
    """The plain lift that suits, on its usual day; few lifts; a spared spine."""
    problem, price = week.problem, week.problem.limits.price
    novice = problem.lifter.experience == "novice"
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
        if option.heavy and option.lift.stability != "free" and not novice:
            points += price("heavy_machine")
        if option.at_the_end and option.is_main:
            points += price("kit_ends")
        logged = problem.log.lifts.get(option.lift.name)
        if logged is not None:
            done = logged.days.get(day := problem.slots[week.places[i].slot].day, logged.reps)
            off = max(option.reps.low - done, done - option.reps.high, 0)
            points += round(price("off_reps") * off)
            points += price("off_day") * (option.is_main and day not in logged.days)
        week.add("entry", [(week.used[i], 1)], high=0, tier=REST, price=points,
                 lift=option.lift.name)  # fmt: skip
        if option.is_main and not problem.on_hold(option):
            climbs = [(week.last[i], 1), (week.first[i], -1), (week.used[i], -1)]
            week.add("main_climbs", climbs, low=0, tier=REST)
        elif not option.is_main and not problem.leads_of(option):
            week.add("fourth_set", [(week.last[i], 1)], high=3, tier=REST)
            week.add("third_at_first", [(week.first[i], 1)], high=2, tier=REST)
    for slot, muscle in product(week.slots, MUSCLES):
        here = week.where(lambda o: o.muscle == muscle and not o.is_main, [slot])  # noqa: B023
        names = {week.options[i].lift.name for i in here}
        logged_here = sum(problem.is_logged_on(name, slot) for name in names)
        most = max(1, logged_here) if muscle in problem.leads else 1
        week.add("two_smalls", week.uses(here), high=most, tier=REST)
    fit = [o for o in week.options if o.lift.plainness >= _PLAIN]
    plain = {(o.basic, o.lift.angle) for o in fit if o.basic in ("knee", "hip")}
    for name in sorted({option.lift.name for option in week.options}):
        places = week.where(lambda o: o.lift.name == name)  # noqa: B023
        main = week.options[places[0]].is_main
        week.add("distinct", [(week.lift_used(name), 1)], high=0, tier=REST,
                 price="distinct_main" if main else "distinct_small")  # fmt: skip
        for one, other in () if main else combinations(week.slots, 2):
            kept = problem.is_logged_on(name, one) and problem.is_logged_on(name, other)
            if problem.neighbours(one, other) and not kept:
                both = [i for i in places if week.places[i].slot in (one, other)]
                week.add("small_again", week.uses(both), high=1, tier=REST)
        new = problem.log and name not in problem.known | problem.carried.kept
        if new and not main and not problem.leads_of(week.options[places[0]]):
            week.add("new_twice", week.uses(places), high=1, tier=REST,
                     lift=name)  # fmt: skip
        if main and len(places) > 1 and not problem.log and name not in problem.known:
            option = week.options[places[0]]
            legs = {angle for basic, angle in plain if basic == option.basic}
            tier, code = (KEEP, "same_legs") if legs - {option.lift.angle} else (REST, "same_main")
            week.add("same_main", week.uses(places), high=1, tier=tier, price=code, lift=name)


def _hinged(week: WeekVariables) -> None:
    """Among the lifts of the hip is a hinge, and a thrust where the glutes lead, if one was found
    fit."""
    for pattern in ("hinge", *(("hip extension",) if "glutes" in week.problem.leads else ())):
        fit = week.where(lambda o: o.lift.pattern == pattern and o.lift.role == "main")  # noqa: B023
        used = week.uses(i for i in fit if week.options[i].is_main)
        if used:
            tier, price = (REST, "no_hip_log") if week.problem.log else (KEEP, "no_hip_lift")
            week.add("no_hip_lift", used, low=1, tier=tier, price=price, pattern=pattern)


def _shape(week: WeekVariables, frame: Frame, budget_s: Sequence[int]) -> None:
    """Minutes used, and no round of the room."""
    problem, limits = week.problem, week.problem.limits
    many = len(frame.visits) >= MANY_VISITS
    for slot in week.slots:
        minutes = 60 * problem.slots[slot].minutes
        start_s = limits.policy.whole("time.session_start")
        terms = week_seconds(week, slot)
        least = int(limits.share("time_share_least") * minutes) - start_s
        if many:
            week.add("time_unused", terms, low=min(least, budget_s[slot]), tier=REST, slot=slot)
        week.add("many_lifts", week.uses(week.here(slot)), high=_MANY_LIFTS, tier=REST, slot=slot)
