"""The site's settings for tests: the real ones, quick hashing, no throttle, sessions in memory,
nothing in the user's data folder. BLOCKWRIGHT_DATABASE_URL lets them run on PostgreSQL, too."""

import os
import tempfile
from pathlib import Path

# Never made: tests of the site keep their database in memory and write no file.
os.environ.setdefault("BLOCKWRIGHT_DATA", str(Path(tempfile.gettempdir()) / "blockwright-tests"))

from blockwright.server.settings import *  # noqa: F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
AXES_ENABLED = False
# Rows of sessions are for `accounts/test_idle.py` and the sites that run.
SESSION_ENGINE = "django.contrib.sessions.backends.cache"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
# Nothing is collected in tests, and an absent folder is a warning.
MIDDLEWARE = [name for name in MIDDLEWARE if "whitenoise" not in name]  # noqa: F405
if DATABASES["default"]["ENGINE"].endswith("postgresql"):  # noqa: F405
    # Tests hold one connection; a pool would outlive the test database.
    DATABASES["default"]["OPTIONS"].pop("pool", None)  # noqa: F405
