"""The phone page: bytes over the network, and how soon the advice is on screen.

Bytes are counted between Chromium and the real server by a relay, headers, service worker and
sheets fetched ahead included, whichever part of the browser asked. The time runs from the tap on
"Write it down" to when the frame with the advice in it is painted, with the processor slowed to a
sixth. The phone writes the set to its disk meanwhile, and says "Written down." only when the disk
has answered: a second time runs to there. References are the targets the page is held to. A
machine with other work on it lengthens the times: the last line says by how much.
"""

import json
import socket
import sys
import tempfile
import threading
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "browser"))

from chromium import chromium, phone
from phone_site import ALONE, NAME, PASSWORD, Site, made_site
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page

FIRST_KB, LATER_KB, ADVICE_MS = 120.0, 5.0, 100.0
SLOWER = 6
WRITE = "button.write[data-key=write]"
TIMED = """() => {
  window.times = [];
  window.stored = [];
  addEventListener("click", (event) => {
    if (!event.target.matches("[data-key=write]")) return;
    const start = event.timeStamp;
    const rows = document.querySelectorAll("table.rows tbody tr").length;
    let drawn = false;
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

    def __init__(self, port: int) -> None:
        self._to = port
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
                target.sendall(data)
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


def transferred(browser: Browser, site: Site, name: str) -> tuple[float, float]:
    """KB of the first and of a later visit."""
    relay = Relay(site.port)
    address = f"http://127.0.0.1:{relay.port}"
    context = signed_in(browser, address, name)
    start = settled(relay)
    page = opened(context, address, site.key())
    first = settled(relay) - start
    page.close()
    start = settled(relay)
    opened(context, address, site.key())
    later = settled(relay) - start
    context.close()
    return first / 1024, later / 1024


def advice_times(browser: Browser, site: Site) -> tuple[list[float], list[float], list[float]]:
    """Milliseconds for ten sets, slowed: on the wall clock to the advice and to the disk's word,
    and of the page's own processor time until then (which other work on the machine does not
    lengthen; waiting for the disk is not in it)."""
    context = signed_in(browser, site.address)
    page = opened(context, site.address, site.key())
    page.wait_for_timeout(4000)
    page.evaluate(TIMED)
    devtools = context.new_cdp_session(page)
    devtools.send("Performance.enable", {"timeDomain": "threadTicks"})
    cpu: list[float] = []
    for rate, upto in ((SLOWER, 10), (1, 19)):
        devtools.send("Emulation.setCPUThrottlingRate", {"rate": rate})
        for count in range(1 if rate == SLOWER else 11, upto + 1):
            button = page.locator(WRITE)
            button.scroll_into_view_if_needed()
            box = button.bounding_box()
            assert box is not None
            page.wait_for_timeout(500)
            before = busy_ms(devtools)
            # A finger's tap: Playwright's own would run its checks inside the page first.
            page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
            page.wait_for_function(
                f"() => window.times.length >= {count} && window.stored.length >= {count}"
            )
            if rate == 1:
                cpu.append((busy_ms(devtools) - before) * SLOWER)
            page.wait_for_timeout(1500)
    times: list[float] = page.evaluate("window.times")
    stored: list[float] = page.evaluate("window.stored")
    context.close()
    return times[:10], stored[:10], cpu


def wall_per_cpu_second() -> float:
    wall, cpu = time.perf_counter(), time.process_time()
    while time.process_time() - cpu < 1.0:
        pass
    return time.perf_counter() - wall


def busy_ms(devtools: CDPSession) -> float:
    metrics = devtools.send("Performance.getMetrics")["metrics"]
    return 1000 * float(next(one["value"] for one in metrics if one["name"] == "TaskDuration"))


def line(bench: str, value: float, unit: str, reference: float) -> None:
    found = {"value": round(value, 2), "unit": unit, "reference": reference}
    print(json.dumps({"bench": bench, **found, "ratio": round(value / reference, 3)}))


def main() -> None:
    with (
        tempfile.TemporaryDirectory() as data,
        made_site(Path(data)) as site,
        chromium() as browser,
    ):
        first, later = transferred(browser, site, ALONE)
        line("phone_page_first_visit", first, "KB", FIRST_KB)
        line("phone_page_later_visit", later, "KB", LATER_KB)
        # Somebody with eight lifters also gets two more of their sheets a visit, until all of the
        # next days are there: no target is set for those.
        first, _ = transferred(browser, site, NAME)
        line("phone_page_first_visit_eight_lifters", first, "KB", FIRST_KB)
        times, stored, cpu = advice_times(browser, site)
        line("phone_page_set_to_advice_median", median(times), "ms", ADVICE_MS)
        line("phone_page_set_to_advice_worst_of_10", max(times), "ms", ADVICE_MS)
        line("phone_page_set_to_written_down_median", median(stored), "ms", ADVICE_MS)
        line("phone_page_set_to_advice_own_processor_time", median(cpu), "ms", ADVICE_MS)
        # How much other work on the machine lengthens all of the wall-clock figures.
        line("phone_page_wall_per_processor_second", wall_per_cpu_second(), "s", 1.0)


if __name__ == "__main__":
    main()
