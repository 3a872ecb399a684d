"""Mistakes that must be noticed: each named one is made, and a test must fail."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.slow
def test_every_named_mutant_is_killed() -> None:
    done = subprocess.run(
        [sys.executable, str(ROOT / "tools" / "mutate.py"), "--named"],
        capture_output=True,
        text=True,
        cwd=ROOT,
    )
    assert done.returncode == 0, done.stdout + done.stderr
