"""Each invented log is read set by set: day, lift, load, unit, repetitions, effort, lifter."""

from collections import Counter
from pathlib import Path

import pytest

from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.draft import Draft, Wishes, draft_of
from import_gallery import Log, fact_of, logs


@pytest.mark.parametrize("log", logs(), ids=lambda log: log.name)
def test_every_set_is_read_and_no_other(log: Log, tmp_path: Path) -> None:
    draft = _draft(log, tmp_path)

    read = Counter(fact_of(done) for done in draft.sets)
    assert read - log.truth == Counter()
    assert log.truth - read == Counter()


@pytest.mark.parametrize("log", logs(), ids=lambda log: log.name)
def test_few_questions_are_asked(log: Log, tmp_path: Path) -> None:
    assert len(_draft(log, tmp_path).questions) <= 2


def _draft(log: Log, folder: Path) -> Draft:
    return draft_of([log.write(folder)], builtin_catalogue(), Wishes())
