"""A running site and the system's Chromium for every browser test."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import chromium as chrome
import pytest
from phone_site import Site, filled, running_site
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage


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
def filled_folder(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    folder = tmp_path_factory.mktemp("filled")
    return folder, filled(folder)


@pytest.fixture(scope="module")
def shared_site(
    tmp_path_factory: pytest.TempPathFactory, filled_folder: tuple[Path, dict[str, Any]]
) -> Iterator[Site]:
    """One site for the tests of a file; each takes a lifter of its own."""
    folder = tmp_path_factory.mktemp("shared") / "data"
    shutil.copytree(filled_folder[0], folder)
    with running_site(Site(folder, filled_folder[1])) as site:
        yield site


@pytest.fixture
def site(tmp_path: Path, filled_folder: tuple[Path, dict[str, Any]]) -> Iterator[Site]:
    """A site of the test's own, to be stopped and started."""
    shutil.copytree(filled_folder[0], tmp_path / "data")
    with running_site(Site(tmp_path / "data", filled_folder[1])) as made:
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
