"""Where sets land against their printed range, in blocks played week by week.

Simulated lifters under a hidden law train, are reviewed, and every change of a load is accepted.
Run `python -m studies.landing_study [LIFTERS]` for the table alone (about a minute for 24).
"""

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np

from blockwright.engine.case import CoachCase, together
from blockwright.engine.day_sheet import (
    NextSet,
    SheetEntry,
    believing_the_day,
    day_sheet,
    rest_between_sets_s,
)
from blockwright.engine.day_sheet.find_session import PlannedSession
from blockwright.engine.planning import QUICK, compose
from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.strength import LiftBelief, unlogged
from blockwright.engine.training import (
    Block,
    Catalogue,
    Session,
    SetDone,
    SetPlan,
    Week,
    effective_load_kg,
)
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from studies.cases import case_of
from studies.simulate_block import (
    START,
    HardLife,
    Person,
    accept,
    begin_week,
    end_week,
    person_of,
    review_roster,
    train,
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
class SetLanded:
    """A set of an entry beside what was printed for it."""

    lifter: str
    week: int
    number: int
    """1: the first of its entry."""
    reps: int
    low: int
    high: int
    load_kg: float
    """As lifted."""
    rest_s: float


@dataclass(slots=True)
class Followed:
    """One lift of a sheet, and what the phone advises from set to set of it."""

    made: SheetEntry
    session: Session
    block: Block
    case: CoachCase
    belief: LiftBelief
    """Before the last set done."""
    in_force_kg: float | None = None

    @property
    def sets(self) -> tuple[SetPlan, ...]:
        return tuple(one.planned for one in self.made.sets)

    def load_after(self, done: Sequence[SetDone]) -> float | None:
        """As the phone has it: the load in force moves with the advice."""
        last, rest_s = (
            done[-1],
            rest_between_sets_s(self.made.entry, self.session, self.case.catalogue),
        )
        here, following = self.sets[len(done) - 1], self.sets[len(done)]
        base = self.in_force_kg or here.load_kg or last.load_kg
        change = (following.load_kg or base) - (here.load_kg or base)
        rir = here.rir if last.rir is None else last.rir
        asked = NextSet(
            belief=self.belief,
            lift=self.made.lift,
            rack=rack_for(self.made.lift, self.block.lifter.gym, self.case.policy),
            done=replace(here, load_kg=last.load_kg, rir=rir),
            planned=replace(following, load_kg=max(base + change, 0.0)),
            rest_s=rest_s,
            rest_before_s=rest_s if len(done) > 1 else None,
            printed_rir=here.rir,
            on=self.session.day,
            bodyweight_kg=self.block.lifter.bodyweight_kg,
            policy=self.case.policy,
            unit="kg",
        )
        self.in_force_kg = asked.load_after(last.first_reps).load_kg
        self.belief = believing_the_day(self.belief, self.case.policy).after(
            effective_load_kg(self.made.lift, last.load_kg, self.block.lifter.bodyweight_kg) or 1.0,
            last.first_reps,
            last.rir,
            on=self.session.day,
            rest_s=rest_s if len(done) > 1 else None,
        )
        return self.in_force_kg


def sets_landed(
    world: World, *, lifters: int, weeks: int, seed: int, policy: Policy | None = None
) -> Iterator[SetLanded]:
    """Every set of the build weeks, done by the sheet and the phone's advice; changes of loads
    are accepted, of sets are not."""
    policy = policy or default_policy()
    catalogue = builtin_catalogue()
    plan = compose(trial_lifter(weeks), catalogue, policy, budget=QUICK)
    life = HardLife()
    people = [
        person_of(number, plan, world, life, np.random.default_rng([seed, number]))
        for number in range(lifters)
    ]
    for number in range(1, weeks + 1):
        yield from _done(people, number, catalogue, policy)
        cases = _cases(people, catalogue, policy)
        through = START + timedelta(days=7 * number - 1)
        reviews = review_roster(cases, through)
        for person, review in zip(people, reviews, strict=True):
            accept(person, review, catalogue, policy, LOADS)


def _cases(people: Sequence[Person], catalogue: Catalogue, policy: Policy) -> list[CoachCase]:
    return [case_of(p.block, p.sets, p.checkins, catalogue, policy) for p in people]


def _done(
    people: Sequence[Person], number: int, catalogue: Catalogue, policy: Policy
) -> Iterator[SetLanded]:
    """A week's sets beside the sheets, made from what was known the evening before."""
    for person in people:
        begin_week(person)
    days = {session.day for p in people for session in _week(p, number).sessions}
    for day in sorted(days):
        cases = _cases(people, catalogue, policy)
        together(cases, day - timedelta(days=1))
        for person, case in zip(people, cases, strict=True):
            for session in [s for s in _week(person, number).sessions if s.day == day]:
                known = len(person.sets)
                follow = _followed(person, case, number, session)
                train(person, session, catalogue, policy, follow)
                for done in person.sets[known:]:
                    asked = follow[done.lift].sets[done.set_number - 1]
                    yield SetLanded(
                        lifter=person.name,
                        week=number,
                        number=done.set_number,
                        reps=done.first_reps,
                        low=asked.reps_low,
                        high=asked.reps_high,
                        load_kg=done.load_kg,
                        rest_s=done.rest_s or 0.0,
                    )
    for person in people:
        end_week(person, _week(person, number), catalogue)


def _week(person: Person, number: int) -> Week:
    return next(week for week in person.block.weeks if week.week == number)


def _followed(
    person: Person, case: CoachCase, number: int, session: Session
) -> dict[str, Followed]:
    chosen = PlannedSession(_week(person, number), session)
    beliefs, block = case.beliefs(session.day - timedelta(days=1)), person.block
    sheet = day_sheet(block, chosen, case.catalogue, case.policy, beliefs, with_advice=False)
    return {
        made.lift.name: Followed(
            made, session, block, case,
            beliefs.own(made.lift.name) or unlogged(made.lift, session.day, case.policy),
        )
        for made in sheet.entries
    }  # fmt: skip


def landing_table(found: Sequence[SetLanded]) -> str:
    """A markdown table: shares of sets, in week two and from week three on."""
    rows = [
        "| sets of | n | short | in range (error) | above | more than two above | width |",
        "|---|---|---|---|---|---|---|",
    ]
    first = [each for each in found if each.number == 1]
    groups = {
        "week two, first": [each for each in first if each.week == FROM_WEEK - 1],
        f"week {FROM_WEEK} on, first": [each for each in first if each.week >= FROM_WEEK],
        f"week {FROM_WEEK} on, later": [
            each for each in found if each.week >= FROM_WEEK and each.number > 1
        ],
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


def _error(sets: Sequence[SetLanded]) -> float:
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
        "a load is accepted, no other; sets are done by the sheet, later ones by the phone's "
        "advice after the set before. A set is in range when its repetitions lie within the "
        "printed bounds; effort follows the plan's reserve, misjudged as people misjudge it. "
        "The block is composed anew, people are drawn as it names their lifts: another composer "
        "plays other people, so compare two versions on one block or within the error."
    ]
    for world in PLAYED:
        found = list(sets_landed(world, lifters=lifters, weeks=WEEKS, seed=20270104))
        parts += [f"### {world.name}", landing_table(found)]
    return "\n\n".join(parts)


if __name__ == "__main__":
    print(landing_study(*map(int, sys.argv[1:])))
