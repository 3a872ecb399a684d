"""Letters of the review and decisions on them, in and out of the database."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import Any

from django.db.models import Q
from django.db.models.fields.json import KeyTransform

from blockwright.accounts.models import User
from .models import BlockRevision, Decision, Fact, Lifter, Proposals
from .partner import all_seen, as_seen, told_decisions, told_in_block


def letters_of(lifter: Lifter) -> list[Proposals]:
    """Every letter without its document, the last written last; blocks come along, without
    their documents too."""
    found = Proposals.objects.filter(lifter=lifter).select_related("block")
    return all_seen(lifter, found.defer("document", "block__document"))


def letters_of_block(lifter: Lifter, start: date) -> list[Proposals]:
    """The letters written for the block that starts on `start`, with their documents."""
    found = Proposals.objects.filter(lifter=lifter, block__start=start)
    return all_seen(lifter, found.order_by("through", "pk"))


def letter_with(lifter: Lifter, number: int) -> Proposals | None:
    """A letter of this lifter, its block's revision with it."""
    found = Proposals.objects.filter(lifter=lifter, pk=number).select_related("block").first()
    return None if found is None else as_seen(lifter, found)


def latest_letter(lifter: Lifter, start: date | None = None) -> Proposals | None:
    """The letter that looks furthest (of the block that starts on `start`), of several the last
    written."""
    found = Proposals.objects.filter(lifter=lifter).select_related("block")
    if start is not None:
        found = found.filter(block__start=start)
    last = found.order_by("-block__start", "-through", "-pk").first()
    return None if last is None else as_seen(lifter, last)


def undecided_letters(lifter: Lifter) -> list[Proposals]:
    """Letters on which nothing was decided, in the order of their weeks."""
    found = Proposals.objects.filter(lifter=lifter, decisions__isnull=True)
    return list(found.select_related("block").order_by("through", "pk"))


def add_letter(
    lifter: Lifter, block: BlockRevision, through: date, document: dict[str, Any]
) -> tuple[Proposals, bool]:
    """Stores a letter; whether it is new. The same letter is not stored twice. Needs a
    transaction and the lifter's lock."""
    same = Proposals.objects.filter(lifter=lifter, block=block, through=through)
    for there in same.order_by("-pk"):
        if there.document == document:
            return there, False
    row = Proposals(lifter=lifter, block=block, through=through, document=document)
    row.save()
    return row, True


def decisions_on(letter: Proposals) -> list[Decision]:
    """Every decision on a letter in the order in which they were made."""
    found = Decision.objects.filter(proposals=letter).select_related("by", "led_to")
    return told_decisions(letter, list(found.defer("led_to__document")))


def standing_on(letters: Iterable[Proposals]) -> dict[int, set[str]]:
    """By letter: the proposals on which a decision stands that was not undone since."""
    found: dict[int, set[str]] = {}
    rows = Decision.objects.filter(proposals__in=list(letters)).order_by("at", "pk")
    for letter, proposal, verdict in rows.values_list("proposals_id", "proposal", "verdict"):
        mine = found.setdefault(letter, set())
        mine.discard(proposal) if verdict == Decision.UNDONE else mine.add(proposal)
    return found


def last_decided_on(letter: Proposals) -> datetime | None:
    """When the last decision on a letter was made."""
    at = Decision.objects.filter(proposals=letter).order_by("-at").values_list("at", flat=True)
    return at.first()


def add_decisions(
    letter: Proposals, news: Iterable[Decision], led_to: BlockRevision, by: User | None
) -> None:
    """Stores new decisions beside those there are. Needs a transaction and the lifter's lock."""
    for new in news:
        new.proposals, new.led_to, new.by = letter, led_to, by
        new.save()


def revisions_after(block: BlockRevision) -> list[BlockRevision]:
    """Later revisions of the same block, without their documents, in order."""
    found = BlockRevision.objects.filter(
        lifter=block.lifter_id, start=block.start, revision__gt=block.revision
    )
    return list(found.select_related("made_by").defer("document").order_by("revision"))


def facts_since(letter: Proposals) -> int:
    """How many facts up to the letter's last day, and amendments of such, came in after it was
    written."""
    facts = Fact.objects.filter(lifter=letter.lifter_id)
    its = facts.filter(day__lte=letter.through)
    late = Q(day__lte=letter.through) | Q(amends__in=its.values("id"))
    return facts.filter(late, received_at__gt=letter.made_at).count()


def letters_with_decisions(lifter: Lifter) -> list[tuple[Proposals, list[Decision]]]:
    """Every letter with the decisions on it, in order of time; blocks without their documents."""
    letters = Proposals.objects.filter(lifter=lifter).select_related("block")
    found = Decision.objects.filter(proposals__lifter=lifter).select_related("by", "led_to")
    by_letter: dict[int, list[Decision]] = {}
    for decision in found.defer("led_to__document"):
        by_letter.setdefault(decision.proposals_id, []).append(decision)
    return [
        (one, told_decisions(one, by_letter.get(one.pk, [])))
        for one in all_seen(lifter, letters.defer("block__document"))
    ]


def decisions_in_revisions(lifter: Lifter) -> list[BlockRevision]:
    """Every revision without its document but with its `told`, the decisions that stand in it."""
    found = BlockRevision.objects.filter(lifter=lifter).select_related("made_by")
    told = KeyTransform("decisions", "document")
    rows: list[Any] = list(
        found.annotate(told=told).defer("document").order_by("start", "revision")
    )
    for row in rows:
        row.told = told_in_block(lifter, row.told)
    return rows
