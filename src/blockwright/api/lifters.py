"""Lifters: whom I may see, in the order of who needs me, the lifter file as a document, and
everything about one of them to take away."""

from datetime import date
from typing import Annotated, Any, Literal
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from ninja import Schema, Status
from pydantic import Field

from blockwright.files.reading import Reading
from blockwright.store.access import ORDER, Right, coach_of, lifters_for, person_of, rights_for
from blockwright.verbs.erase_lifter import erase_lifter, export_lifter
from blockwright.verbs.roster import Roster, roster
from blockwright.verbs.save_lifter import add_lifter, change_lifter
from . import calls
from .calls import Calls
from .errors import ApiError
from .signed_in import changing, lifter_of, today_for
from .values import Key, Line, Row, Strict, told

router = Calls("Lifters")

LifterTable = Annotated[
    dict[str, Any],
    Field(
        description="The lifter file as a table, whole: the keys of docs/adding.md's contract, "
        "dates as 2027-01-04. The answer carries it normalised.",
        json_schema_extra={"required": ["name"], "properties": {"name": {"type": "string"}}},
    ),
]


class LifterInShort(Schema):
    """A lifter whom I may see, and what I may do for them."""

    id: UUID
    name: str
    units: Literal["kg", "lb"]
    version: int = told("Rises with every change of the document.")
    may: list[Right]


class LifterIn(Strict):
    """A new lifter. The one who adds a lifter coaches them."""

    document: LifterTable


class LifterChange(Strict):
    """The whole file anew, over the version that was read and no other."""

    version: Row
    document: LifterTable


class LifterWhole(Schema):
    """The lifter file; `version` goes back with a change of it."""

    id: Annotated[UUID, Field(validation_alias="value.key")]
    version: Annotated[int, Field(validation_alias="value.version")]
    document: Annotated[LifterTable, Field(validation_alias="value.document")]
    warnings: list[str] = told("What was assumed in reading it.")

    @staticmethod
    def resolve_warnings(saved: Any) -> list[str]:
        return [str(warning) for warning in saved.warnings]


@router.reads("/lifters", list[LifterInShort], calls.ANYONE)
def lifters(request: HttpRequest) -> list[LifterInShort]:
    """Lifters I may see."""
    person = person_of(request)
    return [
        LifterInShort(
            id=row.key,
            name=row.name,
            units=row.document.get("units", "kg"),
            version=row.version,
            may=[right for right in ORDER if right in rights_for(person, row)],
        )
        for row in lifters_for(person)
    ]


@router.reads("/lifters/{lifter}", LifterWhole, calls.EXPORT)
def lifter(request: HttpRequest, lifter: Key) -> Reading[Any]:
    """The lifter file."""
    return Reading(lifter_of(request, lifter, "export"))


@router.changes("/lifters", {201: LifterWhole}, calls.ADD)
def add(request: HttpRequest, wish: LifterIn) -> Status[Reading[Any]]:
    """Add a lifter."""
    return Status(201, add_lifter(coach_of(request), wish.document))


@router.changes("/lifters/{lifter}", {200: LifterWhole}, calls.CHANGE, method="PUT")
def replace(request: HttpRequest, lifter: Key, wish: LifterChange) -> Reading[Any]:
    """Replace the lifter file. 409 `changed_meanwhile` when the lifter is at another version."""
    person, row = changing(request, lifter)
    return change_lifter(person, row, wish.version, wish.document, today_for(request))


@router.ends("/lifters/{lifter}", calls.CHANGE, refuses=True)
def erase(request: HttpRequest, lifter: Key, name: Line) -> Status[None]:
    """Erase a lifter for good. `name` is the lifter's name, so that nobody is erased by a slip."""
    row = lifter_of(request, lifter, "change")
    if name != row.name:
        says = "the name is another, so nobody was erased"
        raise ApiError(409, "not_possible", says, "write the lifter's name as it stands")
    erase_lifter(row)
    return Status(204, None)


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
    letter: int | None = told("The latest letter of the review.")
    reasons: list[ReasonOut]


class RosterOut(Schema):
    """Everybody, the most urgent first."""

    waiting: int = told("People for whom something waits.")
    unwatched: int = told("People whose watch is not yet looked at since their last set.")
    lines: list[RosterLineOut]


@router.reads("/roster", RosterOut, calls.ADD)
def roster_of(request: HttpRequest) -> Roster:
    """People in the order of who needs attention."""
    return roster(coach_of(request), today_for(request))


export_calls = Calls("Export")

_ZIP: dict[str, Any] = {
    "responses": {
        200: {"content": {"application/zip": {"schema": {"type": "string", "format": "binary"}}}}
    }
}


@export_calls.reads("/lifters/{lifter}/export", None, calls.EXPORT, openapi_extra=_ZIP)
def export(request: HttpRequest, lifter: Key) -> HttpResponse:
    """Everything about one lifter, zipped. The command line's files, and every row as JSON."""
    row = lifter_of(request, lifter, "export")
    named = {"Content-Disposition": f'attachment; filename="blockwright-{row.key}.zip"'}
    return HttpResponse(export_lifter(row), content_type="application/zip", headers=named)
