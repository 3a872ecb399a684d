"""Every finding names its source, and every finding is named by a test."""

import importlib
import pkgutil
from pathlib import Path

import published
from blockwright.engine import published as printed
from blockwright.engine.published import Finding
from blockwright.engine.sources import Source
from published.one_rm import EQUATIONS

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
                found[f"{name}.{word}"] = value
    return found


def test_every_finding_says_unit_source_and_how_it_was_quoted() -> None:
    for name, finding in findings().items():
        assert finding.unit, name
        assert finding.source.authors, name
        assert finding.source.where, name
        assert finding.source.quoted in ("seen", "from memory", "computed"), name


def test_every_finding_is_named_by_a_test() -> None:
    tests = "".join(file.read_text("utf-8") for file in Path(__file__).parent.glob("test_*.py"))
    indirect = {
        "PELLAND_COUNTING": "fractional_sets",
        "TWO_FOR_TWO": "two_for_two",
        "LOAD_PER_RPE": "next_load_by_rpe",
    }
    for name in findings():
        wanted = indirect.get(name.split(".")[1], name.replace("time.", "published_time."))
        assert wanted in tests


def test_remembered_values_say_so_wherever_they_are_shown() -> None:
    remembered = [f.source for f in findings().values() if f.source.quoted == "from memory"]
    remembered += [each.source for each in EQUATIONS if each.source.quoted == "from memory"]
    assert len(remembered) > 20
    assert all(str(source).endswith("(from memory)") for source in remembered)


def test_an_undated_source_invents_no_year() -> None:
    assert str(Source("A club", None, "a habit", "a wall", "seen")) == "A club, a wall"
