"""The whole way of a new coach, from an empty folder, by keyboard alone: an account, a lifter by
the form, a block composed and edited, a session logged on the phone page, the letter written, read
and accepted, and the next sheet with what was accepted."""

import os
import re
from collections.abc import Iterator
from datetime import datetime, time, timedelta
from pathlib import Path

import pytest
from chromium import tab_to
from phone_site import PASSWORD, Site
from playwright.sync_api import Browser, Page, expect
from test_phone_offline import not_too_soon

from site_process import begun

SEARCH_MS = 120_000
LOAD = "20"
"""Kilograms typed for each lift of the first session."""
WRITE = "button.write[data-key=write]"
NELE = "Nele Invented"
NOW = datetime.now()
TODAY = NOW.date() + timedelta(days=7 - NOW.weekday())
AHEAD = datetime.combine(TODAY, time(hour=9)) - NOW
"""How far the clocks of server, search and browser are put forward: no block begins in the past,
so the way is gone on a Monday, from nine in the morning on, far from any midnight."""
CLOCK = f"""
from datetime import timedelta
from django.utils import timezone
true_now = timezone.now
timezone.now = lambda: true_now() + timedelta(seconds={AHEAD.total_seconds()})
"""


@pytest.fixture
def empty_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Site]:
    """A site nobody has an account of yet."""
    folder = begun(tmp_path / "data")
    monkeypatch.setenv("BLOCKWRIGHT_SEARCH", "quick")
    (tmp_path / "sitecustomize.py").write_text(CLOCK, encoding="utf-8")
    paths = [str(tmp_path), *filter(None, [os.environ.get("PYTHONPATH")])]
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(paths))
    # The warm process, and every fork of it, keeps the clock that it began with.
    site = Site(folder, {}, cold=True)
    site.start()
    try:
        yield site
    finally:
        site.stop()


def press(page: Page, wanted: str) -> None:
    tab_to(page, wanted)
    page.keyboard.press("Enter")


def type_into(page: Page, wanted: str, words: str) -> None:
    tab_to(page, wanted)
    page.keyboard.press("Control+A")
    page.keyboard.type(words)


@pytest.mark.slow
def test_a_new_coach_comes_to_the_next_sheet_by_keyboard_alone(
    browser: Browser, empty_site: Site
) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 900}, locale="en-US")
    context.set_default_timeout(15_000)
    context.clock.install(time=datetime.now() + AHEAD)
    page = context.new_page()
    page.goto(empty_site.owner_link)
    make_the_account(page)
    make_the_lifter(page)
    compose(page)
    type_in_the_grid(page)
    change_on_its_own_page(page)
    log_todays_session(page)
    review_and_accept(page)
    the_next_sheet_has_it(page)
    context.close()


def make_the_account(page: Page) -> None:
    type_into(page, "#id_name", "Cato Invented")
    type_into(page, "#id_sign_in_name", "cato")
    type_into(page, "#id_password", PASSWORD)
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("Nobody is here yet")


def make_the_lifter(page: Page) -> None:
    """Two slots of 40 minutes: today, a Monday, and the Thursday."""
    press(page, "main a[href='/lifters/new/']")
    expect(page.locator("#id_name")).to_be_focused()
    page.keyboard.type(NELE)
    type_into(page, "#id_bodyweight", "63.5")
    tab_to(page, "#id_start")
    page.keyboard.type(f"{TODAY:%m%d%Y}")
    for n, day in enumerate((0, 3), 1):
        tab_to(page, f"#id_slot-{n}-day")
        page.keyboard.type(f"{TODAY + timedelta(days=day):%A}")
        tab_to(page, f"#id_slot-{n}-start")
        page.keyboard.type("0630PM")
        tab_to(page, f"#id_slot-{n}-minutes")
        page.keyboard.type("40")
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("Compose a block")


def compose(page: Page) -> None:
    press(page, "main button:text('Compose')")
    ended = page.locator("table.grid, #search:not([data-state=waiting], [data-state=searching])")
    expect(ended.first).to_be_visible(timeout=SEARCH_MS)
    assert not page.locator("#search").count(), page.locator("#search").inner_text()
    expect(page.locator("h1")).to_contain_text("Block of")


def type_in_the_grid(page: Page) -> None:
    """One set fewer of the first lift (one more where it has one), in week two only, typed in the
    grid: one stop for Tab, arrows to the week, the number, and what was typed kept."""
    tab_to(page, "table.grid [data-at]")
    expect(page.locator("tr[data-lift] > [tabindex='0']")).to_have_count(1)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    here = page.locator("td[data-at]:focus")
    expect(here).to_have_attribute("data-week", "2")
    sets = int(here.get_attribute("data-sets") or "")
    wanted = str(sets - 1 if sets > 1 else sets + 1)
    later = here.locator("xpath=following-sibling::td[1]")
    week_three = later.get_attribute("data-sets") or ""
    page.keyboard.type(wanted)
    tab_to(page, "form.cell input[name=only]")
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(page.locator("#draft summary")).to_contain_text("1 change typed")
    expect(here).to_have_attribute("data-sets", wanted)
    expect(later).to_have_attribute("data-sets", week_three)
    press(page, "#draft summary")
    type_into(page, "#own_words", "the slot is short")
    if page.locator("#insist").count():
        tab_to(page, "#insist")
        page.keyboard.press("Space")
    press(page, "button[data-act=keep]")
    page.wait_for_url("**kept=2*")
    expect(page.locator(".grid .note")).to_contain_text("the slot is short")
    changed = page.locator("tr[data-lift]").first.locator("td[data-week='2']")
    expect(changed).to_have_attribute("data-sets", wanted)


def change_on_its_own_page(page: Page) -> None:
    """The next lift of that day, by the page about it, its week two again."""
    tab_to(page, "table.grid [data-at]")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    press(page, ".lift_form a:text-is('On its own page')")
    press(page, "nav a:text-is('Week 2')")
    page.wait_for_url("**/change/2/**")
    sets = int(page.locator("#sets").input_value())
    tab_to(page, "#sets")
    page.keyboard.press("ArrowDown" if sets > 1 else "ArrowUp")
    page.keyboard.press("Enter")
    expect(page.locator("#changes")).to_be_visible()
    type_into(page, "#words", "the bench is shared")
    if page.locator("#insist").count():
        tab_to(page, "#insist")
        page.keyboard.press("Space")
    press(page, "button:text('Keep this')")
    page.wait_for_url("**kept=3*")
    expect(page.locator(".grid .note").filter(has_text="the bench is shared")).to_have_count(1)


def log_todays_session(page: Page) -> None:
    """Every set of every lift as planned or advised, from the load that is typed on."""
    press(page, "a:text-is('Train')")
    page.wait_for_selector("#sheet h1")
    press(page, "#sheet button")
    lifts = page.locator("ol.lifts > li")
    expect(lifts.first).to_be_visible()
    for n in range(1, lifts.count() + 1):
        name = page.locator(f"[data-key=lift-{n}]")
        if name.get_attribute("aria-expanded") == "false":
            press(page, f"[data-key=lift-{n}]")
        expect(name).to_have_attribute("aria-expanded", "true")
        # A lift without a basis asks for tries; this lifter knows the load.
        if page.locator(f"#lift-{n} [data-key=know-load]").count():
            press(page, "[data-key=know-load]")
        type_into(page, "#field-load", LOAD)
        rows = page.locator(f"#lift-{n} table.rows tbody tr")
        while page.locator(f"#lift-{n} {WRITE}").count():
            before = rows.count()
            tab_to(page, WRITE)
            not_too_soon(page)
            page.keyboard.press("Enter")
            expect(rows).to_have_count(before + 1)
    press(page, "[data-key=panel-end]")
    press(page, ".panel.open button:text-is('7')")
    press(page, ".panel.open button:text('End the session')")
    expect(page.locator("#unsent")).to_have_text("All sent")
    press(page, "#back")
    press(page, "a:text('The rest of the site')")


def review_and_accept(page: Page) -> None:
    press(page, f"a:text-is('{NELE}')")
    press(page, ".lifter_nav a:text-is('Review')")
    press(page, "button:text('Write the letter')")
    expect(page.locator("article.letter .heading")).to_contain_text(re.compile("week 2", re.I))
    press(page, "button:text('Accept all')")
    expect(page.locator("article.letter .rest")).to_contain_text("Every line is decided")
    expect(page.locator("#decided")).to_contain_text("The block is at revision")


def first_loads(page: Page) -> int:
    """For how many lifts the letter takes as their first load what was lifted."""
    lines = page.locator("article.letter .changes > li").all_inner_texts()
    found = [re.match(r"First loads\s+(\d+) as lifted", one) for one in lines]
    return sum(int(one[1]) for one in found if one)


def the_next_sheet_has_it(page: Page) -> None:
    """The next sheet is of week two; the sheet of the logged day bears every accepted load."""
    lifts = first_loads(page)
    assert lifts > 2, "the first numbers of today's lifts should give next week's loads"
    press(page, "a:text('The next sheet')")
    page.wait_for_url(re.compile(r"/phone/#.*/2/\d+$"), wait_until="commit")
    expect(page.locator("#sheet")).to_contain_text("Week 2 of 7")
    page.go_back()
    press(page, ".lifter_nav a:text-is('Sheets')")
    later = TODAY + timedelta(days=7)
    press(page, f"a[aria-label='Read the sheet of {later:%A} {later.day} {later:%B}']")
    page.wait_for_url("**/sheet/**")
    sheet = page.locator("main").inner_text()
    assert len(re.findall(rf"(?<![\d.]){LOAD} kg(?! and)", sheet)) >= lifts
