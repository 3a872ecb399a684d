"""The house's own rules that no linter knows."""

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
import typer.main

from blockwright.cli.app import app
from blockwright.cli.main import load_commands
from blockwright.files.policy_files import default_policy
from blockwright.files.schemas import NAMES, schema_of
from blockwright.files.words import sentences

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "blockwright"
HEAVY = ("ortools", "numpy", "scipy", "typst", "openpyxl", "xlsxwriter",
         "jsonschema_rs", "django", "icalendar")  # fmt: skip
MOST_LINES = 400
WITHOUT_JSON: frozenset[str] = frozenset()


def test_no_file_is_longer_than_a_reader_bears() -> None:
    lines = {file: len(file.read_text().splitlines()) for file in SOURCE.rglob("*.py")}
    assert [file.name for file, count in lines.items() if count > MOST_LINES] == []


def test_a_module_names_its_own_folder_by_a_dot() -> None:
    long = []
    for file in SOURCE.rglob("*.py"):
        own = re.escape(".".join(file.parent.relative_to(SOURCE.parent).parts))
        found = re.findall(rf"^\s*from {own}(?:\.\w+)? import", file.read_text(), re.MULTILINE)
        long += [(file.name, line) for line in found]
    assert long == []


def python_text() -> str:
    return "\n".join(file.read_text(encoding="utf-8") for file in sorted(SOURCE.rglob("*.py")))


def commands() -> dict[str, object]:
    load_commands()
    return dict(typer.main.get_command(app).commands)  # type: ignore[attr-defined]


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["policy", "--help"]])
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    script = (
        "import sys\nfrom blockwright.cli.main import exit_code\n"
        f"code = exit_code({arguments!r})\n"
        f"heavy = [name for name in {HEAVY!r} if name in sys.modules]\n"
        "sys.stderr.write(','.join(heavy))\nsys.exit(code)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert done.returncode == 0
    assert done.stderr == ""


@pytest.mark.parametrize("name", sorted(commands()))
def test_every_command_has_an_example_and_json(name: str) -> None:
    command = commands()[name]
    assert f"blockwright {name}" in (command.epilog or ""), "the help lacks an example"
    options = {option for param in command.params for option in param.opts}
    assert "--json" in options or name in WITHOUT_JSON


def test_every_policy_value_is_read_and_explained() -> None:
    text = python_text()
    # A key may be built from a word: f"strength.phi.{group}" reads every phi.
    stems = tuple(re.findall(r"""["']([a-z_]+\.[a-z_.]*)\{""", text))
    for key, value in default_policy().values.items():
        assert value.why.strip(), f"{key} gives no reason"
        assert value.source.strip(), f"{key} gives no source"
        read = f'"{key}"' in text or key.startswith(stems)
        assert read, f"{key} is never read"


def test_every_code_has_words_and_every_word_a_code() -> None:
    used = set(re.findall(r'(?:Reason|Caution)\(\s*(?:code=)?"([a-z0-9_]+)"', python_text()))
    assert used
    assert used <= set(sentences()), f"no words for {sorted(used - set(sentences()))}"
    partner = ROOT / "src" / "blockwright" / "files" / "data" / "partner.toml"
    instead = tomllib.loads(partner.read_text("utf-8"))["instead"].values()
    text = python_text() + "".join(f'"{code}"' for code in instead)
    stems = tuple(re.findall(r'code ?= ?f"([a-z_]+_)\{', text))  # "edited_" and what was edited
    idle = [code for code in sentences() if f'"{code}"' not in text and not code.startswith(stems)]
    assert not idle, f"words that no code uses: {idle}"


def test_generated_pages_are_current() -> None:
    done = subprocess.run(
        [sys.executable, str(ROOT / "tools" / "write_docs.py"), "--check"],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("name", NAMES)
def test_every_schema_is_a_schema_with_a_golden_file(name: str) -> None:
    import json

    from jsonschema import Draft202012Validator

    Draft202012Validator.check_schema(schema_of(name))
    golden = json.loads((ROOT / "tests" / "goldens" / f"{name}.json").read_text(encoding="utf-8"))
    assert golden["format"] == f"blockwright/{name}/1"
    Draft202012Validator(schema_of(name)).validate(golden)


def test_no_machine_path_and_no_index_address_is_tracked() -> None:
    files = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    machine = re.compile("/(" + "work|root|farm" + r")/[a-z]|site-" + "packages/|--index-" + "url")
    for name in files:
        file = ROOT / name
        if file.suffix in {".png", ".ttf", ".pdf", ".xlsx"} or not file.is_file():
            continue
        found = machine.search(file.read_text(encoding="utf-8", errors="replace"))
        assert found is None, f"{name}: {found and found.group()}"


def test_the_version_is_the_first_heading_of_the_changelog() -> None:
    from importlib.metadata import version

    heading = re.search(r"(?m)^## (\S+)", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"))
    assert heading is not None
    assert version("blockwright") == heading.group(1)


@pytest.mark.parametrize("page", sorted((ROOT / "docs").rglob("*.md")), ids=lambda page: page.name)
def test_links_between_pages_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\((?!https?:)([^)#]+)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), f"{page.name} links to {target}"


PAGES = [*sorted((ROOT / "docs").glob("*.md")), ROOT / "README.md"]
_PATH = re.compile(
    r"`((?:src|studies|tests|tools|benchmarks|examples|engine|files|verbs|store|web|api|sheets"
    r"|server|cli|accounts)/[a-z_0-9/.-]+)`"
)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_path_a_page_names_exists(page: Path) -> None:
    for path in _PATH.findall(page.read_text(encoding="utf-8")):
        assert any((root / path).exists() for root in (ROOT, SOURCE)), path


def test_long_rooms_are_few() -> None:
    """No file over 500 lines: a reader finds their way in five minutes."""
    long = [
        file.name
        for file in SOURCE.rglob("*.py")
        if len(file.read_text(encoding="utf-8").splitlines()) > 500
    ]
    assert not long
