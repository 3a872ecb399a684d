"""The lifter file's field table: what it describes is read, asked for and written."""

from typing import Any

import pytest

from blockwright.engine.errors import BadInput
from blockwright.files.lifter_fields import FIELDS, Field
from blockwright.files.lifter_file import lifter_from_table, lifter_to_table
from blockwright.web.lifter_form.fields import fields, rows

ROWS = ("slot", "pin", "known", "lift", "bar", "dumbbells", "stack")


def _file_with(key: str, value: Any) -> dict[str, Any]:
    """The shortest file in which the key has the value."""
    *way, name = key.split(".")
    table: Any = {name: value}
    for step in reversed(way):
        table = {step: [table] if step in ROWS else table}
    return {"name": "Ana", **table}


def _places(key: str, value: Any) -> set[str]:
    """Where the reader finds fault, without the numbers of rows and items."""
    with pytest.raises(BadInput) as caught:
        lifter_from_table(_file_with(key, value), None)
    return {
        ".".join(part for part in (one.key or "").split(".") if not part.isdecimal())
        for one in caught.value.problems
    }


@pytest.mark.parametrize("key", FIELDS)
def test_the_reader_checks_every_field(key: str) -> None:
    assert key in _places(key, {"no": "such value"})


@pytest.mark.parametrize("each", [f for f in FIELDS.values() if f.high is not None], ids=str)
def test_a_number_beyond_its_bounds_is_refused_at_its_key(each: Field) -> None:
    for beyond in ((each.high or 0) + 1, (each.low or 0) - 1):
        assert each.key in _places(each.key, beyond)


@pytest.mark.parametrize("each", [f for f in FIELDS.values() if f.kind == "choice"], ids=str)
def test_a_word_that_is_no_choice_is_refused_and_the_mend_names_one(each: Field) -> None:
    with pytest.raises(BadInput) as caught:
        lifter_from_table(_file_with(each.key, "zzz"), None)
    assert any(each.words[0] in one.mend for one in caught.value.problems)


def test_what_is_usual_holds_where_nothing_is_said() -> None:
    written = lifter_to_table(lifter_from_table({"name": "Ana"}, None).value)
    for key in ("units", "experience", "energy", "weeks"):
        assert str(written[key]) == FIELDS[key].usual
    assert written["deload"]["style"] == FIELDS["deload.style"].usual


def test_the_form_asks_for_every_field_in_the_same_words() -> None:
    asked = {field.key: field.label for field in fields()}
    asked |= {f"{part.key}.{field.key}": field.label for part in rows() for field in part.fields}
    assert {key: asked[key] for key in FIELDS} == {key: f.label for key, f in FIELDS.items()}
