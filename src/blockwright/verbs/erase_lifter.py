"""Erases everything about one lifter. What stays is that it was done, without a name."""

import re
import secrets
from collections.abc import Iterable

from django.db import connection, transaction
from django.db.models import ProtectedError

from blockwright.accounts.models import Invitation, User
from blockwright.accounts.throttle import forget_names
from blockwright.store.models import Erasure, HouseFrame, Lifter, LiftName, Share


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
        _forget_words(row)
        row.delete()
        for person in own:
            if not person.shares.exists():
                forget_names([person.sign_in_name])
                _erase_account(person)
    transaction.on_commit(_empty_journal)


def _forget_words(row: Lifter) -> None:
    """What coaches keep for everybody says this lifter's name, or the name of a lift of theirs, no
    more: remembered names of lifts go, a template is called otherwise."""
    own = {str(lift.get("name", "")).casefold() for lift in row.document.get("lift", [])}
    words = [re.escape(word) for word in row.name.split() if len(word) > 2] or ["(?!)"]
    name = re.compile(rf"\b({'|'.join(words)})\b", re.IGNORECASE)
    for known in LiftName.objects.all():
        said = (known.typed, known.lift)
        if own & {one.casefold() for one in said} or any(map(name.search, said)):
            known.delete()
    for frame in HouseFrame.objects.all():
        if name.search(frame.name):
            frame.name = f"{name.sub('', frame.name).strip() or 'template'} {frame.pk}"[:100]
            frame.save(update_fields=["name"])


def erase_again(keys: Iterable[str]) -> None:
    """Erases those of the lifters who are back: a backup from before their erasure was restored."""
    for key in keys:
        row = Lifter.objects.filter(key=key).first()
        if row is None:
            Erasure.objects.get_or_create(lifter_key=key)
        else:
            erase_lifter(row)


def _empty_journal() -> None:
    """SQLite's journal keeps what was written until it is overwritten; it is emptied at once.
    (The database itself overwrites what is deleted: `secure_delete`.)"""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")


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
