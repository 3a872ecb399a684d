"""Stopping the site: every process of it ends, soon, whoever is still connected."""

import os
import signal
import socket
import subprocess
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import pytest

from site_process import Client, Site, begun

pytestmark = pytest.mark.slow

SOON_S = 8.0


def living(group: int) -> list[str]:
    """The processes of a group that have not ended."""
    listed = subprocess.run(
        ["ps", "-eo", "pgid=,pid=,stat="], capture_output=True, text=True, check=True
    ).stdout
    rows = [line.split() for line in listed.splitlines()]
    return [pid for pgid, pid, state in rows if int(pgid) == group and not state.startswith("Z")]


WAYS: dict[str, tuple[Callable[[int, int], None], signal.Signals]] = {
    # A terminal's Ctrl-C tells every process; a service manager, or the kernel, the first.
    "ctrl-c": (os.killpg, signal.SIGINT),
    "interrupted": (os.kill, signal.SIGINT),
    "terminated": (os.kill, signal.SIGTERM),
    "killed": (os.kill, signal.SIGKILL),
}


def busy(site: Site, stack: ExitStack) -> None:
    """Asked by a crowd, and left with half messages and idle connections."""
    with ThreadPoolExecutor(8) as pool:
        pages = pool.map(lambda _: Client(site.address).get("/sign-in/").status, range(40))
        assert set(pages) == {200}
    for _ in range(6):
        half = stack.enter_context(socket.create_connection(("127.0.0.1", site.port)))
        half.sendall(b"POST /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 99\r\n\r\nx")
        idle = stack.enter_context(socket.create_connection(("127.0.0.1", site.port)))
        idle.sendall(b"GET /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        assert idle.recv(12) == b"HTTP/1.1 200"


def test_no_process_answers_after_the_site_was_stopped(tmp_path: Path) -> None:
    with ExitStack() as stack:
        sites = {name: stack.enter_context(Site(begun(tmp_path / name))) for name in WAYS}
        for site in sites.values():
            busy(site, stack)
        groups = {name: site.pid for name, site in sites.items()}
        assert all(len(living(group)) >= 2 for group in groups.values())
        for name, (tell, how) in WAYS.items():
            tell(groups[name], how)
        ends = time.monotonic() + SOON_S
        while any(map(living, groups.values())) and time.monotonic() < ends:
            time.sleep(0.1)
        assert [name for name, group in groups.items() if living(group)] == []
        for site in sites.values():
            with pytest.raises(OSError, match="refused"):
                socket.create_connection(("127.0.0.1", site.port), timeout=2)
