"""A running site and the system's Chromium for every browser test."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import chromium as chrome
import pytest
from phone_site import Site, filled, running_site
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, expect

Filler = Callable[[Path], dict[str, Any]]
Copier = Callable[[Filler], Site]

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
    kept: dict[Filler, tuple[Path, dict[str, Any]]] = {}

    def copied(fill: Filler) -> Site:
        if fill not in kept:
            folder = tmp_path_factory.mktemp("filled") / "data"
            kept[fill] = folder, fill(folder)
        copy = tmp_path_factory.mktemp("copied") / "data"
        shutil.copytree(kept[fill][0], copy)
        return Site(copy, kept[fill][1])

    return copied


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
    trouble: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type == "error" and "Failed to load resource" not in message.text:
            trouble.append(message.text)

    made = chrome.phone(browser)
    made.on("console", heard)
    made.on("weberror", lambda error: trouble.append(str(error.error)))
    yield made
    made.close()
    assert trouble == []
