"""The same tests of store, API and accounts on a real PostgreSQL, started here."""

import os
import subprocess
import sys
import warnings
from pathlib import Path

import pytest

import throwaway_postgres

TESTS = Path(__file__).resolve().parents[1]
RUN = (
    "store", "api", "accounts", "verbs/test_letters.py", "web/test_files_in_and_out.py",
    "web/test_home_page.py", "web/test_lifter_file_page.py", "web/test_lifter_page.py",
    "web/test_odd_text.py", "web/test_sharing.py", "verbs/test_save_lifter.py",
)  # fmt: skip


@pytest.mark.slow
def test_the_same_tests_hold_on_postgres() -> None:
    if throwaway_postgres.binaries() is None:
        says = "NOT TESTED ON POSTGRESQL: install it (tools/install_test_tools.sh)"
        assert not os.environ.get("CI"), says
        warnings.simplefilter("default")
        warnings.warn(says, stacklevel=1)
        pytest.skip(says)
    with throwaway_postgres.postgres() as url:
        done = subprocess.run(
            [
                sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:xdist",
                *(str(TESTS / name) for name in RUN),
                "--ignore", __file__,
            ],
            cwd=TESTS.parent,
            env=os.environ | {"BLOCKWRIGHT_DATABASE_URL": url},
            capture_output=True,
            text=True,
            timeout=900,
        )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    assert "passed" in done.stdout or done.stdout.count(".") > 100
