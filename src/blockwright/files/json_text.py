"""The one reader of JSON files, and the one writer: readable, stable bytes, no NaN."""

import json
import math
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput
from .limits import read_limited, require_storable

_PLACES = 6
MOST_FIGURES = 15


def finite(text: str) -> float:
    """A number of a JSON file; ValueError for one too large to be any quantity of ours."""
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(f"{text[:20]} is not a number one can use")
    return number


def whole(text: str) -> int:
    if len(text) > MOST_FIGURES:
        raise ValueError(f"{text[:20]}... is not a number one can use")
    return int(text)


def load_json(path: Path) -> dict[str, Any]:
    """The object of a JSON file; BadInput with line and mend when it cannot be read."""
    data = read_limited(path)
    mend = "give a file as blockwright wrote it"
    try:
        document = json.loads(data.decode("utf-8-sig"), parse_float=finite, parse_int=whole)
    except json.JSONDecodeError as error:
        says = "is not JSON from here on" if data.strip() else "is empty"
        raise BadInput.of(says, mend, file=path.name, row=error.lineno) from error
    except (UnicodeDecodeError, RecursionError) as error:
        raise BadInput.of("is not JSON text", mend, file=path.name) from error
    except ValueError as error:
        raise BadInput.of(f"is not JSON: {error}", mend, file=path.name) from error
    if not isinstance(document, dict):
        raise BadInput.of("is not a blockwright document", mend, file=path.name)
    require_storable(document, path.name)
    return document


def dumps(document: Mapping[str, Any]) -> str:
    """JSON text with two-space indents and a final newline.

    Floats are rounded to six decimals, so that the last bits of arithmetic never show; a float that
    is whole is written as a whole number. Raises ValueError for NaN and infinity."""
    return json.dumps(plain(document), ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def plain(value: Any) -> Any:
    """`value` as JSON types: mappings and sequences copied, dates as ISO text, floats rounded."""
    if isinstance(value, bool | str | int) or value is None:
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError("a number that is not finite must not reach a file")
        rounded = round(value, _PLACES)
        return int(rounded) if rounded == int(rounded) else rounded
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    raise TypeError(f"{type(value).__name__} has no JSON form")
