"""Pictures of the phone page at 360 px, light and dark, into a folder (not committed).

python tools/screenshots.py FOLDER
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "browser"))

from chromium import chromium, open_sheet, phone, sign_in
from phone_site import COACH, Site, made_site
from playwright.sync_api import Page

PANELS = ("short", "taken", "hurts", "checkin", "lift", "turns", "end")
WRITE = "button.write[data-key=write]"


def pictures(page: Page, site: Site, folder: Path, scheme: str) -> None:
    def take(name: str) -> None:
        page.wait_for_timeout(400)
        page.screenshot(path=folder / f"{scheme}-{name}.png")

    sign_in(page, site, COACH)
    page.wait_for_selector(".choice")
    take("sessions")
    open_sheet(page, site)
    take("sheet-top")
    page.evaluate("document.querySelector('.write').scrollIntoView({block: 'end'})")
    take("first-set")
    page.locator(WRITE).tap()
    take("after-a-set")
    page.get_by_role("button", name="Correct set 1").first.tap()
    take("correct")
    for name in PANELS:
        page.locator(f"[data-key=panel-{name}]").tap()
        if name == "hurts":
            page.locator("[data-key=pain-4]").tap()
        take(f"panel-{name}")
    page.goto(f"{site.address}/phone/#{site.key('ines')}+{site.key('jon')}")
    page.wait_for_selector(".turns")
    page.locator(WRITE).tap()
    take("turns")
    site.stop()
    page.locator(WRITE).tap()
    page.evaluate("document.querySelector('.phone').scrollIntoView({block: 'end'})")
    take("no-signal")
    site.start()


def main() -> None:
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    with (
        tempfile.TemporaryDirectory() as data,
        made_site(Path(data)) as site,
        chromium() as browser,
    ):
        for scheme in ("light", "dark"):
            context = phone(browser, color_scheme=scheme, device_scale_factor=2)
            pictures(context.new_page(), site, folder, scheme)
            context.close()
    print(f"pictures in {folder}")


if __name__ == "__main__":
    main()
