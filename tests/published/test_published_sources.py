"""Every finding names its source, and none is kept for tests that no test reads."""

import importlib
import pkgutil
from pathlib import Path

import published
from blockwright.engine import published as printed
from blockwright.engine.published import Finding
from blockwright.engine.sources import Source

MODULES = [
    (package.__name__, found.name)
    for package in (printed, published)
    for found in pkgutil.iter_modules(package.__path__)
    if not found.name.startswith("test_")
]


def findings() -> dict[str, Finding[object]]:
    found = {}
    for package, name in MODULES:
        module = importlib.import_module(f"{package}.{name}")
        for word, value in vars(module).items():
            if isinstance(value, Finding):
                found[f"{package}.{name}.{word}"] = value
    return found


def test_every_finding_says_unit_source_and_how_it_was_quoted() -> None:
    for name, finding in findings().items():
        assert finding.unit, name
        assert finding.source.authors, name
        assert finding.source.where, name
        assert finding.source.quoted in ("seen", "from memory", "computed"), name


def test_every_figure_kept_for_tests_is_read_by_one() -> None:
    tests = "".join(
        file.read_text("utf-8") for file in Path(__file__).parents[1].rglob("test_*.py")
    )
    indirect = {"HANDBOOK_TABLE": "handbook_share"}
    for name in findings():
        package, _, word = name.rpartition(".")
        if package.startswith("published."):
            assert indirect.get(word, word) in tests, name


def test_remembered_values_say_so_wherever_they_are_shown() -> None:
    remembered = [f.source for f in findings().values() if f.source.quoted == "from memory"]
    assert len(remembered) > 8
    assert all(str(source).endswith("(from memory)") for source in remembered)


def test_an_undated_source_invents_no_year() -> None:
    assert str(Source("A club", None, "a habit", "a wall", "seen")) == "A club, a wall"
