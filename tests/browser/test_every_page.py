"""Every page there is: readable by everyone, on a phone and enlarged, in light and in dark."""

from collections import defaultdict
from collections.abc import Iterator

import every_page
import pytest
from axe_playwright_python.sync_playwright import Axe
from phone_site import COACH, PASSWORD, Site, running_site
from playwright.sync_api import Browser, Page

RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
COLOURS = ["color-contrast", "link-in-text-block"]
"""What the dark scheme can break that the light one does not."""
SAME = ({"block", "block_of"}, {"review", "letter"})
"""Pages with two addresses: today's, and its own."""
BARS = "[...document.querySelectorAll('.head, .lifter_nav')].map((bar) => bar.offsetHeight)"
MOST_BARS_PX = 3 * 48 + 2
"""Three lines a finger high, and the rules below them: the site's ways and the lifter's."""
PHONE, ENLARGED = 360, 640
"""CSS pixels across: a phone, and a desk of 1280 at 200 %."""
UNLABELLED = """() => [...document.querySelectorAll('input, select, textarea')]
  .filter((one) => one.type !== 'hidden' && !one.labels.length && !one.ariaLabel)
  .map((one) => one.outerHTML.slice(0, 120))"""


@pytest.fixture(scope="module")
def filled_site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder = tmp_path_factory.mktemp("every") / "data"
    with running_site(Site(folder, every_page.filled(folder))) as site:
        yield site


def test_every_address_is_a_page_or_said_to_be_none() -> None:
    assert set(every_page.NOT_PAGES) <= set(every_page.routes())
    assert set(every_page.SIGNED_OUT) <= set(every_page.routes())


@pytest.mark.slow
def test_everyone_can_use_every_page(browser: Browser, filled_site: Site) -> None:
    context = browser.new_context(viewport={"width": PHONE, "height": 740})
    context.set_default_timeout(20_000)
    page = context.new_page()
    trouble: dict[str, list[str]] = {}
    titles: dict[str, list[str]] = defaultdict(list)
    for signed_in in (False, True):
        if signed_in:
            _sign_in(page, filled_site)
        for name, address in every_page.pages(filled_site.told, signed_in=signed_in).items():
            answer = page.goto(filled_site.address + address)
            assert answer is not None
            if answer.status != (404 if address == every_page.NOWHERE else 200):
                trouble[name] = [f"answers {answer.status}"]
                continue
            page.wait_for_selector("h1")
            titles[page.title()].append(name.removesuffix("-of-nobody-yet"))
            if found := _found(page):
                trouble[name] = found
    shared = {title: names for title, names in titles.items() if _differ(names)}
    context.close()
    assert trouble == {}
    assert shared == {}


def _differ(names: list[str]) -> bool:
    return len(set(names)) > 1 and set(names) not in SAME


def _sign_in(page: Page, site: Site) -> None:
    page.goto(f"{site.address}/sign-in/")
    page.fill("#id_username", COACH)
    page.fill("#id_password", PASSWORD)
    page.click("main button")
    page.wait_for_url(f"{site.address}/")


def _found(page: Page) -> list[str]:
    """What is wrong with the page that is open, in words."""
    found = []
    if not page.title().strip():
        found.append("no title")
    if (count := page.locator("h1").count()) != 1:
        found.append(f"{count} h1")
    found += [f"no label: {one}" for one in page.evaluate(UNLABELLED)]
    for scheme, what in (("light", RULES), ("dark", COLOURS)):
        page.emulate_media(color_scheme=scheme)
        kind = "tag" if scheme == "light" else "rule"
        asked = {"runOnly": {"type": kind, "values": what}, "resultTypes": ["violations"]}
        violations = Axe().run(page, options=asked).response["violations"]
        found += [f"{scheme}: {one['id']}: {one['nodes'][0]['html'][:160]}" for one in violations]
    for across in (ENLARGED, PHONE):
        page.set_viewport_size({"width": across, "height": 740})
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > across:
            found.append(f"scrolls sideways at {across}: {width} wide")
    if (bars := sum(page.evaluate(BARS))) > MOST_BARS_PX:
        found.append(f"bars of {bars} px on a phone")
    return found
