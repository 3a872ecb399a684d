"""The evening in a real browser: all letters written in one action, decided by keyboard and by
touch, undone, on a stopwatch."""

from collections.abc import Iterator

import evening_site
import pytest
from chromium import phone
from evening_run import decide_all
from phone_site import Site, running_site
from playwright.sync_api import Browser, Page, expect
from readable import sign_in

from site_process import begun

LIFTERS = 3


@pytest.fixture
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder = begun(tmp_path_factory.mktemp("evening") / "data")
    with running_site(Site(folder, evening_site.filled(folder, LIFTERS))) as site:
        yield site


def opened(page: Page, desk: Site) -> Page:
    page.set_default_timeout(20_000)
    sign_in(page, desk)
    page.goto(f"{desk.address}/evening/")
    return page


@pytest.mark.slow
def test_the_keyboard_decides_an_evening_and_a_tap_undoes_it(browser: Browser, desk: Site) -> None:
    page = opened(browser.new_page(viewport={"width": 1280, "height": 900}), desk)
    page.click(f"text=Write all {LIFTERS} letters")
    expect(page.locator("[role=status]").first).to_contain_text(f"{LIFTERS} letters wait")
    letter = page.locator("[data-letter]").first
    tall = letter.evaluate("one => one.offsetHeight")
    page.keyboard.press("d")
    expect(page.locator(".verdict")).to_have_text("Declined")
    assert letter.evaluate("one => one.offsetHeight") == tall, "what is below stays where it is"
    page.keyboard.press("u")
    expect(page.locator(".verdict")).to_have_count(0)
    # Faster than the answers; then a whole letter at one go, taken back at one go.
    for key in "dua":
        page.keyboard.press(key)
    expect(page.locator(".verdict")).to_have_text("Accepted")
    page.keyboard.press("u")
    expect(page.locator(".verdict")).to_have_count(0)
    page.keyboard.press("r")
    expect(letter).to_have_attribute("data-done", "")
    page.keyboard.press("u")
    expect(letter).not_to_have_attribute("data-done", "")
    expect(letter.locator(".verdict")).to_have_count(0)
    watch = decide_all(page)
    assert watch.letters == LIFTERS
    assert max(watch.words) <= 450
    # Twelve lifters like these are decided in a quarter of an hour.
    assert watch.minutes / LIFTERS * 12 <= 15, watch
    page.reload()
    expect(page.locator("[role=status]").first).to_contain_text("No letter waits")
    expect(page.locator("[data-letter]")).to_have_count(LIFTERS)
    decided = page.locator("summary", has_text=", decided")
    expect(decided).to_have_count(LIFTERS)
    expect(page.locator("[data-line]").first).not_to_be_visible()

    context = phone(browser, viewport={"width": 360, "height": 640})
    touch = opened(context.new_page(), desk)
    assert touch.evaluate("document.documentElement.scrollWidth") <= 360
    touch.locator("summary", has_text=", decided").first.tap()
    first = touch.locator("[data-line]").first
    first.get_by_role("button", name="Undo").tap()
    expect(first.get_by_role("button", name="Accept")).to_be_visible()
    first.get_by_role("button", name="Decline").tap()
    expect(first.locator(".verdict")).to_have_text("Declined")
    context.close()
