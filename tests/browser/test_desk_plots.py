"""Strength, Sets, Report, Rack and Lifts in a real browser: readable in light and dark, on a phone
and at a desk, by keyboard."""

import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta

import pytest
import review_site
from phone_site import Site, running_site
from playwright.sync_api import Browser, ConsoleMessage, expect
from readable import NARROW, WIDE, assert_looks_readable, opened

FAINT = """() => [...document.querySelectorAll('.plot svg')].map((one) => {
  const line = one.querySelector('polyline');
  return [getComputedStyle(line).stroke, getComputedStyle(document.body).backgroundColor];
})"""


@pytest.fixture(scope="module")
def desk(filled_copy: Callable[..., Site]) -> Iterator[Site]:
    with running_site(filled_copy(review_site.filled)) as site:
        yield site


def addresses(desk: Site) -> list[str]:
    today = date.fromisoformat(desk.told["today"])
    start = today - timedelta(days=today.weekday() + 7)
    lifter = f"/lifters/{desk.told['lifter']}"
    return [
        f"{lifter}/strength/", f"{lifter}/sets/", f"{lifter}/report/{start}/",
        "/rack/?load=83&partner=60", f"/lifts/?muscle=quads&lifter={desk.told['lifter']}",
    ]  # fmt: skip


@pytest.mark.slow
def test_anyone_can_read_every_page(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk)
    refused: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type == "error":
            refused.append(message.text)

    page.on("console", heard)
    for address in addresses(desk):
        page.goto(desk.address + address)
        assert_looks_readable(page)
    assert refused == []
    page.context.close()


@pytest.mark.slow
def test_the_report_folds_its_drawings_on_a_phone_only(browser: Browser, desk: Site) -> None:
    report = desk.address + addresses(desk)[2]
    for size, seen_at_once in ((WIDE, True), (NARROW, False)):
        page = opened(browser, desk, size)
        page.goto(report)
        drawing = page.locator(".plot").first
        assert not drawing.is_visible(), "the first page is what a lifter reads"
        page.get_by_text("What is behind it").click()
        summary = page.locator(".at_desk:has(.plot) > summary").first
        assert drawing.is_visible() == seen_at_once
        assert summary.is_visible() != seen_at_once
        if not seen_at_once:
            summary.focus()
            page.keyboard.press("Enter")
            expect(drawing).to_be_visible()
        page.context.close()


@pytest.mark.slow
def test_drawings_follow_light_and_dark_and_say_their_finding(browser: Browser, desk: Site) -> None:
    lines = {}
    for scheme in ("light", "dark"):
        page = opened(browser, desk, NARROW, color_scheme=scheme)
        page.goto(desk.address + addresses(desk)[0])
        lines[scheme] = page.evaluate(FAINT)
        assert lines[scheme]
        assert all(re.match(r"rgb", stroke) and stroke != paper for stroke, paper in lines[scheme])
        first = page.locator(".panels section").first
        finding = first.get_by_role("heading").inner_text()
        assert re.search(r": \d+ kg \(\d+ to \d+\)", finding)
        expect(first.get_by_role("img")).to_have_accessible_name(re.compile("^1RM: "))
        width = first.locator("svg").bounding_box()
        assert width is not None
        assert 300 <= width["width"] <= 340
        page.context.close()
    assert lines["light"] != lines["dark"]


@pytest.mark.slow
def test_a_load_is_asked_for_by_keyboard_alone(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk)
    page.goto(f"{desk.address}/rack/")
    page.locator("#load").focus()
    page.keyboard.type("82.5")
    for _ in range(2):
        page.keyboard.press("Tab")
    page.keyboard.type(desk.told["name"][:4])
    page.keyboard.press("Tab")
    page.keyboard.type("60")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Two on one bar")).to_be_visible()
    assert desk.told["lifter"] in page.url
    page.goto(desk.address + addresses(desk)[1])
    table = page.get_by_role("region").first
    table.focus()
    assert page.evaluate("document.activeElement.getAttribute('role')") == "region"
    page.goto(f"{desk.address}/lifts/")
    page.locator("summary").filter(has_text="Kit that has to be enough").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.locator("main button").focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/lifts/?**kit=bar**")
    page.context.close()


@pytest.mark.slow
def test_paper_comes_as_a_file(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk)
    page.goto(desk.address + addresses(desk)[2])
    with page.expect_download() as coming:
        page.get_by_role("link", name="On paper, A4 (PDF)").click()
    assert coming.value.suggested_filename.startswith("report-")
    page.context.close()
