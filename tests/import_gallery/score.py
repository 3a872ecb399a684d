#!/usr/bin/env python3
"""How well `blockwright import` reads logs of which the sets are known.

    python tests/import_gallery/score.py FOLDER...

Beside each NAME.xlsx or NAME.csv stands NAME.truth.csv, a row for each set that was done: lifter,
date (or when), lift, load, unit, reps, rpe, rir, warmup (yes or no). Prints sets right in all of
these, wrong (read, but not so), missed, and questions, by file and in all. Questions are answered
as the truth says, as a coach would; `--silent` leaves them open. `--show` prints what was not
right. In a log of one person the name does not count: it may stand in a title, and the site knows
whose log it is.
"""

import argparse
import csv
import datetime as dt
import re
from collections import Counter
from pathlib import Path

from blockwright.engine.errors import BadInput
from blockwright.engine.training import SetDone
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.draft import Draft, Question, Wishes, draft_of
from blockwright.files.importing.names import LiftMatcher, words_of

CATALOGUE = builtin_catalogue()
MATCHER = LiftMatcher(CATALOGUE)
Fact = tuple[str, str, str, str, str, str, str, bool]


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("folders", nargs="+", type=Path)
    options.add_argument("--silent", action="store_true")
    options.add_argument("--show", action="store_true")
    wanted = options.parse_args()
    total: Counter[str] = Counter()
    print(f"{'file':34}  sets right     % wrong missed asked listed")
    for truth in sorted(p for folder in wanted.folders for p in folder.glob("*.truth.csv")):
        stem = truth.name.removesuffix(".truth.csv")
        path = next(p for e in ("xlsx", "csv") if (p := truth.with_name(f"{stem}.{e}")).exists())
        total.update(score_of(path, truth, silent=wanted.silent, show=wanted.show))
    _line("all", total)


def score_of(path: Path, truth: Path, *, silent: bool = False, show: bool = False) -> Counter[str]:
    """Of one log: sets, right, wrong, missed, asked, listed."""
    facts = _truth(truth)
    blank = _not_compared(facts)
    facts = Counter(_without(fact, blank) for fact in facts.elements())
    draft, answers = _answered(path, {})
    if draft is not None and not silent:
        for question in draft.questions:
            tried = [
                _answered(path, {**answers, question.id: choice})
                for choice in _choices(question, facts)
            ]
            draft, answers = max(
                [(draft, answers), *tried], key=lambda one: _right(one[0], facts, blank)
            )
    read = _facts(draft, blank)
    right = (read & facts).total()
    score = Counter(
        sets=facts.total(),
        right=right,
        wrong=read.total() - right,
        missed=facts.total() - right,
        asked=len(draft.questions) if draft else 0,
        listed=len(draft.skipped) if draft else 0,
    )
    _line(path.name, score)
    if show and draft is not None:
        _show(draft, read, facts)
    return score


def _line(name: str, score: Counter[str]) -> None:
    share = 100 * score["right"] / max(score["sets"], 1)
    print(f"{name[:34]:34} {score['sets']:5d} {score['right']:5d} {share:5.1f} {score['wrong']:5d}"
          f" {score['missed']:6d} {score['asked']:5d} {score['listed']:6d}")  # fmt: skip


def _show(draft: Draft, read: "Counter[Fact]", facts: "Counter[Fact]") -> None:
    for mark, left in (("  read ", read - facts), ("  truth", facts - read)):
        for fact, count in sorted(left.items(), key=lambda item: [str(part) for part in item[0]]):
            print(mark, count, *fact)
    for question in draft.questions:
        print("  asked ", question.id, question.asks, question.choices, question.chosen)
    for skipped in draft.skipped:
        print("  listed", skipped.place, repr(skipped.text), skipped.why)


def _answered(path: Path, answers: dict[str, str]) -> tuple[Draft | None, dict[str, str]]:
    try:
        wishes = Wishes(answers=answers)
        if "year" in answers:
            wishes.year = int(answers["year"])
        return draft_of([path], CATALOGUE, wishes), answers
    except BadInput as problem:
        print("  refused:", problem)
        return None, answers


def _right(draft: Draft | None, facts: "Counter[Fact]", blank: tuple[int, ...]) -> int:
    return (_facts(draft, blank) & facts).total()


def _choices(question: Question, facts: "Counter[Fact]") -> list[str]:
    days = sorted(fact[1] for fact in facts if fact[1])
    if question.id == "week-1":
        # Where the log tells no day, any does.
        first = dt.date.fromisoformat(days[0] if days else "2026-01-05")
        return [(first - dt.timedelta(days=first.weekday())).isoformat()]
    if question.id == "year" and days:
        return [days[0][:4]]
    return [choice for choice in question.choices if choice != question.chosen]


def _not_compared(facts: "Counter[Fact]") -> tuple[int, ...]:
    """The parts of a fact that the log does not tell: whose it is, the day."""
    names = {fact[0] for fact in facts}
    return (*((0,) if len(names) < 2 else ()), *((1,) if not any(f[1] for f in facts) else ()))


def _without(fact: Fact, blank: tuple[int, ...]) -> Fact:
    lifter, day, *rest = ("" if at in blank else part for at, part in enumerate(fact))
    return (lifter, day, *rest)  # type: ignore[return-value]


def _facts(draft: Draft | None, blank: tuple[int, ...]) -> "Counter[Fact]":
    sets = draft.sets if draft else ()
    return Counter(_without(fact, blank) for done in sets for fact in _facts_of(done))


def _facts_of(done: SetDone) -> list[Fact]:
    """A set in words, a drop set as one for each part."""
    loads = done.entered_load.split("+")
    if len(loads) == 1:
        return [_fact(done, loads[0], "+".join(map(str, done.reps)))]
    return [_fact(done, load, str(reps)) for load, reps in zip(loads, done.reps, strict=True)]


def _fact(done: SetDone, load: str, reps: str) -> Fact:
    """The assisted form of a lift is the lift with a load below zero, that of the body alone the
    lift with none."""
    known = CATALOGUE.find(done.lift)
    helped = known.load_kind == "assisted" if known else done.lift.startswith("assisted ")
    if helped and load != "0":
        load = f"-{load}"
    rir = "" if done.rir_low is None else f"{done.rir_low:g}-{done.rir_high:g}"
    unit = done.entered_unit if load.strip("0") else ""
    return (done.lifter or "", done.moment.day.isoformat(), _lift(done.lift), load, unit,
            reps, rir, done.method == "warmup")  # fmt: skip


def _lift(name: str) -> str:
    name = re.sub(r"(?i)\b(?:(?:band[- ]|machine[- ])?assisted|bodyweight)\b", "", name)
    if (known := CATALOGUE.find(name)) is not None:
        return known.name
    match = MATCHER.match(name)
    return match.best if match.is_sure and match.best else " ".join(sorted(words_of(name)))


def _truth(path: Path) -> "Counter[Fact]":
    with path.open(encoding="utf-8-sig", newline="") as file:
        # A missed attempt is no set: what it told is only listed.
        return Counter(_fact_of_row(row) for row in csv.DictReader(file) if row["reps"] != "0")


def _fact_of_row(row: dict[str, str]) -> Fact:
    load = f"{float(row['load'] or 0):g}"
    low = high = row["rir"]
    if not low and row.get("rpe"):
        low = high = f"{10 - float(row['rpe']):g}"
    elif low:
        low = high = f"{float(low):g}"
    day = row.get("date", row.get("when", ""))
    return (row["lifter"], day, _lift(row["lift"]), load,
            row["unit"] if load.strip("0") else "", row["reps"], f"{low}-{high}" if low else "",
            row["warmup"] == "yes")  # fmt: skip


if __name__ == "__main__":
    main()
