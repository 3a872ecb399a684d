"""Published documents as answers: their schemas in the OpenAPI document, their bytes on the wire.

The schema of `blockwright/block/1` is one and the same for the command line, `blockwright schema`
and here; the OpenAPI document carries it with its references bent to its own places."""

import gzip
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import brotli
from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response, patch_vary_headers

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


@dataclass(frozen=True, slots=True)
class Packed:
    tag: str
    bodies: Mapping[str, bytes]
    """By how they are compressed, the smallest first. Safe here: no answer holds a secret beside
    text that a stranger chose."""


def packed(document: Mapping[str, Any], *, is_kept: bool = False) -> Packed:
    """A document as JSON, its tag by what is in it. One that is kept for the next who asks is worth
    more time."""
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    body = text.encode()
    tag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    smaller = brotli.compress(body, quality=11 if is_kept else 5)
    return Packed(tag, {"br": smaller, "gzip": gzip.compress(body, 9, mtime=0)})


def json_answer(request: HttpRequest, document: Mapping[str, Any]) -> HttpResponse:
    """JSON with an ETag, 304 where the caller has it already, compressed where it may be."""
    return packed_answer(request, packed(document))


def packed_answer(request: HttpRequest, made: Packed) -> HttpResponse:
    """As `json_answer`, of what was packed before."""
    taken = re.split(r"[,;\s]+", request.headers.get("Accept-Encoding", ""))
    way = next((one for one in made.bodies if one in taken), "")
    body = made.bodies[way] if way else gzip.decompress(made.bodies["gzip"])
    answer = HttpResponse(body, content_type="application/json")
    if way:
        answer["Content-Encoding"] = way
    answer["ETag"] = made.tag
    # The phone page keeps what it needs itself, with the tag.
    answer["Cache-Control"] = "private, no-store"
    patch_vary_headers(answer, ["Accept-Encoding", "Cookie"])
    return get_conditional_response(request, etag=made.tag, response=answer) or answer
