"""Time to read and check a 200,000-row log, beside a plain pass over the same file.

The reference does less on purpose: `csv.DictReader` and one `float` a row, no checks. Run:
python benchmarks/read_log.py
"""

import csv
import json
import random
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.sets_file import read_sets
from blockwright.verbs.check_files import check_files

ROWS = 200_000
LIFTERS = 60
TARGET_S = 5.0
_REPEATS = 3
_HEADER = (
    "when", "lift", "set", "load", "unit", "reps", "rir", "rest_s", "method", "full_range", "pain",
    "note", "lifter",
)  # fmt: skip
_LIFTS = (
    ("barbell back squat", 100), ("bench press", 75), ("deadlift", 130), ("barbell row", 70),
    ("leg press", 180), ("leg curl", 45), ("lat pulldown", 60), ("dumbbell lateral raise", 10),
    ("triceps pushdown", 30), ("incline dumbbell press", 24), ("a lift of our own", 40),
)  # fmt: skip


def rows(count: int) -> Iterator[list[object]]:
    """An invented log: heavy and light days, missing RIR, some typing errors, a rest-pause set."""
    chance = random.Random(20270104)
    day = date(2021, 1, 4)
    made = 0
    while True:
        for who in range(LIFTERS):
            light = chance.random() < 0.3
            for lift, usual in chance.sample(_LIFTS, 4):
                for number in range(1, 5):
                    if made == count:
                        return
                    made += 1
                    load = round(usual * (0.7 if light else 1.0) + 2.5 * chance.randint(-2, 2), 1)
                    slip = chance.random()
                    load *= 10 if slip < 0.001 else 1
                    rir = chance.choice(["", "0", "1", "1-2", "2", "2.5", "3"])
                    reps = str(chance.randint(12, 20) if light else chance.randint(5, 12))
                    method = "rest-pause" if slip > 0.995 else "straight"
                    yield [
                        day.isoformat(), lift, number, load, "kg",
                        f"{reps}+4+3" if method == "rest-pause" else reps, rir,
                        chance.choice(["", 90, 120, 150, 180]), method, "yes", "", "",
                        f"lifter {who}",
                    ]  # fmt: skip
        day += timedelta(days=chance.choice([1, 2, 2, 3]))


def write_log(path: Path, count: int) -> None:
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(_HEADER)
        writer.writerows(rows(count))


def plain_pass(path: Path) -> float:
    with path.open(newline="", encoding="utf-8") as file:
        return sum(float(row["load"]) for row in csv.DictReader(file))


def best_s(work: Callable[[], object]) -> float:
    """The quickest of a few runs, seconds of this process's own time."""
    times: list[float] = []
    for _ in range(_REPEATS):
        began = time.process_time()
        work()
        times.append(time.process_time() - began)
    return min(times)


def main() -> None:
    catalogue = builtin_catalogue()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        write_log(path, ROWS)
        reference = best_s(lambda: plain_pass(path))
        for bench, work in (
            ("read_log", lambda: read_sets(path, catalogue)),
            ("read_and_check_log", lambda: check_files([path])),
        ):
            value = best_s(work)
            print(
                json.dumps(
                    {
                        "bench": bench,
                        "value": round(value, 3),
                        "unit": f"s for {ROWS} rows",
                        "reference": round(reference, 3),
                        "reference_is": "csv.DictReader and float() over the same file",
                        "ratio": round(value / reference, 2),
                        "target": TARGET_S,
                    }
                )
            )


if __name__ == "__main__":
    main()
