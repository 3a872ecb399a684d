"""Where this machine can be reached on its own network."""

import ipaddress
import re
import socket
from urllib.parse import urlsplit

from blockwright.engine.errors import BadInput

LOOPBACK = "127.0.0.1"
_NOWHERE = (("192.0.2.1", socket.AF_INET), ("2001:db8::1", socket.AF_INET6))
"""Addresses kept for documentation (RFC 5737, RFC 3849). Connecting a datagram socket sends
nothing; it only asks the system which of its own addresses it would use."""


def is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    return _is_address(host) and ipaddress.ip_address(host).is_loopback


def own_addresses() -> list[str]:
    """This machine's addresses on the network, the usual one first; empty without a network."""
    found: list[str] = []
    for target, family in _NOWHERE:
        with socket.socket(family, socket.SOCK_DGRAM) as probe:
            try:
                probe.connect((target, 9))
                address = str(probe.getsockname()[0])
            except OSError:
                continue
        if not ipaddress.ip_address(address).is_loopback and address not in found:
            found.append(address)
    return found


def reached_as(host: str) -> list[str]:
    """The names under which a server that listens on `host` is reached, the best first."""
    if is_loopback(host):
        return [host]
    if host in ("0.0.0.0", "::"):
        return own_addresses() or [LOOPBACK]
    return [host]


def in_url(host: str) -> str:
    """A host as an address writes it: IPv6 in brackets."""
    return f"[{host}]" if ":" in host else host


def free_port(host: str, port: int = 0) -> int:
    """That port, or any for 0, if a server could listen there; else OSError."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        probe.bind((host, port))
        return int(probe.getsockname()[1])


def public_origin(url: str) -> str:
    """Scheme, host and port of a public address as a browser writes an origin; BadInput for an
    address that is more than that, or less."""
    parts = urlsplit(url)
    try:
        host, port = parts.hostname or "", parts.port
    except ValueError:
        host, port = "", None
    whole = parts.path in ("", "/") and not (parts.query or parts.fragment or parts.username)
    named = re.fullmatch(r"[a-z0-9]([a-z0-9.-]*[a-z0-9])?", host) or _is_address(host)
    if parts.scheme not in ("http", "https") or not named or not whole:
        says = f"{url} is not the address of a whole site"
        mend = "write https:// and a name, such as https://gym.example.org"
        raise BadInput.of(says, mend, column="public_url")
    usual = {"http": 80, "https": 443}[parts.scheme]
    return f"{parts.scheme}://{in_url(host)}" + ("" if port in (None, usual) else f":{port}")


def _is_address(host: str) -> bool:
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return False
    return True
