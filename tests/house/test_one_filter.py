"""The strength filter has one caller in the product: two callers would be two numbers."""

import ast
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "src" / "blockwright"
OWN = {SOURCE / "engine" / "case.py"}


def test_only_a_case_runs_the_filter_over_a_log() -> None:
    callers = {
        file
        for file in SOURCE.rglob("*.py")
        if file.parent != SOURCE / "engine" / "strength"
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and getattr(node.func, "id", getattr(node.func, "attr", "")) in ("replay", "replayed")
    }
    assert callers == OWN
