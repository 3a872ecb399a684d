"""The phone page against the real server, which goes away, comes back, or forgets who it was."""

import re
from datetime import datetime, timedelta

from chromium import kept_by_worker, open_sheet, phone, ready, sign_in
from phone_site import ALONE, FEW, SECOND, Site
from playwright.sync_api import Browser, BrowserContext, Page, expect

DOUBLE_TAP_MS = 500
"""So soon after a set no other is written down."""
LATER = """(ms) => {
  const real = performance.now.bind(performance);
  performance.now = () => real() + ms;
}"""

WRITE = "button.write[data-key=write]"


def signed_in(
    context: BrowserContext, site: Site, lifter: str = ALONE, name: str | None = None
) -> Page:
    """A page with its worker in charge and the session on the phone: the lifter's own, or
    another's whose sheets it may see."""
    page = context.new_page()
    sign_in(page, site, name or lifter)
    kept_by_worker(page)
    open_sheet(page, site, lifter)
    return page


def not_too_soon(page: Page) -> None:
    """Lets the time pass in which a second tap is no second set, on the page's own clock."""
    page.evaluate(LATER, DOUBLE_TAP_MS)


def write_down(page: Page) -> tuple[datetime, datetime]:
    """One tap: the set in hand, as planned or advised. Between which moments it was."""
    not_too_soon(page)
    count = page.locator("table.rows tbody tr").count()
    before = datetime.now().astimezone()
    page.locator(WRITE).tap()
    expect(page.locator("table.rows tbody tr")).to_have_count(count + 1)
    return before, datetime.now().astimezone()


def unsent_are(page: Page, count: int) -> None:
    """Waited for: after a reload or an answer the count is drawn in its own time."""
    expect(page.locator("#unsent")).to_have_text(re.compile(rf"^{count} unsent\b"), timeout=20_000)


def on_disk(page: Page) -> None:
    """The count has what is being written too; before a page is left, the disk must have it."""
    expect(page.locator(".written")).to_have_text("Written down.", timeout=20_000)


def all_sent(page: Page) -> None:
    expect(page.locator("#unsent")).to_have_text("All sent", timeout=20_000)


def know_the_load(page: Page, load: str) -> None:
    """Writes the load of a lift that has no basis, without tries on the way to it."""
    page.locator("[data-key=know-load]").tap()
    page.locator("#field-load").fill(load)


def test_a_whole_session_with_the_server_off(context: BrowserContext, site: Site) -> None:
    page = signed_in(context, site)
    site.stop()
    page.reload()
    page.wait_for_selector("ol.lifts")
    planned = 4 + 3 + 3 + 3 + 3 + 3
    times = []
    for at in range(planned):
        if at in (5, 11):
            page.reload()
            page.wait_for_selector("ol.lifts")
        if at == planned - 3:
            know_the_load(page, "60")
        times.append(write_down(page))
        unsent_are(page, at + 1)
        on_disk(page)
    expect(page.get_by_text("Every planned set is written down")).to_be_visible()
    page.reload()
    page.wait_for_selector("ol.lifts")
    unsent_are(page, planned)
    expect(page.locator("table.rows tbody tr")).to_have_count(planned)
    site.start()
    page.locator("#unsent").tap()
    all_sent(page)
    stored = [fact["event"] for fact in site.facts()]
    assert len(stored) == planned == len({one["id"] for one in stored})
    for one, (before, after) in zip(stored, times, strict=True):
        # An event's moment is written in whole milliseconds.
        at = datetime.fromisoformat(one["at"])
        assert before - timedelta(milliseconds=1) <= at <= after
    lifts = [one["set"]["lift"] for one in stored]
    assert (
        lifts[:10] == ["barbell back squat"] * 4 + ["romanian deadlift"] * 3 + ["leg extension"] * 3
    )
    assert lifts[10:16] == ["seated leg curl", "dumbbell lateral raise"] * 3
    assert [one["set"]["set"] for one in stored[:4]] == [1, 2, 3, 4]
    assert [one["n"] for one in stored] == sorted(one["n"] for one in stored)


LOST = """{
  const real = fetch;
  window.fetch = async (...given) => {
    const answer = await real(...given);
    const isOfASet = String(given[0]).endsWith("/api/sync") && given[1].body.includes('"set"');
    if (window.lost && isOfASet) throw new TypeError("lost");
    return answer;
  };
  window.lost = true;
}"""


def test_one_visit_brings_all_of_todays_sheets(context: BrowserContext, site: Site) -> None:
    page = context.new_page()
    sign_in(page, site, SECOND)
    kept_by_worker(page)
    todays = page.locator("h2:text-is('Today') + ul > li")
    # What is to come stands before what is past.
    expect(page.locator("#sheet h2")).to_have_text(["Today", "Next"])
    expect(todays).to_have_count(len(FEW))
    there = todays.filter(has_text="Ready without signal.")
    expect(there).to_have_count(len(FEW), timeout=60_000)
    site.stop()
    page.reload()
    for lifter in FEW[::2]:
        open_sheet(page, site, lifter)
        page.goto(f"{site.address}/phone/#")


def test_a_stored_set_whose_answer_got_lost_is_stored_once(
    context: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(context, shared_site, "ada")
    page.evaluate(LOST)
    write_down(page)
    expect(page.get_by_text("No answer from the server.")).to_be_visible()
    unsent_are(page, 1)
    assert len(shared_site.facts("ada")) == 1
    page.evaluate("window.lost = false")
    page.locator("#unsent").tap()
    all_sent(page)
    assert len(shared_site.facts("ada")) == 1


def test_two_phones_on_one_session(browser: Browser, context: BrowserContext, site: Site) -> None:
    one, second = signed_in(context, site), phone(browser)
    other = signed_in(second, site)
    write_down(one)
    all_sent(one)
    site.stop()
    write_down(one)
    write_down(other)
    unsent_are(one, 1)
    unsent_are(other, 1)
    site.start()
    for page in (one, other):
        page.locator("#unsent").tap()
        all_sent(page)
        page.wait_for_timeout(300)
    for page in (one, other):
        for _ in range(10):  # as a phone whose signal comes and goes
            page.evaluate("dispatchEvent(new Event('online'))")
            page.wait_for_timeout(500)
            if page.locator("table.rows tbody tr").count() == 3:
                break
        expect(page.locator("table.rows tbody tr")).to_have_count(3, timeout=20_000)
    assert [row.inner_text() for row in one.locator("table.rows tbody tr").all()] == [
        row.inner_text() for row in other.locator("table.rows tbody tr").all()
    ]
    assert len(site.facts()) == 3
    second.close()


def correct_first(page: Page, reps: str) -> None:
    page.get_by_role("button", name="Correct set 1").tap()
    page.locator("#field-reps").fill(reps)
    page.get_by_role("button", name="Write the correction").tap()
    expect(page.locator("table.rows tbody tr").first).to_contain_text(f"{reps} reps")


def test_two_phones_that_correct_one_set_without_signal_are_asked_which_is_true(
    browser: Browser, context: BrowserContext, site: Site
) -> None:
    one = signed_in(context, site)
    write_down(one)
    all_sent(one)
    second = phone(browser)
    other = signed_in(second, site)
    expect(other.locator("table.rows tbody tr")).to_have_count(1, timeout=20_000)
    site.stop()
    correct_first(one, "6")
    correct_first(other, "5")
    site.start()
    for page in (other, one):
        page.locator("#unsent").tap()
        all_sent(page)
    # a phone that finds the site again sends by itself, so either may come second; the first one
    # hears of the other's word when it next asks
    for page in (other, one):
        page.evaluate("dispatchEvent(new Event('online'))")
    (kept,) = (fact["event"]["set"]["reps"] for fact in site.facts())
    asked, mine = (one, "6") if kept == "5" else (other, "5")
    question = asked.get_by_role("group", name="Which is true?")
    expect(question).to_be_visible(timeout=20_000)
    question.get_by_role("button", name=f"{mine} reps").tap()
    expect(question).to_have_count(0)
    expect(asked.locator("table.rows tbody tr").first).to_contain_text(f"{mine} reps")
    all_sent(asked)
    assert [fact["event"]["set"]["reps"] for fact in site.facts()] == [mine]
    second.close()


FULL = """() => {
  for (const name of ["put", "add"]) {
    const real = IDBObjectStore.prototype[name];
    IDBObjectStore.prototype[name] = function (...given) {
      if (window.full) throw new DOMException("no room", "QuotaExceededError");
      return real.apply(this, given);
    };
  }
  window.full = true;
}"""


def test_a_full_phone_says_so_and_loses_nothing(context: BrowserContext, site: Site) -> None:
    page = signed_in(context, site)
    write_down(page)
    all_sent(page)
    site.stop()
    page.evaluate(FULL)
    write_down(page)
    write_down(page)
    expect(page.get_by_role("alert")).to_contain_text(
        "The phone is full: 2 entries could not be kept"
    )
    unsent_are(page, 2)
    # What is not on the phone gets no advice and is not called written down.
    expect(page.locator("#advice")).to_have_text(re.compile("^Not written down"))
    expect(page.locator(".written")).to_have_count(0)
    expect(page.get_by_text("Not on the phone: it has no room.")).to_have_count(2)
    page.evaluate("window.full = false")
    page.locator("#unsent").tap()
    expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.locator("#advice")).to_contain_text("Next set:")
    expect(page.locator(".written")).to_have_text("Written down.")
    page.reload()
    page.wait_for_selector("ol.lifts")
    unsent_are(page, 2)
    site.start()
    page.locator("#unsent").tap()
    all_sent(page)
    assert [one["event"]["set"]["set"] for one in site.facts()] == [1, 2, 3]


BUSY = """() => new Promise((ready) => {
  window.busy = true;
  const opening = indexedDB.open("blockwright");
  opening.onsuccess = () => {
    const store = opening.result.transaction(["outbox"], "readwrite").objectStore("outbox");
    const hold = () => { if (window.busy) store.get("none").onsuccess = hold; };
    store.get("none").onsuccess = () => { ready(); hold(); };
  };
})"""
"""Keeps the phone's store busy, so that what is to be written waits."""


def test_a_set_is_called_written_down_only_when_it_is(
    context: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(context, shared_site, "bo")
    page.evaluate(BUSY)
    write_down(page)
    expect(page.locator("#advice")).to_contain_text("Next set:")
    expect(page.locator(".written")).to_have_text("Being written down.")
    expect(page.locator("#said")).not_to_contain_text("Written down")
    page.evaluate("window.busy = false")
    expect(page.locator(".written")).to_have_text("Written down.")
    expect(page.locator("#said")).to_contain_text("Written down. Next set:")
    all_sent(page)
    assert len(shared_site.facts("bo")) == 1
    # What is taken back is off the sheet at the tap, so that nothing typed from then on is lost.
    page.evaluate(BUSY)
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("table.rows")).to_have_count(0)
    page.locator("#field-reps").fill("7")
    page.evaluate("window.busy = false")
    expect(page.locator("#said")).to_have_text("Taken back.")
    expect(page.locator("#field-reps")).to_have_value("7")
    all_sent(page)
    assert shared_site.facts("bo") == []


def test_a_page_that_dies_while_writing_has_claimed_nothing(
    context: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(context, shared_site, "cleo")
    write_down(page)
    all_sent(page)
    page.evaluate(BUSY)
    write_down(page)
    expect(page.locator(".written")).to_have_text("Being written down.")
    page.close(run_before_unload=False)
    page = context.new_page()
    open_sheet(page, shared_site, "cleo")
    expect(page.locator("table.rows tbody tr")).to_have_count(1)
    write_down(page)
    all_sent(page)
    assert [one["event"]["set"]["set"] for one in shared_site.facts("cleo")] == [1, 2]


def test_a_full_phone_with_signal_sends_at_once(context: BrowserContext, shared_site: Site) -> None:
    page = signed_in(context, shared_site, "dov")
    page.evaluate(FULL)
    write_down(page)
    all_sent(page)
    expect(page.locator("table.rows tbody tr")).to_have_count(1)
    assert len(shared_site.facts("dov")) == 1


BEHIND = """(ms) => {
  const Real = Date;
  Date = class extends Real {
    constructor(...given) { super(...given.length > 0 ? given : [Real.now() - ms]); }
    static now() { return Real.now() - ms; }
  };
}"""
"""The whole clock: what is sent says when it was sent by the same one, so that sets of the first
hour of a day are not taken for the day before's."""


def test_a_clock_set_back_keeps_the_order(context: BrowserContext, shared_site: Site) -> None:
    page = signed_in(context, shared_site, "eva")
    write_down(page)
    all_sent(page)
    page.evaluate(BEHIND, 40 * 60 * 1000)
    write_down(page)
    expect(page.locator("#rest")).to_have_text(re.compile(r"^(Rest 0:\d\d.*)?$"))
    write_down(page)
    all_sent(page)
    stored = [fact["event"] for fact in shared_site.facts("eva")]
    assert [one["set"]["set"] for one in stored] == [1, 2, 3]
    assert stored[1]["at"] < stored[0]["at"]
    assert stored[1]["set"]["rest_s"] is None


def test_a_sign_in_that_ran_out_loses_nothing(context: BrowserContext, site: Site) -> None:
    page = signed_in(context, site)
    site.end_sign_ins()
    write_down(page)
    expect(page.get_by_text("You are signed out; nothing is lost.")).to_be_visible()
    unsent_are(page, 1)
    page.get_by_role("link", name="Sign in").tap()
    page.fill("#id_username", ALONE)
    page.fill("#id_password", "a long word for tests")
    page.click("main button")
    page.wait_for_url("**/phone/**")
    ready(page)
    all_sent(page)
    assert len(site.facts()) == 1


def test_a_refused_set_shows_the_servers_words_and_stops_nothing(
    context: BrowserContext, shared_site: Site
) -> None:
    page = signed_in(context, shared_site, "finn")
    page.locator("#field-load").fill("9000")
    write_down(page)
    expect(page.locator("#unsent")).to_contain_text("1 refused")
    expect(page.get_by_text("Not taken: barbell back squat")).to_be_visible()
    write_down(page)
    expect(page.locator("#unsent")).to_have_text("0 unsent, 1 refused")
    page.get_by_role("button", name="Throw it away").tap()
    all_sent(page)
    assert len(shared_site.facts("finn")) == 1
