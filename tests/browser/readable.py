"""Pages at a desk: signed in, and readable by everyone as axe and the finger see it.

One look with every rule at each page; a second look in the other scheme asks only what a scheme
can break, and whether the page fits. `test_every_page.py` asks every rule of every page on a phone.
"""

from collections.abc import Sequence
from typing import Any, Literal

import chromium
from axe_playwright_python.base import AXE_SCRIPT
from phone_site import COACH, Site
from playwright.sync_api import Browser, Page

WIDE, NARROW = {"width": 1280, "height": 900}, {"width": 360, "height": 740}
EVERY_RULE = {
    "type": "tag",
    "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
}
COLOURS = {"type": "rule", "values": ["link-in-text-block"]}
"""What the other scheme can break that the first does not, beside the contrast of its text."""
Look = tuple[dict[str, int], Literal["light", "dark"], dict[str, Any]]
DESK_FIRST: tuple[Look, ...] = ((WIDE, "light", EVERY_RULE), (NARROW, "dark", COLOURS))
PHONE_FIRST: tuple[Look, ...] = ((NARROW, "light", EVERY_RULE), (WIDE, "dark", COLOURS))
"""How wide, in which scheme, by which rules a page is looked at: each page is opened once."""
PAINTED_ALIKE = """() => {
  const below = new Map(), alike = new Map();
  const ground = (one) => {
    if (!one) return '';
    if (!below.has(one)) {
      const { backgroundColor, backgroundImage, opacity } = getComputedStyle(one);
      const own = `${backgroundColor} ${backgroundImage} ${opacity};`;
      const clear = own === 'rgba(0, 0, 0, 0) none 1;';
      below.set(one, ground(one.parentElement) + (clear ? '' : own));
    }
    return below.get(one);
  };
  for (const one of document.body.querySelectorAll('*')) {
    const speaks = one.matches('input, select, textarea')
      || [...one.childNodes].some((each) => each.nodeType === 3 && each.data.trim());
    if (!speaks || !one.checkVisibility() || one.getBoundingClientRect().width <= 1) continue;
    const { color, fontSize, fontWeight, textShadow } = getComputedStyle(one);
    const off = one.closest(':disabled, [aria-disabled=true]') !== null;
    const key = [ground(one), color, fontSize, fontWeight, textShadow, off, one.localName].join();
    alike.set(key, [...(alike.get(key) ?? []).slice(0, 1), one]);
  }
  return [...alike.values()].flat();
}"""
"""The first and the last text of those that are alike in colour, size and ground. Contrast takes
axe three quarters of its time, most of it for the hundreds of cells of a table that look alike."""
SMALL = """within => [...document.querySelectorAll('button, a, input, select, summary')]
  .filter((one) => one.closest(within) && !one.matches('[role=alert] a'))
  .filter((one) => one.offsetParent !== null && !['radio', 'checkbox', 'hidden'].includes(one.type))
  .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
  .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
  .map(([html, box]) => `${html} ${box.width}x${box.height}`)"""


def opened(browser: Browser, site: Site, size: dict[str, int] = WIDE, **more: Any) -> Page:
    """A desk of the coach's, signed in and with no page open; its context is closed with it."""
    context = browser.new_context(viewport=size, **more)  # type: ignore[arg-type]
    context.set_default_timeout(15_000)
    page = context.new_page()
    sign_in(page, site)
    return page


def sign_in(page: Page, site: Site) -> None:
    chromium.sign_in(page, site, COACH, None)


def broken(page: Page, rules: dict[str, Any] = EVERY_RULE) -> list[str]:
    """The rules of axe a page breaks, each with where."""
    # What axe would fetch again beforehand, style sheets and sound, is for rules we do not ask.
    asked = {"runOnly": rules, "resultTypes": ["violations"], "preload": False}
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    unsaid = {"rules": {"color-contrast": {"enabled": False}}} if rules is EVERY_RULE else {}
    found = page.evaluate("options => axe.run(options)", asked | unsaid)["violations"]
    contrast = asked | {"runOnly": {"type": "rule", "values": ["color-contrast"]}}
    look = f"options => axe.run({{include: ({PAINTED_ALIKE})()}}, options)"
    found += page.evaluate(look, contrast)["violations"]
    return [f"{one['id']}: {[node['html'][:160] for node in one['nodes']]}" for one in found]


def assert_readable(
    page: Page, where: str = "", *, rules: dict[str, Any] | None = EVERY_RULE, within: str = "main"
) -> None:
    """No rule broken, nothing wider than the page, nothing too small for a finger; without rules
    only whether it fits, for a size that changes no word or colour."""
    place = where or page.url
    assert rules is None or not (bad := broken(page, rules)), f"{place}: {bad}"
    size = page.viewport_size
    assert size is not None
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], place
    assert page.evaluate(SMALL, within) == [], place


def assert_looks_readable(page: Page, where: str = "", looks: Sequence[Look] = DESK_FIRST) -> None:
    """The open page as it stands, looked at in several ways; it has its first size again after."""
    for size, scheme, rules in looks:
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.emulate_media(color_scheme=scheme)
        assert_readable(page, f"{where or page.url}, {scheme}", rules=rules)
    page.set_viewport_size(looks[0][0])  # type: ignore[arg-type]
