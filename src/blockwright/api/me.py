"""Who I am to the site."""

from datetime import date
from typing import Any, Literal

from django.http import HttpRequest
from django.utils import timezone
from ninja import Router, Schema

from blockwright.api import whose
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.verbs.phone_home import today_of

router = Router()


class Me(Schema):
    """The account that calls; `today` is the date where the person is."""

    name: str
    sign_in_name: str
    role: Literal["owner", "coach", "partner", "lifter"]
    units: Literal["kg", "lb"]
    zone: str
    today: date
    may_add_lifters: bool


@router.get("/me", response={200: Me, **ERRORS}, summary="Who I am", description=whose.ANYONE)
def me(request: HttpRequest) -> dict[str, Any]:
    person = person_of(request)
    return {
        "name": person.name,
        "sign_in_name": person.sign_in_name,
        "role": person.role,
        "units": person.units,
        "zone": person.zone,
        "today": today_of(person, timezone.now()),
        "may_add_lifters": person.may_add_lifters,
    }
