"""A warning sign in a note is said on the phone at once, with the server off."""

import re

from chromium import held, open_sheet, phone, sign_in
from phone_site import Site
from playwright.sync_api import Browser, Page, Route, expect
from test_phone_offline import all_sent, signed_in, write_down
from test_phone_session import events


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


def test_a_note_on_how_somebody_is_today_is_judged_at_once(browser: Browser, site: Site) -> None:
    context = phone(browser)
    page = signed_in(context, site)
    page.locator("[data-key=panel-checkin]").tap()
    page.locator("#field-day-note").fill("slept well")
    page.get_by_role("button", name="Write the note down").tap()
    expect(page.locator("#panel-checkin")).to_contain_text("slept well")
    expect(page.locator("#signs")).to_have_count(0)
    page.locator("#field-day-note").fill("fainted this morning")
    page.get_by_role("button", name="Write the note down").tap()
    expect(page.locator("#signs")).to_contain_text("You wrote of faintness. Stop now")
    all_sent(page)
    told = [one["text"] for one in events(site, "ines", "session") if one["what"] == "note"]
    assert told == ["slept well", "fainted this morning"]
    context.close()


def test_the_tables_come_after_the_page_and_judge_what_was_written_before(
    browser: Browser, site: Site
) -> None:
    context = phone(browser)
    tables: list[Route] = []
    context.route(re.compile(r"/signs\.[^/]*js$"), lambda route: tables.append(route))
    page = context.new_page()
    page.add_init_script("delete Navigator.prototype.serviceWorker")
    sign_in(page, site)
    open_sheet(page, site, "ines")
    write_with_note(page, "all went grey")
    expect(page.locator("table.rows tbody tr")).to_have_count(1)
    coming = held(page, tables)
    expect(page.locator("#signs")).to_have_count(0)
    coming.continue_()
    assert len(tables) == 1
    expect(page.locator("#signs")).to_contain_text("You wrote of faintness. Stop now")
    context.close()
