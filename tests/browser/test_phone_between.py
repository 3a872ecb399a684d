"""What the page shows between the server's answer and the phone's own reading of it."""

from chromium import phone
from phone_site import Site
from playwright.sync_api import Browser, expect
from test_phone_offline import all_sent, correct_first, signed_in, write_down

SLOW = """() => new Promise((ready) => {
  const real = IDBDatabase.prototype.transaction, wait = setTimeout;
  window.setTimeout = (work, ms, ...more) => wait(work, ms === 50 ? 800 : ms, ...more);
  const opening = indexedDB.open("blockwright");
  opening.onsuccess = () => {
    const hold = () => {
      const until = performance.now() + 3000;
      const values = real.call(opening.result, ["values"], "readwrite").objectStore("values");
      const again = () => {
        if (performance.now() < until) values.get("none").onsuccess = again;
      };
      again();
    };
    IDBDatabase.prototype.transaction = function (names, mode, more) {
      const made = real.call(this, names, mode, more);
      if (String(names) === "outbox,facts") made.addEventListener("complete", hold);
      return made;
    };
    ready();
  };
})"""
"""From here on what was acknowledged has left the queue for three seconds before what came with the
answer can be read, and the drawing that sending asks for falls between."""


def test_a_correction_stays_in_sight_while_the_answer_is_read(
    browser: Browser, shared_site: Site
) -> None:
    context = phone(browser)
    page = signed_in(context, shared_site, "ada")
    write_down(page)
    correct_first(page, "7")
    all_sent(page)
    page.evaluate(SLOW)
    correct_first(page, "6")
    page.wait_for_timeout(2000)  # the drawing that fell between is over
    first = page.locator("table.rows tbody tr").first
    assert "6 reps" in first.inner_text()
    page.get_by_role("button", name="Correct set 1").tap()
    page.get_by_role("button", name="Take the last correction back").tap()
    expect(first).to_contain_text("7 reps")
    all_sent(page)
    assert [one["event"]["set"]["reps"] for one in shared_site.facts("ada")] == ["7"]
    context.close()
