"""A running site and the system's Chromium for every browser test."""

import json
import os
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import chromium as chrome
import pytest
from phone_site import Site, filled, running_site
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, expect

Filler = Callable[[Path], dict[str, Any]]
Copier = Callable[[Filler], Site]

MOST_FILLING_S = 120
# Two processes and the server share two cores: what is awaited may take its time.
expect.set_options(timeout=15_000)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if chrome.chromium_path() is None:
        words = "CHROMIUM IS MISSING: the phone page is not tested in a browser"
        if os.environ.get("CI"):
            pytest.fail(words)
        pytest.skip(words)
    with chrome.chromium() as running:
        yield running


@pytest.fixture(scope="session")
def filled_copy(tmp_path_factory: pytest.TempPathFactory) -> Copier:
    """Makes a site by what fills a folder: filled once, copied for each who asks."""
    base = tmp_path_factory.getbasetemp()
    # Beside the folders of the test processes, where there are several.
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base

    def copied(fill: Filler) -> Site:
        folder, told = _filled_once(shared / f"filled-{fill.__module__}", fill)
        copy = tmp_path_factory.mktemp("copied") / "data"
        shutil.copytree(folder, copy)
        return Site(copy, told)

    return copied


def _filled_once(place: Path, fill: Filler) -> tuple[Path, dict[str, Any]]:
    """By the first of the test processes that comes; the other waits for it."""
    told, writing = place / "told.json", place / "writing.json"
    try:
        place.mkdir()
    except FileExistsError:
        ends = time.monotonic() + MOST_FILLING_S
        while not told.exists():
            assert time.monotonic() < ends, f"{place} is not filled"
            time.sleep(0.1)
    else:
        writing.write_text(json.dumps(fill(place / "data")), encoding="utf-8")
        writing.rename(told)
    return place / "data", json.loads(told.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def shared_site(filled_copy: Copier) -> Iterator[Site]:
    """One site for the tests of a file; each takes a lifter of its own."""
    with running_site(filled_copy(filled)) as site:
        yield site


@pytest.fixture
def site(filled_copy: Copier) -> Iterator[Site]:
    """A site of the test's own, to be stopped and started."""
    with running_site(filled_copy(filled)) as made:
        yield made


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """One phone. What the page's scripts throw, and what the content policy refuses, fails."""
    with _heard(browser) as (made, trouble):
        yield made
    assert trouble == []


@pytest.fixture(scope="module")
def _kept_phone(browser: Browser) -> Iterator[tuple[BrowserContext, list[str]]]:
    with _heard(browser) as kept:
        yield kept


@pytest.fixture
def shared_phone(
    _kept_phone: tuple[BrowserContext, list[str]],
) -> Iterator[BrowserContext]:
    """One phone for the tests of a file, each with a page and a lifter of its own; heard as
    `context` is."""
    kept, trouble = _kept_phone
    trouble.clear()
    yield kept
    for page in kept.pages:
        page.close()
    assert trouble == []


@contextmanager
def _heard(browser: Browser) -> Iterator[tuple[BrowserContext, list[str]]]:
    trouble: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type == "error" and "Failed to load resource" not in message.text:
            trouble.append(message.text)

    made = chrome.phone(browser)
    made.on("console", heard)
    made.on("weberror", lambda error: trouble.append(str(error.error)))
    yield made, trouble
    made.close()
