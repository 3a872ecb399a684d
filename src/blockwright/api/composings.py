"""Composing a block, or the rest of one: asked for, and asked after. The search takes seconds to
minutes in a process of its own, so the answer is an address to ask."""

from datetime import date, datetime
from typing import Annotated, Any, Literal

from django.http import HttpRequest
from django.utils import timezone
from ninja import Router, Schema, Status
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import CHANGE_ERRORS, ERRORS
from blockwright.api.signed_in import lifter_of, person_of
from blockwright.api.values import MOST_NUMBER, WHOLE, Day, Key, Line, Number, Strict
from blockwright.store.access import lifter_for, or_404
from blockwright.store.composings import search_of
from blockwright.verbs import search_block
from blockwright.verbs.phone_home import today_of

router = Router()


class ComposeIn(Strict):
    """Which block is wanted: its first Monday, and the start of the block to learn from."""

    start: Day
    previous: Day | None = None
    template: Annotated[
        Line | None, Field(description="A house template, by its name: its frame is kept.")
    ] = None


class RestIn(Strict):
    """The block's revision that was seen, and what the search may choose from."""

    revision: Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]
    other_lifts: Annotated[
        bool, Field(description="Whether lifts that the block does not have may come in.")
    ] = False


class ComposingOut(Schema):
    """A search: on its way (waiting, searching), made, or why not."""

    id: int
    address: Annotated[str, Field(description="Where to ask how it goes.")]
    kind: Literal["block", "rest"]
    start: date
    state: Literal["waiting", "searching", "made", "clash", "failed"]
    step: Annotated[str, Field(description="What the search is at, in words.")]
    says: Annotated[
        dict[str, Any],
        Field(description="Why not: `problems` in words, or a blockwright/clash/1 document."),
    ]
    asked_at: datetime

    @staticmethod
    def resolve_address(search: Any) -> str:
        return f"/api/lifters/{search.lifter_id}/composings/{search.pk}"


@router.post(
    "/lifters/{lifter}/composings",
    response={202: ComposingOut, **CHANGE_ERRORS},
    summary="Compose a block",
    description=f"{whose.CHANGE} The answer is the search that is on its way; ask its `address` "
    "every few seconds. Once made, the block is a revision of its start.",
)
def compose(request: HttpRequest, lifter: Key, wish: ComposeIn) -> Status[Any]:
    person, now = person_of(request), timezone.now()
    row = lifter_for(person, lifter, "change")
    question = search_block.ComposeQuestion(
        start=wish.start, previous=wish.previous, template=wish.template or ""
    )
    search = search_block.begin_composing(person, row, question, today_of(person, now), now)
    return Status(202, search)


@router.post(
    "/lifters/{lifter}/blocks/{start}/rest",
    response={202: ComposingOut, **CHANGE_ERRORS},
    summary="Compose anew the weeks that have not begun",
    description=f"{whose.CHANGE} Around what the coach changed and pinned, from the block's own "
    "lifts unless `other_lifts` is true. Once made, the change `take_rest` keeps it.",
)
def rest(request: HttpRequest, lifter: Key, start: Day, wish: RestIn) -> Status[Any]:
    person, now = person_of(request), timezone.now()
    row = lifter_for(person, lifter, "change")
    today = today_of(person, now)
    search = search_block.begin_rest(
        person, row, start, wish.revision, today, now, other_lifts=wish.other_lifts
    )
    return Status(202, search)


@router.get(
    "/lifters/{lifter}/composings/{composing}",
    response={200: ComposingOut, **ERRORS},
    summary="How a search goes",
    description=whose.CHANGE,
)
def composing(request: HttpRequest, lifter: Key, composing: Number) -> Any:
    return _found(request, lifter, composing)


@router.delete(
    "/lifters/{lifter}/composings/{composing}",
    response={204: None, **ERRORS},
    summary="Stop a search",
    description=f"{whose.CHANGE} One that has ended stays as it is.",
)
def stop(request: HttpRequest, lifter: Key, composing: Number) -> Status[None]:
    search_block.stop_search(_found(request, lifter, composing))
    return Status(204, None)


def _found(request: HttpRequest, lifter: Key, composing: int) -> Any:
    found = or_404(search_of(lifter_of(request, lifter, "change"), composing), "search")
    search_block.settled(found, timezone.now())
    found.refresh_from_db()
    return found
