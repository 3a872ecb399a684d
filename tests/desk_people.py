"""A lifter with a block, a log and letters for the desk's tests. Invented, like the gym of
`people`: the example lifter's block (the golden file) moved to another start, trained as written
for some weeks."""

import csv
import io
import json
import re
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.store.models import Lifter
from blockwright.verbs.import_files import Given, import_files, new_lifter

ROOT = Path(__file__).resolve().parents[1]
GOLDEN = (ROOT / "tests" / "goldens" / "block.json").read_text(encoding="utf-8")
GOLDEN_START = date(2027, 1, 4)
START = date(2026, 1, 5)
NAME = "Mara Lindqvist"
HEAD = ["when", "lift", "set", "load", "unit", "reps", "rir", "rest_s", "pain", "note"]


def block_from(start: date = START) -> dict[str, Any]:
    """The golden block, its dates moved so that it starts on the Monday `start`."""
    return dict(json.loads(_moved(GOLDEN, start)))


def _moved(text: str, start: date) -> str:
    def later(found: re.Match[str]) -> str:
        return (date.fromisoformat(found.group()) + (start - GOLDEN_START)).isoformat()

    return re.sub(r"\b2027-\d\d-\d\d\b", later, text)


def sunday(week: int, start: date = START) -> date:
    """The last day of a week of the block."""
    return start + timedelta(days=7 * week - 1)


def noon(day: date) -> datetime:
    """A time of that day for what wants the clock."""
    return timezone.make_aware(datetime(day.year, day.month, day.day, 12))


def trained(
    block: Mapping[str, Any],
    weeks: int | range = 1,
    *,
    pain: Mapping[str, int] | None = None,
    notes: Mapping[str, str] | None = None,
) -> bytes:
    """A sets file in which those weeks were done as written; `pain` and `notes` by lift."""
    wanted = range(1, weeks + 1) if isinstance(weeks, int) else weeks
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEAD)
    for week in block["weeks"]:
        for session in week["sessions"] if week["week"] in wanted else ():
            for entry in session["entries"]:
                for number, planned in enumerate(entry["sets"], 1):
                    if planned["load_kg"] is not None:
                        writer.writerow(
                            [session["date"], entry["lift"], number, planned["load_kg"], "kg",
                             planned["reps_high"], planned["rir"], entry["rest_s"],
                             (pain or {}).get(entry["lift"], ""),
                             (notes or {}).get(entry["lift"], "")]
                        )  # fmt: skip
    return text.getvalue().encode()


def desk_lifter(coach: User, weeks: int | range = 1, *, start: date = START, **more: Any) -> Lifter:
    """The example lifter with their block and so many weeks of it done, coached by `coach`."""
    block = block_from(start)
    lifter = (ROOT / "examples" / "lifter.toml").read_text(encoding="utf-8")
    files = [
        Given("lifter.toml", _moved(lifter, start).encode()),
        Given("block.json", json.dumps(block).encode()),
        Given("weeks.csv", trained(block, weeks, **more)),
    ]
    return new_lifter(coach, files, timezone.now())


def train(row: Lifter, coach: User, block: Mapping[str, Any], weeks: range, **more: Any) -> None:
    """More weeks done as a block has them."""
    given = [Given("weeks.csv", trained(block, weeks, **more))]
    import_files(coach, row, given, timezone.now())
