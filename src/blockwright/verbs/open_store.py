"""Opens the site's database for a command, without serving the site."""

import os
from pathlib import Path

from blockwright.store.folder import (
    ENVIRONMENT,
    database_file,
    made_folder,
    require_sound,
    secret_key,
)


def open_store(data: Path | None) -> Path:
    """Sets Django up on the data folder and brings its database up to date; the folder.

    May run beside a server of the same folder. BadInput when the folder cannot be made.
    """
    # What the site writes is for the person who runs it.
    os.umask(0o077)
    folder = made_folder(data)
    if not os.environ.get("BLOCKWRIGHT_DATABASE_URL"):
        require_sound(database_file(folder))
    secret_key(folder)
    os.environ[ENVIRONMENT] = str(folder)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "blockwright.server.settings")
    import django

    django.setup()
    from django.core.management import call_command

    call_command("migrate", verbosity=0, interactive=False)
    return folder
