"""The ledger: every proposal and change by hand, and what the coach decided."""

from typing import Annotated

from django.http import HttpRequest
from ninja import Router
from pydantic import BeforeValidator, WithJsonSchema

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import lifter_of
from blockwright.api.values import Find, Key, MaybeDay, Number, among, word_schema
from blockwright.verbs.ledger import VERDICTS, LedgerPage, LedgerQuestion, ledger

router = Router()

Verdict = Annotated[
    str | None, BeforeValidator(among(VERDICTS)), WithJsonSchema(word_schema(VERDICTS))
]


@router.get(
    "/lifters/{lifter}/ledger",
    response={200: LedgerPage, **ERRORS},
    summary="Every decision, searchable",
    description=f"{whose.READ} `text`: words that all stand in the line; `first` and `last`: days "
    "of deciding.",
)
def ledger_of(
    request: HttpRequest,
    lifter: Key,
    text: Find = None,
    kind: Find = None,
    verdict: Verdict = None,
    lift: Find = None,
    first: MaybeDay = None,
    last: MaybeDay = None,
    page: Number = 1,
) -> LedgerPage:
    row = lifter_of(request, lifter, "read")
    return ledger(
        row,
        LedgerQuestion(
            text=text or "",
            kind=kind or "",
            verdict=verdict or "",
            lift=lift or "",
            first=first,
            last=last,
            page=page,
        ),
    )
