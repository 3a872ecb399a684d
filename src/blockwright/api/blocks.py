"""Blocks: the revisions there are, and each as the command line's document."""

from datetime import date, datetime
from typing import Any, Literal

from django.http import HttpRequest, HttpResponse
from ninja import Router, Schema

from blockwright.api import whose
from blockwright.api.documents import answers, json_answer
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import lifter_of, name_of
from blockwright.api.values import Day, Key, Number
from blockwright.store.access import or_404
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

    @staticmethod
    def resolve_made_by(row: Any) -> str | None:
        return name_of(row.made_by)


@router.get(
    "/lifters/{lifter}/blocks",
    response={200: list[RevisionInShort], **ERRORS},
    summary="Every revision of every block",
    description=whose.READ,
)
def blocks(request: HttpRequest, lifter: Key) -> Any:
    return revisions_of(lifter_of(request, lifter, "read"))


@router.get(
    "/lifters/{lifter}/blocks/{start}",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("block"),
    summary="The last revision of a block",
    description=whose.READ,
)
def block(request: HttpRequest, lifter: Key, start: Day) -> HttpResponse:
    one = or_404(block_of(lifter_of(request, lifter, "read"), start), "block")
    return json_answer(request, one.document)


@router.get(
    "/lifters/{lifter}/blocks/{start}/revisions/{revision}",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("block"),
    summary="One revision of a block",
    description=whose.READ,
)
def block_revision(request: HttpRequest, lifter: Key, start: Day, revision: Number) -> HttpResponse:
    one = or_404(revision_of(lifter_of(request, lifter, "read"), start, revision), "revision")
    return json_answer(request, one.document)
