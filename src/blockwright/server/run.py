"""Opens the site on a data folder and runs its server until it is stopped."""

import os
import resource
import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlsplit

from blockwright.engine.errors import BadInput
from blockwright.store import folder as data
from blockwright.store.folder import DATABASE_URL
from blockwright.verbs.open_store import open_store
from .addresses import (
    LOOPBACK,
    free_port,
    in_url,
    is_loopback,
    own_addresses,
    public_origin,
    reached_as,
)

MOST_PROCESSES = 2
"""Where there is a second core: a sheet that is being worked out in one process does not hold up a
set that is stored in the other. Each takes some 150 MB."""

STOP_S = 4  # What a process may take to finish what it is answering once the site is told to stop
MOST_CONNECTIONS = 4096
"""Of one process: each that sends half a head holds one for `HEAD_PATIENCE_MS`, and a file."""
HEAD_PATIENCE_MS = 15_000
"""What the head of a request may take, and how long a connection may idle between two requests."""

SIGN_IN = "BLOCKWRIGHT_DEMO_SIGN_IN"
"""Of the demo only: whom its link signs in, a space, and the link's secret."""

_STDERR = {
    "class": "logging.StreamHandler",
    "formatter": "generic",
    "stream": "ext://sys.stderr",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ServeQuestion:
    """What was typed at `blockwright serve`."""

    port: int = 8765
    data: Path | None = None
    host: str = LOOPBACK
    https: bool = False
    public_url: str | None = None  # Where a proxy on this machine publishes the site
    owner_link: bool = False  # Print a one-time owner's link even though there is an owner
    signs_in: str | None = None
    """Only the demo says it: whom a link signs in for as long as this site runs. A port that
    somebody has is then changed for a free one, since the link says which."""


Opened = Mapping[str, str | None]
"""The `blockwright/serve/1` document of a site that is about to be served: `listens` is where this
process itself does (what a proxy passes on to), `owner_link` a one-time link that makes the owner's
account; of the demo also its `sign_in_link`."""


def serve(question: ServeQuestion, tell: Callable[[Opened], None]) -> None:
    """Migrates, serves until interrupted; tells the addresses once they are heard. BadInput for
    what cannot be."""
    if question.signs_in is not None:
        # The demo has a database of its own, whatever the site in use has.
        os.environ.pop(DATABASE_URL, None)
    public = None if question.public_url is None else public_origin(question.public_url)
    folder = data.made_folder(question.data)
    port = _port(question)
    names = reached_as(question.host)
    scheme = "https" if question.https else "http"
    own = f"{scheme}://{in_url(names[0])}:{port}"
    address = own if public is None else public
    with data.serving_alone(folder):
        hidden = is_loopback(question.host) and public is None
        _set_environment(question, "" if hidden else address, public)
        certificate = _certificate(question, folder, names)
        token = open_site(folder, another_owner=question.owner_link)
        opened = _opened(address, own, token, folder)
        _run(question.host, port, certificate, lambda: tell(opened))


def _opened(address: str, own: str, token: str | None, folder: Path) -> Opened:
    _, _, signs_in = os.environ[SIGN_IN].rpartition(" ")
    document = {
        "format": "blockwright/serve/1",
        "address": f"{address}/",
        "listens": f"{own}/",
        "owner_link": None if token is None else f"{address}/join/{token}/",
        "data": str(folder),
    }
    return document | ({"sign_in_link": f"{address}/demo/{signs_in}/"} if signs_in else {})


def open_site(folder: Path | None = None, *, another_owner: bool = False) -> str | None:
    """Opens the store, writes the static files; the owner's one-time token, if needed."""
    open_store(folder)
    from django.db import connections
    from django.utils import timezone

    from blockwright.verbs.import_batches import forget_old_files
    from blockwright.verbs.invitations import owner_link_token
    from blockwright.web.static_files import collect

    collect()
    forget_old_files(timezone.now())
    token = owner_link_token(timezone.now(), another=another_owner)
    # The server's workers are forks: they must share no connection with this process, nor with
    # one another. A pool (PostgreSQL's) outlives the closing of what was lent from it.
    connections.close_all()
    for connection in connections.all():
        if hasattr(connection, "close_pool"):
            connection.close_pool()
    return token


def _set_environment(question: ServeQuestion, reachable: str, public: str | None) -> None:
    """What `settings` reads besides the folder; the server's worker process inherits it."""
    hosts = set() if is_loopback(question.host) else {question.host, *own_addresses()}
    if public is not None:
        hosts.add(str(urlsplit(public).hostname))
    os.environ["DJANGO_SETTINGS_MODULE"] = "blockwright.server.settings"
    os.environ["BLOCKWRIGHT_HTTPS"] = "1" if question.https else "0"
    os.environ["BLOCKWRIGHT_ADDRESS"] = reachable
    os.environ["BLOCKWRIGHT_PUBLIC_URL"] = public or ""
    signs_in = question.signs_in
    os.environ[SIGN_IN] = f"{signs_in} {secrets.token_urlsafe()}" if signs_in else ""
    os.environ["BLOCKWRIGHT_HOSTS"] = ",".join(sorted(in_url(host) for host in hosts))
    if os.environ.get(DATABASE_URL):
        _check_database_url(os.environ[DATABASE_URL])


def _check_database_url(url: str) -> None:
    from .database import postgres_settings

    try:
        postgres_settings(url)
        import psycopg  # noqa: F401
    except ValueError as error:
        says, _, mend = str(error).partition("; ")
        raise BadInput.of(says, mend, key=DATABASE_URL) from error
    except ImportError as error:
        mend = "install blockwright with its team extra: pip install 'blockwright[team]'"
        says = "names PostgreSQL, whose driver is not installed"
        raise BadInput.of(says, mend, key=DATABASE_URL) from error


def _port(question: ServeQuestion) -> int:
    """The port asked for, any free one for 0. BadInput when somebody has it or the host is
    not this machine's."""
    host, port = question.host, question.port
    try:
        return free_port(host, port)
    except OSError as error:
        if port and question.signs_in is None:
            says = f"port {port} of {host} is taken, or not this machine's"
            mend = "give another, such as --port 8766 (0 takes any free one)"
            raise BadInput.of(says, mend, column="port") from error
    try:
        return free_port(host)
    except OSError as error:
        mend = f"give {LOOPBACK}, 0.0.0.0 or an address of this machine"
        says = f"{host} is not an address of this machine"
        raise BadInput.of(says, mend, column="host") from error


def _certificate(
    question: ServeQuestion, folder: Path, names: Sequence[str]
) -> tuple[Path, Path] | None:
    if not question.https:
        return None
    from .certificate import certificate_for

    try:
        hosts = names if is_loopback(question.host) else [*names, *own_addresses()]
        return certificate_for(folder, hosts, datetime.now(UTC))
    except ValueError as error:
        says, _, mend = str(error).partition("; ")
        raise BadInput.of(says, mend, column="https") from error


def processes() -> int:
    """How many processes answer."""
    return min(MOST_PROCESSES, os.cpu_count() or 1)


def _connections() -> int:
    """How many connections a process may hold, once it may open as many files as the system lets
    it: half of them are left for the database and for bodies on disk."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = 2 * MOST_CONNECTIONS
    most = wanted if hard == resource.RLIM_INFINITY else min(hard, wanted)
    if soft < most:
        resource.setrlimit(resource.RLIMIT_NOFILE, (most, hard))
    return min(MOST_CONNECTIONS, max(soft, most) // 2)


def _run(
    host: str, port: int, certificate: tuple[Path, Path] | None, listens: Callable[[], None]
) -> None:
    """Serves until interrupted; calls `listens` once whoever follows an address is heard."""
    from granian import Granian
    from granian.constants import HTTPModes, Interfaces
    from granian.http import HTTP1Settings
    from granian.log import LogLevels

    # Read once, before the processes fork: they share what was read.
    import blockwright.server.asgi  # noqa: F401

    crt, key = certificate or (None, None)
    server = Granian(
        "blockwright.server.asgi:application",
        address=host,
        port=port,
        interface=Interfaces.ASGINL,
        workers=processes(),
        backlog=MOST_CONNECTIONS,
        backpressure=_connections(),
        http=HTTPModes.http1,  # whose heads have a patience; of others a silent start has none
        http1_settings=HTTP1Settings(header_read_timeout=HEAD_PATIENCE_MS),
        websockets=False,
        # Logs go to stderr, where messages go: stdout holds the addresses and nothing else.
        log_level=LogLevels.error,
        log_dictconfig={"handlers": {"console": _STDERR, "access": _STDERR}},
        respawn_failed_workers=True,
        workers_kill_timeout=STOP_S,
        ssl_cert=crt,
        ssl_key=key,
    )
    server.on_startup(listens)
    server.serve()
