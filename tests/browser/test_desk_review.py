"""The review in a real browser: a letter written, read, decided on and followed to the next sheet
with the keyboard alone, and without script; nothing for axe to find."""

import re
from collections.abc import Callable, Iterator, Sequence

import pytest
import review_site
from chromium import held, tab_to
from phone_site import Site, running_site
from playwright.sync_api import Browser, Route, expect
from readable import DESK_FIRST, EVERY_RULE, NARROW, WIDE, Look, assert_looks_readable, opened

LOOKS: dict[str, Sequence[Look]] = {
    "offered": [(NARROW, "light", EVERY_RULE)],
    "written": DESK_FIRST,
    "decided": [(WIDE, "dark", EVERY_RULE)],
}


@pytest.fixture
def desk(filled_copy: Callable[..., Site]) -> Iterator[Site]:
    with running_site(filled_copy(review_site.filled)) as site:
        yield site


@pytest.mark.slow
def test_the_keyboard_alone_reads_and_accepts_a_letter(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk, java_script_enabled=False)
    page.goto(desk.address)
    row = f"/lifters/{desk.told['lifter']}"
    tab_to(page, f"a.way[href='{row}/review/']")
    page.keyboard.press("Enter")
    tab_to(page, "button:text('Write the letter')")
    page.keyboard.press("Enter")
    expect(page.locator("article.letter h2")).to_contain_text("letter for week 2")

    # One line is changed with words; what cannot be done is said there, and kept.
    line = "[data-line]:has(select)"
    name = page.locator(line).first.get_attribute("id")
    tab_to(page, f"#{name} summary")
    page.keyboard.press("Enter")
    tab_to(page, f"#{name} input[value=accepted]")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(page.locator(f"#{name} input[value=changed]").first).to_be_checked()
    tab_to(page, f"#{name} .with_unit input")
    page.keyboard.type("999")
    tab_to(page, f"#{name} input[name^=words]")
    page.keyboard.type("heavier")
    page.keyboard.press("Enter")
    expect(page.locator(f"#{name} .wrong")).to_be_visible()
    expect(page.locator(f"#{name} .wrong")).not_to_contain_text("twice")
    expect(page.locator(f"#{name} input[name^=words]").first).to_have_value("heavier")
    page.goto(page.url)
    tab_to(page, f"#{name} button[name=decline]")
    page.keyboard.press("Enter")
    expect(page.locator(f"#{name} .verdict")).to_have_text("Declined")

    tab_to(page, "button:text('Accept the rest')")
    page.keyboard.press("Enter")
    expect(page.locator("article.letter .rest")).to_contain_text("Every line is decided")
    expect(page.locator("article.letter")).to_contain_text("leg curl (pain 4 of 10")
    tab_to(page, "a:text('The next sheet')")
    page.keyboard.press("Enter")
    page.wait_for_url("**/phone/#**")
    expect(page.locator("main")).to_be_visible()
    page.context.close()


@pytest.mark.slow
def test_enter_stores_the_line_it_is_pressed_in_and_u_undoes_the_last(
    browser: Browser, desk: Site
) -> None:
    page = opened(browser, desk)
    page.goto(f"{desk.address}/lifters/{desk.told['lifter']}/review/")
    page.click("text=Write the letter")
    expect(page.locator("article.letter")).to_be_visible()
    expect(page.locator(".keys")).to_be_visible()
    expect(page.locator("[data-line][data-open]").first).to_be_focused()
    page.goto(f"{desk.address}/evening/")
    line = page.locator("[data-line]:has([name^=value-][inputmode=decimal])").first
    name = line.get_attribute("id")
    line.focus()
    page.keyboard.press("c")
    proposed = line.locator(".value .hint").first.inner_text()
    page.keyboard.type("".join(each for each in proposed if each.isdigit() or each == "."))
    page.keyboard.press("Enter")
    expect(page.locator(f"#{name} .verdict")).to_be_visible()
    expect(page.locator(".verdict")).to_have_count(1)
    # Undo means what was decided last, wherever the focus is by then.
    page.locator("[data-line]:not(:has(.verdict))").last.focus()
    page.keyboard.press("u")
    expect(page.locator(f"#{name} .verdict")).to_have_count(0)
    expect(page.locator(f"#{name}")).to_be_focused()
    # What is typed into one line while another's answer is awaited stays, and the cursor in it.
    waiting: list[Route] = []
    page.route(re.compile("/(evening|review)/"), lambda route: waiting.append(route))
    page.keyboard.press("a")
    next_line = page.locator(f"[data-line]:not(#{name}):has(details [name^=words-])").first
    other = next_line.get_attribute("id")
    next_line.focus()
    page.keyboard.press("c")
    words = page.locator(f"#{other} [name^=words-]").first
    words.focus()
    page.keyboard.type("seen ")
    held(page, waiting).continue_()
    expect(page.locator(f"#{name} .verdict")).to_have_text("Accepted")
    page.keyboard.type("today")
    expect(words).to_have_value("seen today")
    # Escape gives up what was typed and chosen, so that a key can decide the line after it.
    page.unroute_all()
    page.keyboard.press("Escape")
    page.keyboard.press("c")
    expect(words).to_have_value("")
    page.keyboard.press("Escape")
    expect(page.locator(f"#{other}")).to_be_focused()
    page.keyboard.press("d")
    expect(page.locator(f"#{other} .verdict")).to_have_text("Declined")
    page.context.close()


@pytest.mark.slow
def test_axe_finds_nothing_and_everything_fits(browser: Browser, desk: Site) -> None:
    row = f"{desk.address}/lifters/{desk.told['lifter']}"
    writer = opened(browser, desk, java_script_enabled=False)
    pages = ["/", "/evening/", f"/lifters/{desk.told['lifter']}/review/"]
    for step in ("offered", "written", "decided"):
        if step == "written":
            writer.goto(f"{row}/review/")
            writer.click("text=Write the letter")
            expect(writer.locator("article.letter")).to_be_visible()
            pages = [*pages, f"/lifters/{desk.told['lifter']}/ledger/?verdict=open"]
        if step == "decided":
            writer.click("button[name=accept_all]")
            expect(writer.locator("#decided")).to_be_visible()
        page = opened(browser, desk, LOOKS[step][0][0])
        for address in pages:
            page.goto(desk.address + address)
            for summary in page.locator("main details:not(.more) > summary").all()[:3]:
                summary.click()
            assert_looks_readable(page, f"{address}, {step}", LOOKS[step])
        page.context.close()
    writer.context.close()
