"""Where every muscle's weekly sets start and end, in quarter sets."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Lifter
from blockwright.engine.volume import CeilingBelief, ceiling_prior
from .limits import QUARTERS, PlanningLimits
from .log_facts import LogFacts
from .patterns import ALONG


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleAim:
    """One muscle's week one, last week and limit. Quarter sets a week."""

    start: int
    end: int
    most: int  # The planning ceiling; no week passes it
    floor: int  # 0 where nothing is asked of the muscle
    logged: int  # What the log or the file's habits show; 0 without either


def believed_ceiling(
    lifter: Lifter, muscle: str, policy: Policy, ceilings: Mapping[str, CeilingBelief] | None
) -> float:
    """The planning ceiling, sets a week, of what is believed of the muscle."""
    prior = ceiling_prior(muscle, lifter.experience, lifter.energy, policy)
    return ((ceilings or {}).get(muscle) or prior).prescribed_sets(policy)


def muscle_aims(
    lifter: Lifter,
    log: LogFacts,
    limits: PlanningLimits,
    ceilings: Mapping[str, CeilingBelief] | None = None,
    *,
    gentle: bool = True,
) -> dict[str, MuscleAim]:
    """The aims of every muscle; unless `gentle` the days offered say what a lifter without a log is
    used to."""
    time = _time_share(lifter, log, limits)
    aims = {muscle: _aim(lifter, muscle, log, limits, ceilings, time) for muscle in MUSCLES}
    return aims if gentle or log else _filling(lifter, aims, limits)


def _filling(
    lifter: Lifter, aims: Mapping[str, MuscleAim], limits: PlanningLimits
) -> dict[str, MuscleAim]:
    """Aims of muscles nothing is said of, raised until the visits are filled fairly: the last
    week's sets but not to the ceiling, week one's to the share of them a log would begin at."""
    seconds = 60 * sum(visit_minutes(lifter, limits))
    least, most = limits.share("time_share_least"), limits.share("time_share_most")
    free = {
        m: aim for m, aim in aims.items()
        if not aim.logged and m not in ALONG and lifter.emphasis_of(m) in ("lead", "normal")
    }  # fmt: skip
    more = (least + most) / 2 * seconds / week_seconds((aim.end for aim in aims.values()), limits)
    for muscle, aim in free.items():
        end = max(aim.end, min(int(more * aim.end), int(limits.share("filled_share") * aim.most)))
        aims = {**aims, muscle: replace(aim, end=end)}
    more = limits.share("first_week_share") * seconds
    more /= week_seconds((aim.start for aim in aims.values()), limits)
    for muscle in free:
        aim = aims[muscle]
        start = min(int(more * aim.start), int(limits.share("start_share") * aim.end))
        aims = {**aims, muscle: replace(aim, start=max(aim.start, start))}
    return dict(aims)


def week_seconds(quarter_sets: Iterable[int], limits: PlanningLimits) -> float:
    """About what a week of so many quarter sets by muscle takes."""
    sets = sum(quarter_sets) / QUARTERS / limits.share("sets_a_set")
    return sets * limits.count("set_seconds")


def visit_minutes(lifter: Lifter, limits: PlanningLimits) -> list[int]:
    """Minutes of the visits asked for, at most one a day where the lifter does not say how many."""
    by_day: dict[str, int] = {}
    for slot in lifter.slots:
        by_day[slot.day] = max(by_day.get(slot.day, 0), slot.minutes)
    offered = by_day.values() if lifter.visits is None else (s.minutes for s in lifter.slots)
    return sorted(offered, reverse=True)[: lifter.visits or limits.count("visits_most")]


def reaching(aims: Mapping[str, MuscleAim], planned: Mapping[str, int]) -> dict[str, MuscleAim]:
    """The aims of a week that is planned already: what it has (quarter sets) is wanted and may be,
    whatever log it was made from."""
    return {
        muscle: replace(aim, end=max(aim.end, planned[muscle]), most=max(aim.most, planned[muscle]))
        for muscle, aim in aims.items()
    }


def _time_share(lifter: Lifter, log: LogFacts, limits: PlanningLimits) -> float:
    """How much of the log's week the slots have time for; 1 where they hold it all."""
    longest = sorted((slot.minutes for slot in lifter.slots), reverse=True)[: lifter.visits]
    there = limits.share("time_share_most") * sum(longest)
    return min(1.0, there / log.minutes) if log.minutes else 1.0


def _aim(
    lifter: Lifter,
    muscle: str,
    log: LogFacts,
    limits: PlanningLimits,
    ceilings: Mapping[str, CeilingBelief] | None,
    time: float,
) -> MuscleAim:
    emphasis = lifter.emphasis_of(muscle)
    said = log.muscles.get(muscle) if log else lifter.habits.weekly_sets.get(muscle)
    logged = int(QUARTERS * (said or 0.0))
    ceiling = int(believed_ceiling(lifter, muscle, limits.policy, ceilings) * QUARTERS)
    lifted = min(logged + QUARTERS, int(limits.share("log_ceiling_most") * QUARTERS))
    most = max(ceiling, lifted) if logged else ceiling
    floor = min(limits.floor_q, most)
    if emphasis == "hold" and logged:  # what is held gets no more than it has
        floor = min(floor, logged)
    if emphasis == "normal":
        logged = int(time * logged)
    if emphasis == "skip":
        return MuscleAim(start=0, end=0, most=most, floor=0, logged=logged)
    if logged or (log and emphasis == "normal"):
        share = limits.share("hold_share" if emphasis == "hold" else "start_share")
        start = max(min(floor, logged) if logged else floor, round(share * logged))
    else:
        start = min(limits.start_q[emphasis], most)
    if muscle in ALONG and emphasis == "normal":
        start = min(start, floor)
    if emphasis == "hold":
        end = start
    elif emphasis == "lead":
        end = most
    elif muscle in ALONG:
        end = max(floor, min(logged, most))
    else:
        end = int(ceiling * limits.normal_share)
        if logged or log:
            end = max(floor, min(end, logged + limits.log_growth_q))
        end = max(end, min(logged, most))
    climb = limits.ramp_q * (lifter.weeks - 1)
    return MuscleAim(
        start=start, end=min(max(end, start), start + climb, most), most=most, floor=floor,
        logged=logged,
    )  # fmt: skip
