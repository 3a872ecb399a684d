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

from site_process import Client, Site

pytestmark = pytest.mark.slow

SOON_S = 8.0


def living(group: int) -> list[str]:
    """The processes of a group that have not ended."""
    listed = subprocess.run(
        ["ps", "-eo", "pgid=,pid=,stat="], capture_output=True, text=True, check=True
    ).stdout
    rows = [line.split() for line in listed.splitlines()]
    return [pid for pgid, pid, state in rows if int(pgid) == group and not state.startswith("Z")]


@pytest.mark.parametrize(
    ("tell", "how"),
    [
        # A terminal's Ctrl-C tells every process; a service manager, or the kernel, the first.
        pytest.param(os.killpg, signal.SIGINT, id="ctrl-c"),
        pytest.param(os.kill, signal.SIGINT, id="interrupted"),
        pytest.param(os.kill, signal.SIGTERM, id="terminated"),
        pytest.param(os.kill, signal.SIGKILL, id="killed"),
    ],
)
def test_no_process_answers_after_the_site_was_stopped(
    tmp_path: Path, tell: Callable[[int, int], None], how: signal.Signals
) -> None:
    with Site(tmp_path / "data") as site, ExitStack() as stack:
        group = site.pid
        with ThreadPoolExecutor(8) as pool:
            pages = pool.map(lambda _: Client(site.address).get("/sign-in/").status, range(40))
            assert set(pages) == {200}
        for _ in range(6):
            half = stack.enter_context(socket.create_connection(("127.0.0.1", site.port)))
            half.sendall(
                b"POST /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 99\r\n\r\nx"
            )
            idle = stack.enter_context(socket.create_connection(("127.0.0.1", site.port)))
            idle.sendall(b"GET /sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
            assert idle.recv(12) == b"HTTP/1.1 200"
        assert len(living(group)) >= 2
        tell(site.pid, how)
        ends = time.monotonic() + SOON_S
        while living(group) and time.monotonic() < ends:
            time.sleep(0.1)
        assert living(group) == []
        with pytest.raises(OSError, match="refused"):
            socket.create_connection(("127.0.0.1", site.port), timeout=2)
