"""The watch: has a lift's performance, or the whole lifter's, fallen?

Each session's capacity is compared with a one-level reference made from the sessions before it; the
surprise, in SDs, feeds a one-sided CUSUM that looks down. One lift's chart informs; the pooled
chart, whose limit is chosen for about one false alarm a year, may propose."""

import math
from bisect import bisect_left
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from blockwright.engine.policy import Policy
from blockwright.engine.training import SessionCapacity
from .reference import Surprise, begins_anew, surprises
from .run_length import limit_for, one_sided_run_length

RECENT_DAYS = 84
USUAL_WEEKS = 4
"""How the pace of training is judged; neither changes an alarm by more than a session or two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WatchPoint:
    """One exposure on a chart."""

    day: date
    deviation: float | None
    """How far performance stood from what was expected, in SDs (negative: lower). None where
    nothing was expected yet: a chart's first exposure, or a day of lifts that are all new."""
    statistic: float
    limit: float
    sounded: bool  # Whether the chart sounded on this day: the first time since it last stood at 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Watch:
    """A chart over time. Empty `points` mean that there was nothing to watch."""

    points: tuple[WatchPoint, ...]
    resting_limit: float  # The limit of a chart without points

    @property
    def statistic(self) -> float:
        """The latest sum, in SDs; 0 when there is none."""
        return self.points[-1].statistic if self.points else 0.0

    @property
    def limit(self) -> float:
        """The sum above which the chart sounds, in SDs."""
        return self.points[-1].limit if self.points else self.resting_limit

    @property
    def alarm(self) -> bool:
        """Whether the latest sum stands above its limit."""
        return self.statistic > self.limit

    @property
    def alarms(self) -> tuple[date, ...]:
        """The days on which it sounded, each excursion from 0 once."""
        return tuple(point.day for point in self.points if point.sounded)

    @property
    def falling_since(self) -> date | None:
        """The first exposure after the sum last stood at 0, or None while it stands there."""
        since: date | None = None
        for point in reversed(self.points):
            if point.statistic <= 0:
                break
            since = point.day
        return since


@dataclass(frozen=True, slots=True, kw_only=True)
class Watches:
    """The charts of one lifter: each lift's and the pooled one."""

    lifts: Mapping[str, Watch]
    pooled: Watch


def watch_lifter(
    capacities: Mapping[str, Sequence[SessionCapacity]],
    policy: Policy,
    *,
    restarts: Collection[date] = (),
    through: date | None = None,
) -> Watches:
    """Every lift's chart and the pooled one, from each lift's session capacities.

    `restarts` are the days of accepted deloads and load cuts: charts begin anew with the first
    exposure on or after each. Exposures after `through` are not seen. Input order is free."""
    seen = {
        lift: tuple(each for each in found if through is None or each.day <= through)
        for lift, found in sorted(capacities.items())
    }
    found = {lift: surprises(each, policy, restarts=restarts) for lift, each in seen.items()}
    return Watches(
        lifts={lift: _lift_chart(each, policy) for lift, each in found.items()},
        pooled=_pooled_chart(found, policy, restarts),
    )


def watch_lift(
    capacities: Sequence[SessionCapacity],
    policy: Policy,
    *,
    restarts: Collection[date] = (),
    through: date | None = None,
) -> Watch:
    """One lift's chart; see `watch_lifter`."""
    seen = tuple(each for each in capacities if through is None or each.day <= through)
    return _lift_chart(surprises(seen, policy, restarts=restarts), policy)


def pooled_deviation(deviations: Sequence[float], correlation: float) -> float:
    """Deviations of n lifts on one day as one: sum / sqrt(n (1 + (n - 1) correlation))."""
    count = len(deviations)
    return sum(deviations) / math.sqrt(count * (1 + (count - 1) * correlation))


def pooled_limit(exposures_a_week: float, policy: Policy) -> float:
    """The pooled chart's limit for a lifter with so many exposures (training days) a week.

    The in-control run is a year of exposures for each false alarm allowed
    (`watch.false_alarms_a_year`), within the policy's lowest and highest limit."""
    wanted = 52 * exposures_a_week / policy.number("watch.false_alarms_a_year")
    low, high = policy.number("watch.pooled_limit_low"), policy.number("watch.pooled_limit_high")
    slack = policy.number("watch.slack")
    # a run shorter than any limit gives would be asked for by very rare training only
    if wanted <= one_sided_run_length(slack, low):
        return low
    return min(high, limit_for(wanted, slack))


@dataclass(frozen=True, slots=True)
class _Row:
    """What a chart is fed with on one day."""

    day: date
    deviation: float | None
    limit: float
    fresh: bool


def _lift_chart(found: Sequence[Surprise], policy: Policy) -> Watch:
    limit = policy.number("watch.limit")
    rows = (_Row(each.day, each.deviation, limit, each.deviation is None) for each in found)
    return Watch(points=_charted(rows, policy), resting_limit=limit)


def _pooled_chart(
    by_lift: Mapping[str, Sequence[Surprise]], policy: Policy, restarts: Collection[date]
) -> Watch:
    by_day: dict[date, list[float]] = {}
    for found in by_lift.values():
        for each in found:
            by_day.setdefault(each.day, [])
            if each.deviation is not None:
                by_day[each.day].append(each.deviation)
    return Watch(
        points=_charted(_pooled_rows(by_day, policy, restarts), policy),
        resting_limit=pooled_limit(policy.number("watch.usual_days_a_week"), policy),
    )


def _pooled_rows(
    by_day: Mapping[date, Sequence[float]], policy: Policy, restarts: Collection[date]
) -> Iterator[_Row]:
    correlation = policy.number("watch.lift_correlation")
    gap_days = policy.number("watch.gap_days")
    days = sorted(by_day)
    for index, day in enumerate(days):
        recent = days[bisect_left(days, day - timedelta(days=RECENT_DAYS - 1)) : index + 1]
        yield _Row(
            day=day,
            deviation=pooled_deviation(by_day[day], correlation) if by_day[day] else None,
            limit=pooled_limit(_days_a_week(recent, policy), policy),
            fresh=begins_anew(days[index - 1] if index else None, day, gap_days, restarts),
        )


def _days_a_week(recent: Sequence[date], policy: Policy) -> float:
    """Training days a week over the last twelve weeks, to the nearest half.

    The usual pace of the policy counts as four more weeks, so that a short log does not set the
    limit alone."""
    weeks = ((recent[-1] - recent[0]).days + 1) / 7
    usual = policy.number("watch.usual_days_a_week")
    pace = (len(recent) + USUAL_WEEKS * usual) / (weeks + USUAL_WEEKS)
    return max(0.5, round(2 * pace) / 2)


def step(statistic: float, beyond_target: float, slack: float) -> float:
    """The next sum of a tabular CUSUM, max(0, statistic + beyond_target - slack) (Page 1954;
    Montgomery, Introduction to Statistical Quality Control, ch. 9); `beyond_target` is positive in
    the direction the sum looks."""
    return max(0.0, statistic + beyond_target - slack)


def _charted(rows: Iterable[_Row], policy: Policy) -> tuple[WatchPoint, ...]:
    slack = policy.number("watch.slack")
    points: list[WatchPoint] = []
    statistic = 0.0
    armed = True
    for row in rows:
        if row.fresh:
            statistic = 0.0
        elif row.deviation is not None:
            statistic = step(statistic, -row.deviation, slack)
        armed = armed or statistic <= 0
        sounded = armed and statistic > row.limit
        armed = armed and not sounded
        points.append(
            WatchPoint(
                day=row.day,
                deviation=row.deviation,
                statistic=statistic,
                limit=row.limit,
                sounded=sounded,
            )
        )
    return tuple(points)
