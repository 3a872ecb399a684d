"""A coach's change as a document, `{"kind": "set_count", "week": 3, ...}`: what the API's OpenAPI
says of it, what the block page sends, and the change it is. Bounds here keep out what is no number
of a block; whether a block bears it the edit's own rules say, in words."""

import re
from collections.abc import Callable
from typing import Annotated, Any, ClassVar, Literal, Union

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    TypeAdapter,
    ValidationError,
    create_model,
)

from blockwright.engine import editing
from blockwright.engine.errors import BadInput
from blockwright.engine.planning.disruption import Disruption
from blockwright.engine.training import MUSCLES, REGIONS
from blockwright.engine.units import Unit, kg_from
from .edit_block import Change, GoBack, Several, TakeRest

MOST_STEPS = 60
MOST_NUMBER = 2**31 - 1  # Of revisions, weeks and rows: what every database keeps


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
Row = Annotated[int, Field(ge=1, le=MOST_NUMBER), WHOLE]
"""The number of a revision, a version or a row, in a body."""
_Lifts = Annotated[list[Line], Field(min_length=1, max_length=20)]
_Minutes = Annotated[int, Field(ge=1, le=600), WHOLE]
_Muscle = Literal[MUSCLES]  # type: ignore[valid-type]
_Muscles = Annotated[list[_Muscle], Field(min_length=1, max_length=len(MUSCLES))]
_Region = Literal[REGIONS]  # type: ignore[valid-type]


_NAMES = {"reps_low": "low", "reps_high": "high", "composing": "search"}
"""What a change calls otherwise than its document."""


class _Step(Strict):
    """A change under the names of its fields."""

    makes: ClassVar[Callable[..., Change]]

    def change(self) -> Change:
        said = {_NAMES.get(key, key): value for key, value in self if key != "kind"}
        if "unit" in said:
            said["load_kg"] = kg_from(said.pop("load"), said.pop("unit"))
        if where := {key: said.pop(key) for key in _Place.model_fields if key in said}:
            said["place"] = editing.Place(**where)
        return type(self).makes(**said)


class _Place(_Step):
    """Where in the block: week, number of the session in it, lift."""

    week: Small
    session: Small
    lift: Line


class _Weeks(_Place):
    only_this_week: bool = False


def _kind(name: str) -> Any:
    """The field that tells one change from another: "set_count" for SetCount."""
    return Literal[re.sub(r"\B(?=[A-Z])", "_", name).lower()], ...


def _edit(makes: type[Change], base: type[_Step] = _Weeks, **said: Any) -> Any:
    """The document of a change, its kind by the change's name; `said` as type and default."""
    name = makes.__name__
    made = create_model(name, __base__=base, __doc__=makes.__doc__, kind=_kind(name), **said)
    made.makes = makes
    return made


class _Session(Strict):
    kind: str
    week: Small
    session: Small

    def change(self) -> Change:
        """What happened stands in the engine's `Disruption` under the name of its kind."""
        apart = {*_Session.model_fields, "region"}
        [said] = [v for name, v in self if name not in apart] or [True]
        name = "minutes" if self.kind == "short_of_time" else self.kind
        told: dict[str, Any] = {name: tuple(said) if isinstance(said, list) else said}
        told["region"] = getattr(self, "region", None) or ""
        return Disruption(week=self.week, session=self.session, **told)


def _trouble(name: str, says: str, **said: Any) -> Any:
    return create_model(name, __base__=_Session, __doc__=says, kind=_kind(name), **said)


_EDITS = (
    _edit(editing.SetCount, sets=(_Count, ...)),
    _edit(editing.MoveLift, to_session=(Small, ...)),
    _edit(editing.OrderLift, earlier=(bool, ...)),
    _edit(editing.SwapLift, other=(Line, ...)),
    _edit(editing.SetRange, reps_low=(_Count, ...), reps_high=(_Count, ...)),
    _edit(editing.SetReserve, rir=(_Amount, ...)),
    _edit(editing.SetLoad, load=(_Amount, ...), unit=(Unit, "kg")),
    _edit(editing.AddLift, sets=(_Count | None, None)),
    _edit(editing.RemoveLift),
    _edit(editing.PinLift, _Place),
    _edit(editing.UnpinLift, _Place),
)
_HURTS = "The session and what is left of its week without these lifts, which hurt."
_TROUBLES = (
    _trouble("ShortOfTime", "The session in fewer minutes.", minutes=(_Minutes, ...)),
    _trouble("Missed", "The session was missed, or will be."),
    _trouble("Without", "The session without these lifts.", lifts=(_Lifts, ...)),
    _trouble("Hurts", _HURTS, lifts=(_Lifts, ...), region=(_Region | None, None)),
    _trouble("Sore", "The session for somebody who is still sore here.", muscles=(_Muscles, ...)),
)
_BACK = _edit(GoBack, _Step, revision=(Row, ...))
_STEPS = (*_EDITS, _edit(TakeRest, _Step, composing=(Row, ...)))
_ONE = Field(discriminator="kind")
Step = Annotated[Union[*_STEPS], _ONE]  # type: ignore[valid-type]
Steps = Annotated[list[Step], Field(min_length=1, max_length=MOST_STEPS)]


class Together(Strict):
    """Changes one after another, kept as one revision."""

    kind: Literal["several"]
    steps: Steps

    def change(self) -> Change:
        return Several(tuple(step.change() for step in self.steps))


_ANY = (*_STEPS, *_TROUBLES, _BACK, Together)
Wanted = Annotated[Union[*_ANY], _ONE]  # type: ignore[valid-type]
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
