"""Writes docs/validation.md, every study in order: python -m blockwright.trial.validate [FILE]

A study is a function that returns markdown; add it to `SECTIONS`. Sections are written by the
studies alone; nothing on the page is typed by hand.
"""

import sys
import time
from collections.abc import Callable
from pathlib import Path

from blockwright.trial.bench_study import bench_study
from blockwright.trial.ceiling_study import ceiling_study
from blockwright.trial.learning_study import learning_study
from blockwright.trial.machine_study import machine_study
from blockwright.trial.planning_study import checked_lifters_study, planning_study
from blockwright.trial.posterior_study import posterior_study
from blockwright.trial.review_study import review_study
from blockwright.trial.strength_study import strength_study
from blockwright.trial.watch_study import watch_study

SECTIONS: tuple[tuple[str, Callable[[], str]], ...] = (
    ("Strength: simulated lifters, own law and foreign ones", strength_study),
    ("Strength: single sets to failure on machines, simulated", machine_study),
    ("Strength: the filter beside the exact posterior", posterior_study),
    ("Strength: real bench press sets, 90 and 80 % to 70 %", bench_study),
    ("Strength: a learning jump is not growth, real 1RM tests", learning_study),
    ("The watch", watch_study),
    ("The ceiling of a muscle", ceiling_study),
    ("The review: is it as sure as it should be?", review_study),
    ("Planning: distance from the best possible week", planning_study),
    ("Planning: invented lifters under a checker of its own", checked_lifters_study),
)

HEAD = """# Validation

How good the engine's beliefs are, measured by its own studies. `make validate` writes this page;
nothing on it is typed by hand. Figures of simulated lifters say what happens under laws we wrote
down, not what happens in a gym; sections on real measurements say so.
"""


def page() -> str:
    """The whole page; progress goes to stderr."""
    parts = [HEAD]
    for title, study in SECTIONS:
        sys.stderr.write(f"{title} ... ")
        sys.stderr.flush()
        began = time.monotonic()
        parts.append(f"## {title}\n\n{study().strip()}\n")
        sys.stderr.write(f"{time.monotonic() - began:.0f} s\n")
    return "\n".join(parts)


def main(arguments: list[str]) -> None:
    """Writes the page to the file named, or to docs/validation.md under the current folder."""
    target = Path(arguments[0]) if arguments else Path("docs") / "validation.md"
    target.write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
