"""`python -m blockwright` is the same as `blockwright`."""

from blockwright.cli.main import run

run()
