"""Five years of twelve lifters (about 150,000 sets) to today's beliefs and proposals.

Everything is replayed from the facts: strength, watches, ceilings, the week's proposals. The
reference is the target of 10 s. Composing the block and inventing the log are not timed. Run:
PYTHONPATH=. python benchmarks/review.py
"""

import json
import math
import random
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.planning import QUICK, compose
from blockwright.engine.review import Review, review
from blockwright.engine.training import (
    Block,
    CheckIn,
    Moment,
    SetDone,
)
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from studies.cases import case_of
from studies.simulate_block import START, review_roster, trial_lifter

LIFTERS = 12
YEARS = 5
SETS = 12
"""A session."""
TARGET_S = 10.0
THROUGH = START + timedelta(days=7 * 3 - 1)
POLICY = default_policy()
CATALOGUE = builtin_catalogue()


def main() -> None:
    block = compose(trial_lifter(6), CATALOGUE, POLICY, budget=QUICK)
    people = [_person(number, block) for number in range(LIFTERS)]
    count = sum(len(sets) for _, sets, _ in people)
    began, cpu_began = time.perf_counter(), time.process_time()
    reviews = review_roster([_case(*person) for person in people], THROUGH)
    spent, cpu = time.perf_counter() - began, time.process_time() - cpu_began
    _report("review_five_years_twelve_lifters", spent, cpu, count, reviews)
    began, cpu_began = time.perf_counter(), time.process_time()
    again = review(_case(*people[0]), THROUGH)
    spent, cpu = time.perf_counter() - began, time.process_time() - cpu_began
    _report("review_five_years_one_lifter", spent, cpu, len(people[0][1]), [again])
    if [p.id for p in again.proposals] != [p.id for p in reviews[0].proposals]:
        raise SystemExit("the same facts gave other proposals")


def _case(block: Block, sets: list[SetDone], said: list[CheckIn]) -> CoachCase:
    return case_of(block, sets, said, CATALOGUE, POLICY)


def _report(bench: str, value: float, cpu_s: float, sets: int, reviews: Sequence[Review]) -> None:
    line = {
        "bench": bench,
        "value": round(value, 3),
        "unit": "s",
        "reference": f"target {TARGET_S:g} s for all twelve",
        "ratio": round(value / TARGET_S, 4),
        "cpu_s": round(cpu_s, 3),
        "sets": sets,
        "proposals": sum(len(each.proposals) for each in reviews),
    }
    sys.stdout.write(json.dumps(line) + "\n")
    sys.stdout.flush()


def _person(number: int, block: Block) -> tuple[Block, list[SetDone], list[CheckIn]]:
    """One lifter's block, five years of sets and a check-in for every training day."""
    chance = random.Random(number)
    name = f"Invented {number}"
    mine = replace(block, lifter=replace(block.lifter, name=name))
    days = list(_training_days())
    sets = [done for day, index in days for done in _session(mine, day, index, chance)]
    said = [one for day, _ in days for one in _said(day, chance)]
    return mine, [replace(done, row=row) for row, done in enumerate(sets, start=2)], said


def _training_days() -> Iterator[tuple[date, int]]:
    week = START - timedelta(days=7 * 52 * YEARS)
    while week <= THROUGH:
        for index, offset in enumerate((0, 1, 3, 4)):
            if week + timedelta(days=offset) <= THROUGH:
                yield week + timedelta(days=offset), index
        week += timedelta(days=7)


def _session(block: Block, day: date, index: int, chance: random.Random) -> Iterator[SetDone]:
    """The lifts of the block's session, twelve sets in all, strength growing slowly."""
    years = (day - START).days / 365 + YEARS
    entries = block.weeks[0].sessions[index].entries
    for order, entry in enumerate(entries):
        number = sum(map(ord, entry.lift)) % 50 + 30
        level = number * math.exp(0.05 * years + chance.gauss(0, 0.02))
        load = max(2.5 * round(0.7 * level / 2.5), 2.5)
        for place in range(1, SETS // len(entries) + 1 + (order < SETS % len(entries))):
            reps = max(round(11 + 30 * math.log(level * 0.7 / load) + chance.gauss(0, 1)), 1)
            yield SetDone(
                moment=Moment(day=day),
                lift=entry.lift,
                set_number=place,
                loads_kg=(load,),
                entered_load=f"{load:g}",
                entered_unit="kg",
                reps=(reps,),
                rir_low=2.0,
                rir_high=2.0,
                rest_s=150.0 if place > 1 else None,
                lifter=block.lifter.name,
            )


def _said(day: date, chance: random.Random) -> Iterator[CheckIn]:
    moment = Moment(day=day)
    for item in ("sleep", "fatigue", "stress", "soreness"):
        yield CheckIn(moment=moment, measure=item, about=None, value=chance.randint(2, 4))  # type: ignore[arg-type]
    for muscle in ("quads", "chest", "lats"):
        yield CheckIn(moment=moment, measure="sore", about=muscle, value=chance.randint(0, 3))
    yield CheckIn(moment=moment, measure="bodyweight", about=None, value=80 + chance.gauss(0, 1))


if __name__ == "__main__":
    main()
