"""The demo's people in a site: their files, taken as anybody's would be, and the coach's account.

Runs in a process of its own: the server that follows reads its settings afresh."""

import os
import secrets
from pathlib import Path

from blockwright.files.lifter_file import read_lifter
from blockwright.store.folder import DATABASE_URL
from blockwright.verbs.open_store import take_files
from .cast import CAST, COACH, NEWCOMER
from .folder import Folder, lifter_text


def made_site(root: Path, data: Path) -> None:
    """A new site in `data`: everyone played in `root`, the newcomer, and the coach as its owner."""
    # The demo's people belong in no site that is in use.
    os.environ.pop(DATABASE_URL, None)
    take_cast(root, data)
    take_files([newcomer_file(root)], data=data)
    _open_account(read_lifter(Folder(root / COACH.key).lifter).value.name)


def take_cast(root: Path, data: Path) -> None:
    """Takes everyone played in `root` into the site of `data`."""
    for person in CAST:
        take_files(files_to_take(Folder(root / person.key)), data=data)


def files_to_take(folder: Folder) -> list[Path]:
    """The lifter as they begin the last block, both logs, every block and every letter."""
    lifter = folder.next_lifter if folder.next_lifter.exists() else folder.lifter
    blocks = sorted((folder.root / "blocks").glob("*.json"))
    return [lifter, folder.sets, folder.checkins, *blocks, *folder.all_proposals()]


def newcomer_file(root: Path) -> Path:
    """The lifter file of who came in today, written if need be."""
    file = root / NEWCOMER / "lifter.toml"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(lifter_text(NEWCOMER), encoding="utf-8")
    return file


def _open_account(name: str) -> None:
    """The owner's account by the owner's own link; its password is nobody's, since the link of
    the demo signs in. The coach is shared their own training as any lifter is."""
    from django.db import connections
    from django.utils import timezone

    from blockwright.accounts.models import User
    from blockwright.store.roster import coached_by
    from blockwright.verbs.invitations import (
        NewAccount,
        accept,
        invite,
        join_with,
        owner_link_token,
    )

    now = timezone.now()
    try:
        token = owner_link_token(now)
        if token is None:
            return
        account = NewAccount(
            sign_in_name=COACH.key, name=name, password=secrets.token_urlsafe(24), zone=""
        )
        owner = accept(token, account, now)
        own = coached_by(owner).get(name=name)
        join_with(invite(owner, User.LIFTER, own, now), owner, now)  # type: ignore[arg-type]
    finally:
        connections.close_all()
