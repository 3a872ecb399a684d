"""The API, put together."""

from django.contrib.auth.decorators import login_not_required
from ninja import NinjaAPI

from blockwright.api import phone, sync
from blockwright.api.errors import add_error_answers
from blockwright.api.signed_in import SignedIn

api = NinjaAPI(
    title="Blockwright",
    version="1",
    description="What a signed-in person can do. Errors: {error: {code, says, mend}}.",
    docs_url=None,
    auth=SignedIn(),
    urls_namespace="api",
)
add_error_answers(api)
api.add_router("", phone.router)
api.add_router("", sync.router)

urls = api.urls
"""What `server.urls` includes; `api.urls` makes new views each time it is read."""

for pattern in urls[0]:
    # The site's sign-in wall would answer with a page; `SignedIn` answers with JSON.
    if pattern.callback is not None:
        pattern.callback = login_not_required(pattern.callback)
