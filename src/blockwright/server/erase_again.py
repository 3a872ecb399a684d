"""The process that repeats erasures after a restore.

`blockwright restore` starts it (`python -m blockwright.server.erase_again KEY...`) on the data
folder that the environment names.
"""

import os
import sys


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "blockwright.server.settings")
    import django

    django.setup()
    from django.core.management import call_command

    from blockwright.verbs.erase_lifter import erase_again

    call_command("migrate", verbosity=0, interactive=False)
    erase_again(sys.argv[1:])


if __name__ == "__main__":
    main()
