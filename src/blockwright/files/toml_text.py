"""A table to TOML text, as a person would write a lifter file."""

import json
from collections.abc import Mapping
from datetime import date
from typing import Any

_BARE = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-")
_DATES = ("start", "cleared_on")
"""Keys whose text is a date; `slot.start` is a time of day and has no three parts."""


def toml_text(table: Mapping[str, Any]) -> str:
    """The table as TOML that reads back equal: plain keys first, then `[table]`, `[[table]]`."""
    return "\n".join(_lines(table, "")).strip("\n") + "\n"


def _lines(table: Mapping[str, Any], place: str) -> list[str]:
    lines: list[str] = []
    for key, value in table.items():
        if not _is_table(value) and not _is_tables(value):
            lines.append(f"{_key(key)} = {_value(key, value)}")
    for key, value in table.items():
        name = f"{place}{_key(key)}"
        if _is_table(value) and value:
            lines += ["", f"[{name}]", *_lines(value, f"{name}.")]
        elif _is_tables(value):
            for item in value:
                lines += ["", f"[[{name}]]", *_lines(item, f"{name}.")]
    return lines


def _is_table(value: object) -> bool:
    return isinstance(value, Mapping)


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(i, Mapping) for i in value)


def _key(key: str) -> str:
    return key if key and set(key) <= _BARE else _string(key)


def _value(key: str, value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return value if key in _DATES and _is_date(value) else _string(value)
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value("", item) for item in value) + "]"
    raise TypeError(f"{key}: {type(value).__name__} has no TOML form")


def _is_date(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2027-01-04")


def _string(text: str) -> str:
    """A basic string; JSON's escapes are TOML's, but for the delete character."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
