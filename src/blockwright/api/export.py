"""Everything about one lifter, to take away."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from ninja import Router

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import lifter_of
from blockwright.api.values import Key
from blockwright.verbs.export_lifter import export_lifter

router = Router()

_ZIP: dict[str, Any] = {
    "responses": {
        200: {"content": {"application/zip": {"schema": {"type": "string", "format": "binary"}}}}
    }
}


@router.get(
    "/lifters/{lifter}/export",
    response={200: None, **ERRORS},
    openapi_extra=_ZIP,
    summary="Everything about one lifter, zipped",
    description=f"{whose.EXPORT} The command line's files, and every row as JSON.",
)
def export(request: HttpRequest, lifter: Key) -> HttpResponse:
    row = lifter_of(request, lifter, "export")
    answer = HttpResponse(export_lifter(row), content_type="application/zip")
    answer["Content-Disposition"] = f'attachment; filename="blockwright-{row.key}.zip"'
    answer["Cache-Control"] = "private, no-store"
    return answer
