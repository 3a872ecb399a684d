"""The lifter's pages in a real browser: by keyboard alone, and readable by everyone."""

import re

import pytest
from chromium import tab_to
from phone_site import Site
from playwright.sync_api import Browser, ConsoleMessage, Page, expect
from readable import PHONE_FIRST, assert_looks_readable, assert_readable, opened


def slot(page: Page, n: int, day: str, minutes: str) -> None:
    tab_to(page, f"#id_slot-{n}-day")
    page.keyboard.type(day)
    tab_to(page, f"#id_slot-{n}-start")
    page.keyboard.type("0630AM")
    tab_to(page, f"#id_slot-{n}-minutes")
    page.keyboard.type(minutes)


@pytest.mark.slow
def test_a_lifter_is_made_by_the_form_with_the_keyboard_alone(
    browser: Browser, shared_site: Site
) -> None:
    page = opened(browser, shared_site, locale="en-US")
    page.goto(f"{shared_site.address}/lifters/new/")
    expect(page.locator("#id_name")).to_be_focused()
    page.keyboard.type("Nele Invented")
    tab_to(page, "#id_bodyweight")
    page.keyboard.type("heavy")
    tab_to(page, "#id_start")
    page.keyboard.type("01042027")
    slot(page, 1, "Monday", "75")
    slot(page, 2, "Thursday", "5")
    page.keyboard.press("Enter")

    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("Nothing was saved.")
    expect(alert.get_by_role("link")).to_have_count(2)
    assert page.evaluate("document.querySelector('#id_name').value") == "Nele Invented"
    weight = page.locator("#id_bodyweight")
    expect(weight).to_have_attribute("aria-invalid", "true")
    expect(weight).to_have_accessible_description(re.compile('"heavy" is not a number'))
    assert_readable(page)

    tab_to(page, "a[href='#id_bodyweight']")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "id_bodyweight"
    page.keyboard.press("Control+A")
    page.keyboard.type("63,5")
    tab_to(page, "#id_slot-2-minutes")
    page.keyboard.press("Control+A")
    page.keyboard.type("60")
    tab_to(page, "button[name=add][value=slot]")
    page.keyboard.press("Enter")
    page.wait_for_selector("#id_slot-6-day")
    assert page.evaluate("document.activeElement.id") == "id_slot-3-day"
    expect(page.locator("#id_bodyweight")).to_have_value("63,5")
    page.keyboard.type("Saturday")
    tab_to(page, "#id_slot-3-minutes")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert").get_by_role("link")).to_have_count(2)
    tab_to(page, "button[name=remove][value='slot.3']")
    page.keyboard.press("Enter")
    page.wait_for_selector("#id_slot-1-day")
    expect(page.locator("#id_slot-3-day")).to_have_value("")
    assert page.evaluate("document.activeElement.value") == "slot"
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Enter")
    # Enter does what the button at the end does: on to the first block.
    page.wait_for_url(re.compile(r"/lifters/[0-9a-f-]{36}/compose/$"))
    status = page.get_by_role("status")
    expect(status).to_contain_text("The lifter file is saved.")
    expect(status).to_contain_text('say what there is under "The gym": kit, bars, plates')
    assert_readable(page)
    page.get_by_role("link", name="Lifter file", exact=True).press("Enter")
    expect(page.locator("#id_bodyweight")).to_have_value("63.5")
    expect(page.locator("#id_slot-2-minutes")).to_have_value("60")


@pytest.mark.slow
def test_anyone_can_read_every_page(browser: Browser, shared_site: Site) -> None:
    page = opened(browser, shared_site)
    refused: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type == "error":
            refused.append(message.text)

    page.on("console", heard)
    lifter = f"/lifters/{shared_site.told['lifters']['ines']['id']}/"
    for address in ("/account/", "/password/", "/lifters/new/", lifter, f"{lifter}file/"):
        page.goto(shared_site.address + address)
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        assert_looks_readable(page, looks=PHONE_FIRST)
    assert refused == []


@pytest.mark.slow
def test_the_browsers_zone_is_offered_and_taken_by_keyboard(
    browser: Browser, shared_site: Site
) -> None:
    page = opened(browser, shared_site, timezone_id="Pacific/Auckland")
    page.goto(f"{shared_site.address}/account/")
    page.get_by_role("button", name="Use Pacific/Auckland, this browser's").press("Enter")
    expect(page.locator("#id_zone")).to_have_value("Pacific/Auckland")
    page.keyboard.press("Enter")
    page.wait_for_url("**/account/?saved")
    expect(page.get_by_role("status")).to_have_text("Saved.")
    expect(page.locator("#id_zone")).to_have_value("Pacific/Auckland")
    expect(page.get_by_role("button", name="Use Pacific/Auckland")).to_have_count(0)
    page.locator("#id_zone").fill("")
    page.keyboard.press("Enter")
    page.wait_for_function("document.querySelector('#id_zone').value === ''")
