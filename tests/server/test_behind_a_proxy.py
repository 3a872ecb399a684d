"""The site behind the proxy that docs/site.md advises, with the very lines that stand there."""

import os
import re
import shutil
import socket
import subprocess
import time
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from blockwright.engine.errors import BadInput
from blockwright.server.addresses import free_port, public_origin
from blockwright.server.certificate import certificate_for
from blockwright.server.front import Refused, believe_or_drop
from site_process import PASSWORD, Client, Site, begun

NAME = "gym.lan"
ADVICE = Path(__file__).resolve().parents[2] / "docs" / "site.md"


def proxy_program() -> str:
    found = shutil.which("nginx", path=f"{os.environ.get('PATH', '')}:/usr/sbin:/usr/local/sbin")
    if found is None:
        says = "NOT TESTED BEHIND A PROXY: install nginx (tools/install_test_tools.sh)"
        assert not os.environ.get("CI"), says
        warnings.warn(says, stacklevel=1)
        pytest.skip(says)
    return found


def configuration(folder: Path, port: int, site_port: int, certificate: tuple[Path, Path]) -> str:
    """What the advice says, with this test's port, name and certificate."""
    advised = re.search(r"```nginx\n(.*?)```", ADVICE.read_text(encoding="utf-8"), re.DOTALL)
    assert advised is not None
    block = advised.group(1)
    for advice, ours in (
        ("443", f"127.0.0.1:{port}"),
        ("/etc/ssl/gym.example.org.crt", str(certificate[0])),
        ("/etc/ssl/gym.example.org.key", str(certificate[1])),
        ("gym.example.org", NAME),
        ("127.0.0.1:8765", f"127.0.0.1:{site_port}"),
    ):
        assert advice in block
        block = block.replace(advice, ours)
    kinds = ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")
    places = "".join(f"{kind}_temp_path {folder}/{kind};\n" for kind in kinds)
    return (
        f"daemon off; master_process off; pid {folder}/pid; error_log {folder}/error.log;\n"
        f"events {{}}\nhttp {{\n{places}{block}}}\n"
    )


@contextmanager
def proxy(
    folder: Path, port: int, site_port: int, certificate: tuple[Path, Path]
) -> Iterator[None]:
    program = proxy_program()
    folder.mkdir()
    file = folder / "nginx.conf"
    file.write_text(configuration(folder, port, site_port, certificate), encoding="utf-8")
    running = subprocess.Popen(
        [program, "-c", str(file), "-p", str(folder), "-e", str(folder / "error.log")]
    )
    try:
        for _ in range(200):
            assert running.poll() is None, (folder / "error.log").read_text()
            try:
                socket.create_connection(("127.0.0.1", port), timeout=1).close()
            except OSError:
                time.sleep(0.05)
            else:
                break
        yield
    finally:
        running.terminate()
        running.wait(10)


@pytest.mark.slow
def test_the_advised_proxy_works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = socket.getaddrinfo

    def found(host: Any, *more: Any, **named: Any) -> Any:
        return real("127.0.0.1" if host == NAME else host, *more, **named)

    monkeypatch.setattr(socket, "getaddrinfo", found)
    certificates = tmp_path / "certificates"
    certificates.mkdir()
    certificate = certificate_for(certificates, [NAME], datetime.now(UTC))
    authority = certificates / "certificate" / "authority.crt"
    port = free_port("127.0.0.1")
    public = f"https://{NAME}:{port}"
    with (
        Site(begun(tmp_path / "data"), "--public-url", public) as site,
        proxy(tmp_path / "proxy", port, site.port, certificate),
    ):
        assert site.address == public
        assert site.owner_link is not None
        assert site.owner_link.startswith(f"{public}/join/")
        coach = Client(site.address, authority)
        coach.make_owner(site.owner_link)
        assert coach.get("/").status == 200
        assert {"sessionid", "csrftoken"} <= set(coach.cookies())
        assert public in coach.get("/phones/").body.decode()
        asked = coach.post_json("/api/sync", {"format": "blockwright/sync/1",
                                              "sent_at": "2026-01-05T19:00:00+00:00",
                                              "events": []})  # fmt: skip
        assert asked.status == 200, asked.body
        again = Client(site.address, authority)
        assert again.sign_in("orla", PASSWORD).url.rstrip("/") == public
        told, again = [], Client(site.address, authority)
        for n in range(6):
            again.claims = {"X-forwarded-for": f"203.0.113.{n}", "X-forwarded-host": "else.where"}
            told.append(again.sign_in("nobody", "not the password").status)
        assert told == [200] * 4 + [429] * 2, "an address of one's own choice is not counted"
        assert "Secure" in Client(site.listens).get("/sign-in/").headers["set-cookie"]


OPEN, PUBLIC = "", "https://gym.lan:8443"


@pytest.mark.parametrize(
    ("public_url", "address", "host", "said", "seen"),
    [
        (PUBLIC, "127.0.0.1", "gym.lan:8443", "198.51.100.7", "198.51.100.7"),
        (PUBLIC, "127.0.0.1", "Gym.lan", "203.0.113.9, 192.0.2.1,198.51.100.7", "198.51.100.7"),
        ("https://[2001:db8::1]", "::1", "[2001:db8::1]", "2001:db8::7", "2001:db8::7"),
        (PUBLIC, "127.0.0.1", "gym.lan", "", None),
        (PUBLIC, "127.0.0.1", "gym.lan", "198.51.100.7, unknown", None),
        (PUBLIC, "127.0.0.1", "127.0.0.1:8765", "198.51.100.7", "127.0.0.1"),
        (PUBLIC, "203.0.113.4", "gym.lan", "198.51.100.7", "203.0.113.4"),
        (OPEN, "127.0.0.1", "gym.lan", "198.51.100.7", "127.0.0.1"),
        (OPEN, "127.0.0.1", "", "198.51.100.7", "127.0.0.1"),
    ],
)
def test_only_what_the_proxy_on_this_machine_saw_is_believed(
    public_url: str, address: str, host: str, said: str, seen: str | None
) -> None:
    told = {"REMOTE_ADDR": address, "HTTP_HOST": host, "HTTP_X_FORWARDED_FOR": said,
            "HTTP_X_FORWARDED_PROTO": "http, gopher", "HTTP_X_FORWARDED_HOST": "else.where",
            "wsgi.url_scheme": "http"}  # fmt: skip
    if seen is None:
        with pytest.raises(Refused, match="does not say whose request"):
            believe_or_drop(told, public_url)
        return
    believe_or_drop(told, public_url)
    scheme = "http" if seen == address else "https"
    assert told == {"REMOTE_ADDR": seen, "HTTP_HOST": host, "wsgi.url_scheme": scheme}


@pytest.mark.parametrize(
    ("said", "origin"),
    [
        ("https://Gym.Example.org/", "https://gym.example.org"),
        ("https://gym.example.org:443", "https://gym.example.org"),
        ("http://gym.lan:8080", "http://gym.lan:8080"),
        ("https://[2001:db8::1]:8443", "https://[2001:db8::1]:8443"),
    ],
)
def test_a_public_address_is_an_origin(said: str, origin: str) -> None:
    assert public_origin(said) == origin


@pytest.mark.parametrize(
    "said",
    ["gym.example.org", "ftp://gym.example.org", "https://", "https://gym.example.org/site",
     "https://a@gym.example.org", "https://gym.example.org:x", "https://*", "https://a b"],
)  # fmt: skip
def test_what_is_no_public_address_is_said(said: str) -> None:
    with pytest.raises(BadInput, match="whole site"):
        public_origin(said)
