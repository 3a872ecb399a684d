"""How many of the week's slots to use, and which: enumeration.

As many visits as the log shows, more where the slots are shorter; without one, as many as week one
fills at a worthwhile length and the last week needs. Of the sets of slots that give so many:
distinct days, the log's days, few neighbouring days, most minutes, in this order."""

from collections.abc import Collection
from itertools import combinations

from .baseline import week_seconds
from .given_frame import GivenFrame
from .problem import Problem

_TELLING_DAYS = 3  # A log of fewer days a week says little of how often the lifter can come


def choose_visits(problem: Problem, given: GivenFrame | None = None) -> tuple[int, ...]:
    """Indices of the slots to use, in the order of the week."""
    least_s = 2 * problem.limits.count("set_seconds")
    usable = [i for i, budget in enumerate(problem.budget_s) if budget > least_s]
    usable = usable or list(range(len(problem.slots)))
    kept = [i for i in usable if given is not None and given.fixed and _is_given(problem, i, given)]
    if kept:
        return tuple(kept)
    count = min(visit_count(problem, usable), len(usable))
    forced = {
        group[0] for pin in problem.pins if pin.by_day for group in pin.wanted if len(group) == 1
    }
    forced &= set(usable)
    best = min(
        (one for one in combinations(usable, max(count, len(forced))) if forced <= set(one)),
        key=lambda one: _rank(problem, one),
    )
    return tuple(best)


def _is_given(problem: Problem, slot: int, given: GivenFrame) -> bool:
    where = problem.slots[slot]
    return any(day == where.day and start in (None, where.start_time) for day, start in given.roles)


def _rank(problem: Problem, chosen: tuple[int, ...]) -> tuple[object, ...]:
    days = [problem.slots[i].day for i in chosen]
    same = len(days) - len(set(days))
    off = sum(day not in problem.log.days for day in set(days)) if problem.log else 0
    close = sum(problem.neighbours(a, b) for a, b in combinations(chosen, 2))
    minutes = sum(problem.budget_s[i] for i in chosen)
    apart = min((problem.gap_h(a, b) for a, b in combinations(chosen, 2)), default=0.0)
    return (same, off, close, -minutes, -apart, chosen)


def visit_count(problem: Problem, usable: list[int]) -> int:
    """How many visits the week is worth."""
    lifter, limits = problem.lifter, problem.limits
    if lifter.visits is not None:
        return min(lifter.visits, len(usable))
    days = {problem.slots[i].day for i in usable}
    by_length = sorted((problem.budget_s[i] for i in usable), reverse=True)
    logged = len(problem.log.days)
    if logged >= _TELLING_DAYS:
        return _logged_count(problem, by_length)
    share = (limits.share("time_share_least") + limits.share("time_share_most")) / 2
    end = week_seconds((aim.end for aim in problem.aims.values()), limits)
    # who trains now and offers so many days wants them
    wanted = 1 if problem.gentle else min(len(days), limits.count("visits_most"))
    fitting = 1
    for count in range(1, len(usable) + 1):
        if count > 1 and not _is_worth(problem, count, by_length[count - 1]):
            break
        fitting = count
        if count >= max(2, wanted) and share * sum(by_length[:count]) >= end:
            break
    return max(fitting, logged, min(2, len(days)))


def _is_worth(problem: Problem, count: int, shortest_s: int) -> bool:
    """Whether so many visits are worth the journey in week one."""
    limits = problem.limits
    least = limits.share("visit_share_least") * shortest_s
    begin_s = 0 if problem.gentle else limits.policy.whole("time.session_start")
    start = week_seconds((aim.start for aim in problem.aims.values()), limits)
    return start / count + begin_s >= min(60 * limits.count("visit_minutes_least"), least)


def why_free(problem: Problem, visits: Collection[int]) -> str:
    """Why no more slots are used: `asked` and `logged` for what the file and the log say, `short`
    where one more would not be worth the journey, `full` where nothing is left for it."""
    if problem.lifter.visits is not None:
        return "asked"
    if len(problem.log.days) >= _TELLING_DAYS:
        return "logged"
    rest = [s for i, s in enumerate(problem.budget_s) if i not in visits]
    return "full" if _is_worth(problem, len(visits) + 1, min(rest)) else "short"


def _logged_count(problem: Problem, by_length: list[int]) -> int:
    """As many as the log's days; more where the slots are too short for what is trained now."""
    share, seconds = problem.limits.share("time_share_most"), 60 * problem.log.minutes
    count = min(len(problem.log.days), len(by_length))
    while count < len(by_length) and share * sum(by_length[:count]) < seconds:
        count += 1
    return count
