"""The plain keys of a phone's event: read, or refused with a sentence (docs/sync.md)."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

PHONE = "update the page, then make the entry again"
CLOCK = "set the phone's clock right and write it down again"
_LONGEST_TEXT = 1000
_CLOCK_YEARS = range(1969, 2200)
"""What a phone's clock can say, however wrong: from where computers begin to count."""


class Parked(Exception):
    """This event cannot be stored as it is: `says` and `mend` are for the person."""

    def __init__(self, says: str, mend: str = "") -> None:
        super().__init__(says)
        self.says = says
        self.mend = mend


def not_readable(key: str = "") -> Parked:
    """An entry that no page of ours writes."""
    return Parked(f"{key}: this entry is not readable" if key else "this entry is not readable",
                  PHONE)  # fmt: skip


def uuid_of(table: Mapping[str, Any], key: str) -> UUID:
    """An id as phones write it: two ways to write one id would be two ids to a phone."""
    value = table.get(key)
    try:
        found = UUID(value) if isinstance(value, str) else None
    except ValueError:
        found = None
    if found is None or str(found) != value:
        raise Parked(f"this entry has no readable {key}", PHONE)
    return found


def text_of(table: Mapping[str, Any], key: str) -> str:
    value = table.get(key, "")
    if value is None:
        return ""
    if not isinstance(value, str):
        raise not_readable(key)
    if len(value) > _LONGEST_TEXT:
        raise Parked(f"{key}: more than {_LONGEST_TEXT} letters", "shorten it")
    return value


def number_of(table: Mapping[str, Any], key: str, low: float, high: float) -> float | None:
    value = table.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        raise not_readable(key)
    return value


def number_text(table: Mapping[str, Any], key: str) -> str:
    """A number as the cell of a file; the file's reader bounds it."""
    value = number_of(table, key, float("-inf"), float("inf"))
    if value is None:
        return ""
    return f"{value:f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)


def whole_of(table: Mapping[str, Any], key: str, low: int, high: int) -> int:
    value = table.get(key)
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise not_readable(key)
    return value


def maybe_whole(table: Mapping[str, Any], key: str, low: int, high: int) -> int | None:
    return None if table.get(key) is None else whole_of(table, key, low, high)


def flag_of(table: Mapping[str, Any], key: str, default: bool = False) -> bool:
    value = table.get(key, default)
    if not isinstance(value, bool):
        raise not_readable(key)
    return value


def maybe_day(table: Mapping[str, Any], key: str) -> date | None:
    value = table.get(key)
    try:
        found = date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        found = None
    if value is not None and (found is None or found.isoformat() != value):
        raise not_readable(key)
    return found


def moment_of(event: Mapping[str, Any], key: str) -> datetime:
    """A time of the phone's clock with its offset, as the phone had it."""
    value = event.get(key)
    try:
        found = datetime.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        found = None
    if found is None:
        raise Parked(f"{key}: this entry has no readable time", PHONE)
    if found.tzinfo is None:
        raise Parked(f"{key}: the time lacks its zone", PHONE)
    if found.year not in _CLOCK_YEARS:
        raise Parked(f"it says it was done in {found.year}", CLOCK)
    return found


def zone_of(event: Mapping[str, Any]) -> str:
    """The zone's name, "" for one this machine does not know (the event keeps what was said)."""
    name = text_of(event, "zone")
    try:
        ZoneInfo(name)
    except (ValueError, OSError, KeyError):
        return ""
    return name if len(name) <= 64 else ""
