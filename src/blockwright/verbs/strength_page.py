"""What the Strength page of a lifter shows."""

from dataclasses import dataclass
from datetime import date, timedelta

from blockwright.accounts.models import User
from blockwright.engine.report import strength_finding
from blockwright.files.words import reason_says
from blockwright.sheets.report_plots import DESK
from blockwright.sheets.strength_words import StrengthWords, strength_words
from blockwright.store.blocks import block_on
from blockwright.store.models import Lifter
from blockwright.verbs.estimate_lifter import estimate_lifter
from blockwright.verbs.load_lifter import load_lifter
from blockwright.verbs.shown_unit import shown_unit

PERIODS = {"half-year": 183, "two-years": 731, "all": None}
"""Days the plots go back from the last session, by the word in the address."""


@dataclass(frozen=True, slots=True)
class StrengthPage:
    """The finding over all lifts, and the lifts."""

    finding: str
    words: StrengthWords


def strength_page(person: User, row: Lifter, period: str, today: date) -> StrengthPage:
    """The page for `person`, in the unit they read; `period` is a key of `PERIODS`."""
    unit = shown_unit(person, load_lifter(row).value)
    found = estimate_lifter(row, unit)
    last = max((one["points"][-1]["date"] for one in found.history.values()), default=None)
    days = PERIODS[period]
    since = None if last is None or days is None else date.fromisoformat(last) - timedelta(days)
    block = block_on(row, today)
    words = strength_words(
        found.document,
        found.history,
        unit,
        DESK,
        since=since,
        block_start=None if block is None else block.start,
    )
    headings = [one["heading"] for one in found.history.values()]
    finding = reason_says(strength_finding(headings)) if headings else ""
    return StrengthPage(finding, words)
