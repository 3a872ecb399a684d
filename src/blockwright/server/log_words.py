"""What a log must not hold: the link that lets its bearer in, and addresses without end."""

import logging
import re

_LINK = re.compile(r"(/join/)[^/\s\"']+")


MOST_LETTERS = 500
"""A stranger writes an address of 64 kB into each line."""


class WithoutLinks(logging.Filter):
    """Writes `/join/...` where a message has a whole one, and cuts what is too long."""

    def filter(self, record: logging.LogRecord) -> bool:
        message = _LINK.sub(r"\1...", record.getMessage())
        record.msg, record.args = message[:MOST_LETTERS], ()
        return True
