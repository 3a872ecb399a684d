"""The front of a process: each body is read first, without a thread; then Django answers in one of
a few threads; then the answer goes out, without a thread again.

Django stays in its plain, synchronous form: a thread of ours keeps its connection to the database
from one request to the next, which Django's own asynchronous handler cannot (docs/decisions, *The
site*). A phone that loses its signal in the middle of a message, or somebody who means it, holds a
connection and a little memory, never one of the threads that answer."""

import asyncio
import contextlib
import ipaddress
import json
import os
import re
import sys
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from http import HTTPStatus
from tempfile import SpooledTemporaryFile
from typing import Any
from urllib.parse import unquote_to_bytes, urlsplit

from .addresses import is_loopback
from .parent import end_with_the_parent

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]

MOST_BYTES = 20 * 1024 * 1024
"""A form with one file of the most bytes (`web.request_values`) and some smaller ones."""
PATIENCE_S = 20.0
"""What a body may take whatever its size: a phone that finishes within 15 s is heard."""
LEAST_BYTES_PER_S = 8 * 1024
"""A larger body has this much longer: 8 MB over a poor mobile line take some quarter of an hour."""
IN_MEMORY_BYTES = 64 * 1024  # Of one body; more waits on disk
MOST_HELD_BYTES = 256 * 1024 * 1024
"""Of all bodies that one process is reading or answering; more is asked to come later."""

Body = SpooledTemporaryFile[bytes]


class Refused(Exception):
    """A body that is not read to its end: the status and the words of the answer."""

    def __init__(self, status: int, code: str, says: str, mend: str) -> None:
        super().__init__(says)
        self.status, self.code, self.says, self.mend = status, code, says, mend


_TOO_LARGE = (
    413,
    "too_much",
    f"more than {MOST_BYTES // 2**20} MB at once",
    "send a part at a time",
)
_BROKEN = (400, "broken", "the message broke off, or its parts do not fit together",
           "send it again")  # fmt: skip
_TOO_SLOW = (408, "too_slow", "the rest of the message did not come in time",
             "send it again where the connection is better")  # fmt: skip
_BUSY = (503, "busy", "the site has too much to do just now", "try again in a minute")
_NAMELESS = (502, "proxy", "the proxy before this site does not say whose request it passes on",
             "let it set X-Forwarded-For to the address it saw")  # fmt: skip
_FULL = (507, "full", "the disk is full; nothing was changed",
         "free space on the site's machine, then try again")  # fmt: skip


class BodyReader:
    """Reads bodies for one process and knows how many bytes it holds."""

    def __init__(self) -> None:
        self._held = 0

    @contextlib.asynccontextmanager
    async def body(self, headers: Iterable[tuple[bytes, bytes]], receive: Receive) -> Any:
        """The whole body, at its beginning. Raises Refused (400, 413, 408, 503, 507)."""
        said = next((value for name, value in headers if name.lower() == b"content-length"), b"")
        if said.isdigit() and int(said) > MOST_BYTES:
            raise Refused(*_TOO_LARGE)
        size = 0
        with SpooledTemporaryFile(max_size=IN_MEMORY_BYTES) as body:
            try:
                async for chunk in _chunks(receive):
                    size += len(chunk)
                    self._held += len(chunk)
                    if size > MOST_BYTES:
                        raise Refused(*_TOO_LARGE)
                    if self._held > MOST_HELD_BYTES:
                        raise Refused(*_BUSY)
                    _keep(chunk, body)
                yield body
            finally:
                self._held -= size


def _keep(chunk: bytes, body: Body) -> None:
    try:
        body.write(chunk)
    except OSError as error:
        raise Refused(*_FULL) from error


async def _chunks(receive: Receive) -> Any:
    """The body's parts as they come, up to the deadline that grows with what has come."""
    clock = asyncio.get_running_loop().time
    ends, more = clock() + PATIENCE_S, True
    while more:
        try:
            message = await asyncio.wait_for(receive(), max(0.0, ends - clock()))
        except TimeoutError as error:
            raise Refused(*_TOO_SLOW) from error
        if message["type"] == "http.disconnect":
            # It left, or what it sends is no HTTP: one of them reads the answer.
            raise Refused(*_BROKEN)
        chunk = message.get("body", b"")
        ends += len(chunk) / LEAST_BYTES_PER_S
        more = bool(message.get("more_body"))
        yield chunk


# --------------------------------------------------------------------------------------- the front


THREADS = 4
"""Requests answered at once by each process; SQLite has one writer and Argon2 one turn, so more
would only queue elsewhere."""
MOST_WAITING = 256
"""Requests, read and ready, that wait for a thread of one process; more are told to come later."""
LATER = b"blockwright-later"
"""The header of an answer for which nothing was done yet but to look at a queue."""
BETWEEN_TURNS_S = (0.25, 0.5, 1.0, 2.0, 0.0)
"""After each look at the queue; ever longer, since a crowd that looks often is work by itself."""
CHUNK_BYTES = 64 * 1024
CHUNK_PATIENCE_S = 30.0
"""What a reader may take for one chunk of an answer before the connection is given up."""

Send = Callable[[Message], Awaitable[None]]


@dataclass(frozen=True, slots=True)
class Answer:
    status: int
    headers: list[tuple[bytes, bytes]]
    content: bytes


class Front:
    """An ASGI application around a plain (WSGI) one: reads, hands over, sends."""

    def __init__(self, answer_to: Callable[..., Any], *, public_url: str = "") -> None:
        self._answer_to = answer_to
        self._public_url = public_url
        self._reader = BodyReader()
        self._waiting = 0
        # Made at the first request: the module is read before the server's processes fork.
        self._threads: ThreadPoolExecutor | None = None

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        try:
            answer = await self._answer(scope, receive)
        except Refused as refused:
            answer = _refusal(scope, refused)
        with contextlib.suppress(TimeoutError):
            await _send(answer, send)

    async def _answer(self, scope: Message, receive: Receive) -> Answer:
        async with self._reader.body(scope["headers"], receive) as body:
            if self._waiting >= MOST_WAITING + THREADS:
                raise Refused(*_BUSY)
            if self._threads is None:
                self._threads = ThreadPoolExecutor(THREADS, thread_name_prefix="answer")
                end_with_the_parent(os.getppid())
            self._waiting += 1
            try:
                return await self._at_its_turn(scope, body)
            finally:
                self._waiting -= 1

    async def _at_its_turn(self, scope: Message, body: Body) -> Answer:
        """The answer; where Django says that a queue is full (`LATER`), asked again in a moment,
        while no thread waits."""
        loop = asyncio.get_running_loop()
        for pause_s in BETWEEN_TURNS_S:
            answer = await loop.run_in_executor(self._threads, self._answered, scope, body)
            if LATER not in (name for name, _ in answer.headers):
                break
            await asyncio.sleep(pause_s)
        return answer

    def _answered(self, scope: Message, body: Body) -> Answer:
        """In a thread: Django's answer, whole."""
        told: list[tuple[str, list[tuple[str, str]]]] = []

        def start_response(status: str, headers: list[tuple[str, str]], _error: Any = None) -> None:
            told.append((status, headers))

        environ = environ_of(scope, body)
        believe_or_drop(environ, self._public_url)
        parts = self._answer_to(environ, start_response)
        try:
            content = b"".join(parts)
        finally:
            if hasattr(parts, "close"):
                parts.close()
        status, headers = told[-1]
        coded = [(name.lower().encode(), value.encode("latin-1")) for name, value in headers]
        return Answer(int(status.split(" ", 1)[0]), coded, content)


def environ_of(scope: Message, body: Body) -> dict[str, Any]:
    """The request as Django's plain handler wants it (PEP 3333)."""
    path = unquote_to_bytes(scope.get("raw_path") or scope["path"].encode())
    client, server = scope.get("client") or ("", 0), scope.get("server") or ("localhost", 0)
    body.seek(0, os.SEEK_END)
    length = body.tell()
    body.seek(0)
    environ: dict[str, Any] = {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        "PATH_INFO": path.decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "SERVER_NAME": server[0],
        "SERVER_PORT": str(server[1]),
        "REMOTE_ADDR": client[0],
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.input": body,
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": True,
        "wsgi.run_once": False,
    }
    for raw_name, raw_value in scope["headers"]:
        name, value = raw_name.decode("latin-1").upper(), raw_value.decode("latin-1")
        # A name with an underscore could pass for another with a hyphen.
        if "_" in name:
            continue
        key = "CONTENT_TYPE" if name == "CONTENT-TYPE" else f"HTTP_{name.replace('-', '_')}"
        between = "; " if key == "HTTP_COOKIE" else ","
        environ[key] = f"{environ[key]}{between}{value}" if key in environ else value
    # What came, not what was said would come.
    environ.pop("HTTP_CONTENT_LENGTH", None)
    environ["CONTENT_LENGTH"] = str(length)
    return environ


def believe_or_drop(environ: dict[str, Any], public_url: str) -> None:
    """Takes the client's address from a proxy on this machine that asks for the public name; what
    else a proxy could say is dropped, since anybody can write it. Raises Refused where the proxy
    says no address: what it lets through would be the client's own word."""
    said = environ.get("HTTP_X_FORWARDED_FOR", "")
    for key in [key for key in environ if key.startswith("HTTP_X_FORWARDED_")]:
        del environ[key]
    public = urlsplit(public_url)
    name = re.sub(r":\d+$", "", environ.get("HTTP_HOST", "")).strip("[]").lower()
    if not is_loopback(environ["REMOTE_ADDR"]) or name != public.hostname:
        return
    environ["wsgi.url_scheme"] = public.scheme
    try:
        # The last one is what the proxy itself saw.
        environ["REMOTE_ADDR"] = str(ipaddress.ip_address(said.rpartition(",")[2].strip()))
    except ValueError as error:
        raise Refused(*_NAMELESS) from error


def _refusal(scope: Message, refused: Refused) -> Answer:
    words = {"code": refused.code, "says": refused.says, "mend": refused.mend}
    if scope["path"].startswith("/api/"):
        kind, content = "application/json", json.dumps({"error": words})
    else:
        phrase = HTTPStatus(refused.status).phrase
        kind, content = "text/plain; charset=utf-8", f"{phrase}: {refused.says}; {refused.mend}.\n"
    headers = [
        (b"content-type", kind.encode()), (b"cache-control", b"no-store"), (b"connection", b"close")
    ]  # fmt: skip
    if refused.status == HTTPStatus.SERVICE_UNAVAILABLE:
        headers.append((b"retry-after", b"60"))
    return Answer(refused.status, headers, content.encode())


async def _send(answer: Answer, send: Send) -> None:
    """Sends in chunks; TimeoutError when a reader takes too long for one."""
    start = {"type": "http.response.start", "status": answer.status, "headers": answer.headers}
    await send(start)
    last = max(0, len(answer.content) - 1) // CHUNK_BYTES
    for number in range(last + 1):
        chunk = answer.content[number * CHUNK_BYTES : (number + 1) * CHUNK_BYTES]
        body = {"type": "http.response.body", "body": chunk, "more_body": number < last}
        await asyncio.wait_for(send(body), CHUNK_PATIENCE_S)
