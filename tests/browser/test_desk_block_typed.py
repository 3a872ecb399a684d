"""The block typed into, in a real browser: sets, range, reserve and load in the cell, another lift
by part of its name, another day, locks, the rest solved, undo; by keyboard alone; what clashes is
said beside the cell."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import block_site
import pytest
from chromium import held, tab_to
from phone_site import Site, running_site
from playwright.sync_api import Browser, Locator, Page, Route, expect
from readable import COLOURS, EVERY_RULE, NARROW, WIDE, assert_readable, broken, opened

SMALLEST = {"width": 320, "height": 640}
TWICE = {"width": 640, "height": 450}
"""A desk of 1280 by 900 at 200 %."""
FADE = """one => {
  for (const each of [one, ...one.querySelectorAll('*')]) each.style.color = 'rgb(180, 180, 180)';
}"""


@pytest.fixture(scope="module")
def desk(filled_copy: Callable[..., Site]) -> Iterator[Site]:
    with running_site(filled_copy(block_site.filled)) as site:
        yield site


@pytest.fixture
def page(browser: Browser, desk: Site) -> Iterator[Page]:
    trouble: list[str] = []
    page = opened(browser, desk, WIDE)
    page.on("pageerror", lambda error: trouble.append(str(error)))
    page.on("console", lambda line: trouble.append(line.text) if _is_ours(line) else None)
    at_the_block(page, desk)
    yield page
    page.context.close()
    assert trouble == []


def _is_ours(line: Any) -> bool:
    return line.type == "error" and "Failed to load resource" not in line.text


def at_the_block(page: Page, desk: Site, week: int = 5) -> None:
    row, start = desk.told["whole"], desk.told["start"]
    page.goto(f"{desk.address}/lifters/{row}/block/{start}/?week={week}")
    expect(page.locator("#typed.typing")).to_be_visible()


def row_of(page: Page, day: str, lift: str) -> Locator:
    return page.locator(f'tbody[data-title^="{day}"] tr[data-lift="{lift}"]')


def cell(page: Page, day: str, lift: str, week: int = 5) -> Locator:
    return row_of(page, day, lift).locator(f'td[data-week="{week}"]')


def typed(found: Locator, **fields: str) -> None:
    """Opens a cell by a click, fills its fields and sends them."""
    found.click()
    for name, value in fields.items():
        found.locator(f"input[name={name}]").fill(value)
    found.locator("input[name=sets]").press("Enter")
    expect(found.locator("form")).to_have_count(0)


def looked_for(page: Page, words: str) -> None:
    """Types part of a name at once, and waits for the lifts found by it."""
    before = page.locator(".choices li")
    before.first.wait_for()
    before.evaluate_all("all => all.forEach((one) => one.setAttribute('data-before', ''))")
    page.keyboard.insert_text(words)
    expect(page.locator(".choices [data-before]")).to_have_count(0)


def count(page: Page) -> Locator:
    return page.locator("#draft summary")


@pytest.mark.slow
def test_a_cell_is_typed_into_by_keyboard_alone_and_kept(page: Page) -> None:
    tab_to(page, "tr[data-lift] > [data-at]")
    for _ in range(2):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowRight")
    here = page.locator("td[data-at]:focus")
    # which week is the first that may still be changed, the day of the week decides
    for _ in range(3):
        if here.get_attribute("data-week") != "5":
            page.keyboard.press("ArrowRight")
    assert here.get_attribute("data-week") == "5"
    lift = here.locator("xpath=..").get_attribute("data-lift")
    before = int(here.get_attribute("data-sets") or "")
    page.keyboard.press("+")
    page.keyboard.press("1")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    expect(page.locator("input[name=load]:focus")).to_be_visible()
    page.keyboard.press("Enter")
    # The focus is where it was, in the cell as it is now.
    here = page.locator("td[data-at]:focus")
    expect(here).to_contain_text(f"{before + 1} × ")
    expect(here.locator("xpath=..")).to_have_attribute("data-lift", str(lift))
    expect(page.locator("#said")).to_contain_text(f"{before + 1} sets where there were {before}")
    expect(count(page)).to_contain_text("1 change typed, not kept yet")
    # What is typed outlives the page until it is kept.
    page.reload()
    expect(count(page)).to_contain_text("1 change typed")
    tab_to(page, "button[data-act=keep]")
    if page.locator("#insist").count():
        page.locator("#insist").check()
        page.locator("button[data-act=keep]").focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**kept=*")
    expect(page.locator(".grid .note").first).to_contain_text(f"{before + 1} sets")
    expect(count(page)).to_have_count(0)


@pytest.mark.slow
def test_what_clashes_is_said_in_the_margin_and_undone(page: Page) -> None:
    found = cell(page, "Monday", "leg curl")
    was = found.inner_text()
    wide = page.locator(".grid thead th").evaluate_all("all => all.map((one) => one.offsetWidth)")
    # The deload has 3 to 4: what stands in the block already clashes nowhere.
    typed(found, low="3", high="5", rir="0")
    margin = row_of(page, "Monday", "leg curl").locator(".margin")
    clashes = margin.locator(".clash")
    expect(clashes).to_have_count(2)
    expect(margin).to_contain_text("leg curl is made for 8 to 25 repetitions")
    expect(margin).to_contain_text("leg curl would go to failure")
    expect(found).to_contain_text("clashes: see the margin")
    # No column moves for what is said in another.
    now = page.locator(".grid thead th").evaluate_all("all => all.map((one) => one.offsetWidth)")
    assert now == wide
    # What nobody may insist on has no way to be kept.
    expect(count(page)).to_contain_text("cannot stand: ")
    expect(page.locator("[data-act=keep]")).to_have_count(0)
    found.focus()
    page.keyboard.press("Control+z")
    expect(clashes).to_have_count(1)
    expect(found).to_be_focused()
    page.keyboard.press("Control+z")
    expect(count(page)).to_have_count(0)
    expect(found).to_have_text(was, use_inner_text=True)


@pytest.mark.slow
def test_what_is_no_number_stays_in_its_field(page: Page) -> None:
    found = cell(page, "Monday", "leg curl")
    found.click()
    found.locator("input[name=sets]").fill("two")
    page.keyboard.press("Enter")
    expect(found.locator(".warn")).to_have_text("Sets: write a number")
    found.locator("input[name=sets]").fill("19")
    row_of(page, "Monday", "lat pulldown").locator("th").click()
    expect(found.locator(".warn")).to_contain_text("give 1 to ")
    # Who went on to a name is left where they type by now.
    expect(page.locator(".editor .swap input")).to_be_focused()
    page.keyboard.press("Escape")
    found.locator("input[name=sets]").press("Enter")
    expect(found.locator("input[name=sets]")).to_be_focused()
    page.keyboard.press("Escape")
    expect(found).to_be_focused()
    expect(count(page)).to_have_count(0)


@pytest.mark.slow
def test_what_is_typed_while_another_cell_is_judged_stays(page: Page) -> None:
    waiting: list[Route] = []
    page.route("**/typed/**", lambda route: waiting.append(route))
    first, second = cell(page, "Monday", "lat pulldown"), cell(page, "Monday", "leg curl")
    first.click()
    first.locator("input[name=low]").fill("9")
    page.keyboard.press("Enter")
    coming = held(page, waiting)
    second.click()
    second.locator("input[name=high]").fill("1")
    coming.continue_()
    expect(count(page)).to_contain_text("1 change typed")
    page.keyboard.type("3")
    expect(second.locator("input[name=high]")).to_have_value("13")
    expect(second.locator("input[name=high]")).to_be_focused()
    page.keyboard.press("Escape")
    expect(second).to_be_focused()
    expect(count(page)).to_contain_text("1 change typed")
    waiting.clear()
    first.click()
    first.locator("input[name=low]").fill("10")
    page.keyboard.press("Enter")
    coming = held(page, waiting)
    second.locator("xpath=../th").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("kneel")
    coming.continue_()
    page.unroute("**/typed/**")
    expect(count(page)).to_contain_text("2 changes typed")
    looked_for = page.locator(".editor .swap input")
    expect(looked_for).to_have_value("kneel")
    expect(looked_for).to_be_focused()


@pytest.mark.slow
def test_a_load_leads_the_later_weeks(page: Page) -> None:
    found = cell(page, "Monday", "barbell back squat")
    typed(found, load="81.3")
    expect(found).to_contain_text("81.3 kg")
    expect(found.locator("xpath=..").locator(".clash")).to_contain_text(
        "the kit makes 80 kg or 82.5 kg"
    )
    expect(page.locator("#insist")).to_be_visible()
    page.locator("[data-act=keep]").click()
    expect(page.locator("#insist")).to_be_focused()
    page.locator("[data-act=undo]").click()
    expect(count(page)).to_have_count(0)
    # The button is gone; whoever goes on by keyboard is still in the grid.
    expect(page.locator("tr[data-lift] > th:focus")).to_be_visible()


@pytest.mark.slow
def test_another_lift_by_part_of_its_name(page: Page) -> None:
    row_of(page, "Monday", "dumbbell lateral raise").locator("th").focus()
    page.keyboard.press("Enter")
    choices = page.locator(".choices li")
    expect(choices).to_have_count(3)
    looked_for(page, "raise")
    expect(choices.first.locator("button")).to_contain_text("raise")
    expect(choices).to_have_count(3)
    for choice in choices.all():
        cost = choice.locator(".cost").inner_text()
        assert re.search(r"as long|minutes? (longer|shorter)", cost), cost
        assert re.search(r"kg|load to be found", cost), cost
    page.keyboard.press("ArrowDown")
    wanted = page.locator(".choices button:focus").inner_text().lower()
    page.keyboard.press("Enter")
    expect(row_of(page, "Monday", wanted).locator("th")).to_be_focused()
    expect(cell(page, "Monday", wanted)).to_contain_text("×")
    expect(row_of(page, "Monday", "dumbbell lateral raise")).to_have_count(0)
    page.keyboard.press("Control+z")
    expect(count(page)).to_have_count(0)


@pytest.mark.slow
def test_a_lift_goes_to_another_day_by_keyboard_and_by_hand(page: Page) -> None:
    name = row_of(page, "Tuesday", "cable curl").locator("th")
    name.drag_to(page.locator('tbody[data-title^="Thursday"] tr.slot th'))
    expect(cell(page, "Thursday", "cable curl")).to_contain_text("×")
    row_of(page, "Monday", "leg curl").locator("th").focus()
    page.keyboard.press("m")
    chosen = page.locator(".lift_form select:focus")
    chosen.select_option(label="Tuesday 18:00")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(row_of(page, "Tuesday", "leg curl").locator("th")).to_be_focused()
    expect(cell(page, "Tuesday", "leg curl")).to_contain_text("×")
    expect(count(page)).to_contain_text("2 changes typed")
    # A lift that is not added after all gives the focus back to the one it was asked at; undo keeps
    # it on a button too.
    page.keyboard.press("a")
    page.keyboard.press("Escape")
    expect(row_of(page, "Tuesday", "leg curl").locator("th")).to_be_focused()
    add = page.locator('tbody[data-title^="Tuesday"] [data-act=add]')
    add.focus()
    page.keyboard.press("Control+z")
    expect(count(page)).to_contain_text("1 change typed")
    expect(add).to_be_focused()
    page.keyboard.press("Control+z")
    expect(cell(page, "Monday", "leg curl")).to_contain_text("×")
    expect(cell(page, "Tuesday", "cable curl")).to_contain_text("×")


@pytest.mark.slow
def test_a_lift_comes_earlier_and_later_by_keyboard(page: Page) -> None:
    rows = page.locator("table.grid tbody").first.locator("tr[data-lift]")
    was = [row.get_attribute("data-lift") for row in rows.all()]
    rows.nth(1).locator("th").focus()
    page.keyboard.press("Alt+ArrowDown")
    expect(page.locator("#draft")).to_contain_text("comes at place 3")
    for at, lift in ((1, was[2]), (2, was[1])):
        expect(rows.nth(at)).to_have_attribute("data-lift", str(lift))
    page.keyboard.press("Alt+ArrowUp")
    expect(page.locator("#draft")).to_contain_text("comes at place 2")
    for at, lift in enumerate(was):
        expect(rows.nth(at)).to_have_attribute("data-lift", str(lift))


def test_one_more_lift_is_too_many_until_another_goes_out(page: Page) -> None:
    lift = row_of(page, "Tuesday", "leg extension").locator("th")
    lift.focus()
    page.keyboard.press("a")
    looked_for(page, "hammer")
    expect(page.locator(".choices button").first).to_contain_text("hammer")
    page.keyboard.press("Enter")
    added = page.locator('tbody[data-title^="Tuesday"] tr[data-lift*="hammer"]')
    expect(added.locator("th")).to_be_focused()
    lift.focus()
    page.keyboard.press("a")
    looked_for(page, "calf")
    expect(page.locator(".choices button").first).to_contain_text("calf")
    page.keyboard.press("Enter")
    expect(count(page)).to_contain_text("cannot stand")
    clashes = page.locator('tbody[data-title^="Tuesday"] .clash')
    expect(clashes.filter(has_text="7 lifts")).to_have_count(1)
    added.locator("th").focus()
    page.keyboard.press("Delete")
    expect(added.locator("td[data-at]")).to_have_count(0)
    expect(count(page)).not_to_contain_text("cannot stand")


@pytest.mark.slow
def test_solving_the_rest_keeps_what_is_typed_and_locked(page: Page) -> None:
    name = row_of(page, "Thursday", "cable crunch").locator("th")
    name.focus()
    page.keyboard.press("k")
    expect(name).to_contain_text("locked")
    typed(cell(page, "Monday", "barbell back squat"), sets="+0 x 6-9")
    page.locator("[data-act=solve]").click()
    expect(page.locator("#said")).to_contain_text("Solved", timeout=60_000)
    expect(count(page)).to_contain_text("3 changes typed")
    expect(cell(page, "Monday", "barbell back squat")).to_contain_text("6–9")
    expect(cell(page, "Thursday", "cable crunch")).to_contain_text("×")
    expect(row_of(page, "Thursday", "cable crunch").locator("th")).to_contain_text("locked")
    # A change after it stands on what was solved; undo goes back through both.
    typed(cell(page, "Monday", "barbell back squat", 6), rir="3")
    expect(cell(page, "Monday", "barbell back squat", 6)).to_contain_text("3 in reserve")
    for left in (3, 2, 1):
        page.locator("[data-act=undo]").click()
        expect(count(page)).to_contain_text(f"{left} change")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("size", "scheme", "rules"),
    [
        (WIDE, "light", EVERY_RULE), (TWICE, "light", None),
        (NARROW, "dark", COLOURS), (SMALLEST, "light", None),
    ],
)  # fmt: skip
def test_axe_finds_nothing_while_it_is_typed_into(
    browser: Browser, desk: Site, size: Any, scheme: str, rules: Any
) -> None:
    page = opened(browser, desk, size, color_scheme=scheme)
    at_the_block(page, desk)
    assert_readable(page, "typing", rules=rules)
    found = cell(page, "Monday", "leg curl")
    found.click()
    assert_readable(page, "cell", rules=rules)
    last = [each.bounding_box() or {} for each in found.locator("button").all()]
    assert last[1]["x"] - last[0]["x"] - last[0]["width"] >= 12, "no thumb leaves for setting"
    found.locator("input[name=low]").fill("3")
    page.keyboard.press("Enter")
    expect(row_of(page, "Monday", "leg curl").locator(".clash").first).to_be_visible()
    page.locator("#draft summary").click()
    row_of(page, "Thursday", "cable crunch").locator("th").click(position={"x": 4, "y": 4})
    expect(page.locator(".choices li").first).to_be_visible()
    assert_readable(page, "lift and draft", rules=rules)
    page.context.close()


@pytest.mark.slow
def test_one_faded_cell_among_many_is_found(page: Page) -> None:
    cell(page, "Monday", "leg curl").evaluate(FADE)
    assert [one.partition(":")[0] for one in broken(page, COLOURS)] == ["color-contrast"]


@pytest.mark.slow
def test_a_narrow_screen_changes_the_week_it_shows(browser: Browser, desk: Site) -> None:
    page = opened(browser, desk, NARROW)
    at_the_block(page, desk, 6)
    row_of(page, "Thursday", "cable crunch").locator("th").click(position={"x": 4, "y": 4})
    expect(page.locator(".lift_form")).to_contain_text("In week 6 only")
    page.keyboard.press("Escape")
    page.locator('tbody[data-title^="Thursday"] [data-act=add]').click()
    expect(page.locator(".lift_form")).to_contain_text("from week 6 on")
    page.context.close()
