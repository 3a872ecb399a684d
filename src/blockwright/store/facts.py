"""Facts in and out of the database."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from uuid import UUID

from django.db import transaction
from django.db.models import Q

from blockwright.accounts.models import User
from .models import Erasure, Fact, Lifter
from .partner import all_seen, facts_to_think_with
from .standing import standing

MOST_AT_ONCE = 500  # Facts a phone gets in one answer


def lock_lifters(keys: Iterable[UUID]) -> None:
    """Waits for each lifter's row, so that `seq` rises in the order of commits. Needs a
    transaction. (SQLite has one writer anyway and ignores this.)"""
    list(Lifter.objects.select_for_update().filter(key__in=set(keys)).order_by("key"))


@contextmanager
def locked(key: UUID) -> Iterator[None]:
    """One transaction, with the lifter's lock from its first moment."""
    with transaction.atomic():
        lock_lifters([key])
        yield


def stored_already(ids: Iterable[UUID]) -> dict[UUID, Fact]:
    """The facts among these ids that are on disk."""
    return {fact.id: fact for fact in Fact.objects.filter(id__in=list(ids))}


def kind_of(lifter: Lifter, key: UUID) -> str | None:
    """The kind of a lifter's fact; None where there is none of that id."""
    return Fact.objects.filter(lifter=lifter, id=key).values_list("kind", flat=True).first()


def append(
    new: Fact, lifter: Lifter, by: User | None, received_at: datetime, clock_ahead_s: float = 0.0
) -> Fact:
    """Stores a new fact with whose it is, who sent it and when. IntegrityError when its id is there
    already."""
    new.lifter, new.by, new.received_at = lifter, by, received_at
    new.clock_ahead_s = clock_ahead_s
    new.save(force_insert=True)
    return new


def append_all(news: Iterable[Fact], lifter: Lifter, by: User | None, received_at: datetime) -> int:
    """Stores the facts that are not there yet; how many were new. Needs a transaction and the
    lifter's lock."""
    wanted = {new.id: new for new in news}
    there = set(Fact.objects.filter(lifter=lifter).values_list("id", flat=True))
    rows = [new for key, new in wanted.items() if key not in there]
    for new in rows:
        new.lifter, new.by, new.received_at = lifter, by, received_at
    Fact.objects.bulk_create(rows, batch_size=500)
    return len(rows)


def facts_of(lifter: Lifter, *, first: date = date.min) -> list[Fact]:
    """Every fact of a lifter (of the days from `first` on), amendments included."""
    return facts_to_think_with(lifter, list(Fact.objects.filter(lifter=lifter, day__gte=first)))


def words_since(lifter: Lifter, first: date) -> list[Fact]:
    """The facts from `first` on that may hold words, with whatever was amended: few, even of a
    long log."""
    facts = Fact.objects.filter(lifter=lifter, day__gte=first)
    worded = facts.filter(~Q(kind=Fact.SET) | Q(body__note__regex=r"\S"))
    return facts_to_think_with(lifter, [*worded, *families(lifter)])


def facts_on(lifter: Lifter, days: Iterable[date]) -> list[Fact]:
    """All that tells what stands of some days; besides it some of others."""
    found = Fact.objects.filter(lifter=lifter, day__in=list(days))
    return facts_to_think_with(lifter, [*found, *families(lifter)])


def families(lifter: Lifter) -> list[Fact]:
    """The facts that amend others, and those that they amend: few, even of a long log."""
    facts = Fact.objects.filter(lifter=lifter)
    amended = facts.filter(amends__isnull=False).values("amends")
    return all_seen(lifter, facts.filter(Q(amends__isnull=False) | Q(id__in=amended)))


def family_of(lifter: Lifter, key: UUID) -> list[Fact]:
    """A fact uncut, with every word on it and all that it is a word on."""
    keys, known = {key}, set[UUID]()
    while keys != known:
        known = keys
        found = list(Fact.objects.filter(Q(id__in=known) | Q(amends__in=known), lifter=lifter))
        keys = known | {one for fact in found for one in (fact.id, fact.amends) if one}
    return found


def has_worse_pain(lifter: Lifter, pain: float, besides: Iterable[Fact]) -> bool:
    """Whether anything ever stored of a lifter, besides some facts, says more pain than that."""
    hurt = Q(body__pain__gt=pain) & ~Q(body__pain=None)  # to SQLite null is more than any number
    said = hurt | Q(body__measure="pain", body__value__gt=pain)
    left = [one.pk for one in besides]
    return Fact.objects.filter(said, lifter=lifter).exclude(pk__in=left).exists()


def facts_after(lifter: Lifter, seq: int) -> tuple[list[Fact], bool]:
    """The facts stored after `seq`, and whether there are more. A training partner gets no
    check-ins (sleep, pain, bodyweight) and no notes but their own."""
    facts = Fact.objects.filter(lifter=lifter, seq__gt=seq).select_related("by")
    if lifter.reader is not None:
        facts = facts.exclude(Q(kind=Fact.CHECKIN) & ~Q(by=lifter.reader))
    found = list(facts[: MOST_AT_ONCE + 1])
    return all_seen(lifter, found[:MOST_AT_ONCE]), len(found) > MOST_AT_ONCE


def last_seq(lifter: Lifter, through: date | None = None) -> int:
    """The last fact's `seq` (of the days up to `through`), 0 for none."""
    facts = Fact.objects.filter(lifter=lifter)
    if through is not None:
        facts = facts.filter(day__lte=through)
    return facts.order_by("-seq").values_list("seq", flat=True).first() or 0


def days_with_sets(lifter: Lifter, first: date) -> list[date]:
    """The days from `first` on with a set that stands, in order."""
    amended = Fact.objects.filter(lifter=lifter, amends__isnull=False).values("amends")
    alone = Fact.objects.filter(lifter=lifter, kind=Fact.SET, amends=None, withdrawn=False)
    days = set(alone.exclude(id__in=amended).values_list("day", flat=True).distinct())
    days |= {fact.day for fact in standing(families(lifter)) if fact.kind == Fact.SET}
    return sorted(day for day in days if day >= first)


def last_day(lifter: Lifter) -> date | None:
    """The last day with a fact; None for an empty log."""
    facts = Fact.objects.filter(lifter=lifter).order_by("-day")
    return facts.values_list("day", flat=True).first()


def seq_before(lifter: Lifter, day: date) -> int:
    """The highest `seq` after which every fact of `day` and later comes: where a phone starts
    that wants no more history than that."""
    first = Fact.objects.filter(lifter=lifter, day__gte=day).order_by("seq").first()
    return last_seq(lifter) if first is None else first.seq - 1


def was_erased(key: UUID) -> bool:
    return Erasure.objects.filter(lifter_key=key).exists()
