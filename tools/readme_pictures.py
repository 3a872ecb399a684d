"""The README's pictures, at twice the pixels, from a demo that runs.

python tools/readme_pictures.py LINK

LINK is what `make demo` printed. The pictures go to docs/pictures.
"""

import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "browser"))

from chromium import chromium, phone
from playwright.sync_api import Browser, Page

TO = Path(__file__).resolve().parents[1] / "docs" / "pictures"
DESK, PHONE = {"width": 1180, "height": 820}, {"width": 360, "height": 640}


def _keys(page: Page) -> dict[str, str]:
    """Name to key of everybody in the roster."""
    found = {}
    for line in page.locator(".who a").all():
        address = line.get_attribute("href") or ""
        found[line.inner_text()] = address.strip("/").split("/")[-1]
    return found


def _desk(browser: Browser, link: str, site: str) -> None:
    context = browser.new_context(viewport=DESK, device_scale_factor=2)
    page = context.new_page()
    page.goto(link)
    keys = _keys(page)
    letters = page.locator("li", has_text="to decide").all()
    fullest = max(letters, key=lambda one: int(re.findall(r"(\d+) changes?", one.inner_text())[0]))
    waits = fullest.locator(".who a").inner_text()
    for name, address in (
        ("letter", f"/lifters/{keys[waits]}/review/"),
        ("block", f"/lifters/{keys[waits]}/block/"),
        ("evening", "/evening/"),
    ):
        page.goto(site + address)
        if name == "block":
            page.locator("table.grid").evaluate("one => one.scrollIntoView()")
        page.screenshot(path=TO / f"{name}.png")
    context.close()


def _phone(browser: Browser, link: str, site: str) -> None:
    """The first session of today, with the set in hand."""
    context = phone(browser, viewport=PHONE, device_scale_factor=2)
    page = context.new_page()
    page.goto(link)
    page.goto(f"{site}/phone/")
    page.locator(".choice").first.tap()
    page.wait_for_selector("ol.lifts > li")
    page.wait_for_timeout(1000)
    page.screenshot(path=TO / "phone.png")
    context.close()


def main() -> None:
    link = sys.argv[1]
    site = link.partition("/demo/")[0]
    TO.mkdir(parents=True, exist_ok=True)
    with chromium() as browser:
        _desk(browser, link, site)
        _phone(browser, link, site)


if __name__ == "__main__":
    main()
