"""The block in a real browser: composed, changed and gone back on with the keyboard alone; nothing
for axe to find; nothing needs a script."""

import re
from collections.abc import Callable, Iterator

import block_site
import pytest
from chromium import tab_to
from phone_site import Site, running_site
from playwright.sync_api import Browser, expect
from readable import NARROW, WIDE, assert_looks_readable, opened

SEARCH_MS = 120_000


@pytest.fixture(scope="module")
def desk(filled_copy: Callable[..., Site]) -> Iterator[Site]:
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("BLOCKWRIGHT_SEARCH", "quick")
        with running_site(filled_copy(block_site.filled)) as site:
            yield site


@pytest.mark.slow
def test_the_keyboard_alone_composes_and_changes_a_block(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk, WIDE)
    page.goto(f"{desk.address}/lifters/{desk.told['small']}/block/")
    tab_to(page, "a:text('Compose a block')")
    page.keyboard.press("Enter")
    tab_to(page, "button:text('Compose')")
    page.keyboard.press("Enter")
    # The waiting page goes on by itself, and says meanwhile what the search is at.
    page.wait_for_url("**/block/2*/", timeout=SEARCH_MS)
    expect(page.locator("h1")).to_contain_text("Block of")

    # The grid is typed into (test_desk_block_typed.py); a lift's own page is there as well.
    name = page.locator("a.lift").first
    lift = name.inner_text().removeprefix("Change").strip()
    page.goto(f"{desk.address}{name.get_attribute('href')}")
    expect(page.locator("h1")).to_have_text(lift)
    tab_to(page, "nav a:text-is('Week 2')")
    page.keyboard.press("Enter")
    page.wait_for_url("**/change/2/**")
    sets = int(page.locator("#sets").input_value())
    tab_to(page, "#sets")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("#changes")).to_be_visible()
    expect(page.locator(".lines li").first).to_contain_text(f"sets: {sets} → {sets - 1}")
    tab_to(page, "#words")
    page.keyboard.type("one fewer: the slot is short")
    if page.locator("#insist").count():
        tab_to(page, "#insist")
        page.keyboard.press("Space")
    tab_to(page, "button:text('Keep this')")
    page.keyboard.press("Enter")
    page.wait_for_url("**kept=2")
    note = page.locator(".grid .note")
    row = page.locator(".grid tr", has=page.locator(".note"))
    expect(row.locator("th")).to_contain_text(re.compile(re.escape(lift), re.IGNORECASE))
    expect(note).to_contain_text(re.compile(r"Week \d: \d sets where there were"))
    expect(note).to_contain_text("one fewer: the slot is short")

    tab_to(page, "a:text('see every revision')")
    page.keyboard.press("Enter")
    tab_to(page, "a:text('Revision 1')")
    page.keyboard.press("Enter")
    tab_to(page, "button:text('See what going back')")
    page.keyboard.press("Enter")
    tab_to(page, "button:text('Keep this')")
    page.keyboard.press("Enter")
    page.wait_for_url("**kept=3")
    expect(page.locator("main")).to_contain_text("Back to revision 1")
    page.context.close()


@pytest.mark.slow
def test_the_block_works_without_script(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk, WIDE, java_script_enabled=False)
    row, start = desk.told["whole"], desk.told["start"]
    page.goto(f"{desk.address}/lifters/{row}/block/{start}/")
    page.click("a:text('Solve the rest')")
    page.click("button:text('Search for a better rest')")
    # Without a script the page loads itself anew until the search has ended.
    page.wait_for_url("**/rest/", timeout=SEARCH_MS)
    page.click("button:text('See what it would change')")
    expect(page.locator("#changes")).to_be_visible()
    page.context.close()


@pytest.mark.slow
def test_axe_finds_nothing_and_everything_fits(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk)
    row, start = desk.told["whole"], desk.told["start"]
    block = f"{desk.address}/lifters/{row}/block/{start}/"
    for path in ("", "change/5/1/4/", "session/5/1/", "rest/", "revisions/", "revisions/1/"):
        page.goto(block + path)
        for summary in page.locator("main details:not(.more) > summary").all():
            summary.click()
        assert_looks_readable(page, path)
    page.goto(f"{desk.address}/lifters/{row}/compose/")
    assert_looks_readable(page, "compose")
    page.goto(f"{block}change/5/1/4/")
    page.select_option("#other", index=0)
    page.locator("form:has(#other) button").click()
    expect(page.locator("#changes")).to_be_visible()
    assert_looks_readable(page, "preview")
    page.fill("#sets", "1")
    page.locator("form:has(#sets)").evaluate("form => { form.revision.value = 99; form.submit(); }")
    expect(page.locator("h1")).to_have_text("The block was changed meanwhile")
    assert_looks_readable(page, "stale")
    page.context.close()


@pytest.mark.slow
def test_a_phone_reads_the_block_without_moving_it_sideways(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk, NARROW)
    row, start = desk.told["whole"], desk.told["start"]
    page.goto(f"{desk.address}/lifters/{row}/block/{start}/")
    for region in page.locator(".region").all():
        wide, seen = region.evaluate("one => [one.scrollWidth, one.clientWidth]")
        assert wide <= seen, region.get_attribute("aria-labelledby")
    page.context.close()


@pytest.mark.slow
def test_nine_weeks_fit_a_desk_and_lifts_stay_where_they_do_not(
    browser: Browser, desk: Site
) -> None:
    page = opened(browser, desk, {"width": 1280, "height": 900})
    row, start = desk.told["whole"], desk.told["start"]
    page.goto(f"{desk.address}/lifters/{row}/block/{start}/")
    region = page.locator(".region:has(.grid)")
    # As a longer block: its last week as often as nine columns need.
    region.evaluate("""one => one.querySelectorAll('tr').forEach((row) => {
      const cells = row.querySelectorAll('[data-week]');
      for (let count = cells.length; cells.length && count < 9; count += 1)
        cells[cells.length - 1].after(cells[cells.length - 1].cloneNode(true));
    })""")
    assert region.evaluate("one => one.scrollWidth <= one.clientWidth")
    page.set_viewport_size({"width": 900, "height": 900})
    region.evaluate("one => { one.scrollLeft = one.scrollWidth; }")
    lift = region.locator("th[scope=row]").first.bounding_box()
    assert lift is not None
    assert lift["x"] >= 0
    assert page.evaluate("document.documentElement.scrollWidth") <= 900
    page.context.close()
