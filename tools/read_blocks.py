"""Plans a block for each invented lifter of `tests/coach_people` and reads it as a coach would.

`python tools/read_blocks.py [--keep FOLDER] [PERSON…]` prints what each block breaks of a coach's
rules (`tests/coach_rules`) and of the hard rules (`tests/plan_checker.py`), and the share kept.
With `--keep` the files and blocks stay in FOLDER, and a block found there is read, not planned.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from blockwright.files.block_json import read_block  # noqa: E402
from blockwright.files.catalogue import catalogue_for  # noqa: E402
from blockwright.files.policy_files import default_policy  # noqa: E402
from coach_people import Files, write_people  # noqa: E402
from coach_rules import Check, Plan, check_warm_ups, checks_of, read_plan  # noqa: E402
from plan_checker import findings_of as hard_findings_of  # noqa: E402


def main() -> int:
    """Exit code: 0, or 1 when nothing could be planned."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("people", nargs="*", help="keys of people; all when none is named")
    parser.add_argument("--keep", type=Path, help="a folder for files and blocks")
    parser.add_argument("--warm-ups", action="store_true", help="week one's sheets too (slow)")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        folder = asked.keep or Path(temporary)
        lifts = json.loads(_command("lifts", "--json").stdout)
        people = write_people(folder, tuple(asked.people))
        read = [_read(files, folder, lifts, warm_ups=asked.warm_ups) for files in people]
    blocks = [checks for checks in read if checks]
    _print_sums(blocks)
    return 0 if blocks else 1


def _command(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "blockwright", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def _read(files: Files, folder: Path, lifts: Any, *, warm_ups: bool) -> list[Check]:
    """Every check of one person's block; prints what it breaks."""
    key, block = files.person.key, folder / f"{files.person.key}.json"
    options = [
        *(["--facts", str(files.log)] if files.log else []),
        *(["--checkins", str(files.checkins)] if files.checkins else []),
    ]
    began = time.perf_counter()
    if not block.exists():
        done = _command("plan", str(files.lifter), *options, "-o", str(block))
        if done.returncode:
            print(f"\n{key}: not planned\n  {(done.stderr or done.stdout).strip()[:400]}")
            return []
    seconds = time.perf_counter() - began
    texts = [
        path.read_text(encoding="utf-8") if path else "" for path in (files.log, files.checkins)
    ]
    plan = read_plan(json.loads(block.read_text(encoding="utf-8")), lifts, *texts)
    checks = list(checks_of(plan))
    if warm_ups:
        checks += _warm_ups(plan, block, options)
    _print_findings(key, checks, _hard(block), seconds)
    return checks


def _warm_ups(plan: Plan, block: Path, options: list[str]) -> list[Check]:
    checks: list[Check] = []
    for session in plan.first.sessions:
        place = ["--week", "1", "--session", str(session.number)]
        done = _command("sheet", str(block), *place, *options, "--json")
        if done.returncode == 0:
            checks += check_warm_ups(plan, json.loads(done.stdout))
    return checks


def _hard(block: Path) -> list[str]:
    read = read_block(block)
    return hard_findings_of(read, catalogue_for(read.lifter), default_policy())


def _print_findings(key: str, checks: list[Check], hard: list[str], seconds: float) -> None:
    broken = sorted((c for c in checks if not c.kept), key=lambda check: check.rule)
    kept = len(checks) - len(broken)
    print(f"\n{key}: {kept} of {len(checks)} kept ({kept / len(checks):.1%}), {seconds:.1f} s")
    for check in broken:
        place = f"week {check.week}" if check.week else ""
        place += f" session {check.session}" if check.session else ""
        print(f"  {check.rule:>2}  {place:<17} {check.words}")
    for words in hard:
        print(f"  hard                 {words}")
    sys.stdout.flush()


def _print_sums(blocks: list[list[Check]]) -> None:
    checks = [check for block in blocks for check in block]
    looked, broken = Counter(c.rule for c in checks), Counter(c.rule for c in checks if not c.kept)
    print("\nrule  kept")
    for rule in sorted(looked):
        print(f"{rule:>4}  {looked[rule] - broken[rule]} of {looked[rule]}")
    if checks:
        kept = sum(c.kept for c in checks)
        print(f" all  {kept} of {len(checks)}, {kept / len(checks):.1%}")
        broken_by_block = sorted(sum(not c.kept for c in block) for block in blocks)
        few = sum(count <= 2 for count in broken_by_block)
        print(f"{len(blocks)} blocks, findings a block {broken_by_block}, at most two on {few}")


if __name__ == "__main__":
    sys.exit(main())
