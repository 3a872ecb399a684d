"""What the composer sees of invented people, and what its rules charge for weeks that nobody
should write: the prices of every rule side by side, as text (`goldens/bills.txt`).

A week is drawn by the names of its places, so that it stays the same week when lifts are offered
in another order. `make goldens` writes the text; each line that moved is one rule of one week.
"""

import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from zlib import crc32

from blockwright.engine.planning.block import is_gentle, known_lifts
from blockwright.engine.planning.constraints import PlacePair, WeekVariables
from blockwright.engine.planning.fill import week_variables
from blockwright.engine.planning.frame import Frame, make_frame
from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.planning.log_facts import log_facts
from blockwright.engine.planning.make_problem import make_problem
from blockwright.engine.planning.problem import Problem
from blockwright.engine.planning.spared import NOTHING_CARRIED, Carried, Spared
from blockwright.engine.planning.supersets import new_pairs
from blockwright.engine.planning.visits import choose_visits
from blockwright.engine.training import SetDone
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_file import read_lifter
from blockwright.files.policy_files import default_policy
from blockwright.files.sets_file import read_sets
from coach_people import write_people

BEGUN = Carried(
    kept=frozenset({"leg extension", "chest press", "hammer curl"}),
    left_out=frozenset({"dumbbell curl"}),
    spared=Spared(frozenset({"knee"}), frozenset({"bench press"}), frozenset({"bench press"})),
    held={"calves": 6},
    stood=frozenset({(0, "leg curl"), (1, "dumbbell lateral raise")}),
)
PEOPLE: Mapping[str, Carried] = {
    "trained_six_days": NOTHING_CARRIED,
    "full_body_logged": BEGUN,
    "powerlifter": NOTHING_CARRIED,
    "chest_legs_on_hold": NOTHING_CARRIED,
    "novice_two_days": NOTHING_CARRIED,
    "two_slots_of_40": NOTHING_CARRIED,
    "twice_on_monday": NOTHING_CARRIED,
    "likes_and_skips": NOTHING_CARRIED,
    "known_lifts": NOTHING_CARRIED,
    "pins": NOTHING_CARRIED,
    "habits": NOTHING_CARRIED,
    "nine_slots": NOTHING_CARRIED,
    "sixty_two_days": NOTHING_CARRIED,
    "floor_and_bar": NOTHING_CARRIED,
}
"""By name (`coach_people`): what their block is given beside the lifter."""
WEEKS = {"nothing": 0, "thin": 9, "full": 3}
"""By name: of how many places one is used."""


def bills() -> str:
    """All of it."""
    return "\n".join(line for name in PEOPLE for line in _person(name)) + "\n"


def problem_of(name: str) -> Problem:
    with tempfile.TemporaryDirectory() as folder:
        (files,) = write_people(Path(folder), (name,))
        lifter = read_lifter(files.lifter).value
        catalogue, policy = catalogue_for(lifter), default_policy()
        facts: list[SetDone] = []
        if files.log is not None:
            facts = list(read_sets(files.log, catalogue, lifter).value)
    assert lifter.start is not None
    return make_problem(
        lifter,
        catalogue,
        policy,
        log=log_facts(lifter, facts, catalogue, PlanningLimits(policy)),
        gentle=is_gentle(lifter, facts, policy),
        known=known_lifts(lifter.start, facts, policy),
        carried=PEOPLE[name],
    )


def _person(name: str) -> Iterator[str]:
    problem = problem_of(name)
    frame = make_frame(problem, choose_visits(problem))
    yield f"== {name}"
    yield from _frame(problem, frame)
    yield from _lifts(problem)
    week = week_variables(problem, frame, problem.budget_s)
    for kind, every in WEEKS.items():
        sets = dict(_drawn(week, kind, every)) if every else {}
        yield f"-- {kind}: {len(sets)} places"
        yield from _bill(week, sets)
    pairs = new_pairs(week, sets, (), problem.budget_s, mains=True)
    yield from (f"{_pair(week, pair)}" for pair in pairs)
    yield from _bill(week_variables(problem, frame, problem.budget_s, pairs, eased=True), sets)


def _frame(problem: Problem, frame: Frame) -> Iterator[str]:
    for slot in frame.visits:
        said = [f"{b} heavy" if (slot, b) in frame.heavy else b for b in frame.roles[slot]]
        yield f"{problem.slots[slot].day} {problem.slots[slot].start_time}: {', '.join(said)}"
    for muscle, aim in problem.aims.items():
        yield f"{muscle}: {aim.start} to {aim.end} of {aim.most}; {aim.floor}, {aim.logged}"


def _lifts(problem: Problem) -> Iterator[str]:
    offered: dict[str, list[str]] = {}
    for option in problem.options:
        end = " end" * option.at_the_end
        offered.setdefault(option.lift.name, []).append(
            f"{option.zone} {option.reps.low}-{option.reps.high}{end}, {option.time.fixed_s}"
            f"+{option.time.per_set_s} s, {problem.first_most(option)}-{problem.most_sets(option)}"
        )
    for name, ranges in offered.items():
        yield f"{name} ({problem.scores.get(name)}): {'; '.join(ranges)}"


def _drawn(week: WeekVariables, kind: str, every: int) -> Iterator[tuple[int, tuple[int, int]]]:
    for at, (place, option) in enumerate(zip(week.places, week.options, strict=True)):
        said = f"{kind} {place.slot} {option.lift.name} {option.zone} {option.reps.low}"
        draw = crc32(said.encode())
        if draw % every == 0:
            first = 1 + draw // 16 % 4
            yield at, (first, max(1, first - 1 + draw // 256 % 4))


def _pair(week: WeekVariables, pair: PlacePair) -> str:
    one, two = week.options[pair.first].lift.name, week.options[pair.second].lift.name
    return f"in turn: {one} and {two}, {pair.time.saved_s} s a round, {pair.time.change_s} s"


def _bill(week: WeekVariables, sets: Mapping[int, tuple[int, int]]) -> Iterator[str]:
    """By tier and rule: units missed, and their points."""
    owed: dict[str, list[int]] = {}
    for rule, units in week.broken(week.values(sets)):
        line = owed.setdefault(f"{rule.tier} {rule.code}", [0, 0])
        line[0] += units
        line[1] += units * rule.price
    for what, (units, points) in sorted(owed.items()):
        yield f"{what}: {units}, {points}"
