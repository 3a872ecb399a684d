"""What a log must not hold: the link that lets its bearer in."""

import logging
import re

_LINK = re.compile(r"(/join/)[^/\s\"']+")


class WithoutLinks(logging.Filter):
    """Writes `/join/...` where a message has a whole one."""

    def filter(self, record: logging.LogRecord) -> bool:
        message = record.getMessage()
        if "/join/" in message:
            record.msg, record.args = _LINK.sub(r"\1...", message), ()
        return True
