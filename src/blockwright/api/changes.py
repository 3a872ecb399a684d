"""A coach's own change to a block: what it would do, and keeping it as a new revision."""

from datetime import date
from typing import Annotated, Any, Literal

from django.http import HttpRequest
from ninja import Router, Schema, Status
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import CHANGE_ERRORS
from blockwright.api.signed_in import person_of, today_for
from blockwright.api.values import MOST_NUMBER, WHOLE, Day, Key, Line, Strict
from blockwright.engine.training import MUSCLES
from blockwright.files.words import reason_says
from blockwright.store.access import lifter_for
from blockwright.verbs import edit_block
from blockwright.verbs.read_change import MOST_STEPS, change_of

router = Router()

Small = Annotated[int, Field(ge=1, le=99), WHOLE]
Muscle = Literal[MUSCLES]  # type: ignore[valid-type]


class _Place(Strict):
    """Where in the block: week, number of the session in it, lift."""

    week: Small
    session: Small
    lift: Line


class _Weeks(_Place):
    only_this_week: bool = False


class SetCount(_Weeks):
    """So many sets of a lift; in later weeks as many more or fewer as here."""

    kind: Literal["set_count"]
    sets: Annotated[int, Field(ge=0, le=20), WHOLE]


class MoveLift(_Weeks):
    """The lift in another session of the same week."""

    kind: Literal["move_lift"]
    to_session: Small


class SwapLift(_Weeks):
    """Another lift in the place of one."""

    kind: Literal["swap_lift"]
    other: Line


class SetRange(_Weeks):
    """The repetitions the sets are written for."""

    kind: Literal["set_range"]
    reps_low: Small
    reps_high: Small


class SetReserve(_Weeks):
    """So many repetitions in reserve; in later weeks as many more or fewer as here."""

    kind: Literal["set_reserve"]
    rir: Annotated[float, Field(ge=0, le=10)]


class SetLoad(_Weeks):
    """The load as written on the sheet; later weeks are forecast from it."""

    kind: Literal["set_load"]
    load: Annotated[float, Field(ge=0, le=2000)]
    unit: Literal["kg", "lb"] = "kg"


class AddLift(_Weeks):
    """A lift more in a session; without `sets` the fewest worth doing."""

    kind: Literal["add_lift"]
    sets: Annotated[int, Field(ge=1, le=20), WHOLE] | None = None


class RemoveLift(_Weeks):
    """The session without the lift."""

    kind: Literal["remove_lift"]


class PinLift(_Place):
    """The lift stays on the day where it stands, or (`unpin_lift`) is free to go again."""

    kind: Literal["pin_lift", "unpin_lift"]


class _Session(Strict):
    week: Small
    session: Small


class ShortOfTime(_Session):
    """The session in fewer minutes."""

    kind: Literal["short_of_time"]
    minutes: Annotated[int, Field(ge=1, le=600), WHOLE]


class Missed(_Session):
    """The session was missed, or will be."""

    kind: Literal["missed"]


class Without(_Session):
    """The session without these lifts."""

    kind: Literal["without"]
    lifts: Annotated[list[Line], Field(min_length=1, max_length=20)]


class Hurts(_Session):
    """The session and what is left of its week without these lifts, which hurt."""

    kind: Literal["hurts"]
    lifts: Annotated[list[Line], Field(min_length=1, max_length=20)]


class Sore(_Session):
    """The session for somebody who is still sore here."""

    kind: Literal["sore"]
    muscles: Annotated[list[Muscle], Field(min_length=1, max_length=len(MUSCLES))]


class GoBack(Strict):
    """The weeks of an earlier revision again."""

    kind: Literal["go_back"]
    revision: Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]


class TakeRest(Strict):
    """The weeks that a search for the rest has made."""

    kind: Literal["take_rest"]
    composing: Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]


Step = Annotated[
    SetCount | MoveLift | SwapLift | SetRange | SetReserve | SetLoad | AddLift | RemoveLift
    | PinLift | TakeRest,
    Field(discriminator="kind"),
]  # fmt: skip


class Several(Strict):
    """Changes one after another, kept as one revision."""

    kind: Literal["several"]
    steps: Annotated[list[Step], Field(min_length=1, max_length=MOST_STEPS)]


class ChangeIn(Strict):
    """What a coach wants of the revision they have seen."""

    revision: Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]
    change: Annotated[
        SetCount | MoveLift | SwapLift | SetRange | SetReserve | SetLoad | AddLift | RemoveLift
        | PinLift | ShortOfTime | Missed | Without | Hurts | Sore | GoBack | TakeRest | Several,
        Field(discriminator="kind"),
    ]  # fmt: skip
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
        change=change_of(wish.change.model_dump()),
        words=wish.words,
        insist=wish.insist,
    )
