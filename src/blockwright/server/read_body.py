"""Reads a request's body before a thread is taken for it: a size limit, a deadline, no thread held.

A phone that loses its signal in the middle of a message, or somebody who means it, holds a
connection and a little memory, never one of the threads that answer.
"""

import asyncio
import contextlib
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from tempfile import SpooledTemporaryFile
from typing import Any

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]

MOST_BYTES = 20 * 1024 * 1024
"""A form with one file of the most bytes (`web.request_values`) and some smaller ones."""
PATIENCE_S = 20.0
"""What a body may take whatever its size: a phone that finishes within 15 s is heard."""
LEAST_BYTES_PER_S = 8 * 1024
"""A larger body has this much longer: 8 MB over a poor mobile line take some quarter of an hour."""
IN_MEMORY_BYTES = 64 * 1024
"""Of one body; more waits on disk."""
MOST_HELD_BYTES = 256 * 1024 * 1024
"""Of all bodies that one process is reading or answering; more is asked to come later."""

Body = SpooledTemporaryFile[bytes]


class Refused(Exception):
    """A body that is not read to its end: the status and the words of the answer."""

    def __init__(self, status: int, code: str, says: str, mend: str) -> None:
        super().__init__(says)
        self.status, self.code, self.says, self.mend = status, code, says, mend


class Gone(Exception):
    """The client has left; nobody waits for an answer."""


def _too_large() -> Refused:
    says = f"more than {MOST_BYTES // 2**20} MB at once"
    return Refused(413, "too_much", says, "send a part at a time")


def _too_slow() -> Refused:
    says = "the rest of the message did not come in time"
    return Refused(408, "too_slow", says, "send it again where the connection is better")


def busy() -> Refused:
    return Refused(503, "busy", "the site has too much to do just now", "try again in a minute")


class BodyReader:
    """Reads bodies for one process and knows how many bytes it holds."""

    def __init__(self) -> None:
        self._held = 0

    @contextlib.asynccontextmanager
    async def body(self, headers: Iterable[tuple[bytes, bytes]], receive: Receive) -> Any:
        """The whole body, at its beginning. Raises Refused (413, 408, 503) or Gone."""
        if (said := content_length(headers)) is not None and said > MOST_BYTES:
            raise _too_large()
        size = 0
        with SpooledTemporaryFile(max_size=IN_MEMORY_BYTES) as body:
            try:
                async for chunk in _chunks(receive):
                    size += len(chunk)
                    self._held += len(chunk)
                    if size > MOST_BYTES:
                        raise _too_large()
                    if self._held > MOST_HELD_BYTES:
                        raise busy()
                    body.write(chunk)
                body.seek(0)
                yield body
            finally:
                self._held -= size


def content_length(headers: Iterable[tuple[bytes, bytes]]) -> int | None:
    said = next((value for name, value in headers if name.lower() == b"content-length"), b"")
    return int(said) if said.isdigit() else None


async def _chunks(receive: Receive) -> Any:
    """The body's parts as they come, up to the deadline that grows with what has come."""
    clock = asyncio.get_running_loop().time
    ends, more = clock() + PATIENCE_S, True
    while more:
        try:
            message = await asyncio.wait_for(receive(), max(0.0, ends - clock()))
        except TimeoutError as error:
            raise _too_slow() from error
        if message["type"] == "http.disconnect":
            raise Gone
        chunk = message.get("body", b"")
        ends += len(chunk) / LEAST_BYTES_PER_S
        more = bool(message.get("more_body"))
        yield chunk
