"""Writes docs/validation.md: PYTHONPATH=.:tests python -m studies.validate [FILE] [--only WORD...]

A study is a function that returns markdown; add it to `SECTIONS`. Sections are written by the
studies alone; nothing on the page is typed by hand.
"""

import argparse
import re
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from studies.asking_study import asking_study
from studies.bench_study import bench_study
from studies.ceiling_study import ceiling_study
from studies.continuity_study import continuity_study
from studies.landing_study import landing_study
from studies.learning_study import learning_study
from studies.machine_study import machine_study
from studies.planning_study import checked_lifters_study, planning_study
from studies.policy_study import policy_study
from studies.posterior_study import posterior_study
from studies.review_study import review_study
from studies.strength_study import strength_study
from studies.trend_study import trend_study
from studies.watch_study import watch_study

SECTIONS: tuple[tuple[str, Callable[[], str]], ...] = (
    ("Strength: simulated lifters, own law and foreign ones", strength_study),
    ("Strength: single sets to failure on machines, simulated", machine_study),
    ("Strength: the filter beside the exact posterior", posterior_study),
    ("Strength: real bench press sets, 90 and 80 % to 70 %", bench_study),
    ("Strength: a learning jump is not growth, real 1RM tests", learning_study),
    ("Strength: what the trend says", trend_study),
    ("Strength: which sets are asked about", asking_study),
    ("Loads: where first sets land", landing_study),
    ("The watch", watch_study),
    ("The ceiling of a muscle", ceiling_study),
    ("The review: is it as sure as it should be?", review_study),
    ("The review beside a fixed plan, a ramp and two-for-two", policy_study),
    ("Planning: a coach's rules on invented people", planning_study),
    ("Planning: invented lifters under a checker of its own", checked_lifters_study),
    ("Planning: three blocks in a row", continuity_study),
)

_USE = "Runs the studies and writes the page; example: --only watch ceiling"

HEAD = """# Validation

How good the engine's beliefs are, measured by its own studies. `make validate` writes this page;
nothing on it is typed by hand. Figures of simulated lifters say what happens under laws we wrote
down, not what happens in a gym; sections on real measurements say so.
"""

MISSED = "Targets that are missed, each as its section says it:"


def main(arguments: list[str]) -> None:
    """Runs the studies and writes the page after each, so that a stopped run keeps what it has.

    `arguments`: a file (docs/validation.md without one), then `--only WORD...` to run again only
    sections whose titles contain one of the words; the others stay as the page has them.
    """
    asked = _asked(arguments)
    target, words = asked.file, asked.only
    done = sections_of(target.read_text(encoding="utf-8")) if words and target.exists() else {}
    for title, study in SECTIONS:
        if words and not any(word.lower() in title.lower() for word in words):
            continue
        sys.stderr.write(f"{title} ... ")
        sys.stderr.flush()
        began = time.monotonic()
        done[title] = study().strip()
        sys.stderr.write(f"{time.monotonic() - began:.0f} s\n")
        target.write_text(page(done), encoding="utf-8")


def _asked(arguments: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="studies.validate", description=_USE)
    page_of = Path("docs") / "validation.md"
    parser.add_argument("file", nargs="?", type=Path, default=page_of, help="default: %(default)s")
    parser.add_argument("--only", nargs="+", default=[], metavar="WORD", help="of titles")
    return parser.parse_args(arguments)


def sections_of(text: str) -> dict[str, str]:
    """Title to text of the sections a page has."""
    parts = re.split(r"(?m)^## (.+)$", text)[1:]
    return {title: body.strip() for title, body in zip(parts[::2], parts[1::2], strict=True)}


def page(done: Mapping[str, str]) -> str:
    """The page of the sections at hand, in their order."""
    known = [title for title, _ in SECTIONS if title in done]
    found = [(title, line) for title in known for line in re.findall(r"(?m)^Missed.*", done[title])]
    missed = [f"- {title}. {line}" for title, line in found if not line.endswith(": nothing.")]
    head = "\n".join([f"{HEAD}\n{MISSED}\n", *missed, ""]) if missed else HEAD
    return "\n".join([head, *(f"## {title}\n\n{done[title]}\n" for title in known)])


if __name__ == "__main__":
    main(sys.argv[1:])
