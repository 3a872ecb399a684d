"""The roster: everybody I coach, in the order of who needs me."""

from datetime import date
from typing import Annotated, Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.utils import timezone
from ninja import Router, Schema
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.verbs.phone_home import today_of
from blockwright.verbs.roster import RosterLine, roster

router = Router()


class ReasonOut(Schema):
    """One reason in words; `need` says what kind it is, for a program."""

    need: str
    says: str


class RosterLineOut(Schema):
    """One person, and why they stand where they stand: the most urgent reason first."""

    lifter: UUID
    name: str
    block: Annotated[date | None, Field(description="The start of the block in hand.")]
    letter: Annotated[int | None, Field(description="The latest letter of the review.")]
    reasons: list[ReasonOut]


class RosterOut(Schema):
    """Everybody, the most urgent first."""

    waiting: Annotated[int, Field(description="People for whom something waits.")]
    unwatched: Annotated[
        int, Field(description="People whose watch is not yet looked at since their last set.")
    ]
    lines: list[RosterLineOut]


@router.get(
    "/roster",
    response={200: RosterOut, **ERRORS},
    summary="People in the order of who needs attention",
    description=whose.ADD,
)
def roster_of(request: HttpRequest) -> dict[str, Any]:
    person = person_of(request)
    if not person.may_add_lifters:
        raise PermissionDenied
    found = roster(person, today_of(person, timezone.now()))
    return {
        "waiting": found.waiting,
        "unwatched": found.unwatched,
        "lines": [_line(line) for line in found.lines],
    }


def _line(line: RosterLine) -> dict[str, Any]:
    return {
        "lifter": line.lifter.key,
        "name": line.lifter.name,
        "block": line.block_start,
        "letter": line.letter,
        "reasons": [{"need": one.need, "says": one.says} for one in line.reasons],
    }
