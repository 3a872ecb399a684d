"""What a week has too much of, by the composer's own rules.

`overfull` looks at one session and is strict: minutes, and sets of a muscle. `crowding` looks at
the week: hard sessions too close, sets within two days, a loaded spine, heavy share. A change is
judged by what it newly breaks, because the coach's pins may have broken a rule on purpose.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.derived import session_minutes
from blockwright.engine.review.named_session import day_and_time
from blockwright.engine.training import Catalogue, Entry, Lift, Session, Week

HOURS_OF_WEEK = 168.0
TWO_DAYS_H = 48.0

Key = tuple[str | int, ...]
"""A broken rule and where it is broken."""


def overfull(session: Session, catalogue: Catalogue, policy: Policy) -> Reason | None:
    """A session beyond its minutes or beyond the sets one muscle may have in it, or None."""
    minutes = session_minutes(session, catalogue, policy)
    if minutes > session.minutes_available:
        return Reason(
            code="no_minutes",
            facts={
                "session": session.session,
                "day": day_and_time(session),
                "minutes": minutes,
                "minutes_available": session.minutes_available,
            },
            policy=("time.session_start",),
        )
    limit = policy.number("review.sets.session_limit")
    for muscle, sets in fractional(session.entries, catalogue).items():
        if sets > limit + 1e-9:
            facts: dict[str, FactValue] = {
                "session": session.session,
                "day": day_and_time(session),
                "muscle": muscle.replace("_", " "),
                "sets": round(sets, 2),
                "limit": limit,
            }
            return Reason(code="session_full", facts=facts, policy=("review.sets.session_limit",))
    return None


def crowding(week: Week, catalogue: Catalogue, policy: Policy) -> Mapping[Key, Reason]:
    """Every rule of the week that is broken, by where."""
    found: dict[Key, Reason] = {}
    for key, reason in (
        *_too_close(week, catalogue, policy),
        *_too_much_in_two_days(week, catalogue, policy),
        *_spine(week, catalogue, policy),
        *_heavy_share(week, policy),
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
    was = fractional((e for s in before.sessions for e in s.entries), catalogue)
    now = fractional((e for s in after.sessions for e in s.entries), catalogue)
    for muscle, sets in now.items():
        planned = after.muscle_sets.get(muscle)
        if planned is not None and sets > max(planned.ceiling, was.get(muscle, 0.0)) + 1e-9:
            facts: dict[str, FactValue] = {
                "muscle": muscle.replace("_", " "),
                "ceiling": round(planned.ceiling, 1),
            }
            return Reason(code="at_the_ceiling", facts=facts)
    return None


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
    gap = abs(_hour(one) - _hour(other))
    return min(gap, HOURS_OF_WEEK - gap)


def _hour(session: Session) -> float:
    hours, minutes = session.start_time.split(":")
    return 24.0 * session.day.weekday() + int(hours) + int(minutes) / 60


def _lift(entry: Entry, catalogue: Catalogue) -> Lift:
    return catalogue.lifts[entry.lift]


def _too_close(week: Week, catalogue: Catalogue, policy: Policy) -> Iterator[tuple[Key, Reason]]:
    hard = policy.number("planning.hard_direct_sets")
    least_h = policy.number("planning.hours_between")
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
            if sets > most + 1e-9:
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
    loads = [
        (s, sum(_lift(e, catalogue).axial * len(e.sets) for e in s.entries)) for s in week.sessions
    ]
    broken: list[Key] = [
        ("spine", s.session) for s, load in loads if load > policy.number("planning.axial_session")
    ]
    for day in range(7):
        two = sum(load for s, load in loads if s.day.weekday() in (day, (day + 1) % 7))
        if two > policy.number("planning.axial_two_days"):
            broken.append(("spine from day", day))
    if sum(load for _, load in loads) > policy.number("planning.axial_week"):
        broken.append(("spine of the week",))
    policies = ("planning.axial_session", "planning.axial_two_days", "planning.axial_week")
    for key in broken:
        yield key, Reason(code="spine_full", policy=policies)


def _credit(entry: Entry) -> float:
    """Sets as the composer counts them: a rest-pause set as more than one."""
    return sum(planned.counts_as for planned in entry.sets)


def _heavy_share(week: Week, policy: Policy) -> Iterator[tuple[Key, Reason]]:
    entries = [entry for session in week.sessions for entry in session.entries]
    total = sum(_credit(entry) for entry in entries)
    if not total:
        return
    share = sum(_credit(entry) for entry in entries if entry.zone == "low") / total
    least = policy.number("planning.low_share_least")
    most = policy.number("planning.low_share_most")
    if not least - 1e-9 <= share <= most + 1e-9:
        policies = ("planning.low_share_least", "planning.low_share_most")
        facts: dict[str, FactValue] = {"share_pct": round(100 * share)}
        yield ("heavy share",), Reason(code="heavy_share", facts=facts, policy=policies)
