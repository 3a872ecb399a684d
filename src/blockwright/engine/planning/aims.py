"""What a week should be, in tiers: a coach's musts, basics and climb, the log's own week, leads,
continuity, the rest.

Prices are points for a unit outside a rule's bounds. The tiers lie so far apart that no lower one
buys anything of a higher one; within a tier the prices are judgement and belong to the search, not
to a coach's policy, which holds the bounds."""

from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Mapping, Sequence
from itertools import permutations

from blockwright.engine.training import MUSCLES
from .constraints import BASIC, KEEP, LEAD, LOGGED, MUST, REST, Helper, WeekVariables, whole_share
from .frame import FEW_WEEK_MINUTES, TWICE_MINUTES, Frame
from .hard_rules import MANY_VISITS, quarters, week_seconds
from .lead_aims import state_first_choices, state_lead_lifts, state_lead_opens, state_lead_sets
from .limits import QUARTERS
from .order import opening_rank
from .patterns import ALONG, LARGE, OWN_LIFT, PULL, PUSH, RAISES, SECOND_HIP, is_loadable
from .problem import Option, Plan

_MAIN_BASICS = ("knee", "hip", "press", "row", "pull")
_FEW_MINUTES = 30
_LONG, _VERY_LONG = 12, 16


def state_aims(
    week: WeekVariables, frame: Frame, budget_s: Sequence[int], *, eased: bool = False
) -> None:
    """Every soft rule of a block's first and last week. A lead's two days are hard, unless
    `eased`: the visits that were chosen may not hold them."""
    openers = {
        slot: week.openers(slot, lambda o: opening_rank(o, week.problem.leads))
        for slot in week.slots
    }
    _roles(week, frame)
    _worth_the_journey(week, budget_s)
    _first_tries(week, budget_s)
    _floors(week)
    state_lead_lifts(week, eased)
    _held(week)
    _own_lifts(week)
    _pressed_first(week)
    _long_sets(week)
    _enough_of_the_basics(week)
    _balance(week)
    _small_below_top(week, openers)
    _climb_to_mains(week)
    state_lead_opens(week, openers)
    state_first_choices(week)
    state_lead_sets(week)


def state_kept_musts(week: WeekVariables, plan: Plan, missed: bool) -> None:
    """What a week that has begun keeps of a coach's musts, as far as it has them: every basic
    pattern, a lead's two lifts; and a direct lift of the small muscles."""
    had = [week.problem.options[place.option] for place in plan]
    for basic in dict.fromkeys(option.basic for option in had if option.basic):
        places = week.where(lambda o: o.basic == basic)  # noqa: B023
        week.add("main_missing", week.uses(places), low=1, tier=MUST, basic=basic)
    state_lead_lifts(week, eased=True)
    for muscle in OWN_LIFT:
        if any(muscle in option.direct and not option.is_main for option in had):
            _own_lift(week, muscle, LEAD, f"own_lift_{'missed' if missed else 'begun'}")


def _serves(week: WeekVariables, option: Option, basics: Collection[str]) -> bool:
    """Whether it is a main lift of the patterns; a back extension that is logged is a hip lift,
    whatever its kind."""
    back = option.lift.pattern == "back extension" and option.lift.name in week.problem.log.lifts
    return option.basic in basics or (back and "hip" in basics)


def _roles(week: WeekVariables, frame: Frame) -> None:
    """The frame's main lifts, heavy where it says so, and a session of three lifts."""
    problem = week.problem
    for basic in _MAIN_BASICS:
        if not any(option.basic == basic for option in problem.options):
            week.add("basic_missing", (), low=1, tier=REST, price=0, basic=basic)
    times = Counter(basic for slot in frame.visits for basic in frame.roles[slot])
    for basic, count in times.items():
        if 0 < (owed := frame.owed[basic]) < count:
            week.add("main_missing", week.uses(week.where(lambda o: _serves(week, o, (basic,)))),  # noqa: B023
                     low=owed, tier=MUST, basic=basic)  # fmt: skip
    for slot in frame.visits:
        mains = week.where(lambda o: o.is_main, [slot])
        if mains:
            week.add("no_main", week.uses(mains), low=1, tier=MUST, slot=slot)
        for basic in frame.roles[slot]:
            places = week.where(lambda o: _serves(week, o, (basic,)), [slot])  # noqa: B023
            heavy = (slot, basic) in frame.heavy
            owed = frame.owed[basic]
            if owed < times[basic] and not (heavy and owed):
                week.add("more_of_basic", week.uses(places), low=1, tier=LEAD)
                continue
            code = "overhead_missing" if basic == "overhead" else "main_missing"
            week.add("main_missing", week.uses(places), low=1, tier=MUST, price=code, slot=slot,
                     basic=basic)  # fmt: skip
            if heavy:
                found = week.uses(i for i in places if week.options[i].heavy)
                week.add("heavy_missing", found, low=1, tier=MUST, slot=slot, basic=basic)
        least = min(problem.limits.lifts_least, problem.most_lifts)
        if problem.slots[slot].minutes < _FEW_MINUTES:
            least = min(least, 2)
        week.add("few_lifts", week.uses(week.here(slot)), low=least, tier=MUST, slot=slot)


def _worth_the_journey(week: WeekVariables, budget_s: Sequence[int]) -> None:
    limits = week.problem.limits
    start_s = limits.policy.whole("time.session_start")
    for slot in week.slots:
        minutes = week.problem.slots[slot].minutes
        least = min(
            limits.count("visit_minutes_least"), limits.share("visit_share_least") * minutes
        )
        terms = week_seconds(week, slot, first=True)
        low = min(int(60 * least) - start_s, budget_s[slot])
        week.add("short_visit", terms, low=low, tier=MUST, slot=slot)


def _first_tries(week: WeekVariables, budget_s: Sequence[int]) -> None:
    """Week one has the minutes to find its loads, each on its lift's first visit; no small muscle
    goes without its lift for it, since the tries are made once."""
    problem = week.problem
    by_lift: dict[str, list[int]] = defaultdict(list)
    for i, option in enumerate(week.options):
        if option.find_s:
            by_lift[option.lift.name].append(i)
    terms = {slot: list(week_seconds(week, slot, first=True)) for slot in week.slots}
    in_time = sorted(week.slots, key=lambda slot: problem.slots[slot].start_hour_of_week)
    for name, places in by_lift.items():
        begun: list[int] = []
        for slot in in_time:
            here = [i for i in places if week.places[i].slot == slot]
            if not here:
                continue
            find_s = max(week.options[i].find_s for i in here)
            if begun:
                terms[slot].append((week.any_of(("begun", name, slot), begun), -find_s))
            begun = [*begun, *here]
            terms[slot].append((week.any_of(("begun by", name, slot), begun), find_s))
    for slot, found in terms.items():
        week.add("first_tries", found, high=budget_s[slot], tier=REST, slot=slot)


def _floors(week: WeekVariables) -> None:
    """Large muscles and leads reach the floor, a gentle first week apart, or one of a log under
    it; others should."""
    problem = week.problem
    for muscle in MUSCLES:
        aim = problem.aims[muscle]
        if not aim.floor:
            continue
        large = muscle in LARGE or muscle in problem.leads
        small_price = 20 if muscle in (*ALONG, *problem.holes) else 160
        eased = 0 if muscle in problem.leads else QUARTERS  # so that it can climb
        for code, sets, floor in (
            ("floor", week.first, min(aim.floor - eased, aim.start)),
            ("floor_end", week.last, aim.floor),
        ):
            must = large and not (problem.gentle and sets is not week.last)
            tier, price = (MUST, 60_000) if must else (REST, small_price)
            week.add(code, quarters(week, muscle, sets), low=floor, tier=tier, price=price,
                     muscle=muscle)  # fmt: skip


def _held(week: WeekVariables) -> None:
    """A muscle on hold keeps the direct sets it has in a block that has begun."""
    for muscle, sets in (week.problem.carried.held or {}).items():
        terms = [(week.last[i], 1) for i in week.where(lambda o: muscle in o.direct)]  # noqa: B023
        week.add("held", terms, low=sets, high=sets, tier=MUST, muscle=muscle)


def _own_lifts(week: WeekVariables) -> None:
    """A small lift for each small muscle a coach would miss: worth two sets of a lead. With a log
    it gets what room the log's own lifts leave, but that something is aimed at a muscle the log
    has a lift for comes after its first main lifts. In a week too short for all the arms, trained
    along, wait; so does what is on hold and has none. A sore shoulder is raised to the rear."""
    problem = week.problem
    short = sum(slot.minutes for slot in problem.slots) < FEW_WEEK_MINUTES
    novice = problem.lifter.experience == "novice"  # who else has none is asked for more sets
    for muscle in (*OWN_LIFT, *(("hamstrings",) if novice else ())):
        if muscle in problem.skips or muscle in problem.holes & set(problem.holds):
            continue
        done = bool(problem.log) and muscle not in problem.holes
        tier, price = LEAD, "own_lift_logged" if done else "own_lift_fresh"
        along = muscle in ("biceps", "triceps")
        if done and not short and not along:
            aimed = week.uses(week.where(lambda o: muscle in o.direct))  # noqa: B023
            week.add("own_lift", aimed, low=1, tier=LOGGED, price=20_000, muscle=muscle)
        if problem.log and not short:
            tier, price = KEEP, "own_arms" if along and done else "own_lift"
        elif along and short and not problem.log:
            tier = KEEP
        sore = muscle == "side_delts" and "shoulder" in problem.carried.spared.regions
        _own_lift(week, "rear_delts" if sore else muscle, tier, price)
        rear = week.where(lambda o: "rear_delts" in o.direct and not o.is_main) if sore else ()
        if rear:
            sets, low = [(week.last[i], 1) for i in rear], problem.limits.count("sore_rear_sets")
            week.add("rear_sets", sets, low=low, tier=KEEP)


def _own_lift(week: WeekVariables, muscle: str, tier: int, price: str) -> None:
    small = week.where(lambda o: muscle in o.direct and not o.is_main)
    if small:
        week.add("own_lift", week.uses(small), low=1, tier=tier, price=price, muscle=muscle)


def _pressed_first(week: WeekVariables) -> None:
    """The chest is pressed before it is flown: no fly alone on the eve of a press."""
    slots = week.problem.slots
    for one, other in permutations(week.slots, 2):
        if (slots[other].day_index - slots[one].day_index) % 7 != 1:
            continue
        eve = week.any_of(("fly", one), week.where(lambda o: o.lift.pattern == "fly", [one]))
        pressed, press = (
            week.any_of(("press", slot), week.where(lambda o: o.basic == "press", [slot]))
            for slot in (one, other)
        )
        week.add("fly_alone", [(eve, 1), (press, 1), (pressed, -1)], high=1, tier=BASIC, slot=one)


def _long_sets(week: WeekVariables) -> None:
    """Some sets reach high repetitions, not too many; few main lifts do."""
    problem, limits = week.problem, week.problem.limits
    if problem.lifter.allow.high_reps and len(problem.slots) >= 3:
        found = week.where(lambda o: o.reps.high >= 15 and o.zone == "high")
        places = [i for i in found if not week.options[i].is_main] or found
        week.add("some_long", week.uses(places), low=1, tier=MUST)
    if not any(o.is_main and is_loadable(o.lift) for o in problem.options):
        return  # on the floor repetitions are what there is
    mains = week.where(
        lambda o: o.is_main and o.reps.low >= _LONG and not (o.at_the_end or problem.is_usual(o))
    )
    week.add("long_mains", week.uses(mains), high=limits.count("long_mains_most"), tier=BASIC)
    share = whole_share(limits.long_share_most)
    for sets in (week.first, week.last):
        terms = []
        for i, option in enumerate(week.options):
            long = option.reps.low >= _LONG and option.reps.high >= _VERY_LONG
            apart = option.lift.pattern in RAISES and bool(problem.leads_of(option))
            terms.append((sets[i], 0 if apart else 100 * long - share))
        week.add("long_share", terms, high=0, tier=BASIC)


def _asked(week: WeekVariables, *muscles: str) -> bool:
    """Whether none of the muscles is on hold or skip."""
    problem = week.problem
    return not any(m in problem.holds or m in problem.skips for m in muscles)


def _sets(week: WeekVariables, basics: Collection[str]) -> list[tuple[int, int]]:
    return [(week.last[i], 1) for i in week.where(lambda o: _serves(week, o, basics))]


def _enough_of_the_basics(week: WeekVariables) -> None:
    problem, limits = week.problem, week.problem.limits
    if _asked(week, "quads"):
        week.add("knee_sets", _sets(week, ("knee",)), low=limits.count("knee_sets"), tier=BASIC)
    if _asked(week, "hamstrings") or _asked(week, "glutes"):
        week.add("hip_sets", _sets(week, ("hip",)), low=limits.count("hip_sets"), tier=BASIC)
    curls = week.where(lambda o: o.lift.pattern == "knee flexion" and problem.is_plain(o.lift, 1))
    if curls and _asked(week, "hamstrings") and problem.lifter.experience != "novice":
        terms = [(week.last[i], 1) for i in curls]
        week.add("curl_sets", terms, low=limits.count("curl_sets"), tier=BASIC)
    for side in (PUSH, PULL):
        _on_two_days(week, side[0], lambda o: o.basic in side)  # noqa: B023
    long = sum(slot.minutes for slot in problem.slots) >= TWICE_MINUTES
    grows = _asked(week, "hamstrings") or _asked(week, "glutes")
    if long and len(week.slots) >= MANY_VISITS and grows:
        _on_two_days(week, "hip", lambda o: o.basic == "hip" or o.lift.pattern in SECOND_HIP)


def _on_two_days(week: WeekVariables, side: str, test: Callable[[Option], bool]) -> None:
    days = [week.any_of(("side", side, slot), week.where(test, [slot])) for slot in week.slots]
    week.add("two_days", [(day, 1) for day in days], low=min(2, len(days)), tier=BASIC, side=side)


def _balance(week: WeekVariables) -> None:
    """Pull to push and knee to hip by sets of main lifts; the heavy share of them."""
    problem = week.problem
    led = {o.basic for o in week.options if o.is_main and problem.leads_of(o)}
    if not led & {*PUSH, *PULL} and _asked(week, "chest", "lats", "upper_back"):
        _ratio(week, PULL, PUSH, "pull_push")
    if not led & {"knee", "hip"} and _asked(week, "quads", "hamstrings", "glutes"):
        # with a log the lifts it has come first
        tier = KEEP if problem.log else BASIC
        _ratio(week, ("knee",), ("hip",), "knee_hip", tier)
    if any(option.heavy for option in week.options):
        state_heavy_share(week, BASIC)


def state_heavy_share(week: WeekVariables, tier: int) -> None:
    """The heavy share of the main lifts' sets: at most so much, and at least; a logged lift keeps
    the range it is trained in, so that only new ones owe the least; a lead's are never too many."""
    least, most = (whole_share(share) for share in week.problem.limits.heavy_share)
    mains = [(i, week.options[i]) for i in week.where(lambda o: o.is_main)]
    logged = week.problem.log.lifts
    for sets in (week.first, week.last):
        low = [(sets[i], 100 * o.heavy - least * (o.lift.name not in logged)) for i, o in mains]
        kept = {i for i, o in mains if week.problem.leads_of(o) and week.problem.is_usual(o)}
        high = [(sets[i], most - 100 * o.heavy) for i, o in mains if i not in kept or not o.heavy]
        week.add("heavy_share", low, low=0, tier=tier, price=200, much="few")
        week.add("heavy_share", high, low=0, tier=tier, price=200, much="many")


def _ratio(
    week: WeekVariables, top: Sequence[str], bottom: Sequence[str], key: str, tier: int = BASIC
) -> None:
    limits = week.problem.limits
    least, most = (whole_share(limits.share(f"{key}_{end}")) for end in ("least", "most"))
    price = 80 if tier == BASIC else 60
    above = [(var, 100) for var, _ in _sets(week, top)]
    below = _sets(week, bottom)
    if not above or not below:
        return
    week.add(key, [*above, *((v, -least) for v, _ in below)], low=0, tier=tier, price=price)
    week.add(key, [*above, *((v, -most) for v, _ in below)], high=0, tier=tier, price=price)


def _small_below_top(week: WeekVariables, openers: Mapping[int, Mapping[int, int]]) -> None:
    """No small lift ends with more sets than its session's opener; some openers are waived for
    those of a lead and where the log has them."""
    problem = week.problem
    for slot, found in openers.items():
        if not found:
            continue
        top = week.top(slot, found)
        held = {p: opener for p, opener in found.items() if problem.on_hold(week.options[p])}
        heavy = {p: opener for p, opener in found.items() if week.options[p].heavy_axial}
        for i in week.here(slot):
            option = week.options[i]
            if option.is_main:
                continue
            leads = bool(problem.leads_of(option))
            waived = held if leads or problem.is_logged_on(option.lift.name, slot) else {}
            free = [(w, -4) for w in (waived | heavy if leads else waived).values()]
            terms = [(week.last[i], 1), (top, -1), *free]
            week.add("small_above_opener", terms, high=0, tier=BASIC, slot=slot,
                     lift=option.lift.name)  # fmt: skip


def _climb_to_mains(week: WeekVariables) -> None:
    problem, limits = week.problem, week.problem.limits
    share = whole_share(limits.share("main_growth_share"))
    terms = []
    for i, option in enumerate(week.options):
        weight = 100 * option.is_main - share
        terms += [(week.last[i], weight), (week.first[i], -weight)]
        if option.is_main and problem.leads_of(option) and not problem.on_hold(option):
            whole = week.helper(("four", i), Helper("count", [(week.first[i], 1)], 4))
            climbs = [(week.last[i], 1), (week.first[i], -1), (week.used[i], -1), (whole, 1)]
            week.add("lead_climbs", climbs, low=0, tier=BASIC, lift=option.lift.name)
    week.add("main_growth", terms, low=0, tier=BASIC)
    if problem.lifter.experience == "novice":
        more = int(limits.share("novice_growth") * len(week.slots))
        added = [(var, 1) for var in week.last] + [(var, -1) for var in week.first]
        week.add("novice_growth", added, high=more, tier=BASIC)
