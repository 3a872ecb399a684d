"""Who I am to the site."""

from datetime import date
from typing import Literal

from django.http import HttpRequest
from django.utils import timezone
from ninja import Router, Schema

from blockwright.accounts.models import User
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

    @staticmethod
    def resolve_today(person: User) -> date:
        return today_of(person, timezone.now())


@router.get("/me", response={200: Me, **ERRORS}, summary="Who I am", description=whose.ANYONE)
def me(request: HttpRequest) -> User:
    return person_of(request)
