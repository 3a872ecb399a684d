"""Rows that were made some time ago: the database's own dates follow this clock."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, time
from unittest.mock import patch


@contextmanager
def noon_of(day: date) -> Iterator[datetime]:
    """What is saved inside was made at noon of that day, UTC."""
    now = datetime.combine(day, time(12), UTC)
    with patch("django.utils.timezone.now", return_value=now):
        yield now
