"""The rows of the API in the access table, and a sound body for each call that takes one."""

from collections.abc import Callable
from typing import Any

import people

OPEN = (200,) * 6
EVERYBODY = (200, 200, 200, 200, 200, 401)
"""Owner, coach, the lifter, partner, stranger: everyone who is signed in."""
SEE = (200, 200, 200, 200, 404, 401)
READ = (200, 200, 200, 403, 404, 401)
CHANGE = (200, 200, 403, 403, 404, 401)


def made(row: tuple[int, ...], status: int) -> tuple[int, ...]:
    """The row with another success."""
    return tuple(status if code == 200 else code for code in row)


_ONE = "api/lifters/<lifter>"
_BLOCK = f"{_ONE}/blocks/<start>"

API_TABLE: dict[tuple[str, str], tuple[int | str, ...]] = {
    ("GET", "api/openapi.json"): OPEN,
    ("GET", "api/"): (404,) * 6,
    ("GET", "api/<path:rest>"): (404,) * 6,
    ("GET", "api/me"): EVERYBODY,
    ("GET", "api/lifters"): EVERYBODY,
    ("POST", "api/lifters"): (201, 201, 403, 403, 201, 401),
    ("GET", _ONE): READ,
    ("PUT", _ONE): CHANGE,
    ("DELETE", _ONE): made(CHANGE, 204),
    ("GET", f"{_ONE}/shares"): CHANGE,
    ("PATCH", f"{_ONE}/shares/<share>"): made(CHANGE, 204),
    ("DELETE", f"{_ONE}/shares/<share>"): made(CHANGE, 204),
    ("POST", f"{_ONE}/invitations"): made(CHANGE, 201),
    ("POST", "api/invitations"): (201, 403, 403, 403, 403, 401),
    ("GET", f"{_ONE}/blocks"): READ,
    ("GET", _BLOCK): READ,
    ("GET", f"{_BLOCK}/revisions/<revision>"): READ,
    ("GET", f"{_BLOCK}/weeks/<week>/sessions/<session>/sheet"): SEE,
    ("GET", f"{_ONE}/facts"): SEE,
    ("GET", "api/lifts"): EVERYBODY,
    ("GET", "api/rack"): EVERYBODY,
    ("GET", "api/policy"): EVERYBODY,
    ("GET", f"{_ONE}/export"): READ,
    ("GET", "api/phone"): EVERYBODY,
    ("GET", f"{_ONE}/sheets/<block>/<week>/<session>"): SEE,
    ("POST", "api/sync"): EVERYBODY,
}

API_BODIES: dict[tuple[str, str], Callable[[people.World], dict[str, Any]]] = {
    ("POST", "api/sync"): lambda _world: people.message(),
    ("POST", "api/lifters"): lambda _world: {"document": {"name": "Nobody Yet"}},
    ("PUT", _ONE): lambda world: {"version": 1, "document": world.lifter.document},
    ("PATCH", f"{_ONE}/shares/<share>"): lambda _world: {"sees": "history"},
    ("POST", f"{_ONE}/invitations"): lambda _world: {"role": "partner"},
    ("POST", "api/invitations"): lambda _world: {"role": "coach"},
}
API_QUERIES: dict[tuple[str, str], str] = {
    ("GET", "api/rack"): "?load=82.5",
    ("DELETE", _ONE): "?name=Mara%20Invented",
}
