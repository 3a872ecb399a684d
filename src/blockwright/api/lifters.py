"""Lifters: whom I may see, and the lifter file as a document."""

from typing import Annotated, Any, Literal
from uuid import UUID

from django.http import HttpRequest
from ninja import Router, Schema
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.api.values import Key
from blockwright.store.access import ORDER, Right, lifter_for, lifters_for, rights_for

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


class LifterWhole(Schema):
    """The lifter file; `version` goes back with a change of it."""

    id: UUID
    version: int
    document: LifterTable


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
    row = lifter_for(person_of(request), lifter, "export")
    return LifterWhole(id=row.key, version=row.version, document=row.document)
