"""Who has access to a lifter, how much a partner sees, and taking it away."""

from django.db import transaction
from django.http import Http404

from blockwright.accounts.models import Invitation
from blockwright.engine.errors import BadInput, Problem
from blockwright.store.access import or_404
from blockwright.store.models import Lifter, Share

CHOICES = dict(Share.SEEN)
"""What a partner may see: word to words."""
LEAST = Share.SHEETS


def shares_of(lifter: Lifter) -> list[Share]:
    """Everyone with access beside the owner, coaches first."""
    return list(lifter.shares.select_related("person").order_by("kind", "person__name"))


def end_share(lifter: Lifter, share: int) -> None:
    """Ends one access, and the open invitations that person made to the lifter; what the person
    logged stays. Http404 for another lifter's."""
    with transaction.atomic():
        ended = or_404(Share.objects.filter(lifter=lifter, pk=share).first(), "access")
        made = Invitation.objects.filter(made_by=ended.person, lifter_key=lifter.key, used_at=None)
        if not ended.person.is_owner:
            made.delete()
        ended.delete()


def share_more_or_less(lifter: Lifter, share: int, sees: str) -> None:
    """Lets a partner see `sees` from now on. BadInput for another word, Http404 for another
    lifter's access or one that is no partner's."""
    changed = Share.objects.filter(lifter=lifter, pk=share, kind=Share.PARTNER)
    if not changed.update(sees=seen(sees)):
        raise Http404("no such access")


def seen(word: str) -> str:
    """What a partner may see; BadInput for another word."""
    if word not in CHOICES:
        mend = f"choose {' or '.join(CHOICES)}"
        raise BadInput(Problem(column="sees", says=f'"{word}" cannot be shared', mend=mend))
    return word
