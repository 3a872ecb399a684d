"""The process that searches for one block: `python -m blockwright.server.composer NUMBER PARENT`.

The site starts it (`verbs.search_block.launch`), so that no request waits for a search, and may be
gone before this one is ready to look."""

import contextlib
import os
import sys


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "blockwright.server.settings")
    import django

    django.setup()
    from blockwright.verbs.search_block import run_search
    from .parent import end_with_the_parent

    end_with_the_parent(int(sys.argv[2]))
    # The site's pages come first on a small machine.
    with contextlib.suppress(AttributeError, OSError):
        os.nice(5)
    run_search(int(sys.argv[1]))


if __name__ == "__main__":
    main()
