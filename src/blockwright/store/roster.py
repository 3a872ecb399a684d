"""What the roster reads of many lifters in a handful of queries; no document of a block."""

from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import OperationalError, transaction
from django.db.models import (
    Exists,
    Func,
    IntegerField,
    OuterRef,
    QuerySet,
    Subquery,
)
from django.db.models.fields.json import KeyTransform
from django.db.models.functions import Coalesce
from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine.review.attention import LetterAtHand
from .letters import standing_on
from .models import BlockRevision, Fact, Lifter, Proposals, RosterLook, Share
from .partner import for_partner


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterRow:
    """One lifter with what decides whether they must be looked at anew."""

    lifter: Lifter
    zone: str  # Of the lifter's own account; "" where there is none
    facts_seq: int  # The last fact's `seq`, 0 for none
    block: BlockRevision | None  # The last revision of the block in hand, without its document
    block_made: date | None  # The day its first revision was made, where the person is
    another_follows: bool  # Whether a block starts after that one
    letter: Proposals | None  # The last letter about that block, without its document
    letter_state: LetterAtHand | None
    look: RosterLook | None


def coached_by(person: User) -> QuerySet[Lifter]:
    """The lifters whose letters this person decides on, by name."""
    lifters = Lifter.objects.order_by("name", "key")
    if person.is_owner:
        return lifters
    return lifters.filter(shares__person=person, shares__kind=Share.COACH)


def beside(person: User) -> list[tuple[Lifter, str]]:
    """The lifters this person is, or trains with: themselves first; the kind of share with each."""
    shares = Share.objects.filter(person=person, kind__in=(Share.SELF, Share.PARTNER))
    found = [
        (for_partner(s.lifter, person.pk) if s.kind == Share.PARTNER else s.lifter, s.kind)
        for s in shares.select_related("lifter")
    ]
    return sorted(found, key=lambda one: (one[1] != Share.SELF, one[0].name))


def roster_rows(lifters: QuerySet[Lifter], today: date) -> list[RosterRow]:
    """A row for each, in the order of `lifters`."""
    found = list(_asked(lifters, today))
    blocks = BlockRevision.objects.defer("document").in_bulk(_all(found, "block_pk"))
    with_lines = Proposals.objects.defer("document").annotate(
        lines=_Length(KeyTransform("proposals", "document"), output_field=IntegerField()),
        overtaken=Exists(_changed_otherwise()),
    )
    letters = with_lines.in_bulk(_all(found, "letter_pk"))
    standing = standing_on(letters.values())
    looks = {look.lifter_id: look for look in RosterLook.objects.filter(lifter__in=found)}
    rows = []
    for lifter in found:
        block = blocks.get(lifter.block_pk)  # type: ignore[attr-defined]
        letter = letters.get(lifter.letter_pk)  # type: ignore[attr-defined]
        rows.append(
            RosterRow(
                lifter=lifter,
                zone=lifter.zone or "",  # type: ignore[attr-defined]
                facts_seq=lifter.facts_seq or 0,  # type: ignore[attr-defined]
                block=block,
                block_made=None if block is None else timezone.localtime(lifter.block_made).date(),  # type: ignore[attr-defined]
                another_follows=block is not None and lifter.last_start > block.start,  # type: ignore[attr-defined]
                letter=letter,
                letter_state=None if letter is None else _state(letter, standing),
                look=looks.get(lifter.key),
            )
        )
    return rows


def _state(letter: Any, standing: Mapping[int, set[str]]) -> LetterAtHand:
    """`standing`: by letter, the lines on which a decision stands."""
    decided = len(standing.get(letter.pk, ()))
    return LetterAtHand(
        through=letter.through,
        answered=decided > 0,
        open_lines=letter.lines - decided,
        overtaken=letter.overtaken,
    )


class _Length(Func):
    """How many items a JSON list has, without reading the document."""

    function = "JSON_ARRAY_LENGTH"

    def as_postgresql(self, compiler: Any, connection: Any, **more: Any) -> Any:
        return self.as_sql(compiler, connection, function="JSONB_ARRAY_LENGTH", **more)


def _changed_otherwise() -> QuerySet[BlockRevision]:
    """Revisions after a letter's that no decision on it led to."""
    return BlockRevision.objects.filter(
        lifter=OuterRef("lifter"),
        start=OuterRef("block__start"),
        revision__gt=OuterRef("block__revision"),
    ).exclude(decisions__proposals=OuterRef("pk"))


def _asked(lifters: QuerySet[Lifter], today: date) -> QuerySet[Lifter]:
    facts = Fact.objects.filter(lifter=OuterRef("pk"))
    revisions = BlockRevision.objects.filter(lifter=OuterRef("pk"))
    begun = revisions.filter(start__lte=today).order_by("-start", "-revision")
    own = Share.objects.filter(lifter=OuterRef("pk"), kind=Share.SELF)
    with_block = lifters.annotate(
        zone=Subquery(own.values("person__zone")[:1]),
        facts_seq=Subquery(facts.order_by("-seq").values("seq")[:1]),
        block_pk=Coalesce(
            Subquery(begun.values("pk")[:1]),
            Subquery(revisions.order_by("start", "-revision").values("pk")[:1]),
        ),
        last_start=Subquery(revisions.order_by("-start").values("start")[:1]),
        block_start=Coalesce(
            Subquery(begun.values("start")[:1]),
            Subquery(revisions.order_by("start").values("start")[:1]),
        ),
    )
    letters = Proposals.objects.filter(lifter=OuterRef("pk"), block__start=OuterRef("block_start"))
    made = revisions.filter(start=OuterRef("block_start")).order_by("revision")
    return with_block.annotate(
        block_made=Subquery(made.values("made_at")[:1]),
        letter_pk=Subquery(letters.order_by("-through", "-pk").values("pk")[:1]),
    )


def _all(lifters: Sequence[Lifter], name: str) -> list[int]:
    return [key for lifter in lifters if (key := getattr(lifter, name)) is not None]


def keep_looks(looks: Iterable[RosterLook]) -> None:
    """Writes what was seen, over what was seen before. A full disk keeps nobody from reading it."""
    with suppress(OperationalError), transaction.atomic():
        RosterLook.objects.bulk_create(
            looks,
            update_conflicts=True,
            unique_fields=["lifter"],
            update_fields=["key", "seen", "watch_key", "watch"],
        )
