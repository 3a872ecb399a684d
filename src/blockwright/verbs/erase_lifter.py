"""Everything about one lifter: given away in one archive (the command line's files, and all rows as
JSON), or erased. What stays is that it was done, without a name."""

import re
import secrets
from collections.abc import Iterable
from threading import Timer
from typing import Any

from django.db import connection, transaction
from django.db.models import ProtectedError

from blockwright.accounts.models import Invitation, User
from blockwright.accounts.throttle import forget_names
from blockwright.files.archive_zip import exact_json, zipped
from blockwright.files.facts_csv import checkins_csv, sets_csv
from blockwright.files.lifter_file import toml_text
from blockwright.store.archive_rows import lifter_tables
from blockwright.store.blocks import revisions_of
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import facts_of
from blockwright.store.models import Erasure, Fact, HouseFrame, Lifter, LiftName, Share

AGAIN_S = 60.0  # Between two tries to empty a journal that is being read


def erase_lifter(row: Lifter) -> None:
    """Deletes the lifter's rows of every table, and the account that was theirs alone.

    Backups made before keep what they hold; the page says so."""
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
    (The database itself overwrites what is deleted: `secure_delete`.) While somebody reads an older
    state, a backup say, neither can be done: then once they have gone."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            (is_read, *_) = cursor.fetchone()
        if is_read:
            later = Timer(AGAIN_S, _empty_journal_later)
            later.daemon = True
            later.start()


def _empty_journal_later() -> None:
    try:
        _empty_journal()
    finally:
        connection.close()


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


FORMAT = "blockwright/lifter-export/2"

_README = """Everything this site knew about {name}.

lifter.toml            the lifter file
sets.csv               sets that stand, as `blockwright check` and `plan` read them
checkins.csv           check-ins that stand
blocks/                every revision of every block
everything.json        every row: facts with amendments and withdrawals, times of the phone and of
                       the server, letters, decisions, who has access; `people` names their numbers
"""


def export_lifter(row: Lifter) -> bytes:
    """A ZIP archive; the same rows give the same bytes."""
    facts = facts_of(row)
    files = {
        "README.txt": _README.format(name=row.name),
        **files_for_people(row, facts),
        "everything.json": exact_json(_everything(row)),
    }
    for revision in revisions_of(row):
        files[f"blocks/block-{revision.start}-r{revision.revision}.json"] = exact_json(
            revision.document
        )
    return zipped(files)


def files_for_people(row: Lifter, facts: list[Fact]) -> dict[str, str]:
    return {
        "lifter.toml": toml_text(row.document),
        "sets.csv": sets_csv(sets_done(facts)),
        "checkins.csv": checkins_csv(checkins(facts)),
    }


_PEOPLE = ("person_id", "by_id", "made_by_id")


def _everything(row: Lifter) -> dict[str, Any]:
    """Every row as the site's archive has it, and who its numbers of people are."""
    tables = lifter_tables(row)
    rows = (one for table in tables.values() if isinstance(table, list) for one in table)
    numbers = {one[key] for one in rows for key in _PEOPLE if key in one}
    people = User.objects.filter(pk__in=numbers).order_by("pk").values_list("pk", "name")
    return {"format": FORMAT, **tables, "people": {str(number): name for number, name in people}}
