"""What every folder of tests may ask for, and in which order files are run."""

import fcntl
import gc
import os
from collections.abc import Generator, Iterator
from pathlib import Path
from typing import Any

import pytest

import made_once

TESTS = Path(__file__).parent
LONGEST = (
    "browser/test_phone_offline.py", "store/test_on_postgres.py", "api/test_contract.py",
    "browser/test_desk_block_typed.py", "demo/test_demo_site.py", "browser/test_phone_session.py",
    "server/test_archive.py", "browser/test_every_page.py", "engine/planning/test_compose.py",
    "browser/test_desk_review.py", "server/test_serve.py", "browser/test_desk_block.py",
    "browser/test_phone_newer.py", "browser/test_whole_path.py", "server/test_slow_clients.py",
    "server/test_stopping.py", "demo/test_demo.py", "web/test_odd_text.py",
    "browser/test_newcomer.py", "engine/editing/test_edits.py", "browser/test_desk_lifter.py",
    "engine/editing/test_random_walks.py", "browser/test_phone_screen.py", "web/test_access.py",
    "browser/test_phone_people.py", "web/test_large_values.py", "browser/test_evening.py",
)  # fmt: skip
"""Files by the clock, about the longest first: what is left to the end is short. Those that wait
for a server or a browser stand between those that compute."""


@pytest.fixture(scope="session", autouse=True)
def _made_once(tmp_path_factory: pytest.TempPathFactory) -> None:
    made_once.share(tmp_path_factory)


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """One process reads the tests first: what it has compiled the others find. In a fresh clone
    that takes it twice as long as reading."""
    folder = os.open(TESTS, os.O_RDONLY)
    try:
        fcntl.flock(folder, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        fcntl.flock(folder, fcntl.LOCK_SH)
    try:
        return (yield)
    finally:
        os.close(folder)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    rank = {TESTS / name: at for at, name in enumerate(LONGEST)}
    items.sort(key=lambda item: rank.get(item.path, len(rank)))


def pytest_collection_finish() -> None:
    """What is collected stays to the end: it need not be looked through again and again."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="module")
def rows_kept(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    """What a module's fixtures write after asking for this stays for all tests of the file; what
    a test writes is undone after it, as ever."""
    from django.db import transaction

    with django_db_blocker.unblock(), transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.fixture
def world(db: Any) -> Any:
    """The invented gym of `people`, stored."""
    import people

    return people.make_world()
