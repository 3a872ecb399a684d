"""A coach's change as a document, `{"kind": "set_count", "week": 3, ...}`: what the API's OpenAPI
says of it, what the block page sends, and the change it is. Bounds here keep out what is no number
of a block; whether a block bears it the edit's own rules say, in words.
"""

from collections.abc import Callable
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, TypeAdapter, ValidationError

from blockwright.engine import editing
from blockwright.engine.errors import BadInput
from blockwright.engine.planning.trouble import Trouble
from blockwright.engine.training import MUSCLES, REGIONS
from blockwright.engine.units import kg_from
from blockwright.verbs.edit_block import Change, GoBack, Several, TakeRest

MOST_STEPS = 60
MOST_NUMBER = 2**31 - 1
"""Of revisions, weeks and rows: what every database keeps."""


class Strict(BaseModel):
    """A document, or a part of one: its keys and no others, each of its own type."""

    model_config = ConfigDict(extra="forbid", strict=True)


def _whole(value: Any) -> Any:
    """JSON has one kind of number: 3.0 is as whole as 3."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


WHOLE = BeforeValidator(_whole)
"""Beside a whole number of a body; after its bounds, or the document loses them."""
Line = Annotated[str, Field(min_length=1, max_length=200, pattern=r"^[^\x00-\x1f\x7f]+$")]
"""A name or a word: one line."""
Small = Annotated[int, Field(ge=1, le=99), WHOLE]
_Count = Annotated[int, Field(ge=0, le=9999), WHOLE]
_Amount = Annotated[float, Field(ge=0, le=99_999, allow_inf_nan=False)]
_Row = Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]
_Lifts = Annotated[list[Line], Field(min_length=1, max_length=20)]
_Muscle = Literal[MUSCLES]  # type: ignore[valid-type]
_Region = Literal[REGIONS]  # type: ignore[valid-type]


class _Place(Strict):
    """Where in the block: week, number of the session in it, lift."""

    makes: ClassVar[Callable[..., editing.Edit]]
    week: Small
    session: Small
    lift: Line

    def change(self) -> editing.Edit:
        place = editing.Place(week=self.week, session=self.session, lift=self.lift)
        return type(self).makes(place=place, **self.said())

    def said(self) -> dict[str, Any]:
        """What the edit holds beside its place."""
        return {name: value for name, value in self if name not in ("kind", *_Place.model_fields)}


class _Weeks(_Place):
    only_this_week: bool = False


class SetCount(_Weeks):
    """So many sets of a lift; in later weeks as many more or fewer as here."""

    makes = editing.SetCount
    kind: Literal["set_count"]
    sets: _Count


class MoveLift(_Weeks):
    """The lift in another session of the same week."""

    makes = editing.MoveLift
    kind: Literal["move_lift"]
    to_session: Small


class OrderLift(_Weeks):
    """The lift one place earlier or later in its session."""

    makes = editing.OrderLift
    kind: Literal["order_lift"]
    earlier: bool


class SwapLift(_Weeks):
    """Another lift in the place of one."""

    makes = editing.SwapLift
    kind: Literal["swap_lift"]
    other: Line


class SetRange(_Weeks):
    """The repetitions the sets are written for."""

    makes = editing.SetRange
    kind: Literal["set_range"]
    reps_low: _Count
    reps_high: _Count

    def said(self) -> dict[str, Any]:
        only = self.only_this_week
        return {"low": self.reps_low, "high": self.reps_high, "only_this_week": only}


class SetReserve(_Weeks):
    """So many repetitions in reserve; in later weeks as many more or fewer as here."""

    makes = editing.SetReserve
    kind: Literal["set_reserve"]
    rir: _Amount


class SetLoad(_Weeks):
    """The load as written on the sheet; later weeks are forecast from it."""

    makes = editing.SetLoad
    kind: Literal["set_load"]
    load: _Amount
    unit: Literal["kg", "lb"] = "kg"

    def said(self) -> dict[str, Any]:
        load_kg = kg_from(self.load, self.unit)
        return {"load_kg": load_kg, "only_this_week": self.only_this_week}


class AddLift(_Weeks):
    """A lift more in a session; without `sets` the fewest worth doing."""

    makes = editing.AddLift
    kind: Literal["add_lift"]
    sets: _Count | None = None


class RemoveLift(_Weeks):
    """The session without the lift."""

    makes = editing.RemoveLift
    kind: Literal["remove_lift"]


class PinLift(_Place):
    """The lift stays on the day where it stands."""

    makes = editing.PinLift
    kind: Literal["pin_lift"]


class UnpinLift(_Place):
    """The lift is free to go again."""

    makes = editing.UnpinLift
    kind: Literal["unpin_lift"]


class _Session(Strict):
    kind: str
    week: Small
    session: Small

    def change(self) -> Change:
        """What happened stands in the engine's `Trouble` under the name of its kind."""
        apart = {*_Session.model_fields, "region"}
        [said] = [v for name, v in self if name not in apart] or [True]
        name = "minutes" if self.kind == "short_of_time" else self.kind
        told: dict[str, Any] = {name: tuple(said) if isinstance(said, list) else said}
        told["region"] = getattr(self, "region", None) or ""
        return Trouble(week=self.week, session=self.session, **told)


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
    lifts: _Lifts


class Hurts(_Session):
    """The session and what is left of its week without these lifts, which hurt."""

    kind: Literal["hurts"]
    lifts: _Lifts
    region: _Region | None = None


class Sore(_Session):
    """The session for somebody who is still sore here."""

    kind: Literal["sore"]
    muscles: Annotated[list[_Muscle], Field(min_length=1, max_length=len(MUSCLES))]


class BackTo(Strict):
    """The weeks of an earlier revision again."""

    kind: Literal["go_back"]
    revision: _Row

    def change(self) -> Change:
        return GoBack(self.revision)


class Rest(Strict):
    """The weeks that a search for the rest has made."""

    kind: Literal["take_rest"]
    composing: _Row

    def change(self) -> TakeRest:
        return TakeRest(self.composing)


Step = Annotated[
    SetCount | MoveLift | OrderLift | SwapLift | SetRange | SetReserve | SetLoad | AddLift
    | RemoveLift | PinLift | UnpinLift | Rest,
    Field(discriminator="kind"),
]  # fmt: skip
Steps = Annotated[list[Step], Field(min_length=1, max_length=MOST_STEPS)]


class Together(Strict):
    """Changes one after another, kept as one revision."""

    kind: Literal["several"]
    steps: Steps

    def change(self) -> Change:
        return Several(tuple(step.change() for step in self.steps))


Wanted = Annotated[
    SetCount | MoveLift | OrderLift | SwapLift | SetRange | SetReserve | SetLoad | AddLift
    | RemoveLift | PinLift | UnpinLift | ShortOfTime | Missed | Without | Hurts | Sore | BackTo
    | Rest | Together,
    Field(discriminator="kind"),
]  # fmt: skip
_TOGETHER = TypeAdapter(Together)


def several_of(documents: object) -> Change:
    """Steps one after another. BadInput where one cannot be among several."""
    if isinstance(documents, list) and len(documents) > MOST_STEPS:
        mend = "keep what there is, then go on"
        raise BadInput.of(f"more than {MOST_STEPS} changes at once", mend, column="steps")
    try:
        return _TOGETHER.validate_python({"kind": "several", "steps": documents}).change()
    except ValidationError as error:
        mend = "load the page anew and try again"
        raise BadInput.of("this is no change of a block", mend, column="steps") from error
