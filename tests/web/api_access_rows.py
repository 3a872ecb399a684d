"""The rows of the API in the access table, and a sound body for each call that takes one."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from django.utils import timezone

import people
from blockwright.accounts.models import Invitation
from blockwright.store.blocks import add_search
from blockwright.store.models import Composing, Share
from blockwright.verbs.write_letter import write_letter

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
    ("GET", "api/openapi.json"): EVERYBODY,
    ("GET", "api/"): (404,) * 6,
    ("GET", "api/<path:rest>"): (404,) * 6,
    ("GET", "api/me"): EVERYBODY,
    ("GET", "api/lifters"): EVERYBODY,
    ("GET", "api/roster"): (200, 200, 403, 403, 200, 401),
    ("GET", "api/evening"): (200, 200, 403, 403, 200, 401),
    ("POST", "api/evening"): (200, 200, 403, 403, 200, 401),
    ("POST", "api/lifters"): (201, 201, 403, 403, 201, 401),
    ("GET", _ONE): READ,
    ("PUT", _ONE): CHANGE,
    ("DELETE", _ONE): made(CHANGE, 204),
    ("GET", f"{_ONE}/shares"): CHANGE,
    ("PATCH", f"{_ONE}/shares/<share>"): made(CHANGE, 204),
    ("DELETE", f"{_ONE}/shares/<share>"): made(CHANGE, 204),
    ("POST", f"{_ONE}/invitations"): made(CHANGE, 201),
    ("POST", "api/invitations"): (201, 403, 403, 403, 403, 401),
    ("GET", "api/invitations"): EVERYBODY,
    ("DELETE", "api/invitations/<invitation>"): (204, 204, 404, 404, 404, 401),
    ("GET", f"{_ONE}/blocks"): READ,
    ("GET", _BLOCK): READ,
    ("GET", f"{_BLOCK}/revisions/<revision>"): READ,
    ("POST", f"{_ONE}/composings"): made(CHANGE, 202),
    ("POST", f"{_BLOCK}/rest"): made(CHANGE, 409),
    ("POST", f"{_BLOCK}/changes/preview"): made(CHANGE, 409),
    ("POST", f"{_BLOCK}/changes"): made(CHANGE, 409),
    ("GET", f"{_ONE}/composings/<composing>"): CHANGE,
    ("DELETE", f"{_ONE}/composings/<composing>"): made(CHANGE, 204),
    ("GET", f"{_ONE}/letters"): READ,
    ("POST", f"{_ONE}/letters"): made(CHANGE, 201),
    ("GET", f"{_ONE}/letters/<letter>"): READ,
    ("GET", f"{_ONE}/letters/<letter>/decisions"): READ,
    # The letter of this small world proposes nothing: accepted, it makes no revision.
    ("POST", f"{_ONE}/letters/<letter>/decisions"): CHANGE,
    ("GET", f"{_ONE}/ledger"): READ,
    ("GET", f"{_ONE}/estimate"): READ,
    ("GET", f"{_ONE}/backtest"): READ,
    # Nothing of the block is done in this small world.
    ("GET", f"{_BLOCK}/report"): made(READ, 409),
    ("GET", f"{_BLOCK}/sets"): READ,
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

_CHANGE = {
    "revision": 1,
    "change": {"kind": "missed", "week": 1, "session": 9},
}
API_BODIES: dict[tuple[str, str], Callable[[people.World], dict[str, Any]]] = {
    ("POST", "api/sync"): lambda _world: people.message(),
    ("POST", f"{_ONE}/composings"): lambda _world: {"start": "2036-01-07"},
    ("POST", f"{_BLOCK}/rest"): lambda _world: {"revision": 7},
    ("POST", f"{_BLOCK}/changes/preview"): lambda _world: _CHANGE,
    ("POST", f"{_BLOCK}/changes"): lambda _world: _CHANGE,
    ("POST", f"{_ONE}/letters"): lambda _world: {"through": "2026-01-11"},
    ("POST", f"{_ONE}/letters/<letter>/decisions"): lambda _world: {
        "seen_revision": 1,
        "decisions": [],
        "accept_open": True,
    },
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


def api_places(route: str, world: people.World) -> list[tuple[str, object]]:
    """What stands in an address of the API, made where the route asks for it."""
    return [
        ("<lifter>", world.lifter.key),
        ("<invitation>", Invitation.objects.get(made_by__isnull=False).pk),
        ("<share>", Share.objects.get(person=world.pim).pk),
        ("<start>", "2026-01-05"),
        ("<block>", "2026-01-05"),
        ("<revision>", 1),
        ("<week>", 1),
        ("<session>", 1),
        ("<path:rest>", "nowhere"),
        ("<letter>", _letter(world) if "<letter>" in route else 0),
        ("<composing>", _search(world) if "<composing>" in route else 0),
    ]


def _letter(world: people.World) -> int:
    return int(write_letter(world.lifter, people.MONDAY + timedelta(days=7)).letter.pk)


def _search(world: people.World) -> int:
    now = timezone.now()
    asked = {"previous": None, "revision": 0, "today": now.date().isoformat()}
    start = date(2036, 1, 7)
    search = add_search(world.lifter, Composing.BLOCK, start, asked, world.cato, now)
    return int(search.pk)
