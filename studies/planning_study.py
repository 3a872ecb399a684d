"""Studies of the composer: a coach's rules and the hard rules on invented people, by checkers that
share no code with it."""

import json
import statistics
import tempfile
import time
from collections import Counter
from pathlib import Path

from blockwright.engine.errors import Clash
from blockwright.engine.planning import QUICK, compose
from blockwright.files.block_json import block_to_json
from blockwright.files.catalogue import builtin_catalogue, catalogue_for
from blockwright.files.json_text import dumps
from blockwright.files.policy_files import default_policy
from blockwright.verbs.list_lifts import Narrowing, lifts_document
from blockwright.verbs.plan_block import PlanQuestion, plan_block
from coach_people import write_people
from coach_rules import Check, checks_of, read_plan
from plan_checker import findings_of
from studies.made_up_lifters import made_up_lifter

CHECKED_LIFTERS = 200
FEW_FINDINGS = 2


def planning_study() -> str:
    """A coach's rules kept by the blocks of the invented people of `tests/coach_people`."""
    lifts = json.loads(dumps(lifts_document(Narrowing())[0]))
    checks: list[Check] = []
    seconds, findings, hard = [], [], 0
    with tempfile.TemporaryDirectory() as folder:
        for files in write_people(Path(folder), ()):
            began = time.process_time()
            asked = PlanQuestion(lifter=files.lifter, facts=files.log, checkins=files.checkins)
            block = plan_block(asked).value
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


def checked_lifters_study(count: int = CHECKED_LIFTERS) -> str:
    """Blocks for `count` invented lifter files under the checker of `plan_checker.py`."""
    catalogue, policy = builtin_catalogue(), default_policy()
    clashes, good = 0, 0
    broken: list[str] = []
    for seed in range(count):
        try:
            block = compose(made_up_lifter(seed, catalogue), catalogue, policy, budget=QUICK)
        except Clash:
            clashes += 1
            continue
        findings = findings_of(block, catalogue, policy)
        good += not findings
        if findings:
            broken.append(f"- lifter {seed}: {findings[0]} ({len(findings)} findings)")
    lines = [
        f"{count} invented lifter files (1-14 slots, six kits, pins, limits, every allowance), "
        f"a small budget each: {good} blocks keep every rule, {clashes} are refused with their "
        f"clash, {len(broken)} break a rule.",
        *broken,
    ]
    return "\n".join(lines)
