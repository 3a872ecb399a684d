"""Schemathesis, all its checks, against the running server: signed out, and with a session.

A bounded slice of what `make contract` runs at length.
"""

from collections.abc import Iterator
from pathlib import Path

import contract
import pytest

from site_process import begun

EXAMPLES, ONE_IN = 2, 24
MOST_REFUSED = 6
"""Calls that may only have met refusals: what a run changes early (a lifter renamed, a block with a
newer revision, a search on its way) closes some doors to what it asks later, and which ones depends
on how quick the machine is. Every call has a test of its own beside this one."""


@pytest.fixture(scope="module")
def world(tmp_path_factory: pytest.TempPathFactory) -> Iterator[contract.World]:
    folder = tmp_path_factory.mktemp("contract")
    begun(folder / "data")
    with contract.running_world(folder) as running:
        yield running


@pytest.mark.slow
def test_signed_out_nothing_is_answered_but_a_refusal(
    world: contract.World, tmp_path: Path
) -> None:
    found = contract.run(world, EXAMPLES, tmp_path, signed_in=False, phases="fuzzing")
    assert found.returncode == 0, found.stdout[-6000:] + found.stderr[-2000:]
    answered = contract.statuses(tmp_path)
    assert len(answered) > 30
    for call, statuses in answered.items():
        # Some calls are drawn with a path that is no call's.
        assert statuses <= {401, 404, 405, 413}, f"{call}: {statuses}"


@pytest.mark.slow
def test_with_a_session_everything_is_as_the_document_says(
    world: contract.World, tmp_path: Path
) -> None:
    found = contract.run(world, EXAMPLES, tmp_path, signed_in=True, one_in=ONE_IN)
    assert found.returncode == 0, found.stdout[-6000:] + found.stderr[-2000:]
    answered = contract.statuses(tmp_path)
    # A test that only ever meets refusals tests nothing.
    refused = {call for call, statuses in answered.items() if min(statuses) >= 300}
    assert len(refused) <= MOST_REFUSED, {call: answered[call] for call in refused}
    assert len(answered) >= 40
