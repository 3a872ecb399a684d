"""Every number a coach may change."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from ninja import Router

from blockwright.api import whose
from blockwright.api.documents import answers, document_answer
from blockwright.api.errors import ERRORS
from blockwright.api.values import Find
from blockwright.verbs.list_policy import policy_document

router = Router()


@router.get(
    "/policy",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("policy"),
    summary="Every adjustable number",
    description=f"{whose.ANYONE} `find`: part of a key or of its reason. A lifter's own values "
    "stand in their document.",
)
def policy(request: HttpRequest, find: Find = None) -> HttpResponse:
    return document_answer(request, policy_document(None, find or ""))
