"""A note outlives what a training partner corrects: they do not get it, so they cannot send it."""

from dataclasses import replace

from django.db.models import Q

from blockwright.store.facts import NewFact
from blockwright.store.models import Fact, Lifter


def with_kept_note(new: NewFact, row: Lifter) -> NewFact:
    """A partner's correction of a set with the note that stood beside it; a sign written there
    goes on being read. `row` is the lifter as this person gets them."""
    if row.reader is None or new.amends is None or new.kind != Fact.SET or new.body["note"]:
        return new
    family = Fact.objects.filter(Q(id=new.amends) | Q(amends=new.amends), lifter=row, kind=Fact.SET)
    last = family.order_by("-seq").first()
    note = last.body["note"] if last is not None else ""
    return replace(new, body=new.body | {"note": note}) if note else new
