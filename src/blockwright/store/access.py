"""The one gate: who asks, and who may see, log for, or change which lifter.

    right     owner   coach of   the lifter   partner of   anyone else
    see       yes     yes        yes          yes          no
    log       yes     yes        yes          yes          no
    read      yes     yes        yes          if shared    no
    export    yes     yes        yes          no           no
    change    yes     yes        no           no           no

Whatever a partner gets is cut first (`store.partner`): nothing of screening, birth, sex or
bodyweight, no check-ins and no notes of others.

`see`: sheets and facts. `log`: send facts. `read`: block, strength, sets, letters, ledger, report;
a partner has it where the coach shares "sheets and history" (`Share.sees`), not with "sheets".
`export`: the whole file. `change`: the lifter's file, blocks, who has access, erasing. Every page
and call gets a lifter from here."""

from typing import Literal, TypeVar
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest

from blockwright.accounts.models import User
from .models import Lifter, Share
from .partner import for_partner

Row = TypeVar("Row")
Right = Literal["see", "log", "read", "export", "change"]

_RIGHTS: dict[str, frozenset[Right]] = {
    Share.COACH: frozenset({"see", "log", "read", "export", "change"}),
    Share.SELF: frozenset({"see", "log", "read", "export"}),
    Share.PARTNER: frozenset({"see", "log"}),
}
_ALL: frozenset[Right] = _RIGHTS[Share.COACH]
ORDER: tuple[Right, ...] = ("see", "log", "read", "export", "change")


def person_of(request: HttpRequest) -> User:
    """The account; the sign-in wall stands before every page and call, so there is one."""
    if not isinstance(request.user, User):
        raise PermissionDenied
    return request.user


def coach_of(request: HttpRequest) -> User:
    """The account, where it may add lifters; else PermissionDenied."""
    person = person_of(request)
    if not person.may_add_lifters:
        raise PermissionDenied
    return person


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
    return lifter if "export" in rights else for_partner(lifter, person.pk)


def lifters_for(person: User) -> list[Lifter]:
    """Every lifter this person may see, by name; as `lifter_for` gives each."""
    lifters = Lifter.objects.order_by("name", "key")
    if person.is_owner:
        return list(lifters)
    beside = Share.objects.filter(person=person, kind=Share.PARTNER)
    partners = set(beside.values_list("lifter_id", flat=True))
    return [
        for_partner(row, person.pk) if row.key in partners else row
        for row in lifters.filter(shares__person=person)
    ]


def or_404(row: Row | None, what: str) -> Row:
    """The row that was looked for. Raises Http404 where there is none."""
    if row is None:
        raise Http404(f"no such {what}")
    return row
