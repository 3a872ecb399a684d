"""Passwords with Argon2, a few at a time."""

import threading

from django.contrib.auth.hashers import Argon2PasswordHasher

AT_ONCE = 1
"""By each of the server's processes. One hash takes about 100 MB while it is made; more at once
would let a crowd at the door fill the coach's machine."""

_turns = threading.BoundedSemaphore(AT_ONCE)


class BoundedArgon2Hasher(Argon2PasswordHasher):
    """Django's Argon2 hasher; at most `AT_ONCE` hashes are made at the same time
    in one process."""

    def encode(self, password: str, salt: str) -> str:
        with _turns:
            return str(super().encode(password, salt))

    def verify(self, password: str, encoded: str) -> bool:
        with _turns:
            return bool(super().verify(password, encoded))
