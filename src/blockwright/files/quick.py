"""Room for many small values at once."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collection_paused() -> Iterator[None]:
    """Pauses the search for reference cycles while a large log is built.

    Rows and facts are flat and never form cycles; searching them over and over while they are
    made takes half the time of reading 200,000 rows (`benchmarks/read_log.py`).
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
