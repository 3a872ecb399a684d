"""Strength, Sets, Report, Rack and Lifts in a real browser: readable in light and dark, on a phone
and at a desk, by keyboard."""

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest
import review_site
from axe_playwright_python.sync_playwright import Axe
from phone_site import COACH, PASSWORD, Site, running_site
from playwright.sync_api import Browser, ConsoleMessage, Page, expect

WIDE, NARROW = (1280, 900), (360, 740)
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SMALL = """() => [...document.querySelectorAll('main button, main a, main input, main select, main summary')]
  .filter((one) => one.offsetParent !== null && one.type !== 'checkbox')
  .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
  .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
  .map(([html, box]) => `${html} ${box.width}x${box.height}`)"""  # noqa: E501
FAINT = """() => [...document.querySelectorAll('.plot svg')].map((one) => {
  const line = one.querySelector('polyline');
  return [getComputedStyle(line).stroke, getComputedStyle(document.body).backgroundColor];
})"""


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder = tmp_path_factory.mktemp("plots")
    with running_site(Site(folder, review_site.filled(folder))) as site:
        yield site


def signed_in(browser: Browser, desk: Site, size: tuple[int, int], scheme: Any) -> Page:
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme=scheme
    )
    context.set_default_timeout(15_000)
    page = context.new_page()
    page.goto(f"{desk.address}/sign-in/")
    page.fill("#id_username", COACH)
    page.fill("#id_password", PASSWORD)
    page.click("main button")
    page.wait_for_url(f"{desk.address}/")
    return page


def addresses(desk: Site) -> list[str]:
    today = date.fromisoformat(desk.told["today"])
    start = today - timedelta(days=today.weekday() + 7)
    lifter = f"/lifters/{desk.told['lifter']}"
    return [
        f"{lifter}/strength/", f"{lifter}/sets/", f"{lifter}/report/{start}/",
        "/rack/?load=83&partner=60", f"/lifts/?muscle=quads&lifter={desk.told['lifter']}",
    ]  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize(("size", "scheme"), [(WIDE, "light"), (NARROW, "dark")])
def test_anyone_can_read_every_page(
    browser: Browser, desk: Site, size: tuple[int, int], scheme: str
) -> None:
    page = signed_in(browser, desk, size, scheme)
    refused: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type == "error":
            refused.append(message.text)

    page.on("console", heard)
    for address in addresses(desk):
        page.goto(desk.address + address)
        found = Axe().run(page, options={"runOnly": RULES}).response["violations"]
        assert [(one["id"], one["nodes"][0]["html"][:120]) for one in found] == [], address
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0], address
        assert page.evaluate(SMALL) == [], address
    assert refused == []
    page.context.close()


@pytest.mark.slow
def test_the_report_folds_its_drawings_on_a_phone_only(browser: Browser, desk: Site) -> None:
    report = desk.address + addresses(desk)[2]
    for size, seen_at_once in ((WIDE, True), (NARROW, False)):
        page = signed_in(browser, desk, size, "light")
        page.goto(report)
        drawing = page.locator(".plot").first
        summary = page.locator(".at_desk:has(.plot) > summary").first
        assert drawing.is_visible() == seen_at_once
        assert summary.is_visible() != seen_at_once
        if not seen_at_once:
            summary.focus()
            page.keyboard.press("Enter")
            expect(drawing).to_be_visible()
        page.context.close()


@pytest.mark.slow
def test_a_line_keeps_its_name_while_its_figures_move(browser: Browser, desk: Site) -> None:
    page = signed_in(browser, desk, NARROW, "light")
    page.goto(desk.address + addresses(desk)[0])
    region = page.locator(".region").first
    region.evaluate("one => one.scrollTo(400, 0)")
    assert region.evaluate("one => one.scrollLeft") > 0
    for what in ("tbody th", "caption span"):
        box = region.locator(what).first.bounding_box()
        assert box is not None
        assert 0 <= box["x"] < NARROW[0] / 4, what
    page.context.close()


@pytest.mark.slow
def test_drawings_follow_light_and_dark_and_say_their_finding(browser: Browser, desk: Site) -> None:
    lines = {}
    for scheme in ("light", "dark"):
        page = signed_in(browser, desk, NARROW, scheme)
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
    page = signed_in(browser, desk, WIDE, "light")
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
    page = signed_in(browser, desk, WIDE, "light")
    page.goto(desk.address + addresses(desk)[2])
    with page.expect_download() as coming:
        page.get_by_role("link", name="On paper, A4 (PDF)").click()
    assert coming.value.suggested_filename.startswith("report-")
    page.context.close()
