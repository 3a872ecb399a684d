"""Pain: it stops progression and refers, and never diagnoses.

Pain 0-10 by bands (Thomee 1997, Phys Ther 77:1690, from memory: 0-2 safe, 2-5 acceptable, above 5
high risk): up to `safety.pain_carry_on` train on; up to `safety.pain_stop_above` no progress and a
swap is offered; above it the lift is stopped. Two reports in a row above the first line propose a
referral."""

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import takewhile
from typing import Literal

from blockwright.engine.pain import (
    JOINT_MUSCLES,
    MUCH,
    PLACES,
    clearance_of,
    grade_in,
    joints_loaded,
    joints_much,
    place_in,
)
from blockwright.engine.policy import Policy
from blockwright.engine.published.safety import PAIN_BANDS
from blockwright.engine.training import Catalogue, CheckIn, Lift
from .exposures import DAYS_OF_WEEK

Band = Literal["free", "watchful", "stop"]

PAIN_SOURCE = str(PAIN_BANDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class PainReport:
    day: date
    pain: float
    lift: str = ""  # In which lift, where one alone hurt as much that day


Reports = dict[str, list[PainReport]]  # By the lift, joint or words they are about, in order


@dataclass(frozen=True, slots=True, kw_only=True)
class PainEased:
    """What hurt too much to progress, and by its last report does not."""

    about: str
    pain: float
    before: float
    once: bool
    """Whether one report alone says so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PainState:
    """What the reports say of one lift (or one joint)."""

    band: Band
    latest: PainReport
    in_a_row: int  # Days with a report above the carry-on line, the latest in a row
    refer: bool
    about: str  # The lift or joint the reports name
    carry_on: float  # Pain up to which it is trained on with
    own: bool = True  # Whether the lift itself was reported; else only a region that it loads much
    days: tuple[date, ...] = ()  # Which days these are, where they are known

    @property
    def often(self) -> str:
        """ "3 days running", "twice in a week", "3 times in 12 days"."""
        count = self.in_a_row
        span = (self.days[-1] - self.days[0]).days + 1 if self.days else count
        if span == count:
            return f"{count} days running" if count > 1 else "once"
        often = "twice" if count == 2 else f"{count} times"
        return f"{often} in {'a week' if span <= DAYS_OF_WEEK else f'{span} days'}"


def pain_by_lift(
    reports: Reports,
    in_use: Iterable[Lift],
    catalogue: Catalogue,
    policy: Policy,
    until: date,
    cleared: Mapping[str, date],
) -> Mapping[str, PainState]:
    """Lifts with a live pain report: sets, check-ins about the lift, or about a place that a lift
    `in_use` loads.

    A report is live until a later one is at or below the carry-on line, or until
    `safety.pain_memory_days` before `until`; as many in a row as refer stay live. `cleared` holds,
    by lift or place, the day on which a professional cleared it: reports up to that day are over.
    """
    states = _live(reports, catalogue, policy, until, cleared)
    found = {name: state for name, state in states.items() if name not in PLACES}
    lifts, named = list(in_use), states.keys() & PLACES
    painful = (lift for name in found if (lift := catalogue.find(name)) is not None)
    concerned = {lift.name: lift for lift in (*painful, *lifts)}
    unsaid = {
        name: (lift, state)
        for name, state in found.items()
        if (lift := catalogue.find(name)) is not None
        and not any(_hurts_in(lift, place, states[place], found) for place in named)
    }
    shared = _shared_places(unsaid, policy)
    if "lower back" in named:
        shared.pop("back", None)
    for place, state in (states | shared).items():
        for lift in concerned.values() if place in PLACES else ():
            if _hurts_in(lift, place, state, states if place in named else ()):
                found[lift.name] = _together(found.get(lift.name), state, policy)
    return _same_movements(lifts, catalogue, found) | found


def _hurts_in(lift: Lift, place: str, state: PainState, own: Container[str]) -> bool:
    """Whether what hurts in a place concerns a lift: it loads it much, or at all and was the lift,
    of those with reports of their `own`, in which it hurt last."""
    grade = grade_in(lift, place)
    return grade >= MUCH or (grade > 0 and state.latest.lift == lift.name in own)


def _same_movements(
    lifts: Iterable[Lift], catalogue: Catalogue, found: Mapping[str, PainState]
) -> dict[str, PainState]:
    """Lifts of the pattern of one that pain stops: where it hurts nobody said, so they wait."""
    stopped = {
        lift.pattern: state
        for name, state in found.items()
        if state.band == "stop" and state.own and (lift := catalogue.find(name)) is not None
    }
    return {
        lift.name: replace(stopped[lift.pattern], band="watchful", own=False, refer=False)
        for lift in lifts
        if lift.pattern in stopped
    }


def _shared_places(
    lifts: Mapping[str, tuple[Lift, PainState]], policy: Policy
) -> dict[str, PainState]:
    """Joints that two or more painful lifts load much, or that are the only one they load: the
    joint hurts, and its days are theirs. Where the same lifts share several, nobody knows which:
    their own names stand, and the joints are held alike."""
    loading: dict[str, list[str]] = {}
    for joint in JOINT_MUSCLES:
        names = [
            name
            for name, (lift, _) in lifts.items()
            if joint in joints_much(lift) or joints_loaded(lift) == {joint}
        ]
        if len(names) > 1:
            loading[joint] = names
    found: dict[str, PainState] = {}
    for joint, names in loading.items():
        state = lifts[names[0]][1]
        for name in names[1:]:
            state = _together(state, lifts[name][1], policy)
        alone = list(loading.values()).count(names) == 1
        about = joint if alone else names[0]
        found[joint] = replace(state, about=about, band="watchful")
    return found


def pain_elsewhere(
    reports: Reports, catalogue: Catalogue, policy: Policy, until: date, cleared: Mapping[str, date]
) -> Mapping[str, PainState]:
    """Live reports about something that is not a lift: a joint, or words we do not know."""
    states = _live(reports, catalogue, policy, until, cleared)
    return {name: state for name, state in states.items() if catalogue.find(name) is None}


def unplaced(states: Iterable[PainState], trained: Container[str]) -> tuple[PainState, ...]:
    """Pain above the stopping line in words that name no joint, muscle or lift: which lifts to
    spare, the words do not say."""
    return tuple(
        state
        for state in states
        if state.band == "stop" and place_in(state.about) is None and state.about not in trained
    )


def pain_reports(
    of_lifts: Iterable[tuple[str, date, float]],
    checkins: Sequence[CheckIn],
    catalogue: Catalogue,
    through: date,
) -> Reports:
    """Every report by the lift, joint or words it is about: the worst of each day, in order. Whose
    lower back hurts means it by "back" too.

    `of_lifts` are the reports made with sets: lift, day, pain 0-10."""
    asked = (
        (_subject(said.about, catalogue), said.moment.day, said.value)
        for said in checkins if said.measure == "pain" and said.about
    )  # fmt: skip
    told = [one for one in (*of_lifts, *asked) if one[1] <= through]
    lower = any(about == "lower back" for about, _, _ in told)
    worst: dict[tuple[str, date], float] = {}
    for about, day, pain in told:
        key = ("lower back" if lower and about == "back" else about, day)
        worst[key] = max(worst.get(key, 0.0), pain)
    reports: Reports = {}
    for (name, day), pain in sorted(worst.items(), key=lambda item: item[0][1]):
        alike = [about for (about, on), much in worst.items()
                 if on == day and much == pain and catalogue.find(about) is not None]  # fmt: skip
        lift = name if name in alike else alike[0] if len(alike) == 1 else ""
        reports.setdefault(name, []).append(PainReport(day=day, pain=pain, lift=lift))
    return reports


def _subject(about: str, catalogue: Catalogue) -> str:
    lift = catalogue.find(about)
    if lift is not None:
        return lift.name
    return place_in(about) or about.strip().lower()


def letter_day(day: date) -> date:
    """The Sunday before the day's week: through it the week's letter looked, and from it a report's
    age counts all week, so that no sheet forgets what the letter holds."""
    return day - timedelta(days=day.weekday() + 1)


def _live(
    reports: Reports, catalogue: Catalogue, policy: Policy, until: date, cleared: Mapping[str, date]
) -> dict[str, PainState]:
    """What the reports after each clearance come to, those forgotten by `until` left out. A place
    that was cleared clears the lifts that load it much."""
    memory = policy.days("safety.pain_memory_days")
    found = {}
    for name, said in reports.items():
        lift = catalogue.find(name)
        known = cleared.get(name, date.min) if lift is None else clearance_of(lift, cleared)
        after = [r for r in said if r.day > known]
        state = pain_state(name, after, policy)
        if state is not None and (state.refer or until - state.latest.day <= memory):
            found[name] = state
    return found


def pain_state(about: str, reports: Sequence[PainReport], policy: Policy) -> PainState | None:
    """What the reports about one thing come to, however old the last is; None where it is at or
    below the carry-on line."""
    carry_on = policy.number("safety.pain_carry_on")
    if not reports or reports[-1].pain <= carry_on:
        return None
    days = sorted(r.day for r in takewhile(lambda r: r.pain > carry_on, reversed(reports)))
    stop = reports[-1].pain > policy.number("safety.pain_stop_above")
    return PainState(
        band="stop" if stop else "watchful",
        latest=reports[-1],
        in_a_row=len(days),
        days=tuple(days),
        refer=len(days) >= policy.whole("safety.refer_after_reports"),
        about=about,
        carry_on=carry_on,
    )


def pain_eased(
    reports: Reports, catalogue: Catalogue, policy: Policy, start: date, until: date
) -> list[PainEased]:
    """What eased between `start` and `until`, places first; what hurt in a lift that loads a place
    much is heard of the place too."""
    line = policy.number("safety.pain_carry_on")
    since = until - policy.days("safety.pain_memory_days")
    found = []
    for about, said in reports.items():
        names = (name for name in reports if (lift := catalogue.find(name)) is not None
                 and about in PLACES and grade_in(lift, about) >= MUCH)  # fmt: skip
        alike = [*said, *(r for name in names for r in reports[name] if r.day < said[-1].day)]
        hurt = [r for r in alike if r.pain > line and since <= r.day]
        if hurt and said[-1].pain <= line and start <= said[-1].day <= until:
            last = max(hurt, key=lambda r: r.day)
            quiet = {r.day for r in said if r.day > last.day}
            found.append(PainEased(about=about, pain=said[-1].pain, before=last.pain,
                                   once=len(quiet) == 1))  # fmt: skip
    return sorted(found, key=lambda eased: eased.about not in PLACES)


def _together(one: PainState | None, other: PainState, policy: Policy) -> PainState:
    """What two live series of reports say of one lift (its own, and a place it loads): the worse
    or else the later of the two, about the place; the days of their reports count together, each
    once."""
    if one is None:
        return replace(other, own=False)
    worse = max(one, other, key=lambda state: (state.band == "stop", state.latest.day))
    if worse.about not in PLACES and other.about in PLACES:
        worse = replace(worse, about=other.about)
    days = tuple(sorted({*one.days, *other.days}))
    refer = len(days) >= policy.whole("safety.refer_after_reports")
    return replace(worse, in_a_row=len(days), days=days, refer=refer, own=one.own)
