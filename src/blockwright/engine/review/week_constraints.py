"""What a week has too much of, by the composer's own rules.

`overfull` looks at one session and is strict: minutes, and sets of a muscle. `crowding` looks at
the week: hard sessions too close, sets within two days, a loaded spine, heavy share. A change is
judged by what it newly breaks, because the coach's pins may have broken a rule on purpose.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.planning.problem import HOURS_OF_WEEK, round_the_week
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.derived import session_minutes
from blockwright.engine.review.named_session import day_and_time
from blockwright.engine.training import Catalogue, Entry, Lift, Session, Week

TWO_DAYS_H = 48.0
TINY = 1e-9

Key = tuple[str | int, ...]
"""A broken rule and where it is broken."""


def overfull(session: Session, catalogue: Catalogue, policy: Policy) -> Reason | None:
    """A session beyond its minutes or beyond the sets one muscle may have in it, or None."""
    return next((reason for _, _, reason in session_limits(session, catalogue, policy)), None)


def session_limits(
    session: Session, catalogue: Catalogue, policy: Policy
) -> Iterator[tuple[Key, float, Reason]]:
    """What a session has too much of: where, how much of it, and the reason."""
    where: dict[str, FactValue] = {"session": session.session, "day": day_and_time(session)}
    minutes = session_minutes(session, catalogue, policy)
    if minutes > session.minutes_available:
        facts = {**where, "minutes": minutes, "minutes_available": session.minutes_available}
        reason = Reason(code="no_minutes", facts=facts, policy=("time.session_start",))
        yield ("minutes", session.session), minutes, reason
    limit = policy.number("review.sets.session_limit")
    for muscle, sets in fractional(session.entries, catalogue).items():
        if sets > limit + TINY:
            named = {**where, "muscle": muscle.replace("_", " "), "sets": round(sets, 2)}
            reason = Reason(
                code="session_full",
                facts={**named, "limit": limit},
                policy=("review.sets.session_limit",),
            )
            yield ("sets", session.session, muscle), sets, reason


def crowding(week: Week, catalogue: Catalogue, policy: Policy) -> Mapping[Key, Reason]:
    """Every rule of the week that is broken, by where."""
    found: dict[Key, Reason] = {}
    for key, reason in (
        *_too_close(week, catalogue, policy),
        *_too_much_in_two_days(week, catalogue, policy),
        *_spine(week, catalogue, policy),
        *_heavy_share(week, catalogue, policy),
    ):
        found.setdefault(key, reason)
    return found


def newly_broken(before: Week, after: Week, catalogue: Catalogue, policy: Policy) -> Reason | None:
    """The first rule of the week that holds before and not after, or None."""
    old = crowding(before, catalogue, policy)
    new = crowding(after, catalogue, policy)
    return next((reason for key, reason in new.items() if key not in old), None)


def past_ceiling(before: Week, after: Week, catalogue: Catalogue) -> Reason | None:
    """The first muscle whose sets rise past the week's ceiling for it, or None."""
    was = week_sets(before, catalogue)
    return next(
        (
            reason
            for muscle, sets, reason in above_ceiling(after, catalogue)
            if sets > was.get(muscle, 0.0) + TINY
        ),
        None,
    )


def above_ceiling(week: Week, catalogue: Catalogue) -> Iterator[tuple[str, float, Reason]]:
    """Muscles with more sets than the week's ceiling for them."""
    for muscle, sets in week_sets(week, catalogue).items():
        planned = week.muscle_sets.get(muscle)
        if planned is not None and sets > planned.ceiling + TINY:
            facts: dict[str, FactValue] = {
                "muscle": muscle.replace("_", " "),
                "sets": round(sets, 2),
                "ceiling": round(planned.ceiling, 1),
            }
            yield muscle, sets, Reason(code="at_the_ceiling", facts=facts)


def fractional(entries: Iterable[Entry], catalogue: Catalogue) -> dict[str, float]:
    """Fractional sets by muscle: each set times what it counts as and its share."""
    sums: dict[str, float] = {}
    for entry in entries:
        credit = sum(planned.counts_as for planned in entry.sets)
        for muscle, share in _lift(entry, catalogue).muscles.items():
            sums[muscle] = sums.get(muscle, 0.0) + share * credit
    return sums


def week_sets(week: Week, catalogue: Catalogue) -> dict[str, float]:
    """Fractional sets by muscle of a whole week."""
    return fractional((e for s in week.sessions for e in s.entries), catalogue)


def direct(entries: Iterable[Entry], catalogue: Catalogue) -> dict[str, int]:
    """Direct sets by muscle, a plain count."""
    sums: dict[str, int] = {}
    for entry in entries:
        for muscle in _lift(entry, catalogue).direct:
            sums[muscle] = sums.get(muscle, 0) + len(entry.sets)
    return sums


def hours_apart(one: Session, other: Session) -> float:
    """Hours between two starts, the short way round the week."""
    return round_the_week(_hour(one), _hour(other))


def _hour(session: Session) -> float:
    hours, minutes = session.start_time.split(":")
    return 24.0 * session.day.weekday() + int(hours) + int(minutes) / 60


def _lift(entry: Entry, catalogue: Catalogue) -> Lift:
    return catalogue.lifts[entry.lift]


def _too_close(week: Week, catalogue: Catalogue, policy: Policy) -> Iterator[tuple[Key, Reason]]:
    limits = PlanningLimits(policy)
    hard, least_h = limits.hard_direct, limits.hours_between
    sums = {s.session: direct(s.entries, catalogue) for s in week.sessions}
    for one, other in combinations(week.sessions, 2):
        if hours_apart(one, other) >= least_h:
            continue
        for muscle, sets in sums[one.session].items():
            if sets >= hard and sums[other.session].get(muscle, 0) >= hard:
                facts: dict[str, FactValue] = {
                    "muscle": muscle.replace("_", " "),
                    "session": one.session,
                    "other_session": other.session,
                    "day": day_and_time(one),
                    "other_day": day_and_time(other),
                    "hours": round(hours_apart(one, other), 1),
                }
                yield (
                    ("close", muscle, one.session, other.session),
                    Reason(code="too_close", facts=facts, policy=("planning.hours_between",)),
                )


def _too_much_in_two_days(
    week: Week, catalogue: Catalogue, policy: Policy
) -> Iterator[tuple[Key, Reason]]:
    most = policy.number("planning.two_day_sets")
    for first in week.sessions:
        near = [s for s in week.sessions if (_hour(s) - _hour(first)) % HOURS_OF_WEEK < TWO_DAYS_H]
        sums = fractional((entry for s in near for entry in s.entries), catalogue)
        for muscle, sets in sums.items():
            if sets > most + TINY:
                facts: dict[str, FactValue] = {
                    "muscle": muscle.replace("_", " "),
                    "sets": round(sets, 2),
                    "session": first.session,
                }
                yield (
                    ("two days", muscle, first.session),
                    Reason(code="two_days_full", facts=facts, policy=("planning.two_day_sets",)),
                )


def _spine(week: Week, catalogue: Catalogue, policy: Policy) -> Iterator[tuple[Key, Reason]]:
    most_session, most_two_days, most_week = PlanningLimits(policy).axial
    loads = [
        (s, sum(_lift(e, catalogue).axial * len(e.sets) for e in s.entries)) for s in week.sessions
    ]
    broken: list[Key] = [("spine", s.session) for s, load in loads if load > most_session]
    for day in range(7):
        two = sum(load for s, load in loads if s.day.weekday() in (day, (day + 1) % 7))
        if two > most_two_days:
            broken.append(("spine from day", day))
    if sum(load for _, load in loads) > most_week:
        broken.append(("spine of the week",))
    policies = ("planning.axial_session", "planning.axial_two_days", "planning.axial_week")
    for key in broken:
        yield key, Reason(code="spine_full", policy=policies)


def _heavy_share(week: Week, catalogue: Catalogue, policy: Policy) -> Iterator[tuple[Key, Reason]]:
    """Of the main lifts' sets, as the composer counts them: a rest-pause set as more than one."""
    sets = {"heavy": 0.0, "all": 0.0}
    for entry in (entry for session in week.sessions for entry in session.entries):
        if _lift(entry, catalogue).compound:
            credit = sum(planned.counts_as for planned in entry.sets)
            sets["all"] += credit
            sets["heavy"] += credit * (entry.zone == "low")
    if not sets["all"]:
        return
    share = sets["heavy"] / sets["all"]
    least, most = PlanningLimits(policy).heavy_share
    if not least - TINY <= share <= most + TINY:
        policies = ("planning.low_share_least", "planning.low_share_most")
        facts: dict[str, FactValue] = {"share_pct": round(100 * share)}
        yield ("heavy share",), Reason(code="heavy_share", facts=facts, policy=policies)
