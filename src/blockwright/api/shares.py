"""Who I am to the site; who has access to a lifter: seen, ended, and invited by a one-time link
that can be withdrawn."""

from datetime import date, datetime
from typing import Annotated, Any, Literal
from uuid import UUID

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from ninja import Schema, Status
from pydantic import Field

from blockwright.accounts.models import Invitation, User
from blockwright.store.access import person_of
from blockwright.verbs.invitations import (
    end_share,
    invite,
    open_invitations,
    share_more_or_less,
    shares_of,
    withdraw_invitation,
)
from blockwright.verbs.phone_home import today_of
from . import calls
from .calls import Calls
from .signed_in import changing, lifter_of
from .values import Key, Number, Strict, told

Sees = Literal["sheets", "history"]
me_calls = Calls("Me")


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


@me_calls.reads("/me", Me, calls.ANYONE)
def me(request: HttpRequest) -> User:
    """Who I am."""
    return person_of(request)


router = Calls("Access")


class ShareOut(Schema):
    """One person's access to one lifter."""

    id: int
    name: Annotated[str, Field(validation_alias="person.name")]
    kind: Literal["coach", "self", "partner"]
    sees: Sees | None = told("Of a partner: sheets alone, or block, letters and strength too.")

    @staticmethod
    def resolve_sees(share: Any) -> str | None:
        return share.sees if share.kind == "partner" else None


class InviteIn(Strict):
    """Whom the link makes: the lifter themselves, or a training partner of theirs."""

    role: Literal["lifter", "partner"]
    sees: Sees = told("What a partner will see; a lifter sees everything of their own.", "sheets")


class ShareChange(Strict):
    """What a training partner sees from now on."""

    sees: Sees


class CoachInviteIn(Strict):
    role: Literal["coach"]


class OpenInvitationOut(Schema):
    """A link that was made and can still be used; the link itself is kept nowhere."""

    id: int
    role: Literal["coach", "lifter", "partner"]
    lifter: UUID | None = told("Whom it leads to; none for a coach.")
    sees: Sees | None
    made_by: Annotated[str, Field(validation_alias="made_by.name")]
    made_at: datetime
    until: datetime

    @staticmethod
    def resolve_lifter(one: Any) -> UUID | None:
        return one.lifter_key  # type: ignore[no-any-return]

    @staticmethod
    def resolve_sees(one: Any) -> str | None:
        return one.sees if one.role == "partner" else None


class InviteOut(Schema):
    """A link that works once; it is shown this once and kept nowhere."""

    path: str
    until: datetime


@router.reads("/lifters/{lifter}/shares", list[ShareOut], calls.CHANGE)
def shares(request: HttpRequest, lifter: Key) -> Any:
    """Who has access. The owner, who has access to everyone, is not listed."""
    return shares_of(lifter_of(request, lifter, "change"))


@router.changes("/lifters/{lifter}/shares/{share}", {204: None}, calls.CHANGE, method="PATCH")
def share_more(request: HttpRequest, lifter: Key, share: Number, wish: ShareChange) -> Status[None]:
    """Share more or less with a training partner."""
    share_more_or_less(lifter_of(request, lifter, "change"), share, wish.sees)
    return Status(204, None)


@router.ends("/lifters/{lifter}/shares/{share}", calls.CHANGE)
def end(request: HttpRequest, lifter: Key, share: Number) -> Status[None]:
    """End somebody's access. What the person logged stays."""
    end_share(lifter_of(request, lifter, "change"), share)
    return Status(204, None)


@router.changes("/lifters/{lifter}/invitations", {201: InviteOut}, calls.CHANGE)
def invite_to(request: HttpRequest, lifter: Key, wish: InviteIn) -> Status[InviteOut]:
    """Invite the lifter, or a training partner."""
    (person, row), now = changing(request, lifter), timezone.now()
    return _invited(invite(person, wish.role, row, now, wish.sees), now)


@router.changes("/invitations", {201: InviteOut}, calls.OWNER)
def invite_coach(request: HttpRequest, wish: CoachInviteIn) -> Status[InviteOut]:
    """Invite a coach."""
    now = timezone.now()
    return _invited(invite(person_of(request), wish.role, None, now), now)


@router.reads("/invitations", list[OpenInvitationOut], calls.ANYONE)
def invitations(request: HttpRequest) -> Any:
    """Open invitations. Those they may withdraw: the owner all, a coach those to the lifters they
    may change, whoever made them."""
    return open_invitations(person_of(request), timezone.now())


@router.ends("/invitations/{invitation}", calls.CHANGE)
def withdraw(request: HttpRequest, invitation: Number) -> Status[None]:
    """Withdraw an invitation. One to be a coach: the owner. Its link leads nowhere from then on. An
    invitation also ends when its maker may not change the lifter any more."""
    withdraw_invitation(person_of(request), invitation)
    return Status(204, None)


def _invited(token: str, now: datetime) -> Status[InviteOut]:
    out = InviteOut(path=reverse("join", args=[token]), until=now + Invitation.LASTS)
    return Status(201, out)
