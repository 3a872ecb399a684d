"""Published documents as answers: their schemas in the OpenAPI document, their bytes on the wire.

The schema of `blockwright/block/1` is one and the same for the command line, `blockwright schema`
and here; the OpenAPI document carries it with its references bent to its own places.
"""

import gzip
import hashlib
import json
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseNotModified
from django.utils.cache import patch_vary_headers

from blockwright.files.json_text import plain
from blockwright.files.schemas import NAMES, schema_of

_PLACE = "#/components/schemas/"


def published() -> dict[str, Any]:
    """Every published schema as components: `block`, `block.week`, ..."""
    found: dict[str, Any] = {}
    for name in NAMES:
        schema = {key: value for key, value in schema_of(name).items() if key != "$schema"}
        for part, definition in schema.pop("$defs", {}).items():
            found[f"{name}.{part}"] = _bent(definition, name)
        found[name] = _bent(schema, name)
    return found


def _bent(value: Any, name: str) -> Any:
    """References within one schema become references within the OpenAPI document."""
    if isinstance(value, Mapping):
        return {
            key: item.replace("#/$defs/", f"{_PLACE}{name}.")
            if key == "$ref"
            else _bent(item, name)
            for key, item in value.items()
        }
    return [_bent(item, name) for item in value] if isinstance(value, list) else value


def answers(name: str) -> dict[str, Any]:
    """`openapi_extra` of a call whose success is the published document `name`."""
    schema = {"$ref": f"{_PLACE}{name}"}
    return {"responses": {200: {"content": {"application/json": {"schema": schema}}}}}


def json_answer(request: HttpRequest, document: Mapping[str, Any]) -> HttpResponse:
    """JSON with an ETag, 304 where the caller has it already, compressed where it may be.

    Compressing is safe here: no answer holds a secret beside text that a stranger chose.
    """
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    body = text.encode()
    tag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    if request.headers.get("If-None-Match", "").removeprefix("W/") == tag:
        answer: HttpResponse = HttpResponseNotModified()
    else:
        answer = HttpResponse(body, content_type="application/json")
        if "gzip" in request.headers.get("Accept-Encoding", ""):
            answer.content = gzip.compress(body, 9, mtime=0)
            answer["Content-Encoding"] = "gzip"
    answer["ETag"] = tag
    answer["Cache-Control"] = "private, no-cache"
    patch_vary_headers(answer, ["Accept-Encoding", "Cookie"])
    return answer


def document_answer(request: HttpRequest, document: Mapping[str, Any]) -> HttpResponse:
    """A document of an action, with the numbers the command line prints."""
    return json_answer(request, plain(document))
