"""The phone page: bytes over the network, and how soon the advice is on screen.

Bytes are counted between Chromium and the real server by a relay, headers, service worker and
sheets fetched ahead included, whichever part of the browser asked. A browser takes brotli from its
own machine as over https; over plain http from another it takes gzip, told as a line of its own.

The time runs from the tap on "Write it down" to when the frame with the advice in it is on screen,
with the processor slowed to a sixth, in two ways: "presented" as the browser itself tells (Event
Timing, to 8 ms, from the finger to the frame that shows what the tap's own script drew; the advice
is drawn in it, or the run ends); and "timer", by a timer set in that frame, which also waits for
what else is due by then, such as the disk's answer: an upper bound. The phone writes the set to its
disk meanwhile, and says "Written down." only when the disk has answered: a third time runs to
there. References are the targets the page is held to. Other work on the machine lengthens these
times: the last line says by how much. What it lengthens little is the page's own time: what its
main thread spends, by the thread's own clock, from the finger to the end of the frame that shows
the advice, at full speed and times six. Nothing of this script runs in the page meanwhile.
"""

import json
import socket
import sys
import tempfile
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "browser"))

from typing import Any

from chromium import chromium, phone
from phone_site import ALONE, COACH, PASSWORD, SPARE, Site, made_site
from playwright.sync_api import Browser, BrowserContext, Page

FIRST_KB, LATER_KB, ADVICE_MS, OWN_MS, OWN_WORST_MS = 120.0, 5.0, 100.0, 80.0, 120.0
SLOWER = 6
SETS = 10
TRACED = ["devtools.timeline", "disabled-by-default-devtools.timeline"]
WRITE = "button.write[data-key=write]"
TIMED = """() => {
  window.times = [];
  window.stored = [];
  window.presented = [];
  window.drawnInTime = true;
  new PerformanceObserver((list) => {
    const clicks = list.getEntries().filter(({ name }) => name === "click");
    presented.push(...clicks.map(({ duration }) => duration));
  }).observe({ type: "event", durationThreshold: 16 });
  addEventListener("click", (event) => {
    if (!event.target.matches("[data-key=write]")) return;
    const start = event.timeStamp;
    const rows = document.querySelectorAll("table.rows tbody tr").length;
    let drawn = false;
    addEventListener("click", () => { // after the page's own
      drawnInTime &&= document.querySelectorAll("table.rows tbody tr").length > rows;
    }, { once: true });
    const look = new MutationObserver(() => {
      if (document.querySelectorAll("table.rows tbody tr").length === rows) return;
      const painted = () => times.push(performance.now() - start);
      if (!drawn) requestAnimationFrame(() => setTimeout(painted));
      drawn = true;
      if (document.querySelector(".written").textContent !== "Written down.") return;
      look.disconnect();
      stored.push(performance.now() - start);
    });
    look.observe(document.getElementById("sheet"), { childList: true, subtree: true });
  }, true);
}"""


class Relay:
    """Passes connections on to the server and counts what comes back."""

    def __init__(self, port: int, *, plain: bool = False) -> None:
        self._to, self._plain = port, plain
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.port = self._listening.getsockname()[1]
        self.down = 0
        threading.Thread(target=self._accept, daemon=True).start()

    def _accept(self) -> None:
        while True:
            near, _ = self._listening.accept()
            far = socket.create_connection(("127.0.0.1", self._to))
            threading.Thread(target=self._pass, args=(near, far, False), daemon=True).start()
            threading.Thread(target=self._pass, args=(far, near, True), daemon=True).start()

    def _pass(self, source: socket.socket, target: socket.socket, counted: bool) -> None:
        try:
            while data := source.recv(65536):
                self.down += len(data) if counted else 0
                target.sendall(data.replace(b", br", b"") if self._plain else data)
        except OSError:
            pass
        finally:
            for end in (source, target):
                end.close()


def settled(relay: Relay) -> int:
    """Bytes so far, once nothing has come for two seconds."""
    before = -1
    while before != relay.down:
        before = relay.down
        time.sleep(2)
    return before


def signed_in(browser: Browser, address: str, name: str = ALONE) -> BrowserContext:
    context = phone(browser)
    form = context.request.get(f"{address}/sign-in/").text()
    token = form.split('name="csrfmiddlewaretoken" value="')[1].split('"')[0]
    fields = {"username": name, "password": PASSWORD, "csrfmiddlewaretoken": token}
    answer = context.request.post(f"{address}/sign-in/", form=fields, headers={"Referer": address})
    assert answer.ok, answer.status
    return context


def opened(context: BrowserContext, address: str, key: str) -> Page:
    page = context.new_page()
    page.goto(f"{address}/phone/#{key}")
    page.wait_for_selector("ol.lifts")
    return page


def transferred(
    browser: Browser, site: Site, name: str, *, plain: bool = False
) -> tuple[float, float, float]:
    """KB until the lifts of a first visit are on screen, of all that visit, and of a later one."""
    relay = Relay(site.port, plain=plain)
    address = f"http://127.0.0.1:{relay.port}"
    context = signed_in(browser, address, name)
    start = settled(relay)
    page = opened(context, address, site.key())
    screen = relay.down - start
    first = settled(relay) - start
    page.close()
    start = settled(relay)
    opened(context, address, site.key())
    later = settled(relay) - start
    context.close()
    return screen / 1024, first / 1024, later / 1024


@dataclass(frozen=True)
class AdviceTimes:
    """Milliseconds for ten sets, slowed."""

    presented: list[float]
    timer: list[float]
    stored: list[float]
    """To the disk's word."""
    own: list[float]
    """Of the page's main thread's own clock, times as much."""


def all_of_today(browser: Browser, site: Site) -> float:
    """KB of a first visit until every session of today is ready without signal."""
    relay = Relay(site.port)
    address = f"http://127.0.0.1:{relay.port}"
    context = signed_in(browser, address, COACH)
    start = settled(relay)
    page = context.new_page()
    page.goto(f"{address}/phone/")
    todays = "document.querySelectorAll('h2:first-of-type + ul > li')"
    page.wait_for_function(
        f"() => {todays}.length > 0 && [...{todays}].every((one) => "
        "one.textContent.includes('Ready without signal.'))",
        timeout=60_000,
    )
    whole = settled(relay) - start
    context.close()
    return whole / 1024


def advice_times(browser: Browser, site: Site) -> AdviceTimes:
    context = signed_in(browser, site.address)
    page = opened(context, site.address, site.key())
    page.wait_for_timeout(4000)
    page.evaluate(TIMED)
    devtools = context.new_cdp_session(page)
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    for count in range(1, SETS + 1):
        write_set(page)
        page.wait_for_function(
            f"() => window.times.length >= {count} && window.stored.length >= {count}"
        )
        page.wait_for_timeout(1500)
    presented, timer, stored = (
        page.evaluate(f"window.{name}")[:SETS] for name in ("presented", "times", "stored")
    )
    if not page.evaluate("window.drawnInTime"):
        sys.exit("the advice was not drawn by the tap's own script: its frame shows no advice")
    context.close()
    return AdviceTimes(presented, timer, stored, own_times(browser, site))


def write_set(page: Page) -> None:
    know = page.locator("[data-key=know-load]")
    if know.count():
        know.tap()
        page.locator("#field-load").fill("60")
    button = page.locator(WRITE)
    button.scroll_into_view_if_needed()
    box = button.bounding_box()
    assert box is not None
    page.wait_for_timeout(700)
    # A finger's tap: Playwright's own would run its checks inside the page first.
    page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


def own_times(browser: Browser, site: Site) -> list[float]:
    """Of ten sets after the first, on a phone of somebody else."""
    context = signed_in(browser, site.address, SPARE[0])
    page = opened(context, site.address, site.key(SPARE[0]))
    page.wait_for_timeout(4000)
    write_set(page)
    page.wait_for_timeout(1500)
    found = [own_ms(traced_set(browser, page)) * SLOWER for _ in range(SETS)]
    context.close()
    return found


def traced_set(browser: Browser, page: Page) -> list[dict[str, Any]]:
    """What the browser tells of its work while a set is written down."""
    events: list[dict[str, Any]] = []
    over: list[bool] = []
    tracing = browser.new_browser_cdp_session()
    tracing.on("Tracing.dataCollected", lambda sent: events.extend(sent["value"]))
    tracing.on("Tracing.tracingComplete", lambda _: over.append(True))
    tracing.send("Tracing.start", {"traceConfig": {"includedCategories": TRACED}})
    write_set(page)
    page.wait_for_timeout(700)
    tracing.send("Tracing.end")
    while not over:
        page.wait_for_timeout(50)
    tracing.detach()
    return events


def own_ms(events: list[dict[str, Any]]) -> float:
    """Of the thread that took the click, from the finger's first event to the commit of the frame
    after it."""
    told = {
        kind: event
        for event in events
        if event["name"] == "EventDispatch"
        and (kind := event["args"]["data"]["type"]) in ("pointerdown", "click")
    }
    click, finger = told["click"], told["pointerdown"]
    mine = [one for one in events if (one["pid"], one["tid"]) == (click["pid"], click["tid"])]
    ends = min(one["ts"] for one in mine if one["name"] == "Commit" and one["ts"] > click["ts"])
    tasks = (one for one in mine if one["name"] == "RunTask")
    between = (one for one in tasks if finger["ts"] < one["ts"] + one["dur"] and one["ts"] <= ends)
    return sum(float(one["tdur"]) for one in between) / 1000


def wall_per_cpu_second() -> float:
    wall, cpu = time.perf_counter(), time.process_time()
    while time.process_time() - cpu < 1.0:
        pass
    return time.perf_counter() - wall


def line(bench: str, value: float, unit: str, reference: float) -> None:
    found = {"value": round(value, 2), "unit": unit, "reference": reference}
    print(json.dumps({"bench": bench, **found, "ratio": round(value / reference, 3)}))


def main() -> None:
    with (
        tempfile.TemporaryDirectory() as data,
        made_site(Path(data)) as site,
        chromium() as browser,
    ):
        screen, first, later = transferred(browser, site, ALONE)
        # What comes behind the first screen, such as the tables of warning signs, may be under way.
        line("phone_page_until_the_lifts_are_on_screen", screen, "KB", FIRST_KB)
        line("phone_page_first_visit", first, "KB", FIRST_KB)
        line("phone_page_later_visit", later, "KB", LATER_KB)
        _, plain, _ = transferred(browser, site, ALONE, plain=True)
        line("phone_page_first_visit_over_plain_http", plain, "KB", FIRST_KB)
        # The page is on screen and usable before: the sheets of today come two at a time, with a
        # pause between. No target is set for somebody with so many lifters.
        whole = all_of_today(browser, site)
        line("phone_page_first_visit_every_lifter_all_of_today", whole, "KB", FIRST_KB)
        found = advice_times(browser, site)
        for name in ("presented", "timer"):
            times = getattr(found, name)
            line(f"phone_page_set_to_advice_{name}_median", median(times), "ms", ADVICE_MS)
            line(f"phone_page_set_to_advice_{name}_worst_of_10", max(times), "ms", ADVICE_MS)
        line("phone_page_set_to_written_down_median", median(found.stored), "ms", ADVICE_MS)
        own = "phone_page_set_to_advice_own_time"
        line(f"{own}_median", median(found.own), "ms", OWN_MS)
        line(f"{own}_worst_of_10", max(found.own), "ms", OWN_WORST_MS)
        # How much other work on the machine lengthens all of the wall-clock figures.
        line("phone_page_wall_per_processor_second", wall_per_cpu_second(), "s", 1.0)


if __name__ == "__main__":
    main()
