"""The process that opens a restored database as the site would, before it becomes the site's.

`blockwright restore` starts it (`python -m blockwright.server.restored KEY...`) on the data folder
that the environment names: it brings the tables up to date, reads every row of them, and repeats
the erasures of the lifters named.
"""

import os
import sys
from collections import deque


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "blockwright.server.settings")
    import django

    django.setup()
    from django.apps import apps
    from django.core.management import call_command

    from blockwright.verbs.erase_lifter import erase_again

    call_command("migrate", verbosity=0, interactive=False)
    for model in apps.get_models():
        deque(model._base_manager.iterator(), maxlen=0)
    erase_again(sys.argv[1:])


if __name__ == "__main__":
    main()
