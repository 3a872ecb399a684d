"""Blocks: the revisions there are, each as the command line's document; composed, in a search that
takes seconds to minutes, so that the answer is an address to ask; and changed by the coach."""

from datetime import date, datetime
from typing import Annotated, Any, Literal

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Schema, Status
from pydantic import Field

from blockwright.files.words import reason_says
from blockwright.store.access import or_404
from blockwright.store.blocks import block_of, revision_of, revisions_of, search_of
from blockwright.verbs import edit_block, search_block
from blockwright.verbs.read_change import Wanted
from . import calls
from .calls import Calls
from .documents import json_answer
from .signed_in import changing, lifter_of, name_of, today_for
from .values import Day, Key, Line, Number, Row, Strict, told

router = Calls("Blocks")


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


@router.reads("/lifters/{lifter}/blocks", list[RevisionInShort], calls.READ)
def blocks(request: HttpRequest, lifter: Key) -> Any:
    """Every revision of every block."""
    return revisions_of(lifter_of(request, lifter, "read"))


@router.document("/lifters/{lifter}/blocks/{start}", "block", calls.READ)
def block(request: HttpRequest, lifter: Key, start: Day) -> HttpResponse:
    """The last revision of a block."""
    one = or_404(block_of(lifter_of(request, lifter, "read"), start), "block")
    return json_answer(request, one.document)


@router.document("/lifters/{lifter}/blocks/{start}/revisions/{revision}", "block", calls.READ)
def block_revision(request: HttpRequest, lifter: Key, start: Day, revision: Number) -> HttpResponse:
    """One revision of a block."""
    one = or_404(revision_of(lifter_of(request, lifter, "read"), start, revision), "revision")
    return json_answer(request, one.document)


class ComposeIn(Strict):
    """Which block is wanted: its first Monday, and the start of the block to learn from."""

    start: Day
    previous: Day | None = None
    template: Line | None = told("A house template, by its name: its frame is kept.", None)


class RestIn(Strict):
    """The block's revision that was seen, and what the search may choose from."""

    revision: Row
    other_lifts: bool = told("Whether lifts that the block does not have may come in.", False)


class ComposingOut(Schema):
    """A search: on its way (waiting, searching), made, or why not."""

    id: int
    address: str = told("Where to ask how it goes.")
    kind: Literal["block", "rest"]
    start: date
    state: Literal["waiting", "searching", "made", "clash", "failed"]
    step: str = told("What the search is at, in words.")
    says: dict[str, Any] = told("Why not: `problems` in words, or a blockwright/clash/1 document.")
    asked_at: datetime

    @staticmethod
    def resolve_address(search: Any) -> str:
        return f"/api/lifters/{search.lifter_id}/composings/{search.pk}"


@router.changes("/lifters/{lifter}/composings", {202: ComposingOut}, calls.CHANGE)
def compose(request: HttpRequest, lifter: Key, wish: ComposeIn) -> Status[Any]:
    """Compose a block. The answer is the search that is on its way; ask its `address` every few
    seconds. Once made, the block is a revision of its start."""
    person, row = changing(request, lifter)
    question = search_block.ComposeQuestion(
        start=wish.start, previous=wish.previous, template=wish.template or ""
    )
    today, now = today_for(request), timezone.now()
    return Status(202, search_block.begin_composing(person, row, question, today, now))


@router.changes("/lifters/{lifter}/blocks/{start}/rest", {202: ComposingOut}, calls.CHANGE)
def rest(request: HttpRequest, lifter: Key, start: Day, wish: RestIn) -> Status[Any]:
    """Compose anew the weeks that have not begun. Around what the coach changed and pinned, from
    the block's own lifts unless `other_lifts` is true. Once made, the change `take_rest` keeps
    it."""
    person, row = changing(request, lifter)
    today, now = today_for(request), timezone.now()
    search = search_block.begin_rest(
        person, row, start, wish.revision, today, now, other_lifts=wish.other_lifts
    )
    return Status(202, search)


@router.reads("/lifters/{lifter}/composings/{composing}", ComposingOut, calls.CHANGE)
def composing(request: HttpRequest, lifter: Key, composing: Number) -> Any:
    """How a search goes."""
    return _found(request, lifter, composing)


@router.ends("/lifters/{lifter}/composings/{composing}", calls.CHANGE)
def stop(request: HttpRequest, lifter: Key, composing: Number) -> Status[None]:
    """Stop a search. One that has ended stays as it is."""
    search_block.stop_search(_found(request, lifter, composing))
    return Status(204, None)


def _found(request: HttpRequest, lifter: Key, composing: int) -> Any:
    found = or_404(search_of(lifter_of(request, lifter, "change"), composing), "search")
    search_block.settled(found, timezone.now())
    found.refresh_from_db()
    return found


class ChangeIn(Strict):
    """What a coach wants of the revision they have seen."""

    revision: Row
    change: Wanted
    words: Annotated[str, Field(max_length=edit_block.MOST_WORDS, pattern=r"^[^\x00]*$")] = ""
    insist: bool = told("On what breaks a rule one may insist on.", False)


class BrokenOut(Schema):
    """A rule of the house that the change breaks."""

    code: str
    says: str
    may_insist: bool


class PreviewOut(Schema):
    """What the change would do. Nothing is stored."""

    changes: list[str]
    broken: list[BrokenOut]


class KeptOut(Schema):
    """The new revision."""

    block: date
    revision: int
    status: Literal["ready", "refer"]


@router.changes("/lifters/{lifter}/blocks/{start}/changes/preview", {200: PreviewOut}, calls.CHANGE)
def preview(request: HttpRequest, lifter: Key, start: Day, wish: ChangeIn) -> dict[str, Any]:
    """What a change would do. Stores nothing. 409 `changed_meanwhile` for an old revision."""
    row = lifter_of(request, lifter, "change")
    shown = edit_block.preview(row, _question(start, wish), today_for(request))
    return {
        "changes": shown.lines,
        "broken": [
            {
                "code": one.reason.code,
                "says": reason_says(one.reason),
                "may_insist": one.force != "refused",
            }
            for one in shown.broken
        ],
    }


@router.changes("/lifters/{lifter}/blocks/{start}/changes", {201: KeptOut}, calls.CHANGE)
def change(request: HttpRequest, lifter: Key, start: Day, wish: ChangeIn) -> Status[dict[str, Any]]:
    """Change a block. Makes a new revision. 409 `changed_meanwhile` for an old revision, with what
    changed; 409 `not_possible` for a broken rule that is not insisted on."""
    person, row = changing(request, lifter)
    kept = edit_block.keep(person, row, _question(start, wish), today_for(request))
    return Status(201, {"block": kept.start, "revision": kept.revision, "status": kept.status})


def _question(start: date, wish: ChangeIn) -> edit_block.ChangeQuestion:
    return edit_block.ChangeQuestion(
        start=start,
        revision=wish.revision,
        change=wish.change.change(),
        words=wish.words,
        insist=wish.insist,
    )
