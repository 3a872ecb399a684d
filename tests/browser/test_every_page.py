"""Every page there is: readable by everyone, on a phone and enlarged, in light and in dark."""

from collections import defaultdict
from collections.abc import Callable, Iterator

import every_page
import pytest
from phone_site import Site, running_site
from playwright.sync_api import Browser, Page
from readable import COLOURS, EVERY_RULE, broken, sign_in

SAME = {"block": "block_of", "review": "letter"}
"""Pages with two addresses, today's and its own; looked at under the first."""
BARS = "[...document.querySelectorAll('.head, .lifter_nav')].map((bar) => bar.offsetHeight)"
MOST_BARS_PX = 3 * 48 + 2
"""Three lines a finger high, and the rules below them: the site's ways and the lifter's."""
PHONE, ENLARGED, NARROWEST = 360, 640, 320
"""CSS pixels across: a phone, and a desk of 1280 at 200 % and at 400 %."""
MOVES = """() => {
  for (const one of document.querySelectorAll('main details:not(.more)')) one.open = true;
  return [...document.querySelectorAll('.region')]
    .filter((one) => one.scrollWidth > one.clientWidth).map((one) => one.ariaLabel ?? one.id)
    .filter((name) => !name.startsWith('Sets beside the cells'));
}"""
"""Tables wider than their place, whatever is folded opened; a coach's own spreadsheet may be."""
LIES_OVER = """() => {
  const drawn = (one) => {
    const words = document.createTreeWalker(one, NodeFilter.SHOW_TEXT), found = [];
    for (let text; (text = words.nextNode());) {
      if (text.parentElement.closest('.unseen')) continue;
      const range = document.createRange();
      range.selectNodeContents(text);
      found.push(...range.getClientRects());
    }
    return found;
  };
  const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2
    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4;
  return [...document.querySelectorAll('main li, main tr')].flatMap((row) => {
    const words = [...row.children].filter((one) => one.checkVisibility());
    return words.filter((one, at) => at > 0
      && drawn(one).some((a) => drawn(words[at - 1]).some((b) => meet(a, b))))
      .map((one) => row.innerText.slice(0, 60));
  });
}"""
"""Rows of lists and tables in which a part is drawn over the one before it."""
UNLABELLED = """() => [...document.querySelectorAll('input, select, textarea')]
  .filter((one) => one.type !== 'hidden' && !one.labels.length && !one.ariaLabel)
  .map((one) => one.outerHTML.slice(0, 120))"""


@pytest.fixture(scope="module")
def filled_site(filled_copy: Callable[..., Site]) -> Iterator[Site]:
    with running_site(filled_copy(every_page.filled)) as site:
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
            sign_in(page, filled_site)
        for name, address in every_page.pages(filled_site.told, signed_in=signed_in).items():
            answer = page.goto(filled_site.address + address)
            assert answer is not None
            if answer.status != (404 if address == every_page.NOWHERE else 200):
                trouble[name] = [f"answers {answer.status}"]
                continue
            page.wait_for_selector("h1")
            titles[page.title()].append(name.removesuffix("-of-nobody-yet"))
            if name not in SAME.values() and (found := _found(page)):
                trouble[name] = found
    shared = {title: names for title, names in titles.items() if _differ(names)}
    context.close()
    assert trouble == {}
    assert shared == {}


def _differ(names: list[str]) -> bool:
    return len(set(names)) > 1 and set(names) not in [set(one) for one in SAME.items()]


def _found(page: Page) -> list[str]:
    """What is wrong with the page that is open, in words."""
    found = []
    if not page.title().strip():
        found.append("no title")
    if (count := page.locator("h1").count()) != 1:
        found.append(f"{count} h1")
    found += [f"no label: {one}" for one in page.evaluate(UNLABELLED)]
    for scheme, rules in (("light", EVERY_RULE), ("dark", COLOURS)):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        found += [f"{scheme}: {one}" for one in broken(page, rules)]
    for across in (ENLARGED, NARROWEST):
        page.set_viewport_size({"width": across, "height": 740})
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > across:
            found.append(f"scrolls sideways at {across}: {width} wide")
    found += [f"{one} moves sideways" for one in page.evaluate(MOVES)]
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    if (width := page.evaluate("document.documentElement.scrollWidth")) > NARROWEST:
        found.append(f"text of twice the size scrolls sideways: {width} wide")
    page.evaluate("document.documentElement.style.fontSize = ''")
    page.set_viewport_size({"width": PHONE, "height": 740})
    found += [f"{one} lies over another word" for one in page.evaluate(LIES_OVER)]
    page.emulate_media(media="print")
    if page.locator(".lifter_nav").count() and not page.locator(".lifter_nav .who").is_visible():
        found.append("nobody's name on paper")
    if page.locator("main :is(input, summary:has(+ form)):visible").count():
        found.append("a form on paper")
    page.emulate_media(media="screen")
    if (bars := sum(page.evaluate(BARS))) > MOST_BARS_PX:
        found.append(f"bars of {bars} px on a phone")
    return found
