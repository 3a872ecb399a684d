"""Studies of the composer: a coach's rules and the hard rules on invented people, by checkers that
share no code with it."""

import json
import math
import statistics
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field, replace
from datetime import timedelta
from pathlib import Path

import numpy as np

from blockwright.engine.errors import Clash
from blockwright.engine.planning import QUICK, USUAL, Budget
from blockwright.engine.training import Lifter, SetDone
from blockwright.files.block_json import block_to_json
from blockwright.files.catalogue import builtin_catalogue, catalogue_for
from blockwright.files.json_text import dumps
from blockwright.files.policy_files import default_policy
from blockwright.verbs.compose_block import composed, plan_block
from blockwright.verbs.list_lifts import Narrowing, lifts_document
from coach_people import write_people
from coach_people.logs import HEADER
from coach_rules import Check, checks_of, read_plan
from plan_checker import findings_of
from studies.continuity_study import train
from studies.made_up_lifters import made_up_lifter
from studies.simulate_block import HardLife, Person, capacity, person_of
from studies.worlds import CLEAN

CHECKED_LIFTERS = 60
FEW_FINDINGS = 2


def planning_study() -> str:
    """A coach's rules kept by the blocks of the invented people of `tests/coach_people`."""
    lifts = json.loads(dumps(lifts_document(Narrowing())[0]))
    checks: list[Check] = []
    seconds, findings, hard = [], [], 0
    with tempfile.TemporaryDirectory() as folder:
        for files in write_people(Path(folder), ()):
            began = time.process_time()
            block = plan_block(files.lifter, files.log, files.checkins).value
            seconds.append(time.process_time() - began)
            texts = [
                path.read_text(encoding="utf-8") if path else ""
                for path in (files.log, files.checkins)
            ]
            plan = read_plan(json.loads(dumps(block_to_json(block))), lifts, *texts)
            found = list(checks_of(plan))
            findings.append(sum(not check.kept for check in found))
            hard += len(findings_of(block, catalogue_for(block.lifter), default_policy()))
            checks += found
    return "\n".join(_told(checks, seconds, findings, hard))


def _told(checks: list[Check], seconds: list[float], findings: list[int], hard: int) -> list[str]:
    looked = Counter(check.rule for check in checks)
    broken = Counter(check.rule for check in checks if not check.kept)
    kept = len(checks) - sum(broken.values())
    few = sum(count <= FEW_FINDINGS for count in findings)
    return [
        f"{len(findings)} invented people (`tests/coach_people`), read by `tests/coach_rules`: "
        f"{kept} of {len(checks)} of a coach's rules kept ({100 * kept / len(checks):.1f} %), "
        f"at most {FEW_FINDINGS} findings on {few} blocks, {hard} hard rules broken. Composed in "
        f"{statistics.median(seconds):.1f} s of one core (median), {max(seconds):.1f} s (worst).",
        "",
        "| rule | kept |",
        "|---:|---:|",
        *(
            f"| {rule} | {looked[rule] - broken[rule]} of {looked[rule]} |"
            for rule in sorted(looked)
        ),
    ]


# ------------------------------------------------------------------------- invented lifters


@dataclass(slots=True)
class Counted:
    """What the blocks of invented lifters come to."""

    good: int = 0
    clashes: int = 0
    kept: int = 0
    checks: int = 0
    few: int = 0
    seconds: list[float] = field(default_factory=list)
    of_ceiling: list[float] = field(default_factory=list)
    """Last-week sets of each lead, as a share of its ceiling."""
    broken: list[str] = field(default_factory=list)
    by_rule: Counter[int] = field(default_factory=Counter)


def checked_lifters_study(count: int = CHECKED_LIFTERS, budget: Budget = USUAL) -> str:
    """Blocks for `count` invented lifter files, every second with a log: a coach's rules, the hard
    rules by the checker of `plan_checker.py`, seconds, and how far leads get."""
    lifts = json.loads(dumps(lifts_document(Narrowing())[0]))
    alone, logged = Counted(), Counted()
    for seed in range(count):
        with_log = bool(seed % 2)
        _check_one(seed, lifts, logged if with_log else alone, budget, with_log=with_log)
    rows = [("without a log", alone), ("with a log", logged)]
    broken = [line for _, sums in rows for line in sums.broken]
    rules = alone.by_rule + logged.by_rule
    return "\n".join(
        [
            f"{count} invented lifter files (1-14 slots, six kits, pins, limits, every allowance); "
            "every second one has trained an easier block before, as printed. Odd files on "
            "purpose: one slot, a bare floor, five pins.",
            "",
            "| lifters | blocks | clash | hard rules all kept | a coach's rules kept "
            "| at most 2 findings | CPU s, median / worst | leads' last week, share of ceiling |",
            "|---|---:|---:|---:|---:|---:|---:|---:|",
            *(_row(name, sums) for name, sums in rows),
            "",
            "Broken most: "
            + ", ".join(f"rule {rule} ({times})" for rule, times in rules.most_common(5))
            + ".",
            "",
            *broken,
        ]
    ).strip()


def _row(name: str, sums: Counted) -> str:
    blocks = len(sums.seconds)
    if not blocks:
        return f"| {name} | 0 | {sums.clashes} | | | | | |"
    leads = f"{100 * statistics.mean(sums.of_ceiling):.0f} %" if sums.of_ceiling else ""
    return (
        f"| {name} | {blocks} | {sums.clashes} | {sums.good} of {blocks} "
        f"| {100 * sums.kept / sums.checks:.1f} % of {sums.checks} | {sums.few} of {blocks} "
        f"| {statistics.median(sums.seconds):.1f} / {max(sums.seconds):.1f} | {leads} |"
    )


def _check_one(
    seed: int, lifts: dict[str, object], sums: Counted, budget: Budget, *, with_log: bool
) -> None:
    catalogue, policy = builtin_catalogue(), default_policy()
    lifter = made_up_lifter(seed, catalogue)
    try:
        facts = _log_before(lifter) if with_log else []
        began = time.process_time()
        block = composed(lifter, facts, budget=budget)
    except Clash:
        sums.clashes += 1
        return
    sums.seconds.append(time.process_time() - began)
    findings = findings_of(block, catalogue, policy)
    sums.good += not findings
    if findings:
        sums.broken.append(f"- lifter {seed}: {findings[0]} ({len(findings)} findings)")
    text = "\n".join([HEADER, *map(_log_row, facts), ""]) if facts else ""
    checks = list(checks_of(read_plan(json.loads(dumps(block_to_json(block))), lifts, text)))
    wrong = [check.rule for check in checks if not check.kept]
    sums.kept, sums.checks = sums.kept + len(checks) - len(wrong), sums.checks + len(checks)
    sums.few += len(wrong) <= FEW_FINDINGS
    sums.by_rule.update(wrong)
    last = block.weeks[-2].muscle_sets
    sums.of_ceiling += [
        sets.fractional / sets.ceiling
        for muscle, sets in last.items()
        if lifter.emphasis_of(muscle) == "lead"
    ]


def _log_before(lifter: Lifter) -> list[SetDone]:
    """The four build weeks of an easier block before the start, trained as printed."""
    assert lifter.start is not None
    easier = replace(lifter, start=lifter.start - timedelta(weeks=4), weeks=4, emphasis={}, pins=())
    block = composed(easier, budget=QUICK)
    builds = tuple(week for week in block.weeks if week.kind == "build")
    started = replace(block, weeks=builds)
    person = person_of(0, started, CLEAN, HardLife(), np.random.default_rng(0))
    _halve_what_one_hand_lifts(person)
    train(person)
    return [done for done in person.sets if done.first_reps > 0]


def _halve_what_one_hand_lifts(person: Person) -> None:
    """The worlds draw a lift's strength as a bar's; a hand holds half of it."""
    catalogue = catalogue_for(person.block.lifter)
    names = {e.lift for w in person.block.weeks for s in w.sessions for e in s.entries}
    for lift in map(catalogue.lifts.__getitem__, sorted(names)):
        capacity(person, lift)  # draws it
        if lift.load_kind == "per_hand":
            person.strength[lift.name] -= math.log(2)


def _log_row(done: SetDone) -> str:
    rir = "" if done.rir_low is None else f"{done.rir_low:g}"
    return (
        f"{done.moment.day},{done.lift},{done.set_number},{done.load_kg:g},kg,"
        f"{done.first_reps},{rir},,straight,yes,,"
    )
