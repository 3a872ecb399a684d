"""What the server runs."""

import os

from django.conf import settings
from django.core.wsgi import get_wsgi_application

from .front import Front

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "blockwright.server.settings")


def _read_everything() -> None:
    """Pages, catalogue and policy, a second's reading: whoever comes first to each of the server's
    processes must not wait for it."""
    from django.urls import get_resolver

    from blockwright.files.catalogue import builtin_catalogue
    from blockwright.files.policy_files import default_policy

    get_resolver().check()
    builtin_catalogue()
    default_policy()


application = Front(get_wsgi_application(), public_url=settings.PUBLIC_URL)
_read_everything()
