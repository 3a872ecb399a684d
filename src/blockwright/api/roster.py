"""The roster: everybody I coach, in the order of who needs me."""

from datetime import date
from typing import Annotated
from uuid import UUID

from django.http import HttpRequest
from ninja import Router, Schema
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import coach_of, today_for
from blockwright.verbs.roster import Roster, roster

router = Router()


class ReasonOut(Schema):
    """One reason in words; `need` says what kind it is, for a program."""

    need: str
    says: str


class RosterLineOut(Schema):
    """One person, and why they stand where they stand: the most urgent reason first."""

    lifter: Annotated[UUID, Field(validation_alias="lifter.key")]
    name: Annotated[str, Field(validation_alias="lifter.name")]
    block: Annotated[
        date | None,
        Field(validation_alias="block_start", description="The start of the block in hand."),
    ]
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
def roster_of(request: HttpRequest) -> Roster:
    return roster(coach_of(request), today_for(request))
