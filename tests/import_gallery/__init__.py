"""Invented training logs as text, written as the workbooks and CSV files they stand for.

A file in `sheets/` says the name of the log, its sheets and, under `truth`, the sets in it:

    file: push pull.xlsx
    tab: Week 1
    Monday | <<
    Bench | 80x8
    truth
    2027-01-04 | bench press | 80 kg | 8 | rir 2 | lifter

A cell that is a number or an ISO date is one in the workbook, `'` before it keeps it text; `<<`
is merged with the cell to its left, `^^` with the one above; `\\n` is a new line in a cell. The
truth may list loads (`80,85 kg`), repetitions (`8,7`; the parts of one set `8+4`) and `rir`
(`-,-,2`, one number: the last set's), or call all of a line's sets `warmup`. All people, gyms and
logs are invented.
"""

import datetime as dt
import re
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from openpyxl import Workbook

from blockwright.engine.training import SetDone

SHEETS = Path(__file__).parent / "sheets"
WARMUP = (-1.0, -1.0)
"""Stands where a set's effort would: none is told of a warm-up."""
Fact = tuple[str, str, str, tuple[float, ...], str, tuple[int, ...], tuple[float, float] | None]


@dataclass
class Log:
    """One invented log."""

    name: str
    file: str = ""
    encoding: str = "utf-8"
    tabs: dict[str, list[str]] = field(default_factory=dict)
    truth: Counter[Fact] = field(default_factory=Counter)

    def write(self, folder: Path) -> Path:
        path = folder / self.file
        if path.suffix == ".xlsx":
            self._write_workbook(path)
        else:
            text = "\r\n".join(self.tabs[""]) + "\r\n"
            path.write_bytes(text.encode(self.encoding))
        return path

    def _write_workbook(self, path: Path) -> None:
        book = Workbook()
        book.remove(book.active)
        for tab, lines in self.tabs.items():
            sheet = book.create_sheet(tab)
            table = [[cell.strip() for cell in line.split("|")] for line in lines]
            for row, cells in enumerate(table, 1):
                for column, text in enumerate(cells, 1):
                    if text and text not in ("<<", "^^"):
                        sheet.cell(row, column, _value(text))
            for first, last in _merged(table):
                sheet.merge_cells(
                    start_row=first[0], start_column=first[1], end_row=last[0], end_column=last[1]
                )
        book.save(path)


def logs() -> list[Log]:
    return [read_log(path) for path in sorted(SHEETS.glob("*.txt"))]


def read_log(path: Path) -> Log:
    log = Log(path.stem)
    lines: list[str] | None = None
    in_truth = False
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("#") and lines is None:
            continue
        if line == "truth":
            in_truth = True
        elif in_truth:
            if line.strip():
                log.truth.update(_facts(line))
        elif lines is None and (match := re.match(r"(file|encoding): (.+)", line)):
            setattr(log, match[1], match[2].strip())
        elif match := re.match(r"tab:(.*)", line):
            lines = log.tabs.setdefault(match[1].strip(), [])
        else:
            assert lines is not None, f"{path.name}: a line before any tab"
            lines.append(line)
    return log


def fact_of(done: SetDone) -> Fact:
    loads = tuple(float(part) for part in done.entered_load.split("+"))
    rir = None if done.rir_low is None else (done.rir_low, done.rir_high or 0.0)
    if done.method == "warmup":
        rir = WARMUP
    return (done.lifter or "", done.moment.day.isoformat(), done.lift, loads,
            done.entered_unit, done.reps, rir)  # fmt: skip


def _facts(line: str) -> list[Fact]:
    day, lift, load, reps, *more = (part.strip() for part in line.split("|"))
    amounts, unit = load.split()
    rir, lifter, warm = "", "", False
    for part in more:
        if part == "warmup":
            warm = True
        elif part.startswith("rir "):
            rir = part.removeprefix("rir ")
        else:
            lifter = part
    counts = [tuple(int(one) for one in each.split("+")) for each in reps.split(",")]
    loads = [tuple(float(one) for one in each.split("+")) for each in amounts.split(",")]
    if len(loads) == 1:
        loads *= len(counts)
    efforts = rir.split(",") if rir else []
    if len(efforts) < len(counts):
        efforts = ["-"] * (len(counts) - len(efforts)) + efforts
    return [
        (lifter, day, lift, each, unit, parts, WARMUP if warm else _effort(effort))
        for each, parts, effort in zip(loads, counts, efforts, strict=True)
    ]


def _effort(text: str) -> tuple[float, float] | None:
    if text.strip() == "-":
        return None
    ends = [float(end) for end in text.split("-")]
    return (ends[0], ends[-1])


def _value(text: str) -> str | float | int | dt.datetime:
    if text.startswith("'"):
        return text[1:].replace("\\n", "\n")
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        return dt.datetime.fromisoformat(text)
    if re.fullmatch(r"-?\d+", text):
        return int(text)
    if re.fullmatch(r"-?\d+\.\d+", text):
        return float(text)
    return text.replace("\\n", "\n")


def _merged(table: list[list[str]]) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    found = []
    for row, cells in enumerate(table, 1):
        for column, text in enumerate(cells, 1):
            if text in ("<<", "^^"):
                continue
            right = column
            while right < len(cells) and cells[right] == "<<":
                right += 1
            down = row
            while (
                down < len(table) and column <= len(table[down]) and table[down][column - 1] == "^^"
            ):
                down += 1
            if right > column or down > row:
                found.append(((row, column), (down, right)))
    return found
