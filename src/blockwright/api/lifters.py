"""Lifters: whom I may see, and the lifter file as a document."""

from typing import Annotated, Any, Literal
from uuid import UUID

from django.http import HttpRequest
from ninja import Router, Schema, Status
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import CHANGE_ERRORS, ERRORS, ApiError
from blockwright.api.signed_in import coach_of, lifter_of, person_of, today_for
from blockwright.api.values import MOST_NUMBER, WHOLE, Key, Line, Strict
from blockwright.store.access import ORDER, Right, lifter_for, lifters_for, rights_for
from blockwright.verbs.erase_lifter import erase_lifter
from blockwright.verbs.save_lifter import Saved, add_lifter, change_lifter

router = Router()

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
    version: Annotated[int, Field(description="Rises with every change of the document.")]
    may: list[Right]


class LifterIn(Strict):
    """A new lifter. The one who adds a lifter coaches them."""

    document: LifterTable


class LifterChange(Strict):
    """The whole file anew, over the version that was read and no other."""

    version: Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]
    document: LifterTable


class LifterWhole(Schema):
    """The lifter file; `version` goes back with a change of it."""

    id: UUID
    version: int
    document: LifterTable
    warnings: Annotated[list[str], Field(description="What was assumed in reading it.")]


@router.get(
    "/lifters",
    response={200: list[LifterInShort], **ERRORS},
    summary="Lifters I may see",
    description=whose.ANYONE,
)
def lifters(request: HttpRequest) -> list[LifterInShort]:
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


@router.get(
    "/lifters/{lifter}",
    response={200: LifterWhole, **ERRORS},
    summary="The lifter file",
    description=whose.EXPORT,
)
def lifter(request: HttpRequest, lifter: Key) -> LifterWhole:
    row = lifter_of(request, lifter, "export")
    return LifterWhole(id=row.key, version=row.version, document=row.document, warnings=[])


@router.post(
    "/lifters",
    response={201: LifterWhole, **CHANGE_ERRORS},
    summary="Add a lifter",
    description=whose.ADD,
)
def add(request: HttpRequest, wish: LifterIn) -> Status[LifterWhole]:
    return Status(201, _whole(add_lifter(coach_of(request), wish.document)))


@router.put(
    "/lifters/{lifter}",
    response={200: LifterWhole, **CHANGE_ERRORS},
    summary="Replace the lifter file",
    description=f"{whose.CHANGE} 409 `changed_meanwhile` when the lifter is at another version.",
)
def replace(request: HttpRequest, lifter: Key, wish: LifterChange) -> LifterWhole:
    person = person_of(request)
    row = lifter_for(person, lifter, "change")
    today = today_for(request)
    return _whole(change_lifter(person, row, wish.version, wish.document, today))


def _whole(saved: Saved) -> LifterWhole:
    return LifterWhole(
        id=saved.row.key,
        version=saved.row.version,
        document=saved.row.document,
        warnings=[str(warning) for warning in saved.warnings],
    )


@router.delete(
    "/lifters/{lifter}",
    response={204: None, **ERRORS, 409: ERRORS[404]},
    summary="Erase a lifter for good",
    description=f"{whose.CHANGE} `name` is the lifter's name, so that nobody is erased by a slip.",
)
def erase(request: HttpRequest, lifter: Key, name: Line) -> Status[None]:
    row = lifter_of(request, lifter, "change")
    if name != row.name:
        says = "the name is another, so nobody was erased"
        raise ApiError(409, "not_possible", says, "write the lifter's name as it stands")
    erase_lifter(row)
    return Status(204, None)
