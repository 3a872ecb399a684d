"""Erases everything about one lifter. What stays is that it was done, without a name."""

import secrets

from django.db import transaction
from django.db.models import ProtectedError

from blockwright.accounts.models import Invitation, User
from blockwright.store.models import Erasure, Lifter, Share


def erase_lifter(row: Lifter) -> None:
    """Deletes the lifter's rows of every table, and the account that was theirs alone.

    Backups made before keep what they hold; the page says so.
    """
    with transaction.atomic():
        own = list(
            User.objects.filter(shares__lifter=row, shares__kind=Share.SELF, role=User.LIFTER)
        )
        Erasure.objects.get_or_create(lifter_key=row.key)
        Invitation.objects.filter(lifter_key=row.key).delete()
        row.delete()
        for person in own:
            if not person.shares.exists():
                _erase_account(person)


def _erase_account(person: User) -> None:
    """Deletes an account; where it logged for others, only its name and its key go."""
    try:
        with transaction.atomic():
            person.delete()
    except ProtectedError:
        person.name = "erased"
        person.sign_in_name = f"erased-{secrets.token_hex(8)}"
        person.is_active = False
        person.set_unusable_password()
        person.save()
