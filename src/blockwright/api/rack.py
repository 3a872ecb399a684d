"""Plates, nearest loads, warm-up, a partner's changes."""

from typing import Annotated, Any, Literal

from django.http import HttpRequest, HttpResponse
from ninja import Router
from pydantic import Field, WithJsonSchema

from blockwright.api import whose
from blockwright.api.documents import answers, document_answer
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.api.values import Find, MaybeKey, word_schema
from blockwright.verbs.desk_gyms import rack_in_gym
from blockwright.verbs.rack_load import RackQuestion

router = Router()

_TYPED = r"^[0-9]{1,4}(\.[0-9]{1,3})?$"
Load = Annotated[str, Field(pattern=_TYPED, description="As typed: 82.5, in `unit`.")]
PartnersLoad = Annotated[
    str | None, Field(pattern=_TYPED), WithJsonSchema({"type": "string", "pattern": _TYPED})
]

UNITS = ("kg", "lb")
MaybeUnit = Annotated[
    Literal["kg", "lb"] | None,
    Field(description="The lifter's own where it is left out."),
    WithJsonSchema(word_schema(UNITS)),
]


@router.get(
    "/rack",
    response={200: dict[str, Any], **ERRORS, 409: ERRORS[404]},
    openapi_extra=answers("rack"),
    summary="What a load needs",
    description=f"{whose.ANYONE} In the gym of a `lifter` I may see; without one on a 20 kg bar "
    "(45 lb) with enough standard plates.",
)
def rack(
    request: HttpRequest,
    load: Load,
    unit: MaybeUnit = None,
    lifter: MaybeKey = None,
    lift: Find = None,
    bar: Find = None,
    partner: PartnersLoad = None,
) -> HttpResponse:
    question = RackQuestion(load=load, unit=unit, lift=lift, bar=bar, partner=partner)
    return document_answer(request, rack_in_gym(person_of(request), lifter, question))
