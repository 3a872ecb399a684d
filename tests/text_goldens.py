"""What the program says of fixed inputs, as text: each is written by `make goldens`, and a test
holds the program to it. Read the difference before you keep it: it is what a coach would see."""

from collections.abc import Callable, Mapping
from pathlib import Path

import blocks_as_lines
import reviews_as_lines
import week_bills

GOLDENS = Path(__file__).parent / "goldens"
TEXTS: Mapping[str, Callable[[], str]] = {
    "bills.txt": week_bills.bills,
    "plans.txt": blocks_as_lines.plans,
    "replans.txt": blocks_as_lines.replans,
    "deloads.txt": blocks_as_lines.deloads,
    "edits.txt": blocks_as_lines.edits,
    "reviews.txt": reviews_as_lines.reviews,
}


def assert_as_written(name: str) -> None:
    written = (GOLDENS / name).read_text(encoding="utf-8")
    assert TEXTS[name]().splitlines() == written.splitlines(), "make goldens, and read what moved"


def write_all() -> None:
    for name, text in TEXTS.items():
        (GOLDENS / name).write_text(text(), encoding="utf-8")
