"""One phone, several people: who sees what is kept on it, and under whose name it is sent."""

from contextlib import suppress

from chromium import kept_by_worker, open_sheet, sign_in
from phone_site import ALONE, COACH, NAME, PASSWORD, Site
from playwright.sync_api import BrowserContext, Error, Page, expect
from test_phone_offline import all_sent, on_disk, signed_in, unsent_are, write_down

KEPT = """() => new Promise((answer) => {
  const opening = indexedDB.open("blockwright");
  opening.onsuccess = () => {
    const names = ["outbox", "facts", "sheets", "values"];
    const reading = opening.result.transaction(names);
    const found = names.map((name) => reading.objectStore(name).getAllKeys());
    reading.oncomplete = () => {
      opening.result.close();
      answer(Object.fromEntries(names.map((name, at) => [name, found[at].result])));
    };
  };
})"""


def sign_out(page: Page, site: Site) -> None:
    page.goto(f"{site.address}/")
    page.get_by_text("More pages").click()
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/**")
    site.cookies.clear()


def test_signing_out_takes_all_away_but_what_is_unsent(context: BrowserContext, site: Site) -> None:
    page = signed_in(context, site, name=NAME)
    write_down(page)
    all_sent(page)
    page.route("**/api/sync", lambda route: route.abort())
    write_down(page)
    unsent_are(page, 1)
    on_disk(page)
    sign_out(page, site)
    expect(page.get_by_role("status")).to_contain_text("1 unsent entry of Mara is kept")
    kept = page.evaluate(KEPT)
    assert (len(kept["outbox"]), kept["facts"], kept["sheets"]) == (1, [], [])
    assert sorted(kept["values"]) == ["device", "n"]
    page.unroute("**/api/sync")
    # Nobody: nothing to see, and nothing is sent.
    page.goto(f"{site.address}/phone/")
    assert "Ines" not in page.content()
    assert len(site.facts()) == 1
    sign_in(page, site)
    all_sent(page)
    assert len(site.facts()) == 2


def test_somebody_else_sees_and_sends_nothing_of_the_one_before(
    context: BrowserContext, site: Site
) -> None:
    page = signed_in(context, site, name=NAME)
    page.route("**/api/sync", lambda route: route.abort())
    write_down(page)
    unsent_are(page, 1)
    on_disk(page)
    sign_out(page, site)
    page.unroute("**/api/sync")
    sign_in(page, site, ALONE)
    kept_by_worker(page)
    # Ines may see the same session: Mara's unsent set is not part of it.
    open_sheet(page, site)
    expect(page.locator("table.rows")).to_have_count(0)
    expect(page.get_by_text("1 unsent entry of Mara is kept")).to_be_visible()
    write_down(page)
    all_sent(page)
    assert [one["by"] for one in stored_by(page, site)] == ["Ines"]
    page.route("**/api/sync", lambda route: route.abort())
    sign_out(page, site)
    page.unroute("**/api/sync")
    sign_in(page, site, NAME)
    all_sent(page)
    open_sheet(page, site)
    expect(page.locator("table.rows tbody tr")).to_have_count(2)
    assert sorted(one["by"] for one in stored_by(page, site)) == ["Ines", "Mara"]


def stored_by(page: Page, site: Site) -> list[dict[str, str]]:
    """The sets that phones have sent, as the server gives them out."""
    said = """async (lifter) => {
      const token = document.cookie.match(/csrftoken=([^;]+)/)[1];
      const answer = await fetch("/api/sync", { method: "POST",
        headers: { "Content-Type": "application/json", "X-CSRFToken": token },
        body: JSON.stringify({ format: "blockwright/sync/1", sent_at: new Date().toISOString(),
          events: [], seen: { [lifter]: 0 } }) });
      const { facts } = await answer.json();
      return facts[lifter].facts.filter(({ device, kind }) => device !== null && kind === "set");
    }"""
    found: list[dict[str, str]] = page.evaluate(said, site.told["lifters"]["ines"]["id"])
    return found


def test_a_page_left_open_sends_nothing_under_another_name(
    context: BrowserContext, site: Site
) -> None:
    page = signed_in(context, site, name=NAME)
    page.route("**/api/sync", lambda route: route.abort())
    write_down(page)
    unsent_are(page, 1)
    on_disk(page)
    other = context.new_page()
    sign_out(other, site)
    other.goto(f"{site.address}/sign-in/")
    other.fill("#id_username", COACH)
    other.fill("#id_password", PASSWORD)
    other.click("main button")
    other.wait_for_url("**/")
    page.unroute("**/api/sync")
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.get_by_text("1 unsent entry of Mara is kept")).to_be_visible()
    assert site.facts() == []
    page.close()  # it starts anew by itself at a change of person, in the way of what comes
    sign_out(other, site)
    sign_in(other, site)
    all_sent(other)
    assert len(site.facts()) == 1


def test_a_kept_sheet_is_not_shown_to_the_next_without_signal(
    context: BrowserContext, site: Site
) -> None:
    page = signed_in(context, site, name=NAME)
    context.clear_cookies(name="person")
    site.stop()
    with suppress(Error):  # the page may be starting anew by itself at this moment
        page.reload()
    page.wait_for_selector("#sheet h1")
    expect(page.locator("body")).not_to_contain_text("Ines")
    assert "Ines" not in page.content()
    assert page.evaluate(KEPT)["sheets"] == []


def test_a_partner_is_not_asked_what_would_be_refused(context: BrowserContext, site: Site) -> None:
    page = signed_in(context, site, name=NAME)
    expect(page.get_by_role("button", name="End the session", exact=True).first).to_be_visible()
    expect(page.get_by_role("button", name="How are you today", exact=True)).to_have_count(0)
    page.get_by_role("button", name="End the session", exact=True).first.tap()
    expect(page.locator(".panel.open")).to_contain_text("Note for the coach")
    expect(page.locator(".panel.open")).not_to_contain_text("How hard was the whole session?")
    page.get_by_role("button", name="Something hurts", exact=True).first.tap()
    page.locator(".regions").get_by_role("button", name="Knee", exact=True).tap()
    expect(page.locator(".panel.open")).to_contain_text("is for Ines Invented to say")
    expect(page.locator("[data-key=pain-5]")).to_have_count(0)
    page.locator("[data-key=pain-6]").tap()
    expect(page.locator(".panel.open")).to_contain_text("Stop barbell back squat for today")
    all_sent(page)


def test_a_queue_that_outlived_its_sign_in_waits_for_its_own_person(
    context: BrowserContext, site: Site
) -> None:
    """Nobody signed out by hand: the sign-in of Mara ran out, and Ines signs in on her phone."""
    page = signed_in(context, site, name=NAME)
    site.end_sign_ins()
    for _ in range(5):
        write_down(page)
    unsent_are(page, 5)
    on_disk(page)
    sign_in(page, site, ALONE)
    kept_by_worker(page)
    open_sheet(page, site)
    expect(page.get_by_text("5 unsent entries of Mara are kept")).to_be_visible()
    write_down(page)
    all_sent(page)
    assert [one["by"] for one in stored_by(page, site)] == ["Ines"]
    site.end_sign_ins()
    sign_in(page, site, NAME)
    all_sent(page)
    assert sorted(one["by"] for one in stored_by(page, site)) == ["Ines", *["Mara"] * 5]
