"""The front's refusals and the log's words, without a server."""

import asyncio
import errno
import logging
from tempfile import SpooledTemporaryFile
from typing import Any

import pytest

from blockwright.server import front
from blockwright.server.log_words import MOST_LETTERS, WithoutLinks
from blockwright.server.run import _connections


class FullDisk(SpooledTemporaryFile[bytes]):
    def rollover(self) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")


async def answered(
    body: bytes, path: str, site: Any = None, kind: str = "http.request"
) -> list[Any]:
    sent: list[Any] = []

    async def receive() -> dict[str, Any]:
        return {"type": kind, "body": body, "more_body": False}

    async def send(message: Any) -> None:
        sent.append(message)

    scope = {"headers": [], "path": path, "method": "GET", "query_string": b"",
             "http_version": "1.1", "scheme": "http"}  # fmt: skip
    await front.Front(site)(scope, receive, send)
    return sent


@pytest.mark.parametrize("path", ["/lifters/new/", "/api/sync"])
def test_a_body_for_which_the_disk_has_no_room_is_told(
    monkeypatch: pytest.MonkeyPatch, path: str
) -> None:
    monkeypatch.setattr(front, "SpooledTemporaryFile", FullDisk)
    head, body = asyncio.run(answered(b"x" * (front.IN_MEMORY_BYTES + 1), path))
    assert head["status"] == 507
    assert b"the disk is full; nothing was changed" in body["body"]


def test_a_body_that_breaks_off_is_told_and_reaches_no_page() -> None:
    head, body = asyncio.run(answered(b"", "/api/sync", None, "http.disconnect"))
    assert head["status"] == 400
    assert b"the message broke off" in body["body"]


def test_the_site_reads_the_whole_body_that_was_sent() -> None:
    heard: list[tuple[str, bytes]] = []

    def echo(environ: Any, start_response: Any) -> list[bytes]:
        heard.append((environ["CONTENT_LENGTH"], environ["wsgi.input"].read()))
        start_response("200 OK", [])
        return []

    asyncio.run(answered(b"reps=8", "/api/sync", echo))
    assert heard == [("6", b"reps=8")]


def test_who_waits_for_a_queue_looks_ever_less_often(monkeypatch: pytest.MonkeyPatch) -> None:
    slept: list[float] = []

    async def sleep(pause_s: float) -> None:
        slept.append(pause_s)

    def crowded(environ: Any, start_response: Any) -> list[bytes]:
        start_response("503 Crowded", [("Blockwright-Later", "1")])
        return [b"later"]

    monkeypatch.setattr(front.asyncio, "sleep", sleep)
    monkeypatch.setattr(front, "end_with_the_parent", lambda _parent: None)
    sent = asyncio.run(answered(b"", "/sign-in/", crowded))
    assert sent[0]["status"] == 503
    assert sum(slept) < 5, "a browser's patience"
    assert len(slept) <= 5
    assert slept[:4] == sorted(slept[:4])
    assert slept[0] < 0.5 < slept[3]


def test_a_log_line_holds_no_link_and_no_address_without_end() -> None:
    address = f"/join/secret/{'a%' * 5000}"
    error = ValueError(address)
    led_to = (ValueError, error, None)
    record = logging.LogRecord("x", logging.WARNING, "", 0, "Not Found: %s", (address,), led_to)
    assert WithoutLinks().filter(record)
    lines = logging.Formatter().format(record).splitlines()
    assert [len(line) for line in lines] == [MOST_LETTERS] * 2
    assert all("d: /join/.../a%a%" in line.replace("Error:", "d:") for line in lines)


@pytest.mark.parametrize(("status", "lines"), [(403, 1), (400, 1), (500, 2)])
def test_where_in_the_code_is_told_of_our_own_faults_only(status: int, lines: int) -> None:
    led_to = (ValueError, ValueError("no"), None)
    record = logging.LogRecord("x", logging.WARNING, "", 0, "Forbidden", (), led_to)
    record.status_code = status
    assert WithoutLinks().filter(record)
    assert len(logging.Formatter().format(record).splitlines()) == lines


def test_a_process_may_hold_thousands_of_connections_and_open_files_beside_them() -> None:
    assert _connections() >= 1024
