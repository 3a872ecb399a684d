"""Pictures of every page, on a phone and at a desk, light and dark, into a folder (not committed).

python tools/screenshots.py FOLDER [DEMO]

With DEMO, the folder that `make demo` leaves, its people are in the site too.
"""

import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "browser"))

import every_page
from chromium import chromium, open_sheet, phone, sign_in
from phone_site import COACH, PASSWORD, SPARE, Site, made_site, running_site
from playwright.sync_api import Browser, Page

PANELS = ("short", "taken", "hurts", "checkin", "lift", "turns", "end")
WRITE = "button.write[data-key=write]"
SIZES = {"phone": (360, 740), "desk": (1280, 900)}
SCHEMES = ("light", "dark")


# ------------------------------------------------------------------------------- every page


def every_picture(browser: Browser, site: Site, folder: Path) -> int:
    """Each page once a size and scheme, whole; how many pictures."""
    count = 0
    for size, (width, height) in SIZES.items():
        context = browser.new_context(viewport={"width": width, "height": height})
        page = context.new_page()
        for signed_in in (False, True):
            if signed_in:
                _sign_in(page, site)
            for name, address in every_page.pages(site.told, signed_in=signed_in).items():
                answer = page.goto(site.address + address)
                if answer is None or answer.status >= 500:
                    raise SystemExit(f"{address} is broken: see the server's words above")
                page.wait_for_selector("h1")
                for scheme in SCHEMES:
                    page.emulate_media(color_scheme=scheme)
                    page.screenshot(path=folder / f"{name}-{size}-{scheme}.png", full_page=True)
                    count += 1
        context.close()
    return count


def _sign_in(page: Page, site: Site) -> None:
    page.goto(f"{site.address}/sign-in/")
    page.fill("#id_username", COACH)
    page.fill("#id_password", PASSWORD)
    page.click("main button")
    page.wait_for_url(f"{site.address}/")


@contextmanager
def filled_site(folder: Path, demo: Path | None) -> Iterator[Site]:
    told = every_page.filled(folder, *([] if demo is None else [str(demo)]))
    with running_site(Site(folder, told)) as site:
        yield site


# --------------------------------------------------------------------- the phone page at work


def phone_pictures(
    page: Page, site: Site, folder: Path, ending: str, pair: tuple[str, str]
) -> None:
    """The states of a session of the first of a `pair` of lifters, then of both taking turns; the
    name of each picture ends with `ending`."""

    def take(name: str) -> None:
        page.wait_for_timeout(400)
        page.screenshot(path=folder / f"session-{name}-{ending}.png")

    sign_in(page, site, COACH)
    page.wait_for_selector(".choice")
    take("choice")
    open_sheet(page, site, pair[0])
    take("top")
    page.evaluate("document.querySelector('.write').scrollIntoView({block: 'end'})")
    take("first-set")
    page.locator(WRITE).tap()
    take("after-a-set")
    page.get_by_role("button", name="Correct set 1").first.tap()
    take("correct")
    for name in PANELS:
        # Pain has its way in the fixed foot.
        page.locator("[data-key=hurts]" if name == "hurts" else f"[data-key=panel-{name}]").tap()
        if name == "hurts":
            page.locator("[data-key=region-knee]").tap()
            page.locator("[data-key=pain-4]").tap()
        take(f"panel-{name}")
    page.goto(f"{site.address}/phone/#{site.key(pair[0])}+{site.key(pair[1])}")
    page.wait_for_selector(".turns")
    page.locator(WRITE).tap()
    take("turns")
    site.stop()
    page.locator(WRITE).tap()
    page.evaluate("document.querySelector('.phone').scrollIntoView({block: 'end'})")
    take("no-signal")
    site.start()


def session_pictures(browser: Browser, site: Site, folder: Path) -> None:
    # A pair for each, since what one run logs is done for the next.
    pairs = iter((("ines", "jon"), *zip(SPARE[::2], SPARE[1::2], strict=True)))
    for size, (width, height) in SIZES.items():
        for scheme in SCHEMES:
            view = {"width": width, "height": height}
            context = phone(browser, color_scheme=scheme, viewport=view, device_scale_factor=2)
            phone_pictures(context.new_page(), site, folder, f"{size}-{scheme}", next(pairs))
            context.close()


def main() -> None:
    folder = Path(sys.argv[1])
    demo = Path(sys.argv[2]) if len(sys.argv) > 2 and Path(sys.argv[2]).is_dir() else None
    folder.mkdir(parents=True, exist_ok=True)
    every_page.opened()
    if demo is None:
        print("without the demo's people: run `make demo` first to have them too", file=sys.stderr)
    with tempfile.TemporaryDirectory() as data, chromium() as browser:
        with filled_site(Path(data) / "desk", demo) as site:
            count = every_picture(browser, site, folder)
        with made_site(Path(data) / "phone") as site:
            session_pictures(browser, site, folder)
    print(f"{count} pictures of pages, and the phone's session, in {folder}")


if __name__ == "__main__":
    main()
