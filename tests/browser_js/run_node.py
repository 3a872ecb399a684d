"""Runs node, for tests of the phone page's scripts."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

HERE = Path(__file__).parent


def node(*arguments: str, said: str = "") -> subprocess.CompletedProcess[str]:
    """The finished process. Without node the test is skipped, loudly, or fails under CI."""
    program = shutil.which("node")
    if program is None:
        words = "NODE IS MISSING: the phone page's scripts are not tested"
        if os.environ.get("CI"):
            pytest.fail(words)
        pytest.skip(words)
    return subprocess.run(
        [program, *arguments], input=said, capture_output=True, text=True, timeout=120, cwd=HERE
    )
