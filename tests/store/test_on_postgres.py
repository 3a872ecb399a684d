"""The same tests on a real PostgreSQL, started here: those that meet what a database decides.

Text it cannot keep, order, uniqueness, two who write at once, what goes in and comes out. What a
page says is the same on any database and is tested once, beside the page.
"""

import os
import subprocess
import sys
import warnings
from pathlib import Path

import pytest

import throwaway_postgres

TESTS = Path(__file__).resolve().parents[1]
LETTERS = (
    "the_same_inputs_give_the_same_letter_which_is_stored_once",
    "what_another_coach_decided_meanwhile_is_not_overwritten",
    "the_same_form_sent_twice_is_one_decision",
    "the_ledger_tells_decisions_and_changes_by_hand_in_order",
)
HOME = (
    "people_stand_in_the_order_of_who_needs_the_coach", "a_name_is_found_among_many",
)  # fmt: skip
RUN = (
    "store", "api/test_sync.py", "api/test_phone.py", "verbs/test_save_lifter.py",
    "api/test_odd_events.py", "web/test_odd_text.py",
    *(f"verbs/test_letters.py::test_{name}" for name in LETTERS),
    "accounts", "api/test_desk_api.py", "api/test_desk_verbs.py",
    "web/test_files_in_and_out.py", "web/test_sharing.py",
    *(f"web/test_home_page.py::test_{name}" for name in HOME),
)  # fmt: skip
COUNTED = (
    "one_address_alone_cannot_lock_a_name_out_elsewhere", "failures_of_another_day_count_no_more",
    "an_address_runs_out_of_guesses_whatever_names_it_tries",
)  # fmt: skip
"""Of `accounts/test_throttle.py`: hundreds of sign-ins each; one that counts them is enough."""
READ = "tests/web/test_odd_text.py::test_every_address_bears_odd_text[long]"
"""A long text in an address is looked for and written nowhere: any database answers it alike."""


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
                *(f"--deselect=tests/accounts/test_throttle.py::test_{name}" for name in COUNTED),
                f"--deselect={READ}",
            ],
            cwd=TESTS.parent,
            env=os.environ | {"BLOCKWRIGHT_DATABASE_URL": url},
            capture_output=True,
            text=True,
            timeout=900,
        )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    assert "passed" in done.stdout or done.stdout.count(".") > 100
