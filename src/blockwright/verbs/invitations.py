"""Lets people in: the owner's one-time link, invitations, and the accounts made from them;
shows who has access to a lifter and takes it away.

An invitation is as good as its maker's rights: a coach who may not change a lifter any more lets
nobody in to that lifter, not even themselves, by a link made before."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import Http404

from blockwright.accounts.models import Invitation, Role, User
from blockwright.engine.errors import BadInput
from blockwright.store.access import or_404, rights_for
from blockwright.store.models import Lifter, Share


def owner_link_token(now: datetime, *, another: bool = False) -> str | None:
    """A new one-time token for the owner's account; None when there is an owner, unless `another`
    is wanted (a forgotten password). An owner from an archive, without a password, gets their own
    account back. Older tokens of the kind end here."""
    with transaction.atomic():
        owners = list(User.objects.filter(role=User.OWNER).order_by("pk"))
        if not another and any(one.has_usable_password() for one in owners):
            return None
        back = next((one for one in owners if one.is_active and not another), None)
        Invitation.objects.filter(role=User.OWNER, used_at=None).delete()
        return _made(now, role=User.OWNER, person=back)


def _made(now: datetime, **of: Any) -> str:
    """The token of a new invitation; the link itself is kept nowhere."""
    token = Invitation.new_token()
    Invitation.objects.create(token_hash=Invitation.hashed(token), made_at=now, **of)
    return token


def invite(
    by: User, role: Role, lifter: Lifter | None, now: datetime, sees: str = Share.SHEETS
) -> str:
    """A one-time token for a coach (by the owner), for a lifter themselves, or for a partner, who
    then sees `sees`. BadInput when that cannot be shared.

    The caller has checked that `by` may change `lifter`."""
    if role == User.OWNER or (role == User.COACH and not by.is_owner):
        raise PermissionDenied
    if (lifter is None) != (role == User.COACH):
        raise ValueError("a lifter or partner is invited to one lifter, a coach to none")
    key = None if lifter is None else lifter.key
    return _made(now, role=role, lifter_key=key, sees=seen(sees), made_by=by)


def without_password() -> list[User]:
    """Who came from an archive and has not been let in again, by name."""
    found = User.objects.filter(is_active=True).order_by("name", "pk")
    return [one for one in found if not one.has_usable_password()]


def invite_back(by: User, number: int, now: datetime) -> tuple[str, User]:
    """A one-time token with which one of `without_password` gets their account again; and who.
    Only the owner may. Http404 for anybody else."""
    if not by.is_owner:
        raise PermissionDenied
    waiting = (one for one in without_password() if one.pk == number)
    person = or_404(next(waiting, None), "account that waits for a link")
    Invitation.objects.filter(person=person, used_at=None).delete()
    return _made(now, role=person.role, person=person, made_by=by), person


def open_invitation(token: str, now: datetime) -> Invitation | None:
    """The invitation of a token while it can be used."""
    found = Invitation.objects.filter(token_hash=Invitation.hashed(token)).first()
    return found if found is not None and found.is_open(now) and _stands(found) else None


def open_invitations(person: User, now: datetime) -> list[Invitation]:
    """Those this person may withdraw, with their lifter, the oldest first: the owner every one, a
    coach those to the lifters they may change, whoever made them."""
    return [one for one in _to_withdraw(person) if one.is_open(now) and _stands(one)]


def withdraw_invitation(person: User, number: int) -> UUID | None:
    """Takes an open invitation back for good; the lifter it was to. Http404 for one that is used,
    or that this person may not withdraw."""
    found = (one for one in _to_withdraw(person) if one.pk == number)
    invitation = or_404(next(found, None), "invitation")
    invitation.delete()
    return invitation.lifter_key


def _to_withdraw(person: User) -> list[Invitation]:
    asked = Invitation.objects.filter(used_at=None, made_by__isnull=False).order_by("made_at", "pk")
    made = list(asked.select_related("made_by"))
    lifters = Lifter.objects.in_bulk([one.lifter_key for one in made if one.lifter_key])
    for one in made:
        one.lifter = lifters.get(one.lifter_key) if one.lifter_key else None
    return [one for one in made if _may_invite(person, one.lifter)]


def _may_invite(person: User, lifter: Lifter | None) -> bool:
    """To a lifter whoever may change them, to the site as a coach (no lifter) the owner."""
    if lifter is None:
        return person.is_active and person.is_owner
    return "change" in rights_for(person, lifter)


def _stands(invitation: Invitation) -> bool:
    """Whether its maker may still invite so; the link of the first start has no maker. An account
    is given back once."""
    if invitation.person is not None and invitation.person.has_usable_password():
        return False
    maker, key = invitation.made_by, invitation.lifter_key
    if maker is None:
        return True
    lifter = None if key is None else Lifter.objects.filter(key=key).first()
    return (lifter is not None or key is None) and _may_invite(maker, lifter)


@dataclass(frozen=True, slots=True, kw_only=True)
class NewAccount:
    """What the form of a link asks for; the password is checked already."""

    sign_in_name: str
    name: str
    password: str
    zone: str


def accept(token: str, account: NewAccount, now: datetime) -> User:
    """Makes the account and what it may see. A link works once, whoever is quicker.

    BadInput when the link is used up or the sign-in name is taken."""
    with transaction.atomic():
        invitation = _used(token, now)
        named = User.objects.filter(sign_in_name__iexact=account.sign_in_name.strip())
        if named.exclude(pk=invitation.person_id or 0).exists():
            raise BadInput.of("somebody has this name", "choose another", column="sign_in_name")
        if invitation.person is None:
            role: Any = invitation.role
            user = User.objects.create_user(
                account.sign_in_name, account.password, name=account.name, role=role
            )
        else:
            user = invitation.person
            user.sign_in_name, user.name = account.sign_in_name.strip(), account.name.strip()
            user.set_password(account.password)
        user.zone = account.zone
        user.save()
        _share(user, invitation)
    return user


def join_with(token: str, person: User, now: datetime) -> None:
    """Somebody who has an account already takes up an invitation to one more lifter."""
    with transaction.atomic():
        invitation = _used(token, now)
        if invitation.lifter_key is None:
            raise _closed()
        _share(person, invitation)


def _used(token: str, now: datetime) -> Invitation:
    """The invitation, used up now, whoever is quicker. Needs a transaction: BadInput for one that
    cannot be used must leave it as it was."""
    hashed = Invitation.hashed(token)
    found = Invitation.objects.filter(token_hash=hashed, used_at=None)
    invitation = found.first()
    works = invitation is not None and invitation.is_open(now) and _stands(invitation)
    if invitation is None or not (works and found.update(used_at=now)):
        raise _closed()
    return invitation


def _closed() -> BadInput:
    return BadInput.of("this link was used or withdrawn, or is too old", "ask for a new one")


def _share(person: User, invitation: Invitation) -> None:
    if invitation.lifter_key is None:
        return
    lifter = Lifter.objects.filter(key=invitation.lifter_key).first()
    if lifter is None:
        raise BadInput.of("the lifter of this link is not here any more", "ask for a new one")
    kind = Share.SELF if invitation.role == User.LIFTER else Share.PARTNER
    made = {"kind": kind, "sees": invitation.sees}
    Share.objects.get_or_create(lifter=lifter, person=person, defaults=made)


# ---------------------------------------------------------------------------------- who has access
CHOICES = dict(Share.SEEN)  # What a partner may see: word to words
LEAST = Share.SHEETS


def shares_of(lifter: Lifter) -> list[Share]:
    """Everyone with access beside the owner, coaches first."""
    return list(lifter.shares.select_related("person").order_by("kind", "person__name"))


def end_share(lifter: Lifter, share: int) -> None:
    """Ends one access, and the open invitations that person made to the lifter; what the person
    logged stays. Http404 for another lifter's."""
    with transaction.atomic():
        ended = or_404(Share.objects.filter(lifter=lifter, pk=share).first(), "access")
        made = Invitation.objects.filter(made_by=ended.person, lifter_key=lifter.key, used_at=None)
        if not ended.person.is_owner:
            made.delete()
        ended.delete()


def share_more_or_less(lifter: Lifter, share: int, sees: str) -> None:
    """Lets a partner see `sees` from now on. BadInput for another word, Http404 for another
    lifter's access or one that is no partner's."""
    changed = Share.objects.filter(lifter=lifter, pk=share, kind=Share.PARTNER)
    if not changed.update(sees=seen(sees)):
        raise Http404("no such access")


def seen(word: str) -> str:
    """What a partner may see; BadInput for another word."""
    if word not in CHOICES:
        mend = f"choose {' or '.join(CHOICES)}"
        raise BadInput.of(f'"{word}" cannot be shared', mend, column="sees")
    return word
