"""Twelve lifters' letters written and decided in a browser, on a stopwatch.

python benchmarks/evening.py [COUNT]

Reading time is by word count at 230 words a minute; a key counts a second; to that comes what the
page really took to answer. `coach.md` asks for a quarter of an hour.
"""

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "browser"))

import evening_site
from chromium import chromium
from evening_run import decide_all
from phone_site import COACH, PASSWORD, Site, running_site

MOST_MINUTES = 15


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    with tempfile.TemporaryDirectory() as data, chromium() as browser:
        folder = Path(data)
        with running_site(Site(folder, evening_site.filled(folder, count))) as site:
            page = browser.new_page()
            page.set_default_timeout(120_000)
            page.goto(f"{site.address}/sign-in/")
            page.fill("#id_username", COACH)
            page.fill("#id_password", PASSWORD)
            page.click("main button")
            page.goto(f"{site.address}/evening/")
            started = time.monotonic()
            page.locator("main form button").first.click()
            page.wait_for_selector("[data-letter]")
            print(f"{count} letters written in {time.monotonic() - started:.1f} s")
            watch = decide_all(page)
    print(f"words on the face of each letter: {sorted(watch.words)}")
    print(f"{watch.keys} keys, {watch.page_seconds:.1f} s until all was stored")
    print(f"{watch.minutes:.1f} minutes for {watch.letters} letters; at most {MOST_MINUTES}")
    sys.exit(watch.minutes > MOST_MINUTES)


if __name__ == "__main__":
    main()
