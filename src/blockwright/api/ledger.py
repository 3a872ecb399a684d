"""The ledger: every proposal and change by hand, and what the coach decided."""

from datetime import date, datetime
from typing import Annotated, Any

from django.http import HttpRequest
from ninja import Router, Schema
from pydantic import BeforeValidator, WithJsonSchema

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.api.values import Find, Key, MaybeDay, Number, among, word_schema
from blockwright.store.access import lifter_for
from blockwright.verbs.ledger import VERDICTS, LedgerQuestion, ledger

router = Router()

Verdict = Annotated[
    str | None, BeforeValidator(among(VERDICTS)), WithJsonSchema(word_schema(VERDICTS))
]


class LedgerLineOut(Schema):
    """One decision, one change by hand, or one proposal nobody decided on."""

    at: datetime
    block: date
    week: int | None
    kind: str
    lift: str
    muscle: str
    says: str
    sure: str
    verdict: str
    to: str
    words: str
    by: str
    letter: int | None
    proposal: str
    came_true: bool | None


class LedgerOut(Schema):
    """A page of what was found, the last decided first."""

    lines: list[LedgerLineOut]
    found: int
    page: int
    pages: int
    kinds: list[str]
    lifts: list[str]


@router.get(
    "/lifters/{lifter}/ledger",
    response={200: LedgerOut, **ERRORS},
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
) -> dict[str, Any]:
    row = lifter_for(person_of(request), lifter, "read")
    found = ledger(
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
    return {
        "lines": [LedgerLineOut.from_orm(line) for line in found.lines],
        "found": found.found,
        "page": found.page,
        "pages": found.pages,
        "kinds": list(found.kinds),
        "lifts": list(found.lifts),
    }
