"""Was a muscle recovered? Performance matched over its lifts, and soreness gone, week by week.

One rule serves the week just done and every week before it (from which the ceiling is learnt).
What is seen in a week counts for that week's sets. Soreness is a weak sign and says so by its
probabilities in policy; a question nobody answered is missing, neither yes nor no.
"""

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from blockwright.engine.change.reference import Level, LevelLaw
from blockwright.engine.policy import Policy
from blockwright.engine.review.baseline import Change, UsualChanges, change_from, followed, pooled
from blockwright.engine.training import (
    MUSCLES,
    Catalogue,
    CheckIn,
    Lift,
    Lifter,
    SessionCapacity,
    SetDone,
)
from blockwright.engine.volume import (
    CeilingBelief,
    WeekRecovery,
    ceiling_after,
    ceiling_prior,
    done_credit,
)

DAYS_TO_TELL = 2
"""Soreness sooner than this after a session, with no session to meet it, is too early to tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleWeek:
    """One muscle in one week."""

    sets: float
    """Fractional hard sets done."""
    change: Change | None
    """Its lifts' change of capacity as one, by sets."""
    sore: float | None
    """The worst soreness that met a session, 0-10; None when nobody said."""


@dataclass(frozen=True, slots=True)
class RecoveryLaw:
    """The rule under a policy."""

    policy: Policy

    def p_matched(self, change: Change) -> float:
        """P(not lower by more than the meaningful fall)."""
        fall = self.policy.number("review.meaningful_fall")
        return change.p_above(-fall, UsualChanges.of(self.policy))

    def p_soreness_gone(self, sore: float | None) -> float:
        """How likely a muscle with this answer is free of what hinders training."""
        number = self.policy.number
        if sore is None:
            return number("review.sore.p_missing")
        if sore <= number("review.sore.none_to"):
            return number("review.sore.p_none")
        unsure = sore < number("review.sore.not_from")
        return number("review.sore.p_doubt" if unsure else "review.sore.p_not")

    def p_recovered(self, p_matched: float, sore: float | None) -> float:
        """Both must hold: performance matched, soreness gone."""
        return p_matched * self.p_soreness_gone(sore)


@dataclass(frozen=True, slots=True)
class History:
    """Weeks of training by the Mondays of the block, each muscle with what was seen."""

    weeks: Mapping[date, Mapping[str, MuscleWeek]]
    """Monday to muscle to week; only muscles with sets or soreness in the week."""
    changes: Mapping[date, Mapping[str, Change]]
    """Monday to lift to change."""


def history_of(
    sets: Iterable[SetDone],
    checkins: Iterable[CheckIn],
    capacities: Mapping[str, Sequence[SessionCapacity]],
    catalogue: Catalogue,
    policy: Policy,
    *,
    monday: date,
    through: date,
) -> History:
    """Every week up to `through`; weeks begin on the weekday of `monday`."""
    law = LevelLaw.of(policy)
    rule = RecoveryLaw(policy)
    changes = _changes(capacities, law, monday, through)
    counts = _counts(sets, catalogue, policy, monday, through)
    sore = _soreness(checkins, counts, monday, through)
    weeks: dict[date, dict[str, MuscleWeek]] = {}
    for start in sorted(set(counts.fractional) | set(sore)):
        done, lifts = counts.fractional.get(start, {}), counts.by_lift.get(start, {})
        here, moved = sore.get(start, {}), changes.get(start, {})
        weeks[start] = {
            muscle: MuscleWeek(
                sets=done.get(muscle, 0.0),
                change=change_of_muscle(muscle, lifts, moved, catalogue, rule),
                sore=here.get(muscle),
            )
            for muscle in MUSCLES
            if muscle in done or muscle in here
        }
    return History(weeks=weeks, changes=changes)


def monday_of(day: date, monday: date) -> date:
    """The start of the week `day` lies in, weeks counted from `monday` either way."""
    return monday + timedelta(days=7 * ((day - monday).days // 7))


def change_of_muscle(
    muscle: str,
    sets_by_lift: Mapping[str, float],
    changes: Mapping[str, Change],
    catalogue: Catalogue,
    rule: RecoveryLaw,
) -> Change | None:
    """The changes of a muscle's lifts in a week as one, by its sets; None with none to compare."""
    parts = []
    for lift, sets in sets_by_lift.items():
        known = catalogue.lifts.get(lift)
        share = known.muscles.get(muscle, 0.0) if known is not None else 0.0
        if share > 0 and lift in changes:
            parts.append((sets * share, changes[lift]))
    return pooled(parts, rule.policy.number("watch.lift_correlation"))


def _changes(
    capacities: Mapping[str, Sequence[SessionCapacity]],
    law: LevelLaw,
    monday: date,
    through: date,
) -> dict[date, dict[str, Change]]:
    """Each lift's change in each of its weeks, in one pass over its sessions."""
    found: dict[date, dict[str, Change]] = {}
    for lift in sorted(capacities):
        level: Level | None = None
        week: list[SessionCapacity] = []
        start: date | None = None
        seen = [each for each in capacities[lift] if each.day <= through]
        for each in seen:
            its_week = monday_of(each.day, monday)
            if start is not None and its_week != start:
                _put(found, start, lift, change_from(level, week, law))
                for earlier in week:
                    level = followed(level, earlier, law)
                week = []
            start = its_week
            week.append(each)
        if start is not None:
            _put(found, start, lift, change_from(level, week, law))
    return found


def _put(
    into: dict[date, dict[str, Change]], start: date, lift: str, change: Change | None
) -> None:
    if change is not None:
        into.setdefault(start, {})[lift] = change


@dataclass(frozen=True, slots=True)
class _Counts:
    fractional: Mapping[date, Mapping[str, float]]
    by_lift: Mapping[date, Mapping[str, float]]
    days: Mapping[str, tuple[date, ...]]
    """Muscle to the days on which it was trained directly."""


def _counts(
    sets: Iterable[SetDone], catalogue: Catalogue, policy: Policy, monday: date, through: date
) -> _Counts:
    by_lift: dict[date, dict[str, float]] = {}
    days: dict[str, set[date]] = {}
    lifts: dict[str, Lift | None] = {}
    mondays: dict[date, date] = {}
    for done in sets:
        day, name = done.moment.day, done.lift
        if name not in lifts:
            lifts[name] = catalogue.find(name)
        lift = lifts[name]
        credit = done_credit(done, policy) if lift is not None and day <= through else 0.0
        if lift is None or credit <= 0:
            continue
        if day not in mondays:
            mondays[day] = monday_of(day, monday)
        week = by_lift.setdefault(mondays[day], {})
        week[lift.name] = week.get(lift.name, 0.0) + credit
        days.setdefault(lift.name, set()).add(day)
    fractional = {week: _by_muscle(done, catalogue) for week, done in by_lift.items()}
    return _Counts(fractional, by_lift, _direct_days(days, catalogue))


def _by_muscle(sets_by_lift: Mapping[str, float], catalogue: Catalogue) -> dict[str, float]:
    sums: dict[str, float] = {}
    for lift, sets in sets_by_lift.items():
        for muscle, share in catalogue.lifts[lift].muscles.items():
            sums[muscle] = sums.get(muscle, 0.0) + sets * share
    return sums


def _direct_days(
    days: Mapping[str, set[date]], catalogue: Catalogue
) -> dict[str, tuple[date, ...]]:
    found: dict[str, set[date]] = {}
    for lift, trained in days.items():
        for muscle in catalogue.lifts[lift].direct:
            found.setdefault(muscle, set()).update(trained)
    return {muscle: tuple(sorted(trained)) for muscle, trained in found.items()}


def _soreness(
    checkins: Iterable[CheckIn], counts: _Counts, monday: date, through: date
) -> dict[date, dict[str, float]]:
    """The worst answer of each week that met a session (or came two days after the last)."""
    by_muscle: dict[str, dict[date, float]] = {}
    for said in checkins:
        if said.measure == "sore" and said.about in MUSCLES and said.moment.day <= through:
            answers = by_muscle.setdefault(said.about or "", {})
            answers[said.moment.day] = max(answers.get(said.moment.day, 0.0), said.value)
    found: dict[date, dict[str, float]] = {}
    for muscle, answers in by_muscle.items():
        for day, value in met_a_session(answers, counts.days.get(muscle, ())):
            week = found.setdefault(monday_of(day, monday), {})
            week[muscle] = max(week.get(muscle, 0.0), value)
    return found


def met_a_session(
    answers: Mapping[date, float], trained: Sequence[date]
) -> list[tuple[date, float]]:
    """The answers that speak of soreness at the next session.

    Of several answers between two sessions the last one counts; it may be given on the day of
    the next session. After the last session an answer counts from the second day on.
    """
    kept = []
    days = sorted(answers)
    for index, day in enumerate(days):
        place = bisect_left(trained, day)
        upcoming = trained[place] if place < len(trained) else None
        later = days[index + 1] if index + 1 < len(days) else None
        if upcoming is None:
            too_early = place > 0 and (day - trained[place - 1]).days < DAYS_TO_TELL
            if later is not None or too_early:
                continue
        elif later is not None and later <= upcoming:
            continue
        kept.append((day, answers[day]))
    return kept


# ---------------------------------------------------------------------------------- ceilings


def ceilings_after(
    history: History, lifter: Lifter, policy: Policy, *, through: date
) -> Mapping[str, CeilingBelief]:
    """Every muscle's belief on `through`: one soft observation for each week with evidence.

    A week without anything to compare and without an answer about soreness teaches nothing.
    """
    rule = RecoveryLaw(policy)
    priors = {
        muscle: ceiling_prior(muscle, lifter.experience, lifter.energy, policy)
        for muscle in MUSCLES
    }
    return {
        muscle: ceiling_after(
            priors[muscle], _observed(muscle, history, rule), policy, through=through
        )
        for muscle in MUSCLES
    }


def _observed(muscle: str, history: History, rule: RecoveryLaw) -> list[WeekRecovery]:
    found = []
    for start, muscles in history.weeks.items():
        week = muscles.get(muscle)
        if week is None or week.sets <= 0 or week.change is None:
            continue
        found.append(
            WeekRecovery(
                day=start + timedelta(days=6),
                sets=week.sets,
                p_recovered=rule.p_recovered(rule.p_matched(week.change), week.sore),
            )
        )
    return found
