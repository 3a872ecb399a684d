"""What is costly to make and the same for every test: made once a run, by the first of its
processes that asks; the others wait for it."""

import fcntl
import os
import pickle
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

_place: Path | None = None


def share(factory: pytest.TempPathFactory) -> None:
    """From now on things are kept in the run's own folder, which every process of it knows."""
    global _place
    base = factory.getbasetemp()
    _place = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base


def shared(name: str) -> Path:
    """A path that is the same in every process of the run."""
    assert _place is not None
    return _place / name


def made_once(name: str, make: Callable[[], Any]) -> Any:
    """What `make` gives; outside a run of tests it is made anew."""
    if _place is None:
        return make()
    file = shared(f"{name}.pickle")
    with file.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not file.exists():
            file.write_bytes(pickle.dumps(make()))
    return pickle.loads(file.read_bytes())
