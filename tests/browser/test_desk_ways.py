"""Where the ways of a page stand: evenly, beside their sentence, folded where a phone is short."""

from collections.abc import Callable, Iterator

import every_page
import pytest
from chromium import phone
from phone_site import Site, running_site
from playwright.sync_api import Browser, expect
from readable import WIDE, opened, sign_in

LINES = """one => { const range = document.createRange(); range.selectNodeContents(one.firstChild);
  return [...new Set([...range.getClientRects()].map((box) => Math.round(box.top)))]; }"""
GAPS = """() => { const words = [...document.querySelectorAll('.desk .head nav a')]
  .filter((one) => one.offsetParent !== null).map((one) => {
    const range = document.createRange(); range.selectNodeContents(one);
    return range.getBoundingClientRect(); });
  return words.slice(1).map((box, n) => box.left - words[n].right); }"""


@pytest.fixture(scope="module")
def filled(filled_copy: Callable[..., Site]) -> Iterator[Site]:
    with running_site(filled_copy(every_page.filled)) as site:
        yield site


def test_ways_stand_evenly_and_beside_what_they_answer(browser: Browser, filled: Site) -> None:
    page = opened(browser, filled, WIDE)
    page.goto(filled.address)
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
    page = context.new_page()
    sign_in(page, filled)
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
