"""Block revisions, and searches for blocks, in and out of the database. Documents stay documents
here."""

from datetime import date, datetime, timedelta
from typing import Any

from django.db.models.fields.json import KeyTransform
from django.utils import timezone

from blockwright.accounts.models import User
from .models import BlockRevision, Composing, Lifter
from .partner import all_seen, as_seen

_WEEK = timedelta(days=6)


def add_revision(lifter: Lifter, document: dict[str, Any], by: User | None) -> BlockRevision:
    """Stores a revision; the same document again is the row that is there already.

    Raises ValueError when another document holds its place."""
    start = date.fromisoformat(document["start"])
    there: BlockRevision | None = BlockRevision.objects.filter(
        lifter=lifter, start=start, revision=document["revision"]
    ).first()
    if there is not None:
        if there.document != document:
            raise ValueError(f"revision {there.revision} of the block of {start} is another one")
        return there
    row = BlockRevision(
        lifter=lifter,
        start=start,
        revision=document["revision"],
        ends=start + timedelta(days=7 * (len(document["weeks"]) - 1)) + _WEEK,
        status=document["status"],
        document=document,
        made_by=by,
    )
    row.save()
    return row


def block_of(lifter: Lifter, start: date) -> BlockRevision | None:
    """The last revision of the block that starts on `start`."""
    found = BlockRevision.objects.filter(lifter=lifter, start=start)
    return _seen(lifter, found.order_by("-revision").first())


def made_on(lifter: Lifter, start: date) -> date:
    """The day on which the block that starts on `start` was made, where the person is."""
    first = BlockRevision.objects.filter(lifter=lifter, start=start).earliest("revision")
    return timezone.localtime(first.made_at).date()


def revision_of(lifter: Lifter, start: date, revision: int) -> BlockRevision | None:
    """That revision of the block that starts on `start`."""
    found = BlockRevision.objects.filter(lifter=lifter, start=start, revision=revision)
    return _seen(lifter, found.first())


def revision_on(lifter: Lifter, day: date, revision: int) -> BlockRevision | None:
    """Revision number `revision` of the last block to start by `day` that has one."""
    found = BlockRevision.objects.filter(lifter=lifter, revision=revision, start__lte=day)
    return _seen(lifter, found.order_by("-start").first())


def start_on(lifter: Lifter, day: date) -> date | None:
    """The start of the block of that day: of the last to start up to it, else of the next to come;
    None before the first block is made."""
    starts = block_starts(lifter)
    return max((start for start in starts if start <= day), default=next(iter(starts), None))


def block_on(lifter: Lifter, day: date) -> BlockRevision | None:
    """The block of that day, as `start_on`."""
    start = start_on(lifter, day)
    return None if start is None else block_of(lifter, start)


def last_block(lifter: Lifter) -> BlockRevision | None:
    """The last revision of the block that starts last."""
    found = BlockRevision.objects.filter(lifter=lifter)
    return _seen(lifter, found.order_by("-start", "-revision").first())


def blocks_between(lifter: Lifter, first: date, last: date) -> list[BlockRevision]:
    """The last revision of each block that has a day from `first` to `last`, by start."""
    latest: dict[date, BlockRevision] = {}
    found = BlockRevision.objects.filter(lifter=lifter, start__lte=last, ends__gte=first)
    for row in found.order_by("start", "revision"):
        latest[row.start] = row
    return all_seen(lifter, latest.values())


def block_starts(lifter: Lifter) -> list[date]:
    """The start of every block, the first first."""
    starts = BlockRevision.objects.filter(lifter=lifter).values_list("start", flat=True)
    return list(starts.distinct().order_by("start"))


def decided_so_far(lifter: Lifter) -> tuple[date | None, list[dict[str, Any]]]:
    """The start of the lifter's first block, and every decision that the blocks as they stand
    keep, with the signs their file says were seen to, uncut: what clears a sign for the lifter
    clears it whoever reads."""
    rows = BlockRevision.objects.filter(lifter=lifter).order_by("start", "revision")
    latest = dict(rows.values_list("start", KeyTransform("decisions", "document")))
    signs = KeyTransform("cleared", KeyTransform("signs", "document"))
    (told,) = Lifter.objects.filter(key=lifter.key).values_list(signs)
    return min(latest, default=None), [
        *(one for kept in latest.values() for one in kept),
        *({"kind": "refer", "change": _cleared(each)} for each in told[0] or ()),
    ]


def _cleared(written: str) -> dict[str, str]:
    """ "chest pain 2027-01-12" as a decision keeps it."""
    about, _, day = written.rpartition(" ")
    return {"about": about, "cleared_on": day}


def revisions_of(lifter: Lifter) -> list[BlockRevision]:
    found = BlockRevision.objects.filter(lifter=lifter).order_by("start", "revision")
    return all_seen(lifter, found)


def _seen(lifter: Lifter, row: BlockRevision | None) -> BlockRevision | None:
    return None if row is None else as_seen(lifter, row)


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
    return search.state in Composing.OPEN and abs(now - search.beat_at) > SILENT


def searches_before(search: Composing, now: datetime) -> int:
    """Open searches of anybody asked for earlier and still heard of."""
    earlier = Composing.objects.filter(pk__lt=search.pk, state__in=Composing.OPEN)
    return earlier.filter(beat_at__range=(now - SILENT, now + SILENT)).count()
