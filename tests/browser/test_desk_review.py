"""The review in a real browser: a letter written, read, decided on and followed to the next sheet
with the keyboard alone, and without script; nothing for axe to find."""

from collections.abc import Iterator
from typing import Any

import pytest
import review_site
from axe_playwright_python.sync_playwright import Axe
from chromium import tab_to
from phone_site import COACH, PASSWORD, Site, running_site
from playwright.sync_api import Browser, Page, expect

WIDE, NARROW = {"width": 1280, "height": 900}, {"width": 360, "height": 740}
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SMALL = """() => [...document.querySelectorAll('main button, main a, main input, main select, main summary')]
  .filter((one) => one.offsetParent !== null && !['radio', 'hidden'].includes(one.type))
  .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
  .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
  .map(([html, box]) => `${html} ${box.width}x${box.height}`)"""  # noqa: E501
LOOKS: dict[str, list[tuple[Any, Any]]] = {
    "offered": [(NARROW, "light")],
    "written": [(WIDE, "light"), (NARROW, "dark")],
    "decided": [(WIDE, "dark")],
}


@pytest.fixture
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder = tmp_path_factory.mktemp("review")
    with running_site(Site(folder, review_site.filled(folder))) as site:
        yield site


def opened(browser: Browser, desk: Site, **more: Any) -> Page:
    """A desk without script: nothing of the review needs any."""
    context = browser.new_context(java_script_enabled=False, **more)
    context.set_default_timeout(15_000)
    page = context.new_page()
    page.goto(f"{desk.address}/sign-in/")
    page.fill("#id_username", COACH)
    page.fill("#id_password", PASSWORD)
    page.click("main button")
    page.wait_for_url(f"{desk.address}/")
    return page


@pytest.mark.slow
def test_the_keyboard_alone_reads_and_accepts_a_letter(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk, viewport=WIDE)
    row = f"/lifters/{desk.told['lifter']}"
    tab_to(page, f"a.way[href='{row}/review/']")
    page.keyboard.press("Enter")
    tab_to(page, "button:text('Write the letter')")
    page.keyboard.press("Enter")
    expect(page.locator("article.letter h2")).to_contain_text("letter for week 2")

    # One line is changed with words; what cannot be done is said there, and kept.
    line = "[data-line]:has(select)"
    name = page.locator(line).first.get_attribute("id")
    tab_to(page, f"#{name} summary")
    page.keyboard.press("Enter")
    tab_to(page, f"#{name} input[value=accepted]")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(page.locator(f"#{name} input[value=changed]").first).to_be_checked()
    tab_to(page, f"#{name} .with_unit input")
    page.keyboard.type("999")
    tab_to(page, f"#{name} input[name^=words]")
    page.keyboard.type("heavier")
    page.keyboard.press("Enter")
    expect(page.locator(f"#{name} .wrong")).to_be_visible()
    expect(page.locator(f"#{name} input[name^=words]").first).to_have_value("heavier")
    page.goto(page.url)
    tab_to(page, f"#{name} button[name=decline]")
    page.keyboard.press("Enter")
    expect(page.locator(f"#{name} .verdict")).to_have_text("Declined")

    tab_to(page, "button:text('Accept the rest')")
    page.keyboard.press("Enter")
    expect(page.locator("#decided")).to_contain_text("Every line is decided")
    expect(page.locator("article.letter")).to_contain_text("leg curl 4 of 10")
    tab_to(page, "a:text('The next sheet')")
    page.keyboard.press("Enter")
    page.wait_for_url("**/phone/#**")
    expect(page.locator("main")).to_be_visible()
    page.context.close()


@pytest.mark.slow
def test_axe_finds_nothing_and_everything_fits(browser: Browser, desk: Site) -> None:
    row = f"{desk.address}/lifters/{desk.told['lifter']}"
    writer = opened(browser, desk, viewport=WIDE)
    pages = ["/", "/evening/", f"/lifters/{desk.told['lifter']}/review/"]
    for step in ("offered", "written", "decided"):
        if step == "written":
            writer.goto(f"{row}/review/")
            writer.click("text=Write the letter")
            pages = [*pages, f"/lifters/{desk.told['lifter']}/ledger/?verdict=open"]
        if step == "decided":
            writer.click("button[name=accept_all]")
            expect(writer.locator("#decided")).to_be_visible()
        for size, scheme in LOOKS[step]:
            _looked_at(browser, desk, pages, size, scheme, step)
    writer.context.close()


def _looked_at(
    browser: Browser, desk: Site, pages: list[str], size: Any, scheme: Any, step: str
) -> None:
    context = browser.new_context(viewport=size, color_scheme=scheme)
    page = context.new_page()
    page.goto(f"{desk.address}/sign-in/")
    page.fill("#id_username", COACH)
    page.fill("#id_password", PASSWORD)
    page.click("main button")
    page.wait_for_url(f"{desk.address}/")
    for address in pages:
        page.goto(desk.address + address)
        for summary in page.locator("main details:not(.more) > summary").all()[:3]:
            summary.click()
        found = Axe().run(page, options={"runOnly": RULES}).response["violations"]
        told = [(one["id"], one["nodes"][0]["html"][:160]) for one in found]
        assert told == [], f"{address}, {step}, {scheme}"
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], address
        assert page.evaluate(SMALL) == [], address
    context.close()
