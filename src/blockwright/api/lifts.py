"""The lift catalogue, narrowed by muscle, pattern or name."""

from typing import Annotated, Any

from django.http import HttpRequest, HttpResponse
from ninja import Router
from pydantic import BeforeValidator, WithJsonSchema

from blockwright.api import whose
from blockwright.api.documents import answers, document_answer
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.api.values import Find, MaybeKey, among, word_schema
from blockwright.engine.training import MUSCLES
from blockwright.files.vocabulary import vocabulary
from blockwright.verbs.desk_gyms import lifts_in_gym
from blockwright.verbs.list_lifts import Narrowing

router = Router()

PATTERNS = tuple(vocabulary().patterns)
Muscle = Annotated[
    str | None, BeforeValidator(among(MUSCLES)), WithJsonSchema(word_schema(MUSCLES))
]
Pattern = Annotated[
    str | None, BeforeValidator(among(PATTERNS)), WithJsonSchema(word_schema(PATTERNS))
]


@router.get(
    "/lifts",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("lifts"),
    summary="The lift catalogue",
    description=f"{whose.ANYONE} `muscle`: lifts that train it directly; `find`: part of a name; "
    "`lifter`: what the gym of one I may see has the kit for, their own lifts among it.",
)
def lifts(
    request: HttpRequest,
    muscle: Muscle = None,
    pattern: Pattern = None,
    find: Find = None,
    lifter: MaybeKey = None,
) -> HttpResponse:
    narrowing = Narrowing(muscle=muscle or "", pattern=pattern or "", find=find or "")
    return document_answer(request, lifts_in_gym(person_of(request), lifter, narrowing))
