"""Lets people in: the owner's one-time link, invitations, and the accounts made from them."""

from dataclasses import dataclass
from datetime import datetime

from django.core.exceptions import PermissionDenied
from django.db import transaction

from blockwright.accounts.models import Invitation, Role, User
from blockwright.engine.errors import BadInput, Problem
from blockwright.store.models import Lifter, Share
from blockwright.verbs.shares import seen


def owner_link_token(now: datetime, *, another: bool = False) -> str | None:
    """A new one-time token for the owner's account; None when there is an owner, unless `another`
    is wanted (a forgotten password). Older tokens of the kind end here."""
    with transaction.atomic():
        if not another and User.objects.filter(role=User.OWNER).exists():
            return None
        Invitation.objects.filter(role=User.OWNER, used_at=None).delete()
        token = Invitation.new_token()
        Invitation.objects.create(
            token_hash=Invitation.hashed(token), role=User.OWNER, made_by=None, made_at=now
        )
    return token


def invite(
    by: User, role: Role, lifter: Lifter | None, now: datetime, sees: str = Share.SHEETS
) -> str:
    """A one-time token for a coach (by the owner), for a lifter themselves, or for a partner, who
    then sees `sees`. BadInput when that cannot be shared.

    The caller has checked that `by` may change `lifter`.
    """
    if role == User.OWNER or (role == User.COACH and not by.is_owner):
        raise PermissionDenied
    if (lifter is None) != (role == User.COACH):
        raise ValueError("a lifter or partner is invited to one lifter, a coach to none")
    token = Invitation.new_token()
    Invitation.objects.create(
        token_hash=Invitation.hashed(token),
        role=role,
        lifter_key=None if lifter is None else lifter.key,
        sees=seen(sees),
        made_by=by,
        made_at=now,
    )
    return token


def open_invitation(token: str, now: datetime) -> Invitation | None:
    """The invitation of a token while it can be used."""
    found = Invitation.objects.filter(token_hash=Invitation.hashed(token)).first()
    return found if found is not None and found.is_open(now) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class NewAccount:
    """What the form of a link asks for; the password is checked already."""

    sign_in_name: str
    name: str
    password: str
    zone: str


def accept(token: str, account: NewAccount, now: datetime) -> User:
    """Makes the account and what it may see. A link works once, whoever is quicker.

    BadInput when the link is used up or the sign-in name is taken.
    """
    with transaction.atomic():
        used = Invitation.objects.filter(
            token_hash=Invitation.hashed(token), used_at=None, made_at__gt=now - Invitation.LASTS
        ).update(used_at=now)
        if not used:
            raise BadInput(
                Problem(says="this link was used already, or is too old", mend="ask for a new one")
            )
        invitation = Invitation.objects.get(token_hash=Invitation.hashed(token))
        if User.objects.filter(sign_in_name__iexact=account.sign_in_name.strip()).exists():
            raise BadInput(
                Problem(column="sign_in_name", says="somebody has this name", mend="choose another")
            )
        user = User.objects.create_user(
            account.sign_in_name,
            account.password,
            name=account.name,
            role=invitation.role,  # type: ignore[arg-type]
        )
        user.zone = account.zone
        user.save(update_fields=["zone"])
        _share(user, invitation)
    return user


def join_with(token: str, person: User, now: datetime) -> None:
    """Somebody who has an account already takes up an invitation to one more lifter."""
    with transaction.atomic():
        used = Invitation.objects.filter(
            token_hash=Invitation.hashed(token),
            used_at=None,
            made_at__gt=now - Invitation.LASTS,
            lifter_key__isnull=False,
        ).update(used_at=now)
        if not used:
            raise BadInput(
                Problem(says="this link was used already, or is too old", mend="ask for a new one")
            )
        _share(person, Invitation.objects.get(token_hash=Invitation.hashed(token)))


def _share(person: User, invitation: Invitation) -> None:
    if invitation.lifter_key is None:
        return
    lifter = Lifter.objects.filter(key=invitation.lifter_key).first()
    if lifter is None:
        raise BadInput(
            Problem(says="the lifter of this link is not here any more", mend="ask for a new one")
        )
    kind = Share.SELF if invitation.role == User.LIFTER else Share.PARTNER
    made = {"kind": kind, "sees": invitation.sees}
    Share.objects.get_or_create(lifter=lifter, person=person, defaults=made)
