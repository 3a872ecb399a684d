"""An evening at the desk on a stopwatch: what a coach reads, at 230 words a minute, and what the
page takes to answer each key.

230 words a minute: silent reading of English prose, 238 for adults on average (Brysbaert 2019, J
Mem Lang 109:104047, from memory), a little less for figures.
"""

import time
from dataclasses import dataclass

from playwright.sync_api import Page, expect

WORDS_A_MINUTE = 230
SECONDS_A_KEY = 1.0
"""To find and press a key (judgement)."""
FACE = """article => {
  const copy = article.cloneNode(true);
  for (const one of copy.querySelectorAll('details, .unseen, .do, .rest')) one.remove();
  return copy.textContent.trim().split(/\\s+/).length;
}"""
IS_SEEN = """letter => {
  const { bottom } = letter.getBoundingClientRect();
  const head = letter.getBoundingClientRect().top;
  return head >= 0 && (bottom <= innerHeight || head < 20)
    && letter.contains(document.activeElement);
}"""
"""From its head on, to what stays where there is room; and the focus is in it."""


@dataclass(frozen=True)
class Stopwatch:
    """What the evening took."""

    letters: int
    words: tuple[int, ...]
    """On the face of each letter."""
    keys: int
    page_seconds: float
    """From the first key until everything was stored."""

    @property
    def minutes(self) -> float:
        reading = sum(self.words) / WORDS_A_MINUTE
        return reading + (self.keys * SECONDS_A_KEY + self.page_seconds) / 60


def decide_all(page: Page) -> Stopwatch:
    """Decides every letter of the open evening page by keyboard alone, as the page leads: the first
    line of each letter is declined, undone and accepted, then the rest is accepted."""
    letters = page.locator("[data-letter]")
    count = letters.count()
    words = tuple(letters.nth(n).evaluate(FACE) for n in range(count))
    keys, started = 0, time.monotonic()
    for number in range(count):
        letter = letters.nth(number)
        first = letter.locator("[data-line]").first
        if not first.count():
            continue
        assert letter.evaluate(IS_SEEN), "what is decided on stands in the window"
        for key, said in (("d", "Declined"), ("u", None), ("a", "Accepted")):
            page.keyboard.press(key)
            keys += 1
            shown = first.locator(".verdict")
            expect(shown).to_have_text(said) if said else expect(shown).to_have_count(0)
        if letter.locator("[name=accept_all]").count():
            page.keyboard.press("r")
            keys += 1
        expect(letter).to_have_attribute("data-done", "")
    seconds = time.monotonic() - started
    return Stopwatch(letters=count, words=words, keys=keys, page_seconds=seconds)
