"""The same tests on a real PostgreSQL, started here: those that meet what a database decides.

Text it cannot keep, order, uniqueness, two who write at once, what goes in and comes out. What a
page or the phone reads is the same on any database: `server/test_archive.py` compares it.
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
    "store", "api/test_sync.py", "verbs/test_save_lifter.py",
    "api/test_odd_events.py", "web/test_odd_text.py",
    *(f"verbs/test_letters.py::test_{name}" for name in LETTERS),
    "accounts", "api/test_desk_api.py", "api/test_desk_verbs.py",
    "web/test_files_in_and_out.py", "web/test_sharing.py",
    *(f"web/test_home_page.py::test_{name}" for name in HOME),
)  # fmt: skip
ALIKE = (
    # Hundreds of sign-ins each; one that counts them is enough.
    "accounts/test_throttle.py::test_one_address_alone_cannot_lock_a_name_out_elsewhere",
    "accounts/test_throttle.py::test_failures_of_another_day_count_no_more",
    "accounts/test_throttle.py::test_an_address_runs_out_of_guesses_whatever_names_it_tries",
    "accounts/test_throttle.py::test_an_ipv6_client_is_its_whole_network",
    # A text in an address is looked for and written nowhere: one that cannot be kept is enough.
    "web/test_odd_text.py::test_every_address_bears_odd_text[long]",
    "web/test_odd_text.py::test_every_address_bears_odd_text[half]",
    # What is worked out of what was read.
    "api/test_desk_verbs.py::test_a_change_is_shown_then_kept_and_a_stale_one_refused",
    "api/test_desk_verbs.py::test_the_rest_is_searched_among_other_lifts_where_asked",
    "api/test_desk_verbs.py::test_strength_and_report_are_the_command_lines_documents",
    "api/test_desk_verbs.py::test_the_roster_says_who_comes_first_and_why",
    "web/test_files_in_and_out.py::test_a_lifter_is_made_and_fed_by_the_pages",
)
"""What any database answers alike."""


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
                *(f"--deselect=tests/{name}" for name in ALIKE),
            ],
            cwd=TESTS.parent,
            env=os.environ | {"BLOCKWRIGHT_DATABASE_URL": url},
            capture_output=True,
            text=True,
            timeout=900,
        )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    assert "passed" in done.stdout or done.stdout.count(".") > 100
