"""How static files get their names, and how the phone page's scripts are packed into two."""

import hashlib
import re
from collections.abc import Iterator
from pathlib import Path, PurePath, PurePosixPath
from typing import Any

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.files.base import ContentFile
from django.core.files.storage import InMemoryStorage
from django.core.management import call_command
from whitenoise.compress import Compressor
from whitenoise.storage import CompressedManifestStaticFilesStorage

PACKED = ("blockwright/phone.js", "blockwright/signs.js")
"""A script of the phone page each, with all that it imports; the second comes when it is asked for.
One file is asked for once, and packs better than thirty."""

FIRST = (*PACKED, "blockwright/paper.css", "blockwright/ledger.css")
"""What a phone's first visit waits for, beside its letters: served as small as can be."""

_NOT_SERVED = ["*.map", "ext"]  # Source maps, and htmx's extensions, which no page of ours uses

_IMPORT = re.compile(r'^import\s+(?:\* as (\w+)|\{([^}]*)\})\s+from "(\./\w+\.js)";\n', re.M)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:const|function) (\w+))", re.M)
_LEFT_OUT = re.compile(r"^(?:[ \t]*//[^\n]*\n|/\*(?:.|\n)*?\*/\n|[ \t]+|\n)", re.M)


def collect() -> None:
    """Writes the served files, unless those there were made of the same: it takes a second."""
    made_of = hashlib.sha256(Path(__file__).read_bytes())
    for finder in get_finders():
        for path, storage in sorted(finder.list(_NOT_SERVED), key=lambda one: one[0]):
            with storage.open(path) as file:
                made_of.update(path.encode() + file.read())
    stamp = Path(settings.STATIC_ROOT) / "made_of"
    if not stamp.exists() or stamp.read_text() != made_of.hexdigest():
        call_command("collectstatic", verbosity=0, interactive=False, ignore_patterns=_NOT_SERVED)
        stamp.write_text(made_of.hexdigest())


class _Compressor(Compressor):  # type: ignore[misc]
    """Brotli too for some: all files would take seconds."""

    def compress(self, path: str) -> list[str]:
        stem, *hashed = PurePath(path).name.split(".")
        is_first = len(hashed) == 2 and f"blockwright/{stem}.{hashed[1]}" in FIRST
        return list(Compressor(use_brotli=is_first, quiet=True).compress(path))


class ModuleStaticFiles(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """Names with a hash of the content, inside scripts that import each other too: a file never
    changes under its name, so a browser may keep it for ever."""

    support_js_module_import_aggregation = True

    def create_compressor(self, **options: Any) -> Compressor:
        return _Compressor(**options)

    def post_process(self, paths: dict[str, Any], *args: Any, **options: Any) -> Iterator[Any]:
        kept = InMemoryStorage()
        for name in FIRST:
            kept.save(name, ContentFile(packed(paths, name).encode()))
        paths = paths | {name: (kept, name) for name in FIRST}
        yield from super().post_process(paths, *args, **options)


def bare(text: str) -> str:
    """Without comments that have a line of their own, empty lines and indentation."""
    return _LEFT_OUT.sub("", text)


def packed(paths: dict[str, Any], name: str) -> str:
    """A script and what it imports as one: each module a function that is called once, after those
    that it imports, and gives what it exports. A style has no room left."""
    modules: dict[str, str] = {}

    def take(path: str) -> None:
        storage, place = paths[path]
        with storage.open(place) as file:
            script = file.read().decode()
        for _, _, other in _IMPORT.findall(script):
            if PurePosixPath(other).stem not in modules:
                take(str(PurePosixPath(path).parent / other))
        modules[PurePosixPath(path).stem] = script

    take(name)
    last = PurePosixPath(name).stem
    if name not in PACKED:
        return re.sub(r"\s*([{};,])\s*|(?<=:) ", r"\1", bare(modules[last]))
    gives = {handle: ", ".join(_EXPORT.findall(script)) for handle, script in modules.items()}
    parts = [
        f"const ${handle} = (() => {{\n{bare(_EXPORT.sub('', _IMPORT.sub(_bound, script)))}"
        f"return {{ {gives[handle]} }};\n}})();\n"
        for handle, script in modules.items()
    ]
    return "".join([*parts, f"export const {{ {gives[last]} }} = ${last};\n"])


def _bound(found: re.Match[str]) -> str:
    """An import as what it is in the packed script: names for what another module gives."""
    whole, names, other = found.groups()
    named = whole or f"{{{names.replace(' as ', ': ')}}}"
    return f"const {named} = ${PurePosixPath(other).stem};\n"
