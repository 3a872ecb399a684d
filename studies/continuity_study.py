"""Study of three blocks in a row: invented people train each as printed, and the next is composed
from their log and the block before. How many lifts come back, has each that leaves a reason, and do
starting loads follow strength?"""

import math
import statistics
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import timedelta
from pathlib import Path

import numpy as np

from blockwright.engine.planning import Budget
from blockwright.engine.strength.law import lift_prior
from blockwright.engine.training import Block, SetDone, effective_load_kg
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_file import read_lifter
from blockwright.files.policy_files import default_policy
from blockwright.files.sets_file import read_sets
from blockwright.files.words import reason_says
from blockwright.verbs.compose_block import composed
from coach_people import write_people
from studies.simulate_block import PRESS_ENDURANCE, HardLife, Person, live, person_of
from studies.worlds import CLEAN

PEOPLE = ("full_body_logged", "powerlifter", "trained_six_days", "pound_gym", "lats_with_a_log")
BLOCKS = 3
GROWTH_PER_WEEK = 0.01
"""ln 1RM gained a week by every lift: about 7 % a block."""


@dataclass(slots=True)
class Turn:
    """From one block to the next."""

    person: str
    number: int
    before: Block
    after: Block
    back: list[str] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)
    unsaid: list[str] = field(default_factory=list)
    heavier: int = 0
    compared: int = 0


def continuity_study(budget: Budget | None = None) -> str:
    """Markdown: a table of people, and the sums."""
    turns = list(turns_of(budget))
    lines = [
        f"{len(PEOPLE)} invented people train {BLOCKS} blocks in a row as printed (no letters), "
        f"each lift {100 * math.expm1(7 * GROWTH_PER_WEEK):.0f} % stronger a block; every next "
        "block is composed from the log and the block before.",
        "",
        "| person | block | lifts that come back | leave with a reason | start heavier |",
        "|---|---:|---:|---:|---:|",
    ]
    for turn in turns:
        lines.append(
            f"| {turn.person.replace('_', ' ')} | {turn.number} "
            f"| {len(turn.back)} of {len(turn.back) + len(turn.gone)} "
            f"| {len(turn.gone) - len(turn.unsaid)} of {len(turn.gone)} "
            f"| {turn.heavier} of {turn.compared} |"
        )
    shares = [len(t.back) / (len(t.back) + len(t.gone)) for t in turns]
    heavier = [t.heavier / t.compared for t in turns if t.compared]
    lines += [
        "",
        f"On average {100 * statistics.mean(shares):.0f} % of the lifts come back (least "
        f"{100 * min(shares):.0f} %), {sum(len(t.gone) - len(t.unsaid) for t in turns)} of "
        f"{sum(len(t.gone) for t in turns)} that leave have a reason, and "
        f"{100 * statistics.mean(heavier):.0f} % of the lifts kept in their range start heavier "
        f"(least {100 * min(heavier):.0f} %).",
    ]
    return "\n".join(lines)


def turns_of(budget: Budget | None = None) -> Iterator[Turn]:
    """Every turn from block to block, person by person."""
    with tempfile.TemporaryDirectory() as folder:
        for number, files in enumerate(write_people(Path(folder), PEOPLE)):
            lifter = read_lifter(files.lifter).value
            known = catalogue_for(lifter)
            sets = list(read_sets(files.log, known, lifter).value) if files.log else []
            block = composed(lifter, sets, budget=budget)
            person = person_as_logged(number, block, sets)
            for turn in range(2, BLOCKS + 1):
                person.block = block
                train(person)
                start = block.start + timedelta(weeks=len(block.weeks))
                following = replace(lifter, start=start)
                after = composed(following, person.sets, previous=block, budget=budget)
                yield compared(files.person.key, turn, block, after)
                block = after


def person_as_logged(number: int, block: Block, sets: list[SetDone]) -> Person:
    """A person about to begin `block` who has done `sets` and is as strong as they show."""
    person = person_of(number, block, CLEAN, HardLife(), np.random.default_rng(number))
    person.sets = sets
    _as_strong_as_logged(person, sets)
    return person


def train(person: Person) -> None:
    """All weeks of the block as printed, a little stronger every week."""
    known = catalogue_for(person.block.lifter)
    for week in person.block.weeks:
        live(person, week.week, known, default_policy(), lambda *_: None)
        for lift in person.strength:
            person.strength[lift] += GROWTH_PER_WEEK


def _as_strong_as_logged(person: Person, sets: list[SetDone]) -> None:
    """ln 1RM from the first sets logged last, by the world's own curve."""
    known, world = catalogue_for(person.block.lifter), person.world
    shares = np.linspace(0.3, 1.0, 281)
    for done in sets:
        lift = known.find(done.lift)
        if lift is None or done.set_number != 1 or not done.first_reps:
            continue
        load = effective_load_kg(lift, done.load_kg, person.block.lifter.bodyweight_kg)
        if not load:
            continue
        own = lift_prior(lift, default_policy()).endurance_mean - PRESS_ENDURANCE
        steepness = world.steepness_mean + own
        to_failure = done.first_reps + (1 + person.bias) * (done.rir_low or 0.0)
        reps = np.array([world.curve(float(share), steepness) for share in shares])
        share = float(shares[int(np.argmin(np.abs(reps - to_failure)))])
        person.strength[lift.name] = math.log(load / share)
        person.steepness[lift.name] = steepness


def compared(person: str, number: int, before: Block, after: Block) -> Turn:
    """What comes back, what leaves and whether that is said, and where loads start."""
    had, has = _lifts(before, -2), _lifts(after, 0)
    turn = Turn(person=person, number=number, before=before, after=after)
    said = " ".join(reason_says(reason) for reason in after.reasons)
    for lift in sorted(had):
        (turn.back if lift in has else turn.gone).append(lift)
    turn.unsaid = [lift for lift in turn.gone if lift not in said]
    old, new = first_loads(before), first_loads(after)
    both = [key for key in old if key in new]
    turn.compared = len(both)
    turn.heavier = sum(new[key] > old[key] for key in both)
    return turn


def _lifts(block: Block, week: int) -> set[str]:
    return {e.lift for s in block.weeks[week].sessions for e in s.entries}


def first_loads(block: Block) -> dict[tuple[str, int, int], float]:
    """Week one's effective load by lift and range."""
    known, found = catalogue_for(block.lifter), {}
    for session in block.weeks[0].sessions:
        for entry in session.entries:
            row = entry.sets[0]
            if row.load_kg is not None:
                load = effective_load_kg(
                    known.lifts[entry.lift], row.load_kg, block.lifter.bodyweight_kg
                )
                found[entry.lift, row.reps_low, row.reps_high] = load or 0.0
    return found
