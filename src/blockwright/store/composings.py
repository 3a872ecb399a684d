"""Searches for blocks in and out of the database."""

from datetime import date, datetime, timedelta
from typing import Any

from blockwright.accounts.models import User
from blockwright.store.models import Composing, Lifter

SILENT = timedelta(minutes=2)
"""A search that says nothing for so long is over: its process is gone (judgement)."""


def open_search(lifter: Lifter) -> Composing | None:
    """The search on its way for a lifter, if there is one."""
    return Composing.objects.filter(lifter=lifter, state__in=Composing.OPEN).first()


def add_search(
    lifter: Lifter, kind: str, start: date, asked: dict[str, Any], by: User | None, now: datetime
) -> Composing:
    """A new search, waiting. IntegrityError where one is open."""
    return Composing.objects.create(
        lifter=lifter, kind=kind, start=start, asked=asked, by=by, beat_at=now
    )


def search_of(lifter: Lifter, pk: int) -> Composing | None:
    return Composing.objects.filter(lifter=lifter, pk=pk).first()


def last_search(lifter: Lifter, kind: str, start: date) -> Composing | None:
    """The latest search of this kind for this block."""
    return Composing.objects.filter(lifter=lifter, kind=kind, start=start).last()


def beat(pk: int, step: str, now: datetime) -> bool:
    """Writes down what a search is at; whether it is still wanted."""
    wanted = Composing.objects.filter(pk=pk, state__in=Composing.OPEN)
    return bool(wanted.update(state=Composing.SEARCHING, step=step[:200], beat_at=now))


def end_search(
    pk: int, state: str, says: dict[str, Any], document: dict[str, Any] | None = None
) -> bool:
    """Ends an open search; whether it was open."""
    found = Composing.objects.filter(pk=pk, state__in=Composing.OPEN)
    return bool(found.update(state=state, says=says, document=document, step=""))


def is_silent(search: Composing, now: datetime) -> bool:
    """Whether an open search has not been heard of for too long."""
    return search.state in Composing.OPEN and now - search.beat_at > SILENT


def searches_before(search: Composing, now: datetime) -> int:
    """Open searches of anybody asked for earlier and still heard of."""
    earlier = Composing.objects.filter(pk__lt=search.pk, state__in=Composing.OPEN)
    return earlier.filter(beat_at__gt=now - SILENT).count()
