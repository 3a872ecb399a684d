"""Blocks: the revisions there are, and each as the command line's document."""

from datetime import date, datetime
from typing import Any, Literal

from django.http import Http404, HttpRequest, HttpResponse
from ninja import Router, Schema

from blockwright.api import whose
from blockwright.api.documents import answers, json_answer
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.api.values import Day, Key, Number
from blockwright.store.access import lifter_for
from blockwright.store.blocks import block_of, revision_of, revisions_of

router = Router()


class RevisionInShort(Schema):
    """One revision of a block. Revisions are never changed; a change is a new one."""

    start: date
    revision: int
    ends: date
    status: Literal["ready", "refer"]
    made_at: datetime
    made_by: str | None


@router.get(
    "/lifters/{lifter}/blocks",
    response={200: list[RevisionInShort], **ERRORS},
    summary="Every revision of every block",
    description=whose.READ,
)
def blocks(request: HttpRequest, lifter: Key) -> list[dict[str, Any]]:
    return [
        {
            "start": row.start,
            "revision": row.revision,
            "ends": row.ends,
            "status": row.status,
            "made_at": row.made_at,
            "made_by": None if row.made_by is None else row.made_by.name,
        }
        for row in revisions_of(lifter_for(person_of(request), lifter, "read"))
    ]


@router.get(
    "/lifters/{lifter}/blocks/{start}",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("block"),
    summary="The last revision of a block",
    description=whose.READ,
)
def block(request: HttpRequest, lifter: Key, start: Day) -> HttpResponse:
    found = block_of(lifter_for(person_of(request), lifter, "read"), start)
    if found is None:
        raise Http404("no such block")
    return json_answer(request, found.document)


@router.get(
    "/lifters/{lifter}/blocks/{start}/revisions/{revision}",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("block"),
    summary="One revision of a block",
    description=whose.READ,
)
def block_revision(request: HttpRequest, lifter: Key, start: Day, revision: Number) -> HttpResponse:
    found = revision_of(lifter_for(person_of(request), lifter, "read"), start, revision)
    if found is None:
        raise Http404("no such revision")
    return json_answer(request, found.document)
