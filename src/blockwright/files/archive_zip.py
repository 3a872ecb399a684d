"""A ZIP archive of texts with a list of what is in it, and the reader that trusts nothing.

Equal contents are equal bytes. Nothing is ever unpacked to disk: an entry is read in memory, never
further than its listed length, and only under a name that was expected."""

import hashlib
import io
import json
import re
import zipfile
import zlib
from collections.abc import Mapping
from pathlib import Path
from typing import IO, Any

from blockwright.engine.errors import BadInput
from .json_text import finite

FORMAT = "blockwright/archive/1"
LIST = "archive.json"
MOST_FILES = 100_000
MOST_BYTES = 2 * 2**30  # Unpacked, in all (judgement)
MOST_IN_ONE = 256 * 2**20  # Of one entry: 250,000 facts as JSON
MOST_PARTS = 20_000_000  # Of one entry; 256 MB of "[]," would be 7 GB, 250,000 facts have half
MOST_TIMES = 200
"""How often smaller an entry over 1 MB may be packed; our own are packed about tenfold."""
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)
"""The archive's own dates say nothing, so that equal contents are equal bytes."""
_KEY = "[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"
_NAMES = re.compile(
    rf"archive\.json|site\.json|README\.txt"
    rf"|lifters/{_KEY}/(?:rows\.json|lifter\.toml|sets\.csv|checkins\.csv)"
)
_MEND = "give a file that `blockwright archive` wrote, copied anew"


def zipped(files: Mapping[str, str]) -> bytes:
    """A ZIP archive of texts under their names, in the order of the names."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in sorted(files.items()):
            _write(archive, name, text.encode())
    return out.getvalue()


class ArchiveWriter:
    """An archive written entry by entry; its list comes last."""

    def __init__(self, out: IO[bytes]) -> None:
        self._zip = zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED)
        self._listed: dict[str, str] = {}

    def add(self, name: str, text: str) -> None:
        data = text.encode()
        self._listed[name] = hashlib.sha256(data).hexdigest()
        _write(self._zip, name, data)

    def close(self) -> None:
        listed = {"format": FORMAT, "sha256": dict(sorted(self._listed.items()))}
        with self._zip:
            _write(self._zip, LIST, exact_json(listed).encode())


def exact_json(document: Mapping[str, Any]) -> str:
    """Every digit as stored: this is a copy, not an answer."""
    return json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def looks_like_zip(path: Path) -> bool:
    """Whether a file begins as ZIP archives do; False where it cannot be read."""
    try:
        with path.open("rb") as file:
            return file.read(4) == b"PK\x03\x04"
    except OSError:
        return False


class ArchiveReader:
    """An archive whose names, sizes, format and sums were looked at; BadInput for a wrong one."""

    def __init__(self, path: Path) -> None:
        self._path = path
        try:
            self._zip = zipfile.ZipFile(path)
        except (OSError, zipfile.BadZipFile, ValueError) as error:
            raise self.bad("is not an archive of a site, or is damaged") from error
        self._sizes = self._looked_at()
        listed = self._read_list()
        for name, wanted in listed.items():
            if hashlib.sha256(self._bytes(name)).hexdigest() != wanted:
                raise self.bad("is not as it was written: its sum is another", name)

    def names(self) -> list[str]:
        return sorted(self._sizes)

    def document(self, name: str) -> dict[str, Any]:
        """An entry's JSON object; BadInput where it is none."""
        data = self._bytes(name)
        if sum(map(data.count, (b",", b"[", b"{"))) > MOST_PARTS:
            raise self.bad("holds more values than a log could", name)
        try:
            found = json.loads(data, parse_float=finite, parse_constant=_refuse)
        except (ValueError, RecursionError) as error:
            raise self.bad("is not JSON", name) from error
        if not isinstance(found, dict):
            raise self.bad("is not a table", name)
        return found

    def bad(self, says: str, name: str | None = None, mend: str = _MEND) -> BadInput:
        """What to raise when the archive, or an entry, holds something else than it should."""
        key = None if name is None else name[:120]
        return BadInput.of(says, mend, file=self._path.name, key=key)

    def _looked_at(self) -> dict[str, int]:
        """The entries' sizes by name, by the archive's own directory."""
        entries = self._zip.infolist()
        if len(entries) > MOST_FILES:
            raise self.bad(f"holds more than {MOST_FILES:,} files")
        sizes: dict[str, int] = {}
        for entry in entries:
            if _NAMES.fullmatch(entry.filename) is None:
                raise self.bad("is no name of an archive of a site", entry.filename)
            if entry.filename in sizes:
                raise self.bad("is in the archive twice", entry.filename)
            if entry.file_size > MOST_IN_ONE:
                raise self.bad(f"is larger than {MOST_IN_ONE // 2**20} MB", entry.filename)
            if entry.file_size > max(2**20, MOST_TIMES * entry.compress_size):
                raise self.bad("unpacks to far more than a log could", entry.filename)
            if entry.flag_bits & 1:
                raise self.bad("is locked with a password", entry.filename)
            sizes[entry.filename] = entry.file_size
        if sum(sizes.values()) > MOST_BYTES:
            raise self.bad(f"unpacks to more than {MOST_BYTES // 2**30} GB")
        return sizes

    def _read_list(self) -> dict[str, str]:
        if LIST not in self._sizes:
            raise self.bad(f"is not an archive of a site: it has no {LIST}")
        document = self.document(LIST)
        if document.get("format") != FORMAT:
            says = f"is of the format {str(document.get('format'))[:60]}, not {FORMAT}"
            raise self.bad(says, LIST, "read it with the version that wrote it, or a newer one")
        listed = document.get("sha256")
        if not isinstance(listed, dict) or {*listed, LIST} != set(self._sizes):
            raise self.bad("does not name the files that are there", LIST)
        return listed

    def _bytes(self, name: str) -> bytes:
        if name not in self._sizes:
            raise self.bad("is not in the archive", name)
        try:
            with self._zip.open(name) as entry:
                data = entry.read(self._sizes[name] + 1)
        except (OSError, zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError) as error:
            raise self.bad("is damaged", name) from error
        if len(data) != self._sizes[name]:
            raise self.bad("is longer or shorter than the archive says", name)
        return data


def _refuse(constant: str) -> float:
    raise ValueError(f"{constant} is no number")


def _write(archive: zipfile.ZipFile, name: str, data: bytes) -> None:
    entry = zipfile.ZipInfo(name, _FIRST_DAY)
    entry.compress_type = zipfile.ZIP_DEFLATED
    archive.writestr(entry, data)
