"""Values of the API's addresses and bodies: strict, bounded, and in the OpenAPI document as such.

A body's number is a number and not a text that looks like one; a date is 2027-01-04; a key that
nobody knows is refused, so that a slip of the pen is never silently without effect."""

import re
from collections.abc import Callable
from datetime import date, datetime
from typing import Annotated, Any
from uuid import UUID

from pydantic import BeforeValidator, Field, WithJsonSchema
from pydantic.json_schema import SkipJsonSchema

from blockwright.verbs.read_change import MOST_NUMBER, WHOLE, Line, Row, Strict

__all__ = ["WHOLE", "Line", "Row", "Strict"]

MOST_SEQ = 2**53  # Of a fact's place in the order of arrival: what a script can count to

_DAY = r"^[12][0-9]{3}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$"
_MOMENT = (
    r"^(19[7-9]|20[0-9])[0-9]-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"
    r"T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](\.[0-9]{1,6})?(Z|[+-](0[0-9]|1[0-4]):[0-5][0-9])$"
)
_KEY = r"^[0-9a-fA-F]{8}-([0-9a-fA-F]{4}-){3}[0-9a-fA-F]{12}$"


def _written(kind: type, pattern: str, read: Callable[[str], Any], how: str) -> BeforeValidator:
    """Reads what is written just so; what is of its kind already stays as it is."""

    def value_of(value: Any) -> Any:
        if type(value) is kind:
            return value
        if not isinstance(value, str) or not re.fullmatch(pattern, value):
            raise ValueError(f"write {how}")
        return read(value)

    return BeforeValidator(value_of)


LeftOut = SkipJsonSchema[None]
"""Beside the type of what may be left out of an address: its schema says nothing of null."""
_IN_ADDRESS = _written(int, r"[0-9]{1,16}", int, "a whole number")
Day = Annotated[
    date,
    _written(date, _DAY, date.fromisoformat, "a date as 2027-01-04"),
    WithJsonSchema({"type": "string", "format": "date", "pattern": _DAY}),
]
Moment = Annotated[
    datetime,
    _written(
        datetime,
        _MOMENT,
        datetime.fromisoformat,
        "a time with its offset, as 2027-01-04T19:40:10+01:00",
    ),
    WithJsonSchema({"type": "string", "format": "date-time", "pattern": _MOMENT}),
]
Key = Annotated[
    UUID,
    _written(UUID, _KEY, UUID, "an id as 8-4-4-4-12 hexadecimal digits"),
    WithJsonSchema({"type": "string", "format": "uuid", "pattern": _KEY}),
]
MaybeKey = Key | LeftOut
Number = Annotated[int, Field(ge=1, le=MOST_NUMBER), _IN_ADDRESS]  # A counting number in an address
Seq = Annotated[int, Field(ge=0, le=MOST_SEQ), _IN_ADDRESS]
"""A fact's place in an address, 0 for before the first."""
Find = Line | LeftOut  # What is looked for
Words = Annotated[str, Field(max_length=2000, pattern=r"^[^\x00]*$")]  # What somebody says


def told(says: str, usual: Any = ...) -> Any:
    """A field with what the OpenAPI document says of it; `usual` where it may be left out."""
    return Field(usual, description=says)
