"""A newer version of the site while the phone holds sets that nobody has: it waits, and says so."""

import shutil
from pathlib import Path

import pytest
from chromium import kept_by_worker, open_sheet, ready
from phone_site import Site
from playwright.sync_api import BrowserContext, Page, expect
from test_phone_offline import all_sent, on_disk, signed_in, unsent_are, write_down

from blockwright import web

OLD, NEW = "Cautions for this session", "Cautions of this session"


@pytest.fixture
def newer(tmp_path: Path) -> Path:
    """What the site gives browsers, with one word of the phone page changed."""
    now = Path(web.__file__).parent
    shutil.copytree(now / "static", tmp_path / "newer" / "static")
    (tmp_path / "newer" / "templates").symlink_to(now / "templates")
    file = tmp_path / "newer/static/blockwright/sheet_view.js"
    text = file.read_text(encoding="utf-8")
    assert OLD in text
    file.write_text(text.replace(OLD, NEW), encoding="utf-8")
    return tmp_path / "newer"


def with_two_unsent(context: BrowserContext, site: Site, newer: Path) -> Page:
    """An old page with two unsent sets, the server already serving the newer one."""
    page = signed_in(context, site)
    page.route("**/api/sync", lambda route: route.abort())
    write_down(page)
    write_down(page)
    on_disk(page)
    site.stop()
    site.newer = newer
    site.start()
    page.reload()
    page.wait_for_selector("ol.lifts")
    expect(page.get_by_text("A newer page is ready. It can be taken once")).to_be_visible()
    return page


def test_a_newer_page_waits_for_the_unsent_and_for_the_persons_word(
    context: BrowserContext, site: Site, newer: Path
) -> None:
    page = with_two_unsent(context, site, newer)
    take = page.get_by_role("button", name="Take the newer page")
    for _ in range(2):
        expect(page.get_by_text(OLD)).to_be_visible()
        expect(take).to_have_count(0)
        unsent_are(page, 2)
        page.reload()
        page.wait_for_selector("ol.lifts")
    page.unroute("**/api/sync")
    page.locator("#unsent").tap()
    all_sent(page)
    assert len(site.facts()) == 2
    # All is sent, and still nothing changes until somebody says so.
    expect(take).to_be_visible()
    write_down(page)
    expect(page.get_by_text(OLD)).to_be_visible()
    all_sent(page)
    take.tap()
    expect(page.get_by_text(NEW)).to_be_visible()
    expect(page.locator("table.rows tbody tr")).to_have_count(3)
    expect(page.get_by_text("A newer page is ready.")).to_have_count(0)
    site.stop()
    page.reload()
    expect(page.get_by_text(NEW)).to_be_visible()
    expect(page.locator("table.rows tbody tr")).to_have_count(3)
    site.start()
    assert len(site.facts()) == 3


def test_closing_the_page_lets_the_newer_one_in_with_all_that_is_unsent(
    context: BrowserContext, site: Site, newer: Path
) -> None:
    """Browsers start a waiting worker when its last page closes: the sets are not in the page."""
    with_two_unsent(context, site, newer).close()
    page = context.new_page()
    page.route("**/api/sync", lambda route: route.abort())
    page.goto(f"{site.address}/phone/")
    ready(page)
    kept_by_worker(page)
    open_sheet(page, site)
    expect(page.locator("table.rows tbody tr")).to_have_count(2)
    unsent_are(page, 2)
    page.unroute("**/api/sync")
    page.locator("#unsent").tap()
    all_sent(page)
    assert [one["event"]["set"]["set"] for one in site.facts()] == [1, 2]
