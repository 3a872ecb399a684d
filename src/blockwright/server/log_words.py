"""What a log must not hold: the link that lets its bearer in, addresses without end, and, of a
request that was refused as it should be, where in the code."""

import logging
import re

_LINK = re.compile(r"(/join/)[^/\s\"']+")

MOST_LETTERS = 500
"""A stranger writes an address of 64 kB into each line, and a header into what it led to."""


class WithoutLinks(logging.Filter):
    """Writes `/join/...` where a line has a whole one, and cuts what is too long."""

    def filter(self, record: logging.LogRecord) -> bool:
        record.msg, record.args = _cut(record.getMessage()), ()
        if getattr(record, "status_code", 500) < 500:
            record.exc_info = None
        if record.exc_info:
            told = logging.Formatter().formatException(record.exc_info)
            record.exc_text = "\n".join(map(_cut, told.splitlines()))
        return True


def _cut(text: str) -> str:
    return _LINK.sub(r"\1...", text)[:MOST_LETTERS]
