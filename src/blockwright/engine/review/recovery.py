"""What each muscle did in each week, and how sore it was when it met the next session.

Whether it recovered is read in `week_state`, from all that was lifted and said."""

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Catalogue, CheckIn, SetDone
from blockwright.engine.volume import done_by_week, done_credit

DAYS_TO_TELL, DAYS_SORE = 2, 4
"""Soreness that stops a muscle is too early to tell sooner than so many days after a session, with
none to meet it; for so many an answer speaks of that session, in the week after it too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleWeek:
    """One muscle in one week."""

    sets: float  # Fractional hard sets done
    sore: float | None  # The worst soreness that met a session, 0-10; None when nobody said


History = Mapping[date, Mapping[str, MuscleWeek]]
"""Monday to muscle to week; only muscles with sets or soreness in the week."""


def history_of(
    sets: Iterable[SetDone],
    checkins: Iterable[CheckIn],
    catalogue: Catalogue,
    policy: Policy,
    *,
    monday: date,
    through: date,
) -> History:
    """Every week up to `through`; weeks begin on the weekday of `monday`."""
    here = [done for done in sets if done.moment.day <= through]
    first = monday_of(min((done.moment.day for done in here), default=monday), monday)
    counts = {
        first + timedelta(days=7 * (number - 1)): {m: c.fractional for m, c in week.items()}
        for number, week in done_by_week(here, catalogue, policy, start=first).items()
    }
    days, stops = _direct_days(here, catalogue, policy), policy.number("review.sore.not_from")
    sore = _soreness(checkins, days, monday, through, stops)
    weeks: dict[date, dict[str, MuscleWeek]] = {}
    for start in sorted(set(counts) | set(sore)):
        done, said = counts.get(start, {}), sore.get(start, {})
        weeks[start] = {
            muscle: MuscleWeek(sets=done.get(muscle, 0.0), sore=said.get(muscle))
            for muscle in MUSCLES
            if done.get(muscle, 0.0) > 0 or muscle in said
        }
    return weeks


def monday_of(day: date, monday: date) -> date:
    """The start of the week `day` lies in, weeks counted from `monday` either way."""
    return monday + timedelta(days=7 * ((day - monday).days // 7))


def _direct_days(
    sets: Iterable[SetDone], catalogue: Catalogue, policy: Policy
) -> dict[str, tuple[date, ...]]:
    """Muscle to the days on which it was trained directly."""
    days: dict[str, set[date]] = {}
    for done in sets:
        if done_credit(done, policy) > 0:
            days.setdefault(done.lift, set()).add(done.moment.day)
    found: dict[str, set[date]] = {}
    for name, trained in days.items():
        for muscle in () if (lift := catalogue.find(name)) is None else lift.direct:
            found.setdefault(muscle, set()).update(trained)
    return {muscle: tuple(sorted(trained)) for muscle, trained in found.items()}


def _soreness(
    checkins: Iterable[CheckIn],
    days: Mapping[str, tuple[date, ...]],
    monday: date,
    through: date,
    stops: float,
) -> dict[date, dict[str, float]]:
    """The worst answer of each week that met a session or came after the last."""
    by_muscle: dict[str, dict[date, float]] = {}
    for said in checkins:
        if said.measure == "sore" and said.about in MUSCLES and said.moment.day <= through:
            answers = by_muscle.setdefault(said.about or "", {})
            answers[said.moment.day] = max(answers.get(said.moment.day, 0.0), said.value)
    found: dict[date, dict[str, float]] = {}
    for muscle, answers in by_muscle.items():
        trained = days.get(muscle, ())
        for day, value in met_a_session(answers, trained, stops):
            last = trained[-1] if trained else day
            about = last if 0 < (day - last).days <= DAYS_SORE else day
            week = found.setdefault(monday_of(about, monday), {})
            week[muscle] = max(week.get(muscle, 0.0), value)
    return found


def met_a_session(
    answers: Mapping[date, float], trained: Sequence[date], stops: float
) -> list[tuple[date, float]]:
    """The answers that speak of soreness at the next session.

    Of several answers between two sessions the last one counts; it may be given on the day of the
    next session. After the last session an answer of `stops` or more counts from the second day on:
    what is mild the day after grows to no more than doubt."""
    kept = []
    days = sorted(answers)
    for index, day in enumerate(days):
        place = bisect_left(trained, day)
        upcoming = trained[place] if place < len(trained) else None
        later = days[index + 1] if index + 1 < len(days) else None
        if upcoming is None:
            too_early = place > 0 and (day - trained[place - 1]).days < DAYS_TO_TELL
            if later is not None or (too_early and answers[day] >= stops):
                continue
        elif later is not None and later <= upcoming:
            continue
        kept.append((day, answers[day]))
    return kept
