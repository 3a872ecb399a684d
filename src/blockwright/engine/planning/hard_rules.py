"""The rules no week breaks: minutes, sets of a muscle, spacing, spine, kinds of lift, pins.

At-most rules are stated on the last week, since sets never fall; a gentle first week has its own.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import combinations

from blockwright.engine.training import DAYS, MUSCLES
from .constraints import Terms, WeekVariables, whole_share
from .problem import HOURS_OF_WEEK

MANY_VISITS = 4  # From so many on, some minutes stay free and few lifts neighbour each other
_SPREAD_VISITS = 5


def state_hard_rules(week: WeekVariables, budget_s: Sequence[int]) -> None:
    """All hard rules of one week."""
    _minutes(week, budget_s)
    _muscles(week)
    _hard_days(week)
    _families(week)
    _repeats(week)
    _spine(week)
    _session_shape(week)
    _small_limits(week)
    _pins(week)
    _leads_direct(week)


def week_seconds(week: WeekVariables, slot: int, *, first: bool = False) -> Terms:
    """Seconds of a session, coming in aside. Places done in turn give back a rest for every
    round but the last."""
    places, sets = week.here(slot), week.first if first else week.last
    terms = [(week.used[i], week.options[i].time.fixed_s) for i in places]
    terms += [(sets[i], week.options[i].time.per_set_s) for i in places]
    for pair in week.pairs:
        if pair.slot == slot:
            last = pair.time.saved_s + pair.time.change_s
            terms += [(sets[pair.first], -pair.time.saved_s), (week.used[pair.first], last)]
    return terms


def _minutes(week: WeekVariables, budget_s: Sequence[int]) -> None:
    """Minutes and lifts of each slot; places done in turn stay, with equal sets."""
    for slot in week.slots:
        week.add("minutes", week_seconds(week, slot), high=budget_s[slot], slot=slot)
        week.add("lifts", week.uses(week.here(slot)), high=week.problem.most_lifts, slot=slot)
    for pair in week.pairs:
        for sets in {id(week.first): week.first, id(week.last): week.last}.values():
            week.add("pair_sets", [(sets[pair.first], 1), (sets[pair.second], -1)], low=0, high=0)
        week.add("pair_kept", [(week.used[pair.first], 1)], low=1)


def quarters(
    week: WeekVariables, muscle: str, sets: Sequence[int], slots: Sequence[int] | None = None
) -> list[tuple[int, int]]:
    """Quarter sets of a muscle in some slots, or in all."""
    places = week.where(lambda o: muscle in o.quarters, slots)
    return [(sets[i], week.options[i].quarters[muscle]) for i in places]


def _muscles(week: WeekVariables) -> None:
    problem, limits = week.problem, week.problem.limits
    windows = [(g, limits.session_q, "day_sets") for g in problem.day_groups if len(g) > 1]
    windows += [(g, limits.two_day_q, "two_day_sets") for g in problem.windows(48.0) if len(g) > 1]
    for muscle in MUSCLES:
        for slot in week.slots:
            terms = quarters(week, muscle, week.last, [slot])
            week.add("session_sets", terms, high=limits.session_q, muscle=muscle, slot=slot)
            if problem.gentle and not week.one_week:
                gentle = quarters(week, muscle, week.first, [slot])
                week.add(
                    "gentle_muscle", gentle, high=limits.first_week_q, muscle=muscle, slot=slot
                )
        for group, most, code in windows:
            terms = quarters(week, muscle, week.last, group)
            if len({week.places[v % len(week.places)].slot for v, _ in terms}) > 1:
                week.add(code, terms, high=most, muscle=muscle)
        terms = quarters(week, muscle, week.last)
        week.add("ceiling", terms, high=problem.aims[muscle].most, muscle=muscle)


def _hard_days(week: WeekVariables) -> None:
    """Two hard sessions of a muscle start far enough apart."""
    problem = week.problem
    close = [
        (a, b) for a, b in combinations(week.slots, 2)
        if problem.gap_h(a, b) < problem.limits.hours_between
    ]  # fmt: skip
    for muscle in MUSCLES:
        for one, other in close:
            if _pinned_hard(week, one, muscle) and _pinned_hard(week, other, muscle):
                continue
            both = [
                (week.hard_day(slot, muscle), 1)
                for slot in (one, other)
                if week.where(lambda o: muscle in o.direct, [slot])  # noqa: B023
            ]
            if len(both) == 2:
                week.add("spacing", both, high=1, muscle=muscle, slot=one, other=other)


def _pinned_hard(week: WeekVariables, slot: int, muscle: str) -> bool:
    """Whether pins alone make a session hard for a muscle."""
    problem = week.problem
    here = {pin.lift for pin in problem.pins if pin.by_day and (slot,) in pin.wanted}
    places = week.where(lambda o: muscle in o.direct and o.lift.name in here, [slot])
    pinned = {week.options[i].lift.name for i in places}
    return problem.limits.sets_least * len(pinned) >= problem.limits.hard_direct


def _families(week: WeekVariables) -> None:
    """Near twins: one a session, so many a week; a pin or the log may have more, and a lead's small
    lifts may come twice as often, two of unlike angles in a session where the log has them."""
    problem = week.problem
    by_family: dict[str, list[int]] = defaultdict(list)
    for index, option in enumerate(week.options):
        by_family[option.lift.family].append(index)
    for family, places in by_family.items():
        names = {week.options[i].lift.name for i in places}
        for slot in week.slots:
            here = [i for i in places if week.places[i].slot == slot]
            pinned = {week.options[i].lift.name for i in here} & problem.pinned
            known = [week.options[i].lift for i in here if _is_leads_small(week, i)]
            logged = {lift.angle for lift in known if lift.name in problem.log.lifts}
            most = max(1, len(pinned), min(2, len(logged)))
            week.add("family_session", week.uses(here), high=most, slot=slot, family=family)
        usual = 1 if family == "deadlift" else problem.limits.family_week
        if any(_is_leads_small(week, i) for i in places):
            usual *= 2
        asked = sum(problem.pin_count(name) for name in names)
        most = max(usual, asked, sum(x.visits for n in names if (x := problem.log.lifts.get(n))))
        week.add("family_week", week.uses(places), high=most, family=family)


def _is_leads_small(week: WeekVariables, place: int) -> bool:
    option = week.options[place]
    return not option.is_main and bool(week.problem.leads_of(option))


def _repeats(week: WeekVariables) -> None:
    """A lift again only after its hours; a main lift at most once heavy and once lighter (twice,
    where it is never heavy, or the log never has it so), or as often as the log has it, no oftener
    where it loads what hurts, and not on neighbouring days; one range of a lift in a session."""
    problem = week.problem
    by_lift: dict[str, list[int]] = defaultdict(list)
    for index, option in enumerate(week.options):
        by_lift[option.lift.name].append(index)
    for name, places in by_lift.items():
        lift = week.options[places[0]].lift
        often = problem.pin_count(name) > 1
        hours = min(problem.limits.recovery_h(lift), 12.0 if often else HOURS_OF_WEEK)
        slots = sorted({week.places[i].slot for i in places})
        for slot in slots:
            here = [i for i in places if week.places[i].slot == slot]
            week.add("one_range", week.uses(here), high=1, lift=name, slot=slot)
        for one, other in combinations(slots, 2):
            close = problem.gap_h(one, other) < hours
            same_day = problem.slots[one].day == problem.slots[other].day
            # a block that has begun may have it so already
            main = lift.compound and not often and problem.carried.held is None
            next_day = main and problem.neighbours(one, other)
            if close or same_day or next_day:
                both = [i for i in places if week.places[i].slot in (one, other)]
                week.add("repeat", week.uses(both), high=1, lift=name, slot=one, other=other)
        if lift.compound and not often:
            heavy = [i for i in places if week.options[i].heavy]
            light = [i for i in places if not week.options[i].heavy]
            logged = problem.log.lifts.get(name)
            visits, hard = (logged.visits, logged.heavy_visits) if logged else (0, 0)
            most = max(1 if heavy and not (logged and not hard) else 2, visits)
            week.add("exposures", week.uses(heavy), high=max(1, hard), lift=name)
            week.add("exposures", week.uses(light), high=most, lift=name)
            sore = problem.is_sore(week.options[places[0]])
            week.add("exposures", week.uses(places), high=max(2 - sore, visits), lift=name)


def _spine(week: WeekVariables) -> None:
    problem = week.problem
    session, two_days, in_week = (
        max(most, logged)
        for most, logged in zip(problem.limits.axial, logged_axial(week), strict=True)
    )
    axial = [(week.last[i], option.lift.axial) for i, option in enumerate(week.options)]
    for slot in week.slots:
        here = set(week.here(slot))
        terms = [axial[i] for i in here]
        week.add("axial_session", terms, high=session, slot=slot)
    for group in problem.adjacent_days:
        terms = [axial[i] for i, place in enumerate(week.places) if place.slot in group]
        week.add("axial_two_days", terms, high=two_days)
    week.add("axial_week", axial, high=in_week)


def logged_axial(week: WeekVariables) -> tuple[int, int, int]:
    """Set levels of the log's heaviest session, two days and week, with room to grow: what was
    borne is not forbidden."""
    by_day = [0] * 7
    axial = {option.lift.name: option.lift.axial for option in week.options}
    for name, logged in week.problem.log.lifts.items():
        for day in logged.days:
            by_day[DAYS.index(day)] += logged.sets * axial.get(name, 0)
    two = max(by_day[day] + by_day[(day + 1) % 7] for day in range(7))
    more = 1 + week.problem.limits.share("axial_growth")
    return int(more * max(by_day)), int(more * two), int(more * sum(by_day))


def _session_shape(week: WeekVariables) -> None:
    """One hinge and one lift of axial 3 a session; few lifts for one muscle."""
    for slot in week.slots:
        here = week.here(slot)
        hinges = [i for i in here if week.options[i].lift.pattern == "hinge"]
        week.add("hinges", week.uses(hinges), high=max(1, _pinned_at(week, hinges)), slot=slot)
        loaded = [i for i in here if week.options[i].lift.axial >= 3]
        week.add("axial_lifts", week.uses(loaded), high=max(1, _pinned_at(week, loaded)), slot=slot)
        by_muscle: dict[str, list[int]] = defaultdict(list)
        for i in here:
            by_muscle[week.options[i].muscle].append(i)
        for muscle, places in by_muscle.items():
            most = max(
                week.problem.limits.lifts_per_muscle,
                _pinned_at(week, places),
                _logged_at(week, places),
            )
            week.add("muscle_lifts", week.uses(places), high=most, slot=slot, muscle=muscle)


def _pinned_at(week: WeekVariables, places: Sequence[int]) -> int:
    """How many of the lifts at these places are pinned."""
    return len({week.options[i].lift.name for i in places} & week.problem.pinned)


def _logged_at(week: WeekVariables, places: Sequence[int]) -> int:
    """How many of the lifts at these places of one session the log has on its day."""
    names = {week.options[i].lift.name: week.places[i].slot for i in places}
    return sum(week.problem.is_logged_on(name, slot) for name, slot in names.items())


def _small_limits(week: WeekVariables) -> None:
    """Abs and calves have enough soon; a small pattern is not trained on days in a row."""
    problem = week.problem
    for muscle in ("abs", "calves"):
        if muscle in problem.leads:
            continue
        most = problem.limits.count(f"{muscle}_most")
        terms = [(week.last[i], 1) for i in week.where(lambda o: muscle in o.direct)]  # noqa: B023
        week.add(f"{muscle}_most", terms, high=most, muscle=muscle)
    if len(week.slots) > _SPREAD_VISITS:
        return
    patterns = sorted({o.lift.pattern for o in week.options if not o.is_main})
    for one, other in combinations(week.slots, 2):
        if not problem.neighbours(one, other):
            continue
        for pattern in patterns:
            both = []
            for slot in (one, other):
                here = week.where(
                    lambda o: o.lift.pattern == pattern and not o.is_main  # noqa: B023
                    and o.lift.name not in problem.pinned, [slot])  # fmt: skip
                both.append((week.any_of(("pattern", slot, pattern), here), 1))
            same = {o.lift.name for o in week.options if o.lift.pattern == pattern}
            if all(any(problem.is_logged_on(n, slot) for n in same) for slot in (one, other)):
                continue
            week.add("small_neighbours", both, high=1, slot=one, other=other, pattern=pattern)


def _pins(week: WeekVariables) -> None:
    for pin in week.problem.pins:
        for group in pin.wanted:
            places = week.where(lambda o: o.lift.name == pin.lift, group)  # noqa: B023
            week.add("pin", week.uses(places), low=1, lift=pin.lift)


def _leads_direct(week: WeekVariables) -> None:
    """At least this share of a lead muscle's sets is aimed at it."""
    for muscle in week.problem.leads:
        weights = direct_weights(week, muscle, range(len(week.places)))
        for sets in (week.last,) if week.one_week else (week.first, week.last):
            terms = [(sets[i], w) for i, w in weights.items()]
            week.add("lead_direct", terms, low=0, muscle=muscle)


def direct_weights(week: WeekVariables, muscle: str, places: Iterable[int]) -> dict[int, int]:
    """By place what a set adds to the direct share of a lead muscle's sets. Empty where no direct
    lift is on offer, as no load of one may fit: then what trains it along stays."""
    options, share = week.options, whole_share(week.problem.limits.lead_direct_share)
    if not any(muscle in option.direct for option in options):
        return {}
    return {
        i: 400 * (muscle in options[i].direct) - share * options[i].quarters[muscle]
        for i in places
        if muscle in options[i].quarters
    }


def state_climb(week: WeekVariables, weeks: int) -> None:
    """Sets from week one to the last: never fewer, not many more, mains first."""
    problem, limits = week.problem, week.problem.limits
    most = min(limits.count("growth_most"), max(weeks - 1, 0))
    for i, option in enumerate(week.options):
        used, first, last = week.used[i], week.first[i], week.last[i]
        week.add("sets_least", [(first, 1), (used, -limits.sets_least)], low=0)
        week.add("sets_most", [(last, 1), (used, -problem.most_sets(option))], high=0)
        growth = 0 if problem.on_hold(option) else most
        week.add("growth", [(last, 1), (first, -1)], low=0, high=growth)
        if option.is_main and not problem.on_hold(option):
            least = limits.count("main_sets_end")
            week.add("main_end", [(last, 1), (used, -least)], low=0)
    ramp = limits.ramp_q * max(weeks - 1, 0)
    for muscle in MUSCLES:
        started = [(sets, -q) for sets, q in quarters(week, muscle, week.first)]
        terms = [*quarters(week, muscle, week.last), *started]
        week.add("muscle_growth", terms, high=ramp, muscle=muscle)
