"""Clients that hold the door, by malice or by a lost signal: real sockets against the real server.

Half a body, half a head, an answer nobody reads: each costs a connection, none costs a thread.
"""

import json
import resource
import socket
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from uuid import UUID

import pytest

import people
from blockwright.files.json_text import dumps
from blockwright.files.lifter_file import toml_text
from blockwright.server.front import MOST_BYTES, PATIENCE_S
from site_process import Client, Site, begun

pytestmark = pytest.mark.slow

HELD, HALF_HEADS = 24, 1200
SOON_S = 2.0


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    with Site(begun(tmp_path_factory.mktemp("slow") / "data")) as started:
        yield started


class Gym:
    """An owner who is signed in, and a lifter with a block."""

    def __init__(self, site: Site) -> None:
        self.site = site
        self.coach = Client(site.address)
        assert site.owner_link is not None
        self.coach.make_owner(site.owner_link)
        self.lifter = self.coach.make_lifter(
            {
                "lifter.toml": toml_text(people.MARA_TABLE).encode(),
                "block.json": dumps(people.block_document()).encode(),
            }
        )

    def socket(self) -> socket.socket:
        # From an address of its own: a thousand ports taken on the usual one would keep another
        # test's server from coming back on the port it had.
        mine = ("127.0.0.2", 0) if sys.platform == "linux" else None
        return socket.create_connection(("127.0.0.1", self.site.port), 30, mine)

    def head(self, path: str, length: int, kind: str) -> bytes:
        cookies = self.coach.cookies()
        said = "; ".join(f"{name}={value}" for name, value in cookies.items())
        return (
            f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{self.site.port}\r\nCookie: {said}\r\n"
            f"X-CSRFToken: {cookies['csrftoken']}\r\nOrigin: {self.site.address}\r\n"
            f"Content-Type: {kind}\r\nContent-Length: {length}\r\n\r\n"
        ).encode()

    def sync(self, n: int) -> tuple[bytes, bytes]:
        """A phone's message in two halves."""
        event = people.set_event(UUID(self.lifter), n, set=n + 1)
        message = people.message(event, sent_at="2026-01-05T19:00:00+00:00")
        content = json.dumps(message).encode()
        half = len(content) // 2
        return self.head("/api/sync", len(content), "application/json") + content[:half], content[
            half:
        ]


@pytest.fixture(scope="module")
def gym(site: Site) -> Gym:
    return Gym(site)


def status_of(opened: socket.socket) -> int:
    return int(opened.recv(4096).split(b" ", 2)[1])


def send_chunks(opened: socket.socket, count: int) -> None:
    """So many chunks of a megabyte, or as many as the other side takes."""
    for _ in range(count):
        opened.sendall(b"100000\r\n" + b" " * 2**20 + b"\r\n")
        time.sleep(0.02)


def test_chunks_that_do_not_fit_together_and_who_leaves_midway_are_no_fault_of_ours(
    gym: Gym,
) -> None:
    with gym.socket() as broken:
        head = gym.head("/api/sync", 9, "application/json")
        chunked = head.replace(b"Content-Length: 9", b"Transfer-Encoding: chunked")
        broken.sendall(chunked + b"zz\r\nabc\r\n0\r\n\r\n")
        assert status_of(broken) == 400
    with gym.socket() as gone:
        gone.sendall(gym.sync(90)[0])
    with gym.socket() as stranger:
        stranger.sendall(b"GET / HTTP/1.1\r\nHost: elsewhere\r\n\r\n")
        assert status_of(stranger) == 400
    assert_answers_soon(gym)
    assert "Traceback" not in gym.site.log.read_text()


def assert_answers_soon(gym: Gym) -> None:
    sheet = people.block_document()
    pages = ("/rack/", f"/lifters/{gym.lifter}/sheet/{sheet['start']}/1/1/", "/api/phone")
    for path in pages:
        began = time.monotonic()
        assert gym.coach.get(path).status == 200, path
        assert time.monotonic() - began < SOON_S, path


def hold(stack: ExitStack, gym: Gym) -> None:
    """Clients that send half a head, more than a server takes by itself, and clients that do not
    read what they asked for."""
    for _ in range(HALF_HEADS):
        stack.enter_context(gym.socket()).sendall(b"GET / HTTP/1.1\r\nHost: 127")
    cookies = "; ".join(f"{name}={value}" for name, value in gym.coach.cookies().items())
    for _ in range(HELD):
        head, reader = stack.enter_context(gym.socket()), stack.enter_context(gym.socket())
        head.sendall(b"POST /api/sync HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Le")
        reader.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
        ask = f"GET /lifts/ HTTP/1.1\r\nHost: 127.0.0.1:{gym.site.port}\r\n"
        reader.sendall(f"{ask}Cookie: {cookies}\r\n\r\n".encode())


def test_half_of_anything_and_a_reader_who_does_not_read_hold_nobody_up(gym: Gym) -> None:
    resource.setrlimit(
        resource.RLIMIT_NOFILE, (4096, resource.getrlimit(resource.RLIMIT_NOFILE)[1])
    )
    for _ in range(2):  # what a page reads at its first showing is not what is measured
        assert gym.coach.get("/rack/").status == 200
        sheet = people.block_document()
        gym.coach.get(f"/lifters/{gym.lifter}/sheet/{sheet['start']}/1/1/")
    with ExitStack() as stack:
        rests, mute = [], [stack.enter_context(gym.socket()) for _ in range(2)]
        mute[1].sendall(b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n")  # the start of what we do not speak
        for n in range(HELD):
            form, phone = stack.enter_context(gym.socket()), stack.enter_context(gym.socket())
            form.sendall(gym.head("/sign-in/", 4000, "application/x-www-form-urlencoded") + b"us")
            half, rest = gym.sync(n)
            phone.sendall(half)
            rests.append((form, phone, rest))
        began = time.monotonic()
        time.sleep(0.5)
        assert_answers_soon(gym)
        hold(stack, gym)
        time.sleep(max(0.0, 12 - (time.monotonic() - began)))
        assert_answers_soon(gym)
        _, phone, rest = rests[0]
        phone.sendall(rest)
        answer = phone.recv(8192).decode()
        assert " 200 " in answer.split("\r\n")[0]
        assert '"state": "stored"' in answer or '"state":"stored"' in answer
        time.sleep(max(0.0, PATIENCE_S + 1 - (time.monotonic() - began)))
        forms, phones = [each[0] for each in rests], [each[1] for each in rests[1:]]
        assert {status_of(each) for each in (*forms, *phones)} == {408}
        assert [each.recv(1) for each in mute] == [b"", b""], "who says nothing is let go"
    stored = gym.coach.post_json("/api/sync", people.message(seen={gym.lifter: 0})).json()
    assert len(stored["facts"][gym.lifter]["facts"]) == 1


def test_a_body_that_is_too_large_is_refused_unread(gym: Gym) -> None:
    with gym.socket() as opened:
        opened.sendall(gym.head("/lifters/new/", MOST_BYTES + 1, "multipart/form-data"))
        assert status_of(opened) == 413
    with gym.socket() as opened:
        opened.sendall(
            b"POST /api/sync HTTP/1.1\r\nHost: 127.0.0.1\r\nTransfer-Encoding: chunked\r\n\r\n"
        )
        with pytest.raises(ConnectionError):
            send_chunks(opened, 2 * MOST_BYTES // 2**20)
    assert_answers_soon(gym)


def test_a_crowd_at_the_sign_in_page_holds_nobody_up(gym: Gym) -> None:
    """More tries at once than there are threads, for some seconds, under ever new names."""
    ends = time.monotonic() + 5

    def guess(number: int) -> set[int]:
        seen, client = set(), Client(gym.site.address)
        client.get("/sign-in/")
        while time.monotonic() < ends:
            name = f"nobody {number} {time.monotonic()}"
            seen.add(client.sign_in(name, "not the password").status)
        return seen

    with ThreadPoolExecutor(12) as pool:
        guesses = pool.map(guess, range(12))
        while time.monotonic() < ends:
            assert_answers_soon(gym)
        assert set().union(*guesses) <= {200, 429, 503}
