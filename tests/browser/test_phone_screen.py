"""The set in hand on one small screen, by where its parts lie; rest, pain, another phone."""

from typing import Any

import pytest
from chromium import open_sheet, phone, sign_in
from phone_site import Site
from playwright.sync_api import Browser, BrowserContext, Page, expect
from test_phone_offline import WRITE, all_sent, know_the_load, write_down

SMALL = {"width": 360, "height": 640}
HURTS, NEXT = "#bar [data-key=hurts]", "#bar [data-key=next]"


@pytest.fixture
def small(browser: Browser, shared_phone: BrowserContext, shared_site: Site) -> Any:
    """Opens a lifter's session on the file's phone; on another the second time, or of a size."""
    made: list[BrowserContext] = []

    def opened(lifter: str, **more: Any) -> Page:
        if more or shared_phone.pages:
            context = phone(browser, **({"viewport": SMALL} | more))
            made.append(context)
        else:
            context = shared_phone
        page = context.new_page()
        page.set_viewport_size(more.get("viewport", SMALL))
        sign_in(page, shared_site, lifter)
        open_sheet(page, shared_site, lifter)
        return page

    yield opened
    for context in made:
        context.close()


def shown_whole(page: Page, *names: str) -> list[str]:
    """Which of them do not come to lie between the top of the screen and the fixed foot: the page
    is scrolled after it was drawn."""
    for _ in range(30):
        if not _hidden(page, *names):
            break
        page.wait_for_timeout(100)
    return _hidden(page, *names)


def _hidden(page: Page, *names: str) -> list[str]:
    foot = page.locator("#bar").bounding_box()
    assert foot is not None
    hidden = []
    for name in names:
        box = page.locator(name).first.bounding_box()
        if box is None or box["y"] < 0 or box["y"] + box["height"] > foot["y"] + 1:
            hidden.append(name)
    return hidden


def test_load_reps_reserve_and_button_share_a_screen_for_every_lift(
    small: Any, shared_site: Site
) -> None:
    page = small("ada")
    fields = ("#field-load", "#field-reps", "#field-rir", WRITE)
    lifts = page.locator("ol.lifts > li").count()
    assert lifts > 4
    for at in range(1, lifts + 1):
        expect(page.locator(".lift.open")).to_have_attribute("id", f"lift-{at}")
        if page.locator("[data-key=know-load]").count():
            tries = ("#field-load", "#field-reps", "[data-key=try-10]", "[data-key=try-0]")
            assert shown_whole(page, *tries) == []
            know_the_load(page, "60")
        assert shown_whole(page, *fields) == [], f"lift {at}"
        assert page.locator(".lift.open .ahead details[open]").count() == 0
        page.locator(NEXT).tap()
    expect(page.locator(".lift.open")).to_have_attribute("id", "lift-1")
    # With text of twice the size nothing to tap lies beside the screen.
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    edges = "all => all.map((one) => one.getBoundingClientRect().right)"
    assert max(page.locator("button:visible").evaluate_all(edges)) <= SMALL["width"]


def test_cautions_of_the_lift_are_named_above_the_set_and_one_tap_away(small: Any) -> None:
    page = small("bo")
    way = page.locator(".lift.open .ahead > button")
    expect(way).to_have_text("2 cautions")
    assert shown_whole(page, ".lift.open .ahead > button") == []
    way.tap()
    for one in page.locator(".lift.open .cautions .caution").all():
        expect(one).to_be_in_viewport()


def test_between_sets_the_rest_is_largest_and_a_done_set_takes_a_line(small: Any) -> None:
    page = small("cleo")
    for _ in range(2):
        write_down(page)
        assert shown_whole(page, "#field-load", "#field-reps", "#field-rir", WRITE, "#advice") == []
    sizes = page.evaluate(
        """() => [...document.querySelectorAll('body *')].filter((one) => one.checkVisibility())
          .map((one) => [one.className, parseFloat(getComputedStyle(one).fontSize)])"""
    )
    clock = next(size for name, size in sizes if name == "clock")
    assert clock >= 44
    assert all(size < clock for name, size in sizes if name != "clock")
    line = page.evaluate(
        "() => parseFloat(getComputedStyle(document.querySelector('.did')).lineHeight)"
    )
    for row in page.locator(".did").all():
        box = row.bounding_box()
        assert box is not None
        assert box["height"] < 1.5 * line
        assert row.evaluate("(one) => one.scrollWidth <= one.clientWidth"), row.inner_text()


def test_hurts_next_and_rest_stay_in_the_foot_wherever_the_page_is(small: Any) -> None:
    page = small("dov")
    write_down(page)
    for at in (0, 10_000):
        page.evaluate(f"scrollTo(0, {at})")
        for name in (HURTS, NEXT, "#rest .clock", "#unsent"):
            expect(page.locator(name)).to_be_in_viewport(ratio=1)
        # Away from the set in hand the way on is the way back to it.
        expect(page.locator(NEXT)).to_have_text("Back")
    page.locator(NEXT).tap()
    expect(page.locator(NEXT)).to_have_text("Next lift")
    page.locator(HURTS).tap()
    expect(page.locator(".regions button").first).to_be_in_viewport(ratio=1)
    expect(page.locator(NEXT)).to_have_text("Back")
    page.locator(NEXT).tap()
    expect(page.locator(WRITE)).to_be_in_viewport(ratio=1)
    expect(page.locator(".lift.open")).to_have_attribute("id", "lift-1")


def test_nothing_moves_sideways_on_a_narrow_or_a_magnified_screen(small: Any) -> None:
    # 1280 px at 200 % is 640 px of half the height; 320 px is the narrowest.
    for lifter, size in (
        ("eva", {"width": 320, "height": 568}),
        ("finn", {"width": 640, "height": 400}),
    ):
        page = small(lifter, viewport=size)
        write_down(page)
        page.locator(HURTS).tap()
        page.locator("[data-key=region-knee]").tap()
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
        for name in (HURTS, NEXT, "#unsent", "#rest .clock"):
            expect(page.locator(name)).to_be_in_viewport(ratio=1)


def test_a_second_phone_opens_at_the_set_in_hand(small: Any) -> None:
    one = small("gil")
    write_down(one)
    write_down(one)
    all_sent(one)
    other = small("gil")
    expect(other.locator(".lift.open h3")).to_contain_text("Set 3 of 4")
    expect(other.locator(WRITE)).to_be_in_viewport(ratio=1)
    assert shown_whole(other, "#field-load", "#field-reps", "#field-rir", WRITE) == []


def test_a_set_that_cannot_be_written_says_why_beside_the_button(small: Any) -> None:
    page = small("hana")
    page.locator("#field-reps").fill("")
    page.locator(WRITE).tap()
    expect(page.locator(".lacks")).to_have_text("Write the repetitions as a number first.")
    assert shown_whole(page, ".lacks", WRITE) == []
    expect(page.locator("#field-reps")).to_be_focused()
    assert page.locator(".did").count() == 0
    page.locator("#field-reps").fill("9")
    expect(page.locator(".lacks")).to_be_hidden()
    write_down(page)


def test_a_question_about_a_set_is_on_the_screen_with_its_answers(small: Any) -> None:
    page = small("ines")
    page.locator("#field-load").fill("1025")
    page.locator(WRITE).tap()
    expect(page.locator(".doubt")).to_be_visible()
    assert shown_whole(page, ".did", ".doubt p", ".doubt [data-key^=true]") == []
    page.locator(".doubt [data-key^=meant]").tap()
    expect(page.locator(".doubt")).to_have_count(0)
    assert shown_whole(page, WRITE) == []


def test_pain_after_a_lifts_last_set_is_of_that_lift_and_is_answered_on_the_screen(
    small: Any,
) -> None:
    page = small("ivo")
    for _ in range(4):
        write_down(page)
    expect(page.locator(".lift.open")).to_have_attribute("id", "lift-2")
    page.locator(HURTS).tap()
    expect(page.locator("#field-hurts option:checked")).to_have_text("barbell back squat")
    page.locator("[data-key=region-knee]").tap()
    assert shown_whole(page, "[data-key=pain-0]", "[data-key=pain-10]") == []
    page.locator("[data-key=pain-4]").tap()
    expect(page.locator("#pain-said")).to_contain_text("Its sets are done")
    expect(page.locator(".panel.open .choice")).to_have_count(0)
    assert shown_whole(page, "[data-key=pain-4]", "#pain-said") == []
    expect(page.locator("#lift-1")).to_contain_text("Pain 4 of 10")


def test_the_end_is_offered_when_nothing_is_left_and_said_when_it_is_there(small: Any) -> None:
    page = small("jule")
    page.locator("[data-key=lift-2]").tap()
    assert shown_whole(page, WRITE) == []
    page.locator("[data-key=panel-end]").tap()
    page.locator("#panel-end .write").tap()
    expect(page.locator("#top")).to_contain_text("and written down. A set can still be added")
    expect(page.locator("#top .advice")).to_be_in_viewport(ratio=1)


def test_a_set_of_a_pair_leads_to_the_other_lift_and_its_undo_back(small: Any) -> None:
    page = small("kira")
    page.locator("[data-key=lift-4]").tap()
    page.locator("#field-reps").fill("10+3")
    page.get_by_role("button", name="More reps").tap()
    write_down(page)
    expect(page.locator(".lift.open")).to_have_attribute("id", "lift-5")
    expect(page.locator("#lift-4 .did")).to_contain_text("10+4 reps")
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator(".lift.open")).to_have_attribute("id", "lift-4")
    assert shown_whole(page, WRITE) == []
