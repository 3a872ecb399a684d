"""A running site and the system's Chromium for every browser test."""

import asyncio
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import chromium as chrome
import pytest
from phone_site import Site, filled, running_site
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, expect

from made_once import made_once, shared
from site_process import begun

Filler = Callable[[Path], dict[str, Any]]
Copier = Callable[[Filler], Site]

# Two processes and the server share two cores: what is awaited may take its time.
expect.set_options(timeout=15_000)


@pytest.fixture(scope="session")
def _one_browser() -> Iterator[tuple[Browser, asyncio.AbstractEventLoop]]:
    """Started once by each process of a run."""
    if chrome.chromium_path() is None:
        words = "CHROMIUM IS MISSING: the phone page is not tested in a browser"
        if os.environ.get("CI"):
            pytest.fail(words)
        pytest.skip(words)
    with chrome.chromium(bare=True) as running:
        loop = asyncio.get_running_loop()
        asyncio._set_running_loop(None)
        yield running, loop
        asyncio._set_running_loop(loop)


@pytest.fixture(scope="module")
def browser(_one_browser: tuple[Browser, asyncio.AbstractEventLoop]) -> Iterator[Browser]:
    """Its loop runs only while a file asks for it: it forbids every test of the database."""
    running, loop = _one_browser
    asyncio._set_running_loop(loop)
    yield running
    asyncio._set_running_loop(None)


@pytest.fixture(scope="session")
def filled_copy(tmp_path_factory: pytest.TempPathFactory) -> Copier:
    """Makes a site by what fills a folder: filled once a run, copied for each who asks."""

    def copied(fill: Filler) -> Site:
        name = f"filled-{fill.__module__}"
        folder = shared(name) / "data"
        told = made_once(name, lambda: fill(begun(folder)))
        copy = tmp_path_factory.mktemp("copied") / "data"
        shutil.copytree(folder, copy)
        return Site(copy, told)

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
