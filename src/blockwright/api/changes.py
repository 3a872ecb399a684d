"""A coach's own change to a block: what it would do, and keeping it as a new revision."""

from datetime import date
from typing import Annotated, Any, Literal

from django.http import HttpRequest
from ninja import Router, Schema, Status
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import CHANGE_ERRORS
from blockwright.api.signed_in import person_of, today_for
from blockwright.api.values import Day, Key
from blockwright.files.words import reason_says
from blockwright.store.access import lifter_for
from blockwright.verbs import edit_block
from blockwright.verbs.read_change import MOST_NUMBER, WHOLE, Strict, Wanted

router = Router()


class ChangeIn(Strict):
    """What a coach wants of the revision they have seen."""

    revision: Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]
    change: Wanted
    words: Annotated[str, Field(max_length=edit_block.MOST_WORDS, pattern=r"^[^\x00]*$")] = ""
    insist: Annotated[bool, Field(description="On what breaks a rule one may insist on.")] = False


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


@router.post(
    "/lifters/{lifter}/blocks/{start}/changes/preview",
    response={200: PreviewOut, **CHANGE_ERRORS},
    summary="What a change would do",
    description=f"{whose.CHANGE} Stores nothing. 409 `changed_meanwhile` for an old revision.",
)
def preview(request: HttpRequest, lifter: Key, start: Day, wish: ChangeIn) -> dict[str, Any]:
    person = person_of(request)
    row = lifter_for(person, lifter, "change")
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


@router.post(
    "/lifters/{lifter}/blocks/{start}/changes",
    response={201: KeptOut, **CHANGE_ERRORS},
    summary="Change a block",
    description=f"{whose.CHANGE} Makes a new revision. 409 `changed_meanwhile` for an old "
    "revision, with what changed; 409 `not_possible` for a broken rule that is not insisted on.",
)
def change(request: HttpRequest, lifter: Key, start: Day, wish: ChangeIn) -> Status[dict[str, Any]]:
    person = person_of(request)
    row = lifter_for(person, lifter, "change")
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
