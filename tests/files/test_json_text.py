"""The one writer of JSON."""

import json
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright.files.json_text import dumps


def test_dates_floats_and_order() -> None:
    text = dumps({"b": 0.1 + 0.2, "a": date(2027, 1, 4), "c": (1.0, None, True)})
    assert (
        text
        == '{\n  "b": 0.3,\n  "a": "2027-01-04",\n  "c": [\n    1,\n    null,\n    true\n  ]\n}\n'
    )


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_nan_never_reaches_a_file(value: float) -> None:
    with pytest.raises(ValueError, match="not finite"):
        dumps({"a": value})


@given(
    st.dictionaries(
        st.text(),
        st.one_of(st.floats(-1e6, 1e6), st.text(), st.booleans(), st.lists(st.integers())),
    )
)
def test_writing_what_was_read_gives_the_same_bytes(document: dict[str, object]) -> None:
    once = dumps(document)
    assert dumps(json.loads(once)) == once
