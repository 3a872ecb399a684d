"""Somebody new, from nothing to a printed sheet, by the short part of the lifter form."""

import re
import time
from datetime import date, timedelta

import pytest
from phone_site import Site
from playwright.sync_api import Browser, expect
from readable import opened

FIVE_MINUTES_S = 300
SEARCH_MS = 240_000


@pytest.mark.slow
def test_five_minutes_to_a_printed_sheet(browser: Browser, shared_site: Site) -> None:
    page = opened(browser, shared_site)
    begun = time.monotonic()
    page.goto(f"{shared_site.address}/lifters/new/")
    today = date.today()
    page.fill("#id_name", "Kaja Invented")
    page.fill("#id_bodyweight", "70")
    page.fill("#id_start", f"{today - timedelta(days=today.weekday()) + timedelta(days=7)}")
    for n, day in ((1, "tue"), (2, "fri")):
        page.select_option(f"#id_slot-{n}-day", day)
        page.fill(f"#id_slot-{n}-start", "18:00")
        page.fill(f"#id_slot-{n}-minutes", "45")
    page.get_by_text("Movements to keep out").first.click()
    page.get_by_label("overhead press").check()
    for question in page.locator("select[name^='screening.']").all():
        answer = "yes" if "currently_active" in (question.get_attribute("name") or "") else "no"
        question.select_option(answer)
    assert page.locator("details.part[open]").count() == 0, "the rest stays folded"
    page.get_by_role("button", name="Save and go on to the first block").click()
    page.get_by_role("button", name="Compose").click()
    page.wait_for_url("**/block/2*/", timeout=SEARCH_MS)
    page.locator(".lifter_nav a:text-is('Sheets')").click()
    page.locator("#sheets ~ details a[href*='/sheet/']").first.click()
    expect(page.locator("main")).to_contain_text(re.compile("Week 1 of"))
    assert page.pdf().startswith(b"%PDF")
    assert time.monotonic() - begun < FIVE_MINUTES_S
