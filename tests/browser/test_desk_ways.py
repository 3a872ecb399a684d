"""Where the ways of a page stand: evenly, beside their sentence, folded where a phone is short."""

from collections.abc import Iterator

import every_page
import pytest
from chromium import phone
from phone_site import COACH, PASSWORD, Site, running_site
from playwright.sync_api import Browser, Page, expect

WIDE = {"width": 1280, "height": 900}
LINES = """one => { const range = document.createRange(); range.selectNodeContents(one.firstChild);
  return [...new Set([...range.getClientRects()].map((box) => Math.round(box.top)))]; }"""
GAPS = """() => { const words = [...document.querySelectorAll('.desk .head nav a')]
  .filter((one) => one.offsetParent !== null).map((one) => {
    const range = document.createRange(); range.selectNodeContents(one);
    return range.getBoundingClientRect(); });
  return words.slice(1).map((box, n) => box.left - words[n].right); }"""


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder = tmp_path_factory.mktemp("ways")
    with running_site(Site(folder, every_page.filled(folder))) as site:
        yield site


def signed_in(page: Page, site: Site) -> Page:
    page.goto(f"{site.address}/sign-in/")
    page.fill("#id_username", COACH)
    page.fill("#id_password", PASSWORD)
    page.click("main button")
    page.wait_for_url(f"{site.address}/")
    return page


def test_ways_stand_evenly_and_beside_what_they_answer(browser: Browser, filled: Site) -> None:
    page = signed_in(browser.new_page(viewport=WIDE), filled)
    gaps = page.evaluate(GAPS)
    assert max(gaps) - min(gaps) <= 6, gaps
    ways = page.locator(".roster .way")
    boxes = [box for way in ways.all() if (box := way.bounding_box()) is not None]
    rights = {round(box["x"] + box["width"]) for box in boxes}
    assert ways.count() > 1
    assert len(rights) == 1, rights
    # A sentence that wraps keeps its leading: the way beside it stretches no line.
    page.set_viewport_size({"width": 790, "height": 900})
    wrapped = [tops for why in page.locator(".why").all() if len(tops := why.evaluate(LINES)) > 1]
    assert wrapped, "nothing wraps at this width"
    for tops in wrapped:
        assert tops[1] - tops[0] < 30, tops

    page.goto(f"{filled.address}/lifters/{filled.told['nobody']}/review/")
    page.get_by_role("link", name="See the block, or compose one").click()
    expect(page.locator("h1")).to_have_text("No block yet")
    page.close()


def test_a_phone_is_shown_what_it_can_use_first(browser: Browser, filled: Site) -> None:
    context = phone(browser, viewport={"width": 360, "height": 640})
    page = signed_in(context.new_page(), filled)
    page.goto(f"{filled.address}/lifters/{filled.told['nobody']}/file/")
    parts = page.get_by_role("navigation", name="Parts of the file")
    expect(parts.get_by_role("link", name="Screening")).to_be_hidden()
    parts.locator("summary").tap()
    parts.get_by_role("link", name="Screening").tap()
    expect(page.locator("#part-screening")).to_be_in_viewport()
    page.goto(f"{filled.address}/evening/")
    expect(page.locator("[data-letter]").first).to_be_visible()
    expect(page.locator(".keys")).to_be_hidden()
    context.close()
