"""A warning sign in a note is said on the phone at once, with the server off."""

from chromium import phone
from phone_site import Site
from playwright.sync_api import Browser, Page, expect
from test_phone_offline import signed_in, write_down


def write_with_note(page: Page, note: str) -> None:
    page.locator("[data-key=more]").first.tap()
    page.locator("#field-note").fill(note)
    write_down(page)


def test_signs_are_said_and_asked_without_signal(browser: Browser, site: Site) -> None:
    context = phone(browser)
    page = signed_in(context, site)
    site.stop()
    write_with_note(page, "felt strong, no chest pain")
    expect(page.locator("#signs")).to_have_count(0)

    write_with_note(page, "an ache across the chest")
    expect(page.locator("#signs")).to_contain_text("chest pain, or sore chest muscles?")
    expect(page.locator("#said")).to_contain_text("Read this first")
    page.get_by_role("button", name="Not that: go on").tap()
    expect(page.locator("#signs")).to_have_count(0)

    write_with_note(page, "all went grey")
    expect(page.locator("#signs")).to_contain_text("You wrote of faintness. Stop now")
    expect(page.get_by_role("button", name="Not that: go on")).to_have_count(0)
    page.get_by_role("button", name="Stop the session").tap()
    expect(page.locator("p.caution").first).to_contain_text("the session is over")
    context.close()
