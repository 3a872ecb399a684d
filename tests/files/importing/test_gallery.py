"""Each invented log is read set by set: day, lift, load, unit, repetitions, effort, lifter."""

import csv
import datetime as dt
from collections import Counter
from pathlib import Path

import pytest
from openpyxl import load_workbook

from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.draft import Wishes, draft_of
from import_gallery import Log, fact_of, logs


@pytest.mark.parametrize("log", logs(), ids=lambda log: log.name)
def test_every_set_is_read_and_no_other(log: Log, tmp_path: Path) -> None:
    """And few questions are asked."""
    draft = draft_of([log.write(tmp_path)], builtin_catalogue(), Wishes())
    read = Counter(fact_of(done) for done in draft.sets)
    assert read - log.truth == Counter()
    assert log.truth - read == Counter()
    assert len(draft.questions) <= 2


def test_the_tabs_of_a_workbook_may_come_as_csv_files_of_their_own(tmp_path: Path) -> None:
    log = next(log for log in logs() if log.name == "tab-a-lifter")
    book = load_workbook(log.write(tmp_path))
    files = []
    for sheet in book:
        files.append(tmp_path / f"club - {sheet.title}.csv")
        with files[-1].open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(
                [_text(value) for value in row] for row in sheet.iter_rows(values_only=True)
            )

    draft = draft_of(files, builtin_catalogue(), Wishes())
    assert Counter(fact_of(done) for done in draft.sets) == log.truth


def _text(value: object) -> str:
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    return "" if value is None else str(value)
