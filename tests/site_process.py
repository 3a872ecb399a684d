"""A real server on a data folder of its own, and a plain client that speaks to it as pages do."""

import json
import os
import re
import shutil
import signal
import ssl
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Mapping
from dataclasses import dataclass
from http.cookiejar import CookieJar
from pathlib import Path
from typing import Any
from urllib.parse import urlencode
from uuid import uuid4

import warm
from made_once import made_once, shared

PASSWORD = "a long word for tests"


class Site:
    """`blockwright serve` in a process group of its own; it can be stopped, or killed at once."""

    def __init__(
        self,
        folder: Path,
        *options: str,
        port: int = 0,
        certificate: Path | None = None,
        database: str | None = None,
        environment: Mapping[str, str] | None = None,
        cold: bool = False,
    ) -> None:
        self.folder = folder
        self._options = options
        self._certificate = certificate
        self._cold = cold
        self._environment = dict(environment or {})
        if database is not None:
            self._environment["BLOCKWRIGHT_DATABASE_URL"] = database
        self._process: warm.Started | None = None
        self.port = port
        self.address = self.listens = ""
        self.owner_link: str | None = None

    def start(self) -> "Site":
        """Starts and waits until it answers; the port stays the same from the second start on."""
        start = warm.started_cold if self._cold else warm.started
        self._process = start(
            *("serve", "--json", "--data", self.folder, "--port", self.port, *self._options),
            environment=_environment() | self._environment,
            log=self.log,
        )
        try:
            document = self._process.document()
        except RuntimeError as error:
            self.kill()
            raise RuntimeError(f"the server did not start: {self.log.read_text()}") from error
        self.address = document["address"].rstrip("/")
        self.listens = document["listens"].rstrip("/")
        self.owner_link = document["owner_link"]
        self.port = int(self.listens.rpartition(":")[2])
        self._wait_until_it_answers()
        return self

    @property
    def pid(self) -> int:
        """Of the process that was started; its process group has the same number."""
        assert self._process is not None
        return self._process.pid

    @property
    def log(self) -> Path:
        return self.folder.parent / f"{self.folder.name}.log"

    def _wait_until_it_answers(self) -> None:
        for _ in range(400):
            try:
                Client(self.listens, self._certificate).get("/sw.js")
            except OSError:
                time.sleep(0.025)
            else:
                return
        self.kill()
        raise RuntimeError("the server does not answer")

    def stop(self) -> None:
        """As Ctrl-C would."""
        self._end(signal.SIGINT)

    def kill(self) -> None:
        """Every process of it, at once, without a last word."""
        self._end(signal.SIGKILL)

    def _end(self, how: signal.Signals) -> None:
        if self._process is None:
            return
        try:
            os.killpg(self._process.pid, how)
            self._process.wait(20)
        except ProcessLookupError:
            pass
        except subprocess.TimeoutExpired:
            os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait(20)
        self._process = None

    def __enter__(self) -> "Site":
        return self.start()

    def __exit__(self, *_error: object) -> None:
        self.kill()


def begun(folder: Path) -> Path:
    """The data folder as a site leaves it that was started and stopped, with nobody in it. Its
    tables and served files take seconds to write: they are made once a run, and copied."""

    def make() -> Path:
        site = Site(shared("begun") / "data")
        site.folder.parent.mkdir()
        site.start().stop()
        return site.folder

    shutil.copytree(made_once("begun", make), folder)
    return folder


def _environment() -> dict[str, str]:
    """This process's environment without what the tests' own settings put there."""
    ours = ("BLOCKWRIGHT_", "DJANGO_", "PYTEST_")
    return {name: value for name, value in os.environ.items() if not name.startswith(ours)}


@dataclass
class Answer:
    status: int
    body: bytes
    url: str
    headers: Mapping[str, str]

    def json(self) -> Any:
        return json.loads(self.body)


class Client:
    """A browser without a screen: cookies, the token, redirects."""

    def __init__(self, address: str, certificate: Path | None = None) -> None:
        self._address = address
        self.claims: dict[str, str] = {}
        """Headers that no page of ours sends."""
        self._cookies = CookieJar()
        handlers: list[urllib.request.BaseHandler] = [
            urllib.request.HTTPCookieProcessor(self._cookies),
            urllib.request.ProxyHandler({}),
        ]
        if certificate is not None:
            context = ssl.create_default_context(cafile=str(certificate))
            handlers.append(urllib.request.HTTPSHandler(context=context))
        self._opener = urllib.request.build_opener(*handlers)

    def get(self, path: str) -> Answer:
        return self._open(urllib.request.Request(self._full(path)))

    def post_form(self, path: str, fields: Mapping[str, str]) -> Answer:
        self.get(path)
        data = urlencode({**fields, "csrfmiddlewaretoken": self._token()}).encode()
        return self._open(urllib.request.Request(self._full(path), data, self._from_here()))

    def post_files(self, path: str, files: Mapping[str, bytes]) -> Answer:
        self.get(path)
        edge = uuid4().hex
        parts = [f'Content-Disposition: form-data; name="csrfmiddlewaretoken"\r\n\r\n'
                 f"{self._token()}\r\n".encode()]  # fmt: skip
        parts += [
            f'Content-Disposition: form-data; name="files"; filename="{name}"\r\n\r\n'.encode()
            + content
            + b"\r\n"
            for name, content in files.items()
        ]
        body = b"".join(f"--{edge}\r\n".encode() + part for part in parts)
        headers = {"Content-Type": f"multipart/form-data; boundary={edge}"} | self._from_here()
        request = urllib.request.Request(
            self._full(path), body + f"--{edge}--\r\n".encode(), headers
        )
        return self._open(request)

    def post_json(self, path: str, document: object, timeout: float = 30) -> Answer:
        headers = {"Content-Type": "application/json", "X-CSRFToken": self._token()}
        data = json.dumps(document).encode()
        request = urllib.request.Request(self._full(path), data, headers | self._from_here())
        return self._open(request, timeout)

    def make_owner(self, link: str) -> None:
        """Follows the one-time link of the first start."""
        path = "/" + link.split("/", 3)[3]
        form = {"name": "Orla", "sign_in_name": "orla", "password": PASSWORD, "zone": ""}
        answer = self.post_form(path, form)
        assert answer.status == 200, answer.body[:500]
        assert answer.url.rstrip("/") == self._address, answer.url

    def sign_in(self, name: str, password: str = PASSWORD) -> Answer:
        return self.post_form("/sign-in/", {"username": name, "password": password})

    def make_lifter(self, files: Mapping[str, bytes]) -> str:
        """A lifter from files by the page; their id."""
        answer = self.post_files("/lifters/new/", files)
        found = re.search(r"/lifters/([0-9a-f-]{36})/$", answer.url)
        assert found is not None, answer.body[:2000]
        return found.group(1)

    def cookies(self) -> dict[str, str]:
        return {one.name: one.value or "" for one in self._cookies}

    def _token(self) -> str:
        return next(one.value or "" for one in self._cookies if one.name == "csrftoken")

    def _from_here(self) -> dict[str, str]:
        return {"Origin": self._address, "Referer": f"{self._address}/"}

    def _full(self, path: str) -> str:
        return f"{self._address}{path}"

    def _open(self, request: urllib.request.Request, timeout: float = 30) -> Answer:
        request.headers |= self.claims
        try:
            with self._opener.open(request, timeout=timeout) as found:
                return Answer(found.status, found.read(), found.url, dict(found.headers))
        except urllib.error.HTTPError as error:
            with error:
                return Answer(error.code, error.read(), error.url, dict(error.headers))
