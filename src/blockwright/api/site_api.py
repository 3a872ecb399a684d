"""The API, put together."""

from collections.abc import Callable
from functools import cache, cached_property, wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest
from django.urls import URLPattern, path
from ninja import NinjaAPI
from ninja.openapi.schema import OpenAPISchema

from . import blocks, letters, lifters, phone, rack, shares, strength
from .documents import published
from .errors import StrictParser, add_error_answers, error_answer, through_the_door, unknown
from .signed_in import SignedIn

DESCRIPTION = """What a signed-in person can do at the desk and on the phone.

**Signing in** is the site's own page; a call carries its `sessionid` cookie. A call that changes
something also carries `X-CSRFToken`, the value of the `csrftoken` cookie (`GET /api/phone` sets
it), and its `Origin` or `Referer` must be the site's.

**Errors** have one shape, whatever went wrong: `{"error": {"code", "says", "mend"}}`, in sentences
for a person. 400 is no JSON, or text that cannot be kept; 401 signed out; 403 a stale token
(`csrf`) or not allowed (`not_allowed`); 404 nothing here that you may see; 405 another method; 409
well formed, but refused as things stand (`not_possible`), or changed by somebody else meanwhile
(`changed_meanwhile`); 413 more than 256 KB; 415 no JSON by its type; 422 not as this document has
it; 500 our fault, nothing was changed.

**Numbers** carry their unit in the key. Documents named `blockwright/NAME/1` are those of the
command line (`blockwright schema NAME`)."""

# What proves, beside the session, that a page of ours sends a call that changes something.
_TOKENS = {
    "PageToken": {
        "type": "apiKey",
        "in": "header",
        "name": "X-CSRFToken",
        "description": "The value of the csrftoken cookie.",
    },
    "TokenCookie": {"type": "apiKey", "in": "cookie", "name": "csrftoken"},
}


class SiteAPI(NinjaAPI):
    """Ninja's, with the published schemas and the page's token in its OpenAPI document."""

    def get_openapi_schema(self, **_asked: Any) -> OpenAPISchema:
        return self._document

    @cached_property
    def _document(self) -> OpenAPISchema:
        """Some tenths of a second's work, and the same for everyone."""
        schema = super().get_openapi_schema()
        schema["components"]["schemas"].update(published())
        schema["components"]["securitySchemes"].update(_TOKENS)
        for calls in schema["paths"].values():
            for method, call in calls.items():
                if method != "get":
                    call["security"] = [{"SignedIn": [], **{name: [] for name in _TOKENS}}]
        return schema


def _signed_in_only(view: Callable[..., Any]) -> Callable[..., Any]:
    """The list of calls is for those who may make one."""

    @wraps(view)
    def answered(request: HttpRequest, *args: Any, **more: Any) -> Any:
        if not request.user.is_authenticated:
            return error_answer(401, "signed_out", "you are signed out", "sign in")
        return view(request, *args, **more)

    return answered


api = SiteAPI(
    title="Blockwright",
    version="1",
    description=DESCRIPTION,
    docs_url=None,
    docs_decorator=_signed_in_only,
    auth=SignedIn(),
    parser=StrictParser(),
    urls_namespace="api",
)
add_error_answers(api)
for router in (
    shares.me_calls,
    lifters.router,
    shares.router,
    blocks.router,
    phone.sheet_calls,
    phone.fact_calls,
    letters.router,
    strength.router,
    rack.lift_calls,
    rack.router,
    rack.policy_calls,
    lifters.export_calls,
    phone.router,
    phone.sync_calls,
):
    api.add_router("", router)


@cache
def _known_queries() -> dict[tuple[str, str], frozenset[str]]:
    return {
        (method.upper(), path.lstrip("/").replace("{", "<").replace("}", ">")): frozenset(
            each["name"] for each in call["parameters"] if each["in"] == "query"
        )
        for path, calls in api.get_openapi_schema()["paths"].items()
        for method, call in calls.items()
    }


def _queries(method: str, route: str) -> frozenset[str] | None:
    """What may stand after the `?` of a call; None for what is no call."""
    return _known_queries().get((method, route))


def _patterns() -> list[URLPattern]:
    """The calls and, last, what answers for every address that is none. (`api.urls` makes new
    views each time it is read; Ninja's own root leads to documentation that we do not serve.)"""
    calls = [each for each in api.urls[0] if isinstance(each, URLPattern)]
    calls = [each for each in calls if each.name != "api-root"]
    for call in calls:
        call.callback = through_the_door(call.callback, _queries)
    # The OpenAPI document asks the root for the prefix of its paths.
    calls += [
        path("", unknown, name="api-root"),
        path("<path:rest>", unknown, name="unknown"),
    ]
    for call in calls:
        # The site's sign-in wall would answer with a page; `SignedIn` answers with JSON.
        call.callback = login_not_required(call.callback)
    return calls


urls = (_patterns(), "ninja", "api")  # What `server.urls` includes
