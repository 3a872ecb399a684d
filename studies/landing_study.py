"""Where first sets land against their printed range, in blocks played week by week.

Simulated lifters under a hidden law train, are reviewed, and every change of a load is accepted.
Run `python -m studies.landing_study [LIFTERS]` for the table alone (about a minute for 24).
"""

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from blockwright.engine.case import CoachCase, together
from blockwright.engine.day_sheet import DaySheet, day_sheet
from blockwright.engine.day_sheet.find_session import PlannedSession
from blockwright.engine.planning import QUICK, compose
from blockwright.engine.policy import Policy
from blockwright.engine.training import Session, Week
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from studies.cases import case_of
from studies.simulate_block import (
    START,
    HardLife,
    Person,
    accept,
    live,
    person_of,
    review_roster,
    trial_lifter,
)
from studies.worlds import NOISY, WORLDS, World

PLAYED = (*(w for w in WORLDS if w.name in ("own law", "foreign in everything")), NOISY)
WEEKS = 6
FROM_WEEK = 3
"""The first week that is counted: by then two weeks have informed the loads."""
FAR = 2
"""Repetitions above the range beyond which a load was clearly too light."""
LOADS = ("raise_load", "lower_load", "repeat_load")


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstSet:
    """The first set of an entry beside what the sheet printed for it."""

    lifter: str
    week: int
    reps: int
    low: int
    high: int


def first_sets(
    world: World, *, lifters: int, weeks: int, seed: int, policy: Policy | None = None
) -> Iterator[FirstSet]:
    """Every first set of the build weeks; changes of loads are accepted, of sets are not."""
    policy = policy or default_policy()
    catalogue = builtin_catalogue()
    plan = compose(trial_lifter(weeks), catalogue, policy, budget=QUICK)
    life = HardLife()
    people = [
        person_of(number, plan, world, life, np.random.default_rng([seed, number]))
        for number in range(lifters)
    ]
    for number in range(1, weeks + 1):
        for person in people:
            live(person, number, catalogue, policy)
        cases = [case_of(p.block, p.sets, p.checkins, catalogue, policy) for p in people]
        yield from _done(people, cases, number)
        through = START + timedelta(days=7 * number - 1)
        reviews = review_roster(cases, through)
        for person, review in zip(people, reviews, strict=True):
            accept(person, review, catalogue, policy, LOADS)


def _done(people: Sequence[Person], cases: Sequence[CoachCase], number: int) -> Iterator[FirstSet]:
    """The first sets of a week beside the sheets, made from what was known the evening before."""
    reps = {
        (person.name, done.moment.day, done.lift): done.first_reps
        for person in people
        for done in person.sets
        if done.set_number == 1
    }
    days = {session.day for p in people for session in _week(p, number).sessions}
    for day in sorted(days):
        before = day - timedelta(days=1)
        together(cases, before)
        for person, case in zip(people, cases, strict=True):
            for session in [s for s in _week(person, number).sessions if s.day == day]:
                for entry in _sheet(person, case, number, session).entries:
                    asked = entry.sets[0].planned
                    yield FirstSet(
                        lifter=person.name,
                        week=number,
                        reps=reps[person.name, day, entry.lift.name],
                        low=asked.reps_low,
                        high=asked.reps_high,
                    )


def _week(person: Person, number: int) -> Week:
    return next(week for week in person.block.weeks if week.week == number)


def _sheet(person: Person, case: CoachCase, number: int, session: Session) -> DaySheet:
    chosen = PlannedSession(_week(person, number), session)
    beliefs = case.beliefs(session.day - timedelta(days=1))
    return day_sheet(person.block, chosen, case.catalogue, case.policy, beliefs, with_advice=False)


def landing_table(found: Sequence[FirstSet]) -> str:
    """A markdown table: shares of first sets, in week two and from week three on."""
    rows = [
        "| first sets of | n | short | in range (error) | above | more than two above | width |",
        "|---|---|---|---|---|---|---|",
    ]
    groups = {
        "week two": [each for each in found if each.week == FROM_WEEK - 1],
        f"week {FROM_WEEK} on": [each for each in found if each.week >= FROM_WEEK],
    }
    for name, mine in groups.items():
        short = np.mean([each.reps < each.low for each in mine])
        above = np.mean([each.reps > each.high for each in mine])
        far = np.mean([each.reps > each.high + FAR for each in mine])
        width = np.mean([each.high - each.low + 1 for each in mine])
        rows.append(
            f"| {name} | {len(mine)} | {short:.0%} | {1 - short - above:.0%} "
            f"({_error(mine):.1%}) | {above:.0%} | {far:.0%} | {width:.1f} |"
        )
    return "\n".join(rows)


def _error(sets: Sequence[FirstSet]) -> float:
    """Standard error of the share in range over lifters: one lifter's sets go together."""
    shares = [
        np.mean([each.low <= each.reps <= each.high for each in sets if each.lifter == lifter])
        for lifter in sorted({each.lifter for each in sets})
    ]
    return float(np.std(shares, ddof=1) / np.sqrt(len(shares)))


def landing_study(lifters: int = 24) -> str:
    """The section of the study, as markdown."""
    parts = [
        f"{lifters} simulated lifters, {WEEKS} build weeks, four evenings a week; every change of "
        "a load is accepted, no other. A first set is in range when its repetitions lie within the "
        "printed bounds; effort follows the plan's reserve, misjudged as people misjudge it. "
        "The block is composed anew, people are drawn as it names their lifts: another composer "
        "plays other people, so compare two versions on one block or within the error."
    ]
    for world in PLAYED:
        found = list(first_sets(world, lifters=lifters, weeks=WEEKS, seed=20270104))
        parts += [f"### {world.name}", landing_table(found)]
    return "\n\n".join(parts)


if __name__ == "__main__":
    print(landing_study(*map(int, sys.argv[1:])))
