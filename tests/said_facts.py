"""A reason that lacks a fact its sentence names is told with a "?", so that a document of an older
version still reads. What the program makes today lacks none: there it is a defect."""

from collections.abc import Callable, Iterator
from string import Formatter
from typing import Any

import pytest

from blockwright.engine.reasons import Caution, Reason
from blockwright.files.words import entries

LATER = {"at", "opens"}
"""`at` may be left out; what a sheet opens another lift with is added when the line is known."""


@pytest.fixture(autouse=True, scope="module")
def every_fact_is_said() -> Iterator[None]:
    """Imported by a file of tests, it holds there: no reason or caution may be made incomplete."""
    with pytest.MonkeyPatch.context() as patch:
        for kind in (Reason, Caution):
            patch.setattr(kind, "__init__", _strict(kind.__init__))
        yield


def _strict(made: Callable[..., None]) -> Callable[..., None]:
    def strict(self: Any, *given: Any, **named: Any) -> None:
        made(self, *given, **named)
        says = entries().get(self.code, {}).get("says", "")
        asked = {name for _, name, _, _ in Formatter().parse(says) if name}
        lacks = asked - LATER - self.facts.keys()
        assert not lacks, f"{self.code} lacks {', '.join(sorted(lacks))}"

    return strict
