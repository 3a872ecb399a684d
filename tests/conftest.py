"""What every folder of tests may ask for."""

from typing import Any

import pytest


@pytest.fixture
def world(db: Any) -> Any:
    """The invented gym of `people`, stored."""
    import people

    return people.make_world()
