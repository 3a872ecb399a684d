"""The site with other files for the browser, as a newer version has: `newer_site.py WEB WORDS...`
does what `blockwright WORDS` does, with the files of the folder WEB."""

import sys

import django
from django.apps import apps

from blockwright.cli.main import run

if __name__ == "__main__":
    _, web, *words = sys.argv
    setup = django.setup

    def set_up(set_prefix: bool = True) -> None:
        setup(set_prefix)
        apps.get_app_config("web").path = web

    django.setup = set_up
    run(words)
