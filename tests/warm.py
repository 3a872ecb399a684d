"""One process that has read the program: a site that a test starts is a fork of it, and so is a
script that fills a folder. To read it takes a start nine tenths of its time. What a start does by
itself is for `server/test_serve.py`, which forks nothing.

As a script it is that process: one line asks for one fork, whose number is the answer.
"""

import atexit
import gc
import importlib
import json
import os
import pkgutil
import runpy
import signal
import subprocess
import sys
import tempfile
import time
import traceback
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

TESTS = Path(__file__).parent
SETTINGS = "blockwright.server.settings"
NOT_READ = ("migrations", "asgi", "__main__")
"""What reads the settings of one site, or runs."""

CODE = ".code"

_reader: "subprocess.Popen[str] | None" = None


@dataclass(frozen=True)
class Started:
    """A process that leads a group of its own."""

    pid: int
    stdout: Path
    own: "subprocess.Popen[bytes] | None" = None
    """This process's own child, where it was started cold."""

    @property
    def runs(self) -> bool:
        if self.own is not None:
            return self.own.poll() is None
        try:
            os.kill(self.pid, 0)
        except ProcessLookupError:
            return False
        return True

    def wait(self, seconds: float = 300) -> None:
        ends = time.monotonic() + seconds
        while self.runs:
            if time.monotonic() > ends:
                raise subprocess.TimeoutExpired("a warm start", seconds)
            time.sleep(0.005)

    def code(self) -> int:
        """Of a fork's end, once it came."""
        self.wait()
        return int(self.stdout.with_name(self.stdout.name + CODE).read_text(encoding="utf-8"))

    def document(self) -> Any:
        """The JSON document it says, once it is whole; RuntimeError when it ends without one."""
        while True:
            ended = not self.runs
            with suppress(ValueError):
                return json.loads(self.stdout.read_text(encoding="utf-8"))
            if ended:
                raise RuntimeError("it ended and has not said what it was asked")
            time.sleep(0.01)


def started(
    *words: object, environment: Mapping[str, str] | None = None, log: Path | None = None
) -> Started:
    """`blockwright WORDS`, or a script where the first word is one; in this process's environment,
    its messages where this process's go, unless told otherwise."""
    global _reader
    if _reader is None:
        _reader = subprocess.Popen(
            [sys.executable, __file__], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        atexit.register(_reader.communicate)
    said = _a_file()
    asked = {
        "words": [str(word) for word in words],
        "environment": dict(os.environ if environment is None else environment),
        "said": str(said),
        "log": None if log is None else str(log),
    }
    assert _reader.stdin is not None
    assert _reader.stdout is not None
    _reader.stdin.write(json.dumps(asked) + "\n")
    _reader.stdin.flush()
    return Started(int(_reader.stdout.readline()), said)


def started_cold(
    *words: object, environment: Mapping[str, str], log: Path | None = None
) -> Started:
    """`blockwright WORDS` as a person starts it: all is read anew."""
    said = _a_file()
    with said.open("wb") as out, Path(log or os.devnull).open("ab") as err:
        own = subprocess.Popen(
            [sys.executable, "-m", "blockwright", *map(str, words)],
            stdout=out, stderr=err if log else None, start_new_session=True, env=environment,
        )  # fmt: skip
    return Started(own.pid, said, own)


def _a_file() -> Path:
    handle, name = tempfile.mkstemp(prefix="said-")
    os.close(handle)
    return Path(name)


# ------------------------------------------------------------------------------- the process


def _read_everything() -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = SETTINGS
    os.environ["BLOCKWRIGHT_DATA"] = str(Path(tempfile.gettempdir()) / "blockwright-warm")
    import django

    django.setup()
    import granian  # noqa: F401

    import blockwright
    from blockwright.cli.main import load_commands
    from blockwright.files.catalogue import builtin_catalogue
    from blockwright.files.policy_files import default_policy

    builtin_catalogue()
    default_policy()
    for found in pkgutil.walk_packages(blockwright.__path__, "blockwright."):
        if not set(found.name.split(".")) & set(NOT_READ):
            importlib.import_module(found.name)
    load_commands()


def _forget_the_settings(setup: Any) -> None:
    """What Django sets up from now on is the site of the environment as it is then."""
    import django
    from django.conf import settings
    from django.db import connections

    def anew(set_prefix: bool = True) -> None:
        fresh = importlib.reload(sys.modules[SETTINGS])
        if os.environ["DJANGO_SETTINGS_MODULE"] != SETTINGS:
            fresh = importlib.import_module(os.environ["DJANGO_SETTINGS_MODULE"])
        for name in filter(str.isupper, dir(fresh)):
            setattr(settings, name, getattr(fresh, name))
        connections.__dict__.pop("settings", None)
        connections._settings = None
        for alias in list(connections.settings):
            with suppress(AttributeError):
                del connections[alias]
        setup(set_prefix)

    django.setup = anew


def _be(asked: Mapping[str, Any]) -> None:
    os.setsid()
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    nothing = os.open(os.devnull, os.O_RDONLY)
    said = os.open(asked["said"], os.O_WRONLY)
    os.dup2(nothing, 0)
    os.dup2(said, 1)
    if asked["log"] is not None:
        os.dup2(os.open(asked["log"], os.O_WRONLY | os.O_CREAT | os.O_APPEND), 2)
    os.environ.clear()
    os.environ.update(asked["environment"])
    words = asked["words"]
    sys.argv = words if words[0].endswith(".py") else ["blockwright", *words]
    if words[0].endswith(".py"):
        sys.path[0] = str(Path(words[0]).parent)
        runpy.run_path(words[0], run_name="__main__")
    else:
        from blockwright.cli.main import run

        run()


def _ended(asked: Mapping[str, Any]) -> None:
    """Never returns: what comes after a fork is not for the child."""
    code: object = 1
    try:
        _be(asked)
        code = 0
    except SystemExit as end:
        code = end.code or 0
    except Exception:  # noqa: BLE001 (a command's own end, told)
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        Path(asked["said"] + CODE).write_text(str(code), encoding="utf-8")
        os._exit(0)


def _bury(*_of_whom: object) -> None:
    with suppress(ChildProcessError):
        while os.waitpid(-1, os.WNOHANG)[0]:
            pass


def main() -> None:
    import django

    _read_everything()
    _forget_the_settings(django.setup)
    signal.signal(signal.SIGCHLD, _bury)
    gc.collect()
    gc.freeze()
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            _ended(json.loads(line))
        print(child, flush=True)


if __name__ == "__main__":
    main()
