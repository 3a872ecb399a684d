"""A session on the phone page: taps, corrections, pain, swaps, turns; how it looks to a reader."""

import re
from collections.abc import Iterator
from functools import partial
from typing import Any

import pytest
from chromium import open_sheet, phone, ready, sign_in
from phone_site import SECOND, Site
from playwright.sync_api import Browser, BrowserContext, Page, expect
from readable import COLOURS, EVERY_RULE, assert_readable
from test_phone_offline import (
    WRITE,
    all_sent,
    know_the_load,
    not_too_soon,
    signed_in,
    write_down,
)

PANELS = (
    "Short of time", "Machine taken", "Something hurts", "How are you today", "Add a lift",
    "Take turns with another lifter", "End the session",
)  # fmt: skip


def panel(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).first.tap()


def region(page: Page, name: str) -> None:
    page.locator(".regions").get_by_role("button", name=name, exact=True).tap()


def events(site: Site, lifter: str, kind: str) -> list[dict[str, Any]]:
    return [fact["event"][kind] for fact in site.facts(lifter, kind)]


def test_a_set_to_plan_takes_one_tap_and_one_off_it_three(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "ada")
    taps = (
        "() => { window.taps = 0; addEventListener('click', () => { window.taps += 1; }, true); }"
    )
    page.evaluate(taps)
    write_down(page)
    assert page.evaluate("window.taps") == 1
    page.get_by_role("button", name="Less reps").tap()
    page.get_by_role("button", name="Less in reserve").tap()
    write_down(page)
    assert page.evaluate("window.taps") == 4
    all_sent(page)
    first, second = events(shared_site, "ada", "set")
    assert (first["load"], first["unit"], first["rir"]) == ("102.5", "kg", "2")
    assert int(second["rir"]) == 1
    expect(page.locator("#advice")).to_contain_text("Next set:")
    expect(page.locator("#rest")).to_contain_text(re.compile(r"Rest 0:\d\d"))
    expect(page.locator("#rest")).to_contain_text("of 3:00")


def test_two_taps_of_one_finger_are_one_set(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "hana")
    page.evaluate(
        "{ const one = document.querySelector('[data-key=write]'); one.click(); one.click(); }"
    )
    expect(page.locator("table.rows tbody tr")).to_have_count(1)
    all_sent(page)
    assert len(events(shared_site, "hana", "set")) == 1


def test_the_advice_is_the_sheets(shared_phone: BrowserContext, shared_site: Site) -> None:
    page = signed_in(shared_phone, shared_site, "bo")
    page.locator("#field-load").fill("10")
    write_down(page)
    expect(page.locator("#lift-1 [role=alert]")).to_contain_text("10 kg × 10 is far from")
    expect(page.locator(".doubt")).to_contain_text("Nothing is advised")
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("#lift-1 [role=alert]")).to_have_count(0)
    page.locator("#field-load").fill("102.5")
    page.locator("#field-reps").fill("1")
    write_down(page)
    expect(page.locator("#lift-1 [role=alert]")).to_contain_text("102.5 kg × 1 is far fewer")
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("table.rows")).to_have_count(0)
    page.locator("#field-reps").fill("5")
    write_down(page)
    expect(page.locator("#advice")).to_contain_text("off,")
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("table.rows")).to_have_count(0)
    page.locator("#field-reps").fill("14")
    write_down(page)
    expect(page.locator("#advice")).to_contain_text("Next set: add")
    all_sent(page)
    assert [one["reps"] for one in events(shared_site, "bo", "set")] == ["14"]


def test_a_set_is_corrected_and_taken_back(shared_phone: BrowserContext, shared_site: Site) -> None:
    page = signed_in(shared_phone, shared_site, "cleo")
    write_down(page)
    write_down(page)
    page.get_by_role("button", name="Correct set 1").tap()
    page.locator("#field-reps").fill("7")
    page.get_by_role("button", name="Write the correction").tap()
    expect(page.locator("table.rows tbody tr").first).to_contain_text("7 reps")
    page.get_by_role("button", name="Correct set 1").tap()
    page.locator("#field-reps").fill("6")
    page.get_by_role("button", name="Write the correction").tap()
    expect(page.locator("table.rows tbody tr").first).to_contain_text("6 reps")
    page.get_by_role("button", name="Correct set 1").tap()
    page.get_by_role("button", name="Take the last correction back").tap()
    expect(page.locator("table.rows tbody tr").first).to_contain_text("7 reps")
    page.get_by_role("button", name="Correct set 2").tap()
    page.get_by_role("button", name="Take the set back").tap()
    expect(page.locator("table.rows tbody tr")).to_have_count(1)
    all_sent(page)
    assert [one["reps"] for one in events(shared_site, "cleo", "set")] == ["7"]


def test_pain_stops_a_lift_and_says_where_to_turn(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "dov")
    page.locator(WRITE).tap()
    expect(page.locator("#lift-1 .advice")).to_contain_text("Next set:")
    panel(page, "Something hurts")
    expect(page.locator("[data-key=pain-4]")).to_have_count(0)
    region(page, "Knee")
    page.locator("[data-key=pain-4]").tap()
    expect(page.locator("#pain-said")).to_contain_text("No more load on this lift")
    expect(page.locator(".panel.open")).to_contain_text("loading the knee too: leg extension")
    page.locator("[data-key=pain-7]").tap()
    expect(page.locator("#pain-said")).to_contain_text("licensed professional")
    expect(page.locator("#lift-1")).to_contain_text("Stopped: pain 7 of 10")
    expect(page.locator("#lift-1")).not_to_contain_text("Next set:")
    expect(page.locator("#lift-1 " + WRITE)).to_have_count(0)
    expect(page.locator(".panel.open .choice")).to_have_count(0)
    all_sent(page)
    said = [(one["about"], one["value"]) for one in events(shared_site, "dov", "checkin")]
    squat = "barbell back squat"
    assert said == [(squat, "4"), ("knee", "4"), (squat, "7"), ("knee", "7")]
    told = events(shared_site, "dov", "session")
    assert [(one["pain"], one["region"]) for one in told] == [(4, "knee"), (7, "knee")]


def test_pain_is_offered_what_spares_the_place_and_never_a_twin(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "ivo")
    write_down(page)
    panel(page, "Something hurts")
    region(page, "Hip")
    page.locator("[data-key=pain-4]").tap()
    expect(page.locator("#pain-said")).to_contain_text("No more load")
    page.get_by_role("button", name="Another place").tap()
    region(page, "Knee")
    expect(page.locator(".panel.open")).to_contain_text("These spare the knee")
    offered = [one.lower() for one in page.locator(".panel.open .choice").all_inner_texts()]
    assert offered
    assert not any(word in name for name in offered for word in ("squat", "leg press", "lunge"))
    expect(page.locator(".panel.open")).to_contain_text("this is not a diagnosis")
    # With pain in it, a taken machine gets no twin either.
    panel(page, "Machine taken")
    taken = [one.lower() for one in page.locator(".panel.open li .choice").all_inner_texts()]
    assert taken == offered
    page.locator(".panel.open li .choice").first.tap()
    expect(page.locator("#lift-1")).to_contain_text("In place of barbell back squat")
    # What the set before led to is no word on the stand-in; its numbers come before its name.
    expect(page.locator("#lift-1 .advice")).to_have_count(0)
    expect(page.locator("#lift-1 .did").first).to_have_text(
        re.compile(r"^\d\S* kg × .* reps.*, barbell back squat$")
    )
    all_sent(page)
    # Another place was said after how much: still one report.
    told = {one["what"]: one for one in events(shared_site, "ivo", "session")}
    assert set(told) == {"hurts", "machine_taken", "swap_lift"}, told
    hurts, swap = told["hurts"], told["swap_lift"]
    assert (hurts["pain"], hurts["region"], swap["why"]) == (4, "knee", "machine taken")
    said = [one["about"] for one in events(shared_site, "ivo", "checkin")]
    assert said == ["barbell back squat", "knee"]
    # The stand-in hurts too: nothing is offered, only leaving it out.
    panel(page, "Something hurts")
    region(page, "Somewhere else")
    page.locator("[data-key=pain-3]").tap()
    expect(page.locator(".panel.open")).to_contain_text("Nothing your kit allows")
    expect(page.locator(".panel.open")).to_contain_text("licensed professional")
    page.get_by_role("button", name="Leave it out today").tap()
    expect(page.locator("#lift-1")).to_contain_text("Left out today")


def test_a_stop_sign_ends_the_session(shared_phone: BrowserContext, shared_site: Site) -> None:
    page = signed_in(shared_phone, shared_site, "eva")
    panel(page, "Something hurts")
    page.get_by_role("button", name="One of these: stop the session").tap()
    expect(page.get_by_role("alert")).to_contain_text("the session is over")
    expect(page.locator(WRITE)).to_have_count(0)
    all_sent(page)
    page.reload()
    expect(page.get_by_role("alert")).to_contain_text("the session is over")
    expect(page.locator(WRITE)).to_have_count(0)
    all_sent(page)
    assert [one["what"] for one in events(shared_site, "eva", "session")] == ["hurts", "ended"]
    page.get_by_role("button", name="It was a slip of the finger").tap()
    expect(page.get_by_role("alert")).to_have_count(0)


def test_a_taken_machine_a_short_hour_and_another_lift(
    shared_phone: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(shared_phone, shared_site, "finn")
    panel(page, "Machine taken")
    choice = page.locator(".panel.open li .choice").first
    name = choice.inner_text()
    choice.tap()
    expect(page.locator("#lift-1")).to_contain_text("In place of barbell back squat")
    know_the_load(page, "60")
    write_down(page)
    panel(page, "Short of time")
    page.locator("#field-minutes").fill("25")
    expect(page.locator(".panel.open")).to_contain_text(re.compile("Stays, about 2[0-5] minutes"))
    expect(page.locator(".panel.open")).to_contain_text("Left out:")
    page.get_by_role("button", name="Leave these out").tap()
    # The three small lifts are left, the main ones stay: read once the last has been drawn.
    expect(page.get_by_text("Left out for time")).to_have_count(3)
    remaining = page.locator(".lift .planned").all_inner_texts()
    panel(page, "Short of time")
    page.get_by_role("button", name="There is time after all").tap()
    expect(page.get_by_text("Left out for time")).to_have_count(0)
    page.get_by_role("button", name="Leave these out").tap()
    expect(page.locator(".lift .planned")).to_have_text(remaining)
    panel(page, "Add a lift")
    page.locator("#field-lift").fill("face pull")
    page.get_by_role("button", name="Add it").tap()
    expect(page.get_by_text("Not planned, added here.")).to_be_visible()
    page.locator("#field-load").fill("20")
    write_down(page)
    all_sent(page)
    first, second = (fact["event"] for fact in shared_site.facts("finn"))
    assert first["set"]["lift"].lower() == name.lower()
    assert (first["plan"]["entry"], first["plan"]["set"]) == (1, 1)
    assert second["set"]["lift"] == "face pull"
    assert second["plan"]["entry"] is None
    told = events(shared_site, "finn", "session")
    short = next(one for one in told if one["what"] == "short_of_time")
    assert (short["minutes"], short["left_out"].count(" and ")) == (25, 1), "three lifts by name"


def test_check_in_before_and_effort_after(shared_phone: BrowserContext, shared_site: Site) -> None:
    page = signed_in(shared_phone, shared_site, "gil")
    panel(page, "How are you today")
    for measure, value in (("sleep", 3), ("fatigue", 5), ("stress", 2), ("soreness", 4)):
        page.locator(f"[data-key={measure}-{value}]").tap()
    page.locator("[data-key=sleep-2]").tap()
    page.locator("#field-muscle").select_option("quads")
    page.locator("[data-key=sore-6]").tap()
    for measure, value in (("bodyweight", "81,4"), ("waist", "84.5")):
        page.locator("#field-measure").select_option(measure)
        page.locator("#field-measured").fill(value)
        page.get_by_role("button", name="Write the measurement down").tap()
    expect(page.locator(".panel.open")).to_contain_text("bodyweight 81,4 kg and waist 84.5 cm")
    panel(page, "End the session")
    page.locator("[data-key=effort-8]").tap()
    page.get_by_role("button", name="End the session").last.tap()
    all_sent(page)
    stored = events(shared_site, "gil", "checkin")
    values = {(one["measure"], one["about"]): one["value"] for one in stored}
    assert values == {
        ("sleep", ""): "2", ("fatigue", ""): "5", ("stress", ""): "2", ("soreness", ""): "4",
        ("sore", "quads"): "6", ("session_rpe", ""): "8",
        ("bodyweight", ""): "81,4", ("waist", ""): "84.5",
    }  # fmt: skip
    assert [one["what"] for one in events(shared_site, "gil", "session")] == ["ended"]


def test_two_lifters_take_turns_on_one_phone(browser: Browser, shared_site: Site) -> None:
    context = phone(browser)
    page = context.new_page()
    sign_in(page, shared_site, SECOND)
    open_sheet(page, shared_site)
    panel(page, "Take turns with another lifter")
    page.get_by_role("button", name="Jon Invented").first.tap()
    page.wait_for_selector(".turns")
    for _ in range(2):
        not_too_soon(page)
        page.locator(WRITE).tap()
        expect(page.locator(".turns [aria-pressed=true]")).to_have_text("Jon")
        expect(page.locator(".turns")).to_contain_text("Jon’s turn, barbell back squat: each side ")
        expect(page.locator(".turns")).to_contain_text("Then Ines: each side ")
        not_too_soon(page)
        page.locator(WRITE).tap()
        expect(page.locator(".turns [aria-pressed=true]")).to_have_text("Ines")
    all_sent(page)
    assert [len(shared_site.facts(lifter)) for lifter in ("ines", "jon")] == [2, 2]
    context.close()


def asked_and_hurt(page: Page) -> None:
    """A slip is asked about before the turn passes; a panel says whose it is, and stays."""
    chosen = page.locator(".turns [aria-pressed=true]")
    not_too_soon(page)
    page.locator("#field-load").fill("1025")
    page.locator(WRITE).tap()
    expect(chosen).to_have_text("Ines")
    page.locator(".doubt button").first.tap()
    expect(chosen).to_have_text("Jon")
    expect(page.locator(".turns .advice")).to_contain_text("Ines: keep 102.5 kg.")
    page.locator("[data-key=hurts]").tap()
    expect(page.locator("#panel-hurts")).to_contain_text("Jon Invented’s pain")
    page.locator("[data-key=turn-0]").tap()
    expect(page.locator("#panel-hurts")).to_contain_text("Ines Invented’s pain")
    page.locator("[data-key=next]").tap()
    expect(chosen).to_have_text("Jon")


def test_both_phones_say_whose_turn_it_is(browser: Browser, site: Site) -> None:
    contexts = [phone(browser) for _ in range(2)]
    pages = [context.new_page() for context in contexts]
    keys = [site.key("ines"), site.key("jon")]
    for page, both in zip(pages, (keys, keys[::-1]), strict=True):
        sign_in(page, site, SECOND)
        page.goto(f"{site.address}/phone/#{'+'.join(both)}")
        # On both phones the same begins, the lighter, whoever's sheet was opened first.
        expect(page.locator(".turns .bar")).to_have_text("Ines’s turn.")
    for writes, name, other in ((0, "Jon", "Ines"), (1, "Ines", "Jon")):
        not_too_soon(pages[writes])
        pages[writes].locator(WRITE).tap()
        for page in pages:
            turns = page.locator(".turns")
            expect(turns.locator(".bar")).to_contain_text(
                f"{name}’s turn, barbell back squat: ", timeout=20_000
            )
            expect(turns.locator("[aria-pressed=true]")).to_have_text(name)
            expect(turns).to_contain_text(f"Then {other}: ")
            expect(page.locator("ol.lifts")).to_contain_text(
                "Set 1 of" if writes == 0 else "Set 2 of"
            )
    # What came of a set is said once: with the set, where it is that lifter's turn again.
    expect(pages[0].locator("ol.lifts .advice:has([data-key=undo])")).to_have_count(1)
    expect(pages[0].locator(".turns .advice")).to_have_count(0)
    expect(pages[1].locator(".turns .advice")).to_contain_text("Jon: ")
    asked_and_hurt(pages[0])
    for context in contexts:
        context.close()


READERS = ("jule", "kira")


@pytest.fixture(scope="module")
def readers(browser: Browser, shared_site: Site) -> Iterator[tuple[Page, Page]]:
    """A page in light and one in dark."""
    contexts = [phone(browser, color_scheme=scheme) for scheme in ("light", "dark")]
    pages = []
    for context, lifter in zip(contexts, READERS, strict=True):
        page = context.new_page()
        sign_in(page, shared_site, lifter)
        pages.append(page)
    yield pages[0], pages[1]
    for context in contexts:
        context.close()


def test_anyone_can_read_and_hit_everything(readers: tuple[Page, Page], shared_site: Site) -> None:
    looks = zip(readers, READERS, (EVERY_RULE, COLOURS), strict=True)
    for page, lifter, rules in looks:
        check = partial(assert_readable, page, rules=rules, within="body")
        ready(page)
        page.wait_for_selector(".choice")
        check()
        open_sheet(page, shared_site, lifter)
        check()
        write_down(page)
        page.get_by_role("button", name="Correct set 1").first.tap()
        check()
        for name in PANELS:
            panel(page, name)
            check(name)


def test_plain_http_on_the_network_says_what_works(browser: Browser, site: Site) -> None:
    from blockwright.server.addresses import own_addresses

    addresses = [one for one in own_addresses() if not one.startswith("127.") and ":" not in one]
    if not addresses:
        pytest.skip("THIS MACHINE HAS NO NETWORK ADDRESS: plain http is not tested")
    site.stop()
    site.host = addresses[0]
    site.start()
    context = phone(browser)
    page = context.new_page()
    sign_in(page, site)
    assert page.evaluate("'serviceWorker' in navigator") is False
    open_sheet(page, site)
    expect(page.get_by_text("This page came over plain http.")).to_be_visible()
    site.stop()
    write_down(page)
    expect(page.locator("#unsent")).to_contain_text("1 unsent")
    site.start()
    page.locator("#unsent").tap()
    all_sent(page)
    assert len(site.facts()) == 1
    context.close()
