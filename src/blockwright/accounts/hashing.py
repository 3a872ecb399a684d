"""Passwords with Argon2, one at a time, and a short queue."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from django.contrib.auth.hashers import Argon2PasswordHasher

AT_ONCE = 1  # By each of the server's processes
MOST_WAITING = 1
"""Each that waits holds one of the process's four threads: the other two must stay free for pages,
however many stand at the door."""

_turns = threading.BoundedSemaphore(AT_ONCE)
_places = threading.BoundedSemaphore(AT_ONCE + MOST_WAITING)


class Crowded(Exception):
    """Too many passwords are being checked; whoever asks now is told to come in a moment."""


@contextmanager
def turn() -> Iterator[None]:
    """One hash's turn. Raises Crowded at once where the queue is full."""
    if not _places.acquire(blocking=False):
        raise Crowded
    try:
        with _turns:
            yield
    finally:
        _places.release()


class BoundedArgon2Hasher(Argon2PasswordHasher):
    """Django's Argon2 hasher in turns.

    The work is that of the OWASP password storage cheat sheet (46 MiB, one pass, one lane; from
    memory): 0.07 s on one processor here, where Django's own (100 MiB, two passes, eight lanes)
    takes 0.4 s and every processor. Older hashes are made anew at the next sign-in."""

    time_cost = 1
    memory_cost = 46 * 1024
    parallelism = 1

    def encode(self, password: str, salt: str) -> str:
        with turn():
            return str(super().encode(password, salt))

    def verify(self, password: str, encoded: str) -> bool:
        with turn():
            return bool(super().verify(password, encoded))
