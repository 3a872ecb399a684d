"""Who has access to a lifter, and taking it away."""

from django.http import Http404

from blockwright.store.models import Lifter, Share


def shares_of(lifter: Lifter) -> list[Share]:
    """Everyone with access beside the owner, coaches first."""
    return list(lifter.shares.select_related("person").order_by("kind", "person__name"))


def end_share(lifter: Lifter, share: int) -> None:
    """Ends one access; what the person logged stays. Http404 for another lifter's."""
    deleted, _ = Share.objects.filter(lifter=lifter, pk=share).delete()
    if not deleted:
        raise Http404("no such access")
