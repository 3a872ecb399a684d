"""Every page of the site, found from its addresses, on a site filled for it.

Used by the test that walks all pages and by `tools/screenshots.py`. As a script it fills a data
folder: `python every_page.py FOLDER [DEMO]`, and prints what stands in the addresses.
"""

import os
import sys
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from phone_site import COACH, PASSWORD, TESTS, filled_by, say

NOT_PAGES: Mapping[str, str] = {
    "sign_out": "takes a form only",
    "demo_sign_in": "leads on to the first page, in the demo only",
    "phones_qr": "a drawing; the page of phones shows it",
    "worker": "a script",
    "certificate": "a file, with --https",
    "invite_coach": "takes a form only",
    "add_files": "takes a form only; shows the lifter's page",
    "settle": "takes a form only; shows the lifter's page",
    "export": "a file",
    "invite": "takes a form only",
    "withdraw_invitation": "takes a form only",
    "change_share": "takes a form only",
    "end_share": "takes a form only",
    "stop_composing": "takes a form only",
    "site_archive": "a file",
    "person_link": "takes a form only",
    "keep_template": "takes a form only; shows the block",
    "drop_template": "takes a form only",
    "block_typed": "parts of the page of the block, asked for by its script",
    "typed_lifts": "as block_typed",
    "report_paper": "a file",
}
"""Addresses that are no page to look at, by name, and why."""

PLAYED = (
    "lifter", "block_of", "block_revisions", "strength", "sets", "report", "review", "letter",
    "ledger",
)  # fmt: skip
"""What a whole block of the demo fills better than two weeks do."""
SIGNED_OUT = ("sign_in", "join")
NOWHERE = "/nowhere/"
SHEET = (
    b"Date,Exercise,Weight (kg),Reps\n",
    b'2026-01-05,Bench press,80,"8,8,7"\n',
    b"2026-01-05,Curls,12,10\n",
    b"2026-01-07,Plank,,60s\n",
)
"""A coach's own spreadsheet; its last lines ask which lift is meant and cannot be read."""


def routes() -> dict[str, str]:
    """Every address of the site's pages by name, as `web/urls.py` writes it."""
    from blockwright.web.urls import urlpatterns

    return dict(_named(urlpatterns, ""))


def _named(patterns: Iterable[Any], above: str) -> Iterator[tuple[str, str]]:
    for each in patterns:
        here = above + str(each.pattern)
        if hasattr(each, "url_patterns"):
            yield from _named(each.url_patterns, here)
        else:
            yield str(each.name), here


def pages(told: Mapping[str, Any], *, signed_in: bool = True) -> dict[str, str]:
    """Name to address, for each page a coach (or somebody signed out) may open."""
    found = {
        name: _filled_in(route, told)
        for name, route in routes().items()
        if name not in NOT_PAGES and (name in SIGNED_OUT) != signed_in
    }
    if signed_in:
        found |= {f"{name}-of-nobody-yet": address for name, address in _bare(told)}
        found |= {f"{name}-of-the-demo": address for name, address in _played(told)}
        found["nowhere"] = NOWHERE
    return found


def _played(told: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """The pages of somebody who has played a whole block, where the demo is in the site."""
    for name in PLAYED if "played" in told else ():
        yield name, _filled_in(routes()[name], told["played"])


def _bare(told: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """The pages of a lifter who has neither block nor log."""
    for name, route in routes().items():
        if name not in NOT_PAGES and "<uuid:key>" in route and route.count("<") == 1:
            yield name, _filled_in(route, {**told, "uuid:key": told["nobody"]})


def _filled_in(route: str, told: Mapping[str, Any]) -> str:
    for name, value in told.items():
        route = route.replace(f"<{name}>", str(value))
    assert "<" not in route, f"{route}: every_page.fill makes nothing for it"
    return f"/{route}"


# ------------------------------------------------------------------------------ filling a folder


def fill(folder: Path) -> dict[str, Any]:
    """A coach, a lifter in the third week of their block with letters, one of them decided on, a
    search that failed, a sheet imported and one held, and a lifter of whom nothing is known yet."""
    import review_site

    sys.path.insert(0, str(TESTS))
    seen = review_site.fill(folder)
    from django.utils import timezone

    from blockwright.accounts.models import User
    from blockwright.store.blocks import add_search, end_search
    from blockwright.store.models import Composing, Lifter, Share
    from blockwright.verbs.decide_letter import all_open, decide_letter
    from blockwright.verbs.import_batches import hold_sheets, store_batch
    from blockwright.verbs.import_files import Given
    from blockwright.verbs.invitations import invite
    from blockwright.verbs.save_lifter import add_lifter
    from blockwright.verbs.write_letter import write_letter

    now, today = timezone.now(), date.fromisoformat(seen["today"])
    coach = User.objects.get(sign_in_name=COACH)
    coach.role = User.OWNER
    coach.save(update_fields=["role"])
    row = Lifter.objects.get(key=seen["lifter"])
    start = today - timedelta(days=today.weekday() + 7)
    letter = write_letter(row, today).letter
    said = all_open(row, letter.pk, "as it says")
    decide_letter(coach, row, letter.pk, said[:1], 1)
    partner = User.objects.create_user("pim", PASSWORD, name="Pim", role="partner")
    share = Share.objects.create(person=partner, lifter=row, kind=Share.PARTNER)
    asked = {"previous": None, "revision": 0, "today": today.isoformat()}
    search = add_search(row, Composing.BLOCK, start + timedelta(days=70), asked, coach, now)
    end_search(search.pk, Composing.FAILED, {"problems": ["The search was stopped."]})
    store_batch(coach, row, hold_sheets(coach, row, [Given("old.csv", b"".join(SHEET[:2]))]), now)
    held = hold_sheets(coach, row, [Given("mine.csv", b"".join(SHEET))])
    return {
        **seen,
        "uuid:key": seen["lifter"],
        "uuid:batch": str(held.key),
        "nobody": str(add_lifter(coach, {"name": "Nobody Yet"}).value.key),
        "str:token": invite(coach, "partner", row, now),
        "number:share": share.pk,
        "number:letter": letter.pk,
        "number:search": search.pk,
        "number:revision": 1,
        "number:week": 3,
        "number:session": 1,
        "number:entry": 1,
        "day:start": start.isoformat(),
        "day:block": start.isoformat(),
    }


def with_demo(told: dict[str, Any], folder: Path, demo: Path) -> dict[str, Any]:
    """The same site with the people of a played demo in it, all coached by the coach."""
    from blockwright.accounts.models import User
    from blockwright.demo.site import take_cast
    from blockwright.store.models import Lifter, Proposals, Share

    before = set(Lifter.objects.values_list("key", flat=True))
    take_cast(demo, folder)
    coach = User.objects.get(sign_in_name=COACH)
    for row in Lifter.objects.exclude(key__in=before):
        Share.objects.get_or_create(person=coach, lifter=row, defaults={"kind": Share.COACH})
    letter = Proposals.objects.exclude(lifter__in=before).order_by("pk").last()
    if letter is None:
        return told
    played = {"uuid:key": str(letter.lifter_id), "number:letter": letter.pk}
    return told | {"played": played | {"day:start": letter.block.start.isoformat()}}


def filled(folder: Path, *more: str) -> dict[str, Any]:
    return filled_by(__file__, folder, *more)


def opened() -> None:
    """Lets a script that is no server read the addresses."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "blockwright.server.settings")
    import django

    django.setup()


if __name__ == "__main__":
    place, *played = map(Path, sys.argv[1:])
    found = fill(place)
    say(with_demo(found, place, played[0]) if played else found)
