"""The system's Chromium, for browser tests and what measures the page."""

import os
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from phone_site import NAME, PASSWORD, Site
from playwright.sync_api import Browser, BrowserContext, Page, Route, sync_playwright

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage",
)  # fmt: skip
SIZE = {"width": 360, "height": 740}
MOST_TABS = 300


WHOLE = ("chromium", "google-chrome")
BARE = "chromium-headless-shell"
"""The same browser without its own windows, which nobody sees: a page takes half the processor."""


def chromium_path(*, bare: bool = False) -> str | None:
    named = os.environ.get("BLOCKWRIGHT_CHROMIUM")
    found = [shutil.which(name) for name in ((BARE, *WHOLE) if bare else (*WHOLE, BARE))]
    return named or next(filter(None, found), None)


@contextmanager
def chromium(*, bare: bool = False) -> Iterator[Browser]:
    """Benchmarks and pictures take the whole browser, as a reader has it; tests the bare one."""
    path = chromium_path(bare=bare)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        try:
            yield browser
        finally:
            browser.close()


def phone(browser: Browser, **more: Any) -> BrowserContext:
    """A phone of its own: its own store, cookies and worker."""
    facts: dict[str, Any] = {"viewport": SIZE, "has_touch": True, "is_mobile": True}
    context = browser.new_context(**(facts | more))
    context.set_default_timeout(15_000)
    return context


def sign_in(page: Page, site: Site, name: str = NAME, at: str | None = "/phone/") -> None:
    """By the form the first time; whoever is in already brings the cookies of that time, and stands
    at no page yet without `at`."""
    if name in site.cookies:
        page.context.add_cookies(
            [
                {"name": one, "value": value, "url": site.address}
                for one, value in site.cookies[name].items()
            ]
        )
        if at is not None:
            page.goto(site.address + at)
    else:
        page.goto(f"{site.address}/sign-in/?next={at or '/'}")
        page.fill("#id_username", name)
        page.fill("#id_password", PASSWORD)
        page.click("main button")
        page.wait_for_url(f"{site.address}{at or '/'}")
        site.cookies[name] = {one["name"]: one["value"] for one in page.context.cookies()}
    if at == "/phone/":
        ready(page)


def ready(page: Page) -> None:
    """Returns when the page has drawn itself from the phone's store."""
    page.wait_for_selector("#sheet h1")


def kept_by_worker(page: Page) -> None:
    page.wait_for_function(
        "() => navigator.serviceWorker.ready.then(() => !!navigator.serviceWorker.controller)"
    )


def open_sheet(page: Page, site: Site, lifter: str = "ines") -> None:
    page.goto(f"{site.address}/phone/#{site.key(lifter)}")
    page.wait_for_selector("ol.lifts")


def tab_to(page: Page, wanted: str) -> None:
    """Presses Tab until the element has the focus, as somebody without a mouse must."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.locator(f"{wanted}:focus").count():
            return
    raise AssertionError(f"the keyboard never came to {wanted} on {page.url}")


def held(page: Page, routes: list[Route]) -> Route:
    """The first request that a test holds back, once it has come."""
    ends = time.monotonic() + 15
    while not routes:
        assert time.monotonic() < ends, "no such request came"
        page.wait_for_timeout(20)
    return routes[0]
