"""What happened: a lifter's facts in the order the server got them. Adding goes by /api/sync."""

from typing import Any

from django.http import HttpRequest
from ninja import Router

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.api.sync import Unseen
from blockwright.api.values import Key, Seq
from blockwright.store.access import lifter_for
from blockwright.verbs.take_log import unseen

router = Router()


@router.get(
    "/lifters/{lifter}/facts",
    response={200: Unseen, **ERRORS},
    summary="A lifter's facts after one that is known",
    description=f"{whose.SEE} A training partner gets no check-ins and no notes but their own. "
    "At most 500 at a time; `through` is the next `after`. docs/sync.md has a fact's keys.",
)
def facts(request: HttpRequest, lifter: Key, after: Seq = 0) -> dict[str, Any]:
    person = person_of(request)
    lifter_for(person, lifter, "see")
    return unseen(person, lifter, after)
