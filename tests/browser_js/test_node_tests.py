"""The node tests, as part of `make test`."""

from run_node import HERE, node


def test_the_node_tests_pass() -> None:
    ran = node("--test", str(HERE))
    assert ran.returncode == 0, ran.stdout
    assert "# tests 0" not in ran.stdout
