"""The phone page's scripts, packed."""

import re
import subprocess
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders

from blockwright.web import static_files
from blockwright.web.static_files import FIRST, PACKED, ModuleStaticFiles, packed


def collected() -> dict[str, tuple[object, str]]:
    """What `collectstatic` hands over, of the phone page."""
    return {
        f"blockwright/{Path(path).name}": (storage, path)
        for finder in finders.get_finders()
        for path, storage in finder.list([])
        if path.startswith("blockwright/")
    }


@pytest.mark.parametrize("name", PACKED)
def test_a_packed_script_stands_alone(name: str, tmp_path: Path) -> None:
    script = packed(collected(), name)
    assert "\nimport " not in script
    assert "\n// " not in script
    file = tmp_path / f"{Path(name).stem}.mjs"
    file.write_text(script, encoding="utf-8")
    subprocess.run(["node", "--check", str(file)], check=True, timeout=60)


@pytest.mark.parametrize("name", FIRST)
def test_what_a_first_visit_waits_for_has_no_notes_and_no_empty_lines(name: str) -> None:
    served = packed(collected(), name)
    lines = served.splitlines()
    assert not [line for line in lines if not line or line.startswith((" ", "//", "/*"))]
    assert not name.endswith(".css") or not re.search(r"[{};,]\s|: ", served)


def test_packed_signs_find_what_the_modules_find(tmp_path: Path) -> None:
    file = tmp_path / "signs.mjs"
    file.write_text(packed(collected(), "blockwright/signs.js"), encoding="utf-8")
    asks = f'import("{file}").then((it) => console.log(it.signsFound("chest pain")[0].sign))'
    ran = subprocess.run(
        ["node", "-e", asks], check=True, capture_output=True, text=True, timeout=60
    )
    assert "chest" in ran.stdout


def test_what_a_first_visit_waits_for_comes_smallest(tmp_path: Path) -> None:
    small = ModuleStaticFiles(tmp_path).create_compressor()
    for name in ("phone.0a1b2c3d4e5f.js", "phone.js", "desk.0a1b2c3d4e5f.css"):
        (tmp_path / name).write_text("const one = 1;\n" * 50, encoding="utf-8")
        small.compress(str(tmp_path / name))
    assert [file.name for file in tmp_path.glob("*.br")] == ["phone.0a1b2c3d4e5f.js.br"]
    assert len(list(tmp_path.glob("*.gz"))) == 3


def test_served_files_are_written_when_something_changed(
    tmp_path: Path, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.STATIC_ROOT = tmp_path
    written: list[str] = []
    monkeypatch.setattr(static_files, "call_command", lambda name, **_: written.append(name))
    static_files.collect()
    static_files.collect()
    assert written == ["collectstatic"]
    monkeypatch.setattr(static_files, "_NOT_SERVED", ["*.map", "ext", "icon.svg"])
    static_files.collect()
    assert len(written) == 2
