"""The one gate: who may see, log for, or change which lifter.

    right     owner   coach of   the lifter   partner of   anyone else
    see       yes     yes        yes          yes          no
    log       yes     yes        yes          yes          no
    read      yes     yes        yes          if shared    no
    export    yes     yes        yes          no           no
    change    yes     yes        no           no           no

`see`: sheets and facts; a partner gets no check-ins of others (`facts_after`). `log`: send
facts. `read`: block, strength, sets, letters, ledger, report; a partner has it where the coach
shares "sheets and history" (`Share.sees`), not with "sheets". `export`: the whole file. `change`:
the lifter's file, blocks, who has access, erasing.
Every page and call gets a lifter from here.
"""

from typing import Literal
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.http import Http404

from blockwright.accounts.models import User
from blockwright.store.models import Lifter, Share

Right = Literal["see", "log", "read", "export", "change"]

_RIGHTS: dict[str, frozenset[Right]] = {
    Share.COACH: frozenset({"see", "log", "read", "export", "change"}),
    Share.SELF: frozenset({"see", "log", "read", "export"}),
    Share.PARTNER: frozenset({"see", "log"}),
}
_ALL: frozenset[Right] = _RIGHTS[Share.COACH]
ORDER: tuple[Right, ...] = ("see", "log", "read", "export", "change")


def rights_for(person: User, lifter: Lifter) -> frozenset[Right]:
    """What this person may do for this lifter; empty for a stranger."""
    if not person.is_active:
        return frozenset()
    if person.is_owner:
        return _ALL
    share = Share.objects.filter(lifter=lifter, person=person).first()
    if share is None:
        return frozenset()
    reads = share.kind == Share.PARTNER and share.sees == Share.HISTORY
    return _RIGHTS[share.kind] | ({"read"} if reads else frozenset())


def lifter_for(person: User, key: UUID, right: Right) -> Lifter:
    """The lifter. Http404 when this person may not even know of them, PermissionDenied when
    they may see but not do this."""
    lifter = Lifter.objects.filter(key=key).first()
    rights = frozenset() if lifter is None else rights_for(person, lifter)
    if lifter is None or "see" not in rights:
        raise Http404("no such lifter")
    if right not in rights:
        raise PermissionDenied
    return lifter


def lifters_for(person: User) -> QuerySet[Lifter]:
    """Every lifter this person may see, by name."""
    lifters = Lifter.objects.order_by("name", "key")
    if person.is_owner:
        return lifters
    return lifters.filter(shares__person=person)
