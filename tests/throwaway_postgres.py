"""A PostgreSQL for as long as a test lasts: a fresh folder, a socket in it, no port."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_PLACES = ("/usr/lib/postgresql", "/usr/local/pgsql", "/opt/homebrew/opt/postgresql")


def binaries() -> Path | None:
    """The folder with `initdb` and `pg_ctl`, of the newest version there is."""
    on_path = shutil.which("initdb")
    found = [Path(on_path).parent] if on_path and shutil.which("pg_ctl") else []
    for place in _PLACES:
        found += sorted(Path(place).glob("**/bin"), reverse=True)
    return next((folder for folder in found if (folder / "initdb").exists()), None)


@contextmanager
def postgres() -> Iterator[str]:
    """Starts a server and yields the URL of its empty database. Its data may be lost: it is
    told not to wait for the disk."""
    folder = binaries()
    assert folder is not None
    # The socket's path must be short, and as root the server runs as somebody else.
    place = Path(tempfile.mkdtemp(prefix="bwpg"))
    as_user: list[str] = []
    if sys.platform != "win32" and os.geteuid() == 0:
        shutil.chown(place, "postgres")
        # A plain PATH may lack the folders of the system's own tools.
        runuser = shutil.which("runuser", path=f"{os.environ.get('PATH', '')}:/usr/sbin:/sbin")
        assert runuser is not None, "runuser, of util-linux, is needed to start PostgreSQL as root"
        as_user = [runuser, "-u", "postgres", "--"]

    def run(*command: str) -> None:
        subprocess.run(
            [*as_user, *command], check=True, cwd=place, stdout=subprocess.DEVNULL, timeout=60
        )

    data = str(place / "data")
    try:
        run(str(folder / "initdb"), "-D", data, "-U", "gym", "-A", "trust", "-N", "-E", "UTF8")
        options = f"-k {place} -c listen_addresses='' -c fsync=off -c full_page_writes=off"
        run(str(folder / "pg_ctl"), "-D", data, "-w", "-l", f"{place}/log", "-o", options, "start")
        try:
            yield f"postgresql://gym@/postgres?host={place}"
        finally:
            run(str(folder / "pg_ctl"), "-D", data, "-w", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(place, ignore_errors=True)
