"""Loads on the phone page: none without a basis, tries as tries, one question about a slip."""

from typing import Any

from phone_site import COACH, Site
from playwright.sync_api import BrowserContext, Page, expect
from test_phone_offline import WRITE, all_sent, not_too_soon, signed_in

CALF = "#lift-6"


def stored(site: Site, lifter: str) -> list[dict[str, Any]]:
    return [fact["event"] for fact in site.facts(lifter, "set")]


def open_lift(page: Page, number: int) -> None:
    page.locator(f"[data-key=lift-{number}]").tap()
    expect(page.locator(f"#lift-{number} .hand")).to_be_visible()


def test_a_lift_without_a_basis_has_an_empty_load_and_is_found_by_tries(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "ada")
    open_lift(page, 6)
    load = page.locator("#field-load")
    expect(load).to_have_value("")
    expect(page.locator(CALF + " " + WRITE)).to_have_count(0)
    page.locator("[data-key=try-5]").tap()
    expect(page.locator("#said")).to_have_text("Write the load first.")

    load.fill("40")
    page.locator("[data-key='try-10']").tap()
    expect(page.locator(CALF + " .ladder li")).to_have_count(1)
    first = float(load.input_value())
    assert 50 <= first <= 60
    not_too_soon(page)
    page.locator("[data-key='try-3-4']").tap()
    expect(page.locator(CALF + " .ladder li")).to_have_count(2)
    expect(page.locator(CALF + " h3").last).to_contain_text("Set 1 of 3:")
    found = float(load.input_value())
    assert 0.7 * first <= found <= 1.11 * first
    expect(page.locator(CALF + " table.rows")).to_have_count(0)
    not_too_soon(page)
    page.locator(WRITE).tap()
    expect(page.locator(CALF + " table.rows tbody tr")).to_have_count(1)
    all_sent(page)
    sets = [event["set"] for event in stored(shared_site, "ada")]
    assert [one["method"] for one in sets] == ["try", "try", "straight"]
    assert [one["set"] for one in sets] == [1, 2, 3]
    assert [event["plan"]["set"] for event in stored(shared_site, "ada")] == [None, None, 1]


def test_somebody_who_knows_the_load_writes_it(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "bo")
    open_lift(page, 6)
    page.locator("[data-key=know-load]").tap()
    expect(page.locator("#field-load")).to_have_value("")
    page.locator(WRITE).tap()
    expect(page.locator("#said")).to_have_text("Write the load first.")
    page.locator("#field-load").fill("60")
    page.locator(WRITE).tap()
    expect(page.locator("#advice")).to_contain_text("Next set:")


def test_a_slip_is_asked_about_once_and_steers_nothing_until_it_is_answered(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "cleo")
    page.locator("#field-load").fill("1025")
    page.locator(WRITE).tap()
    asked = page.locator("#lift-1 [role=alert]")
    expect(asked).to_contain_text(
        "1025 kg × 10 is far from what this lift's log shows. Is it true?"
    )
    expect(page.locator("#lift-1 .doubt")).to_contain_text("Nothing is advised")
    expect(page.locator("#field-load")).to_have_value("102.5")
    asked.get_by_role("button", name="No, 102.5 kg").tap()
    expect(asked).to_have_count(0)
    expect(page.locator("#lift-1 .advice")).to_contain_text("Next set:")
    all_sent(page)
    assert [one["set"]["load"] for one in stored(shared_site, "cleo")] == ["102.5"]


def test_far_more_than_the_bodyweight_bears_out_is_asked_about_and_may_be_true(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "dov")
    open_lift(page, 6)
    page.locator("[data-key=know-load]").tap()
    page.locator("#field-load").fill("400")
    page.locator("#field-reps").fill("12")
    page.locator(WRITE).tap()
    asked = page.locator(CALF + " [role=alert]")
    expect(asked).to_contain_text("400 kg × 12 is")
    expect(page.locator(CALF + " .advice")).to_have_count(0)
    asked.get_by_role("button", name="Yes, it is true").tap()
    expect(asked).to_have_count(0)
    expect(page.locator(CALF + " .advice")).to_contain_text("Next set: keep 400 kg")
    all_sent(page)
    assert [one["set"]["confirmed"] for one in stored(shared_site, "dov")] == [True]


def test_two_sets_that_disagree_are_asked_about_and_the_later_one_is_followed(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "eva")
    open_lift(page, 6)
    page.locator("[data-key=know-load]").tap()
    for load, reps in (("20", "9"), ("50", "10")):
        page.locator("#field-load").fill(load)
        page.locator("#field-reps").fill(reps)
        page.locator(WRITE).tap()
        expect(page.locator(CALF + " .did").last).to_contain_text(f"{load} kg")
        not_too_soon(page)
    asked = page.locator(CALF + " [role=alert]")
    expect(asked).to_contain_text("50 kg × 10")
    asked.get_by_role("button", name="Yes, it is true").tap()
    expect(page.locator(CALF + " .advice")).to_contain_text("50 kg")


def test_two_machines_are_asked_about_at_the_lift_and_answered_without_signal(
    context: BrowserContext, shared_site: Site
) -> None:
    """Kim's leg extension reads a third heavier every second week: the other machine's load is
    no slip either."""
    page = signed_in(context, shared_site, "kim", COACH)
    asked = page.get_by_role("group", name="On how many machines?")
    expect(asked).to_have_count(0)
    open_lift(page, 3)
    expect(asked).to_contain_text("Two machines, or two gyms?")
    context.set_offline(True)
    page.locator("#field-load").fill("60")
    page.locator(WRITE).tap()
    expect(page.locator("#lift-3 table.rows tbody tr")).to_have_count(1)
    expect(page.locator("#lift-3 [role=alert]")).to_have_count(0)
    asked.get_by_role("button", name="Yes, two").tap()
    expect(asked).to_have_count(0)
    expect(page.locator("#said")).to_contain_text("Written down")
    page.reload()
    open_lift(page, 3)
    expect(asked).to_have_count(0)
    context.set_offline(False)
    all_sent(page)
    (answer,) = (fact["event"]["checkin"] for fact in shared_site.facts("kim", "checkin"))
    assert (answer["measure"], answer["about"], answer["value"]) == (
        "machines", "leg extension", "2",
    )  # fmt: skip
